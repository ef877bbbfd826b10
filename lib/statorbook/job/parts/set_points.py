"""Set-points of the bank of a job."""

from typing import ClassVar

from statorbook.charging import usual_points
from statorbook.job.parts.base import Part
from statorbook.job.parts.fields import field_facts, labelled

_SHEET = "read it in the sheet of the bank's maker, or leave it empty"
_VOLTS = dict(default=None, gt=0, le=1000, next_step=_SHEET)


class SetPointsPart(Part):
    """Volts of the whole bank as at 25 °C; what is empty is usual for its chemistry."""

    part_title: ClassVar[str] = "set-points"
    part_noun: ClassVar[str] = "limits and alarms"
    needed_first: ClassVar[tuple] = ("absorption_volts", "float_volts", "cut_off_volts", "return_volts")
    absorption_volts: float | None = labelled(
        "Absorption", "V", "Whole bank, as at {25 °C}. Empty: usual for its chemistry.", **_VOLTS
    )
    float_volts: float | None = labelled("Float", "V", "Held once it is full.", **_VOLTS)
    cut_off_volts: float | None = labelled("Cut-off", "V", "Below it nothing may draw from the bank.", **_VOLTS)
    return_volts: float | None = labelled("Return", "V", "From here on the inverter may come back.", **_VOLTS)
    equalise_volts: float | None = labelled(
        "Equalise",
        "V",
        "Flooded cells only, or as their maker says; 0: never.",
        default=None,
        ge=0,
        le=1000,
        next_step=_SHEET,
    )
    balance_volts: float | None = labelled(
        "Cells balanced from", "V", "LiFePO4: where its own electronics begin.", **_VOLTS
    )
    alarm_high_volts: float | None = labelled("Alarm, bank high", "V", "Between charging and “never above”.", **_VOLTS)
    alarm_low_volts: float | None = labelled(
        "Alarm, bank low", "V", "Above the cut-off, so that somebody can act.", **_VOLTS
    )
    most_volts: float | None = labelled("Never above", "V", "What the bank stands for minutes.", **_VOLTS)
    least_volts: float | None = labelled("Never below", "V", "What its cells, or the inverter, stand.", **_VOLTS)
    compensation_v_per_k: float | None = labelled(
        "Compensation, whole bank",
        "V/K",
        "For each K above {25 °C}, so it is negative; 0 for LiFePO4.",
        default=None,
        ge=-1.5,
        le=0,
        next_step="take −0.018 to −0.036 V/K for each 12 V of lead-acid, or leave it empty",
    )
    least_charging_c: float | None = labelled(
        "No charging below",
        "°C",
        "Of the cells. LiFePO4: {0 °C} at the lowest.",
        default=None,
        ge=-40,
        le=40,
        next_step=_SHEET,
    )
    most_charging_c: float | None = labelled(
        "No charging above", "°C", "Of the cells.", default=None, ge=0, le=70, next_step=_SHEET
    )

    @property
    def left_usual(self):
        """Names of the first fields that are left to what is usual, a tuple of str."""
        names = [name for name in self.needed_first if getattr(self, name) is None]
        return tuple(field_facts(type(self), name).name_alone.lower() for name in names)

    def to_points(self, bank):
        """The set-points of a bank, for all that is switched on it.

        Parameters
        ----------
        bank : Bank
            The bank.

        Returns
        -------
        SetPoints
            As at 25 °C; usual for its chemistry where a field is empty.
        """
        return usual_points(bank, **{name: getattr(self, name) for name in type(self).model_fields})
