"""The inverter of a job, and for what its source and house are looked at."""

from dataclasses import replace
from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bench import MONTH_NAMES
from statorbook.charging import usual_inverter
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.quantities import INVERTER_EFFICIENCY, INVERTER_IDLE_WATTS

_INVERTER, _DIRECT, _NONE = "an inverter", "the bank itself, DC", "nothing"
_STRONGEST, _WEAKEST = "its strongest month", "its weakest month"
_TYPED = (
    *("rated_watts", "surge_watts", "efficiency", "idle_watts"),
    *("trips_below_volts", "back_above_volts", "trips_above_volts"),
)
_VOLTS = {"default": None, "gt": 0, "le": 200, "next_step": "read it in the manual, or leave it empty"}


class InverterPart(AssumingPart):
    """Inverter of a job, and the month of its source that is looked at."""

    part_title: ClassVar[str] = "inverter"
    needed_first: ClassVar[tuple] = ("house_on", "rated_watts", "surge_watts", "source_month")
    house_on: Literal[_INVERTER, _DIRECT, _NONE] = labelled(
        "The house is fed by",
        "",
        "The bank itself for lamps and chargers on DC, behind a switch that opens at low volts.",
        default=_INVERTER,
    )
    rated_watts: float | None = labelled(
        "Watts for hours",
        "W",
        "On its label; of a DC house what its fuse lets through. Empty: worked out for the appliances below.",
        default=None,
        gt=0,
        le=100_000,
        next_step="read its label",
    )
    surge_watts: float | None = labelled(
        "Watts for some seconds",
        "W",
        "“Peak” or “surge” on its label. Empty: twice its watts for hours.",
        default=None,
        gt=0,
        le=300_000,
        next_step="read its label",
    )
    efficiency: float | None = labelled(
        "Efficiency",
        "-",
        "AC watts ÷ DC watts at work. Empty: as page 04b has it, else usual.",
        default=None,
        gt=0.3,
        le=1,
        next_step="read it in the manual; it is at most 1, which is 100 %",
    )
    idle_watts: float | None = labelled(
        "Idle",
        "W",
        "Taken while it is on with nothing plugged in. Empty: as page 04b has it, else usual.",
        default=None,
        ge=0,
        le=1000,
        next_step="read it in the manual",
    )
    trips_below_volts: float | None = labelled(
        "Trips below, DC", "V", "Of the whole bank. Empty: between the cut-off and the bank's lowest volts.", **_VOLTS
    )
    back_above_volts: float | None = labelled(
        "Comes back above, DC", "V", "Of the whole bank. Empty: the return of the set-points.", **_VOLTS
    )
    trips_above_volts: float | None = labelled(
        "Trips above, DC", "V", "Of the whole bank. Empty: the bank's highest volts.", **_VOLTS
    )
    source_month: Literal[_STRONGEST, _WEAKEST, *MONTH_NAMES] = labelled(
        "Source as in",
        "",
        "The month whose hours are looked at on this page. The strongest has most to get rid of.",
        default=_STRONGEST,
    )
    days_alone: float = labelled(
        "Days to carry with nothing coming",
        "count",
        "For the bank that fits.",
        default=3.0,
        gt=0,
        le=60,
        next_step="type how long the source may rest",
    )

    @model_validator(mode="after")
    def _check(self):
        if self.rated_watts and self.surge_watts and self.surge_watts < self.rated_watts:
            raise BadField(
                f"{self.surge_watts:g} W for some seconds and {self.rated_watts:g} W for hours were given",
                "the first is never below the second",
                "read both on the label again",
                where="inverter",
                field="surge_watts",
            )
        return self

    @property
    def has_sockets(self):
        """Whether it feeds a house at all."""
        return self.house_on != _NONE

    @property
    def month_at(self):
        """The place of the month looked at, from 0; None for the strongest, -1 for the weakest."""
        at = {_STRONGEST: None, _WEAKEST: -1}
        return at[self.source_month] if self.source_month in at else MONTH_NAMES.index(self.source_month)

    def to_inverter(self, points, day, need=None, *, heater_watts=0.0):
        """The inverter of a plan.

        Parameters
        ----------
        points : SetPoints
            Of its bank.
        day : HouseDay
            What its house takes.
        need : NeedPart or None
            Losses for what is not typed here; usual ones when None.
        heater_watts : float
            Of a heater that the controller puts on it [W].

        Returns
        -------
        Inverter or None
            What is not typed is worked out; None while nothing is fed.

        Raises
        ------
        BadInput
            When its trip volts cross.
        """
        if not self.has_sockets:
            return None
        usual = usual_inverter(points, day, heater_watts=heater_watts, **self._losses(need))
        typed = {name: getattr(self, name) for name in _TYPED if getattr(self, name) is not None}
        if "rated_watts" in typed and "surge_watts" not in typed:
            typed["surge_watts"] = usual.surge_watts / usual.rated_watts * typed["rated_watts"]
        elif "surge_watts" in typed and "rated_watts" not in typed:
            typed["rated_watts"] = usual.rated_watts / usual.surge_watts * typed["surge_watts"]
        made = replace(usual, **typed)
        self._require_rising(made)
        return made

    def _losses(self, need):
        """What is taken where nothing is typed here."""
        if self.house_on == _DIRECT:
            return {"efficiency": 1.0, "idle_watts": 0.0}
        if need is None:
            return {"efficiency": INVERTER_EFFICIENCY.value, "idle_watts": INVERTER_IDLE_WATTS.value}
        return {"efficiency": need.inverter_efficiency, "idle_watts": need.inverter_idle_watts}

    def _require_rising(self, made):
        """Refuse trip volts that cross, typed or taken."""
        names = ("trips_below_volts", "back_above_volts", "trips_above_volts")
        for low, high in zip(names, names[1:]):
            if getattr(made, low) >= getattr(made, high):
                titles = [field_facts(type(self), name).name_alone for name in (low, high)]
                said = [f"“{title}” at {getattr(made, name):.4g} V" for title, name in zip(titles, (low, high))]
                field = low if getattr(self, low) is not None else high
                raise BadField(
                    f"{said[0]} and {said[1]} cross",
                    "the first must be the lower one",
                    "read both in the manual again, for your bank's volts",
                    where="inverter",
                    field=field,
                )

    def assumed_words(self, made):
        """What of an inverter nobody typed.

        Parameters
        ----------
        made : Inverter or None
            From `to_inverter`.

        Returns
        -------
        tuple of str
            In words.
        """
        if made is None:
            return ()
        kind = "feed of the house" if self.house_on == _DIRECT else "inverter"
        said = {
            "rated_watts": f"{kind} of {made.rated_watts:.0f} W for hours",
            "surge_watts": f"{made.surge_watts:.0f} W for some seconds",
            "trips_below_volts": f"it trips below {made.trips_below_volts:.1f} V",
            "back_above_volts": f"it comes back above {made.back_above_volts:.1f} V",
            "trips_above_volts": f"it trips above {made.trips_above_volts:.1f} V",
        }
        return tuple(words for name, words in said.items() if getattr(self, name) is None)
