"""The battery bank of a job, and what lies between it and the rectifier."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bank import Bank, cells_for, chemistries
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.quantities import DIODE_DROP_V

_FIT_LOW, _FIT_HIGH = 0.85, 1.2  # half-full volts over nominal volts, loose enough for every usual cell count


class BankPart(AssumingPart):
    """The battery bank and what lies between it and the rectifier."""

    part_title: ClassVar[str] = "bank"
    # What the labels say, that of the device too: it is the most volts that are accepted with the bank gone.
    needed_first: ClassVar[tuple] = ("nominal_volts", "chemistry", "capacity_ah", "device_max_volts")
    nominal_volts: float | None = labelled(
        "Nominal bank volts, DC",
        "V",
        "12, 24 or 48; for another bank give the cells.",
        default=None,
        gt=0,
        le=1000,
        next_step="type 12, 24 or 48, or the cells",
    )
    chemistry: Literal[tuple(chemistries())] = labelled("Chemistry", "", "What the label on the battery says.")
    cells: int | None = labelled(
        "Cells in series",
        "count",
        "Empty for a usual 12, 24 or 48 V bank.",
        default=None,
        ge=1,
        le=240,
        next_step="count the cells in series",
    )
    capacity_ah: float = labelled(
        "Capacity",
        "Ah",
        "Amp-hours of the whole bank.",
        gt=0,
        le=100_000,
        next_step="read the label; strings side by side add up",
    )
    temperature_c: float = labelled(
        "Bank temperature", "°C", "Of the cells.", default=25.0, assumed=True, ge=-40, le=80
    )
    cable_ohm: float = labelled(
        "Cable",
        "Ω",
        "Of the whole loop from rectifier to bank and back.",
        default=0.01,
        assumed=True,
        ge=0,
        le=10,
        next_step="let page 06 work it out from length and cross-section",
    )
    ac_cable_ohm: float | None = labelled(
        "Cable before the rectifier, each of three wires",
        "Ω",
        "Of one wire from the machine's leads to the rectifier; empty where the rectifier stands at the machine.",
        default=None,
        ge=0,
        le=10,
        next_step="let page 06 work it out from length and cross-section",
    )
    diode_drop_v: float = labelled(
        "Diode drop, each, DC",
        "V",
        "Volts lost in one diode of the bridge.",
        default=DIODE_DROP_V.value,
        assumed=True,
        ge=0,
        le=3,
    )
    device_max_volts: float | None = labelled(
        "Device limit, DC",
        "V",
        "Highest DC input of inverter or charge control.",
        default=None,
        gt=0,
        le=2000,
        next_step="read its label or manual",
    )
    accepted_volts: float | None = labelled(
        "Highest volts accepted with the bank gone, DC peak",
        "V",
        "After the rectifier, at open leads, run away; empty: the device's limit or 120 V, whichever is lower.",
        default=None,
        gt=0,
        le=2000,
        next_step="type the most that you will guard, or leave it empty",
    )

    @model_validator(mode="after")
    def _check(self):
        if self.nominal_volts is None and self.cells is None:
            raise BadField(
                "neither was given",
                "12, 24 or 48 V, or a number of cells is allowed",
                "read the label of the bank",
                field="nominal_volts",
                where="Nominal bank volts, DC [V] or Cells in series [count]",
            )
        half = self.to_bank().half_volts
        if self.nominal_volts is not None and not _FIT_LOW <= half / self.nominal_volts <= _FIT_HIGH:
            raise BadField(
                f"{self.nominal_volts:g} V with {self.cells} cells of {self.chemistry} was given",
                f"{self.cells} such cells make {half:.1f} V when half full, which must be near it",
                "count the cells in series again",
                where="Cells in series [count]",
                field="cells",
            )
        return self

    def to_bank(self):
        """The bank, for the physics; with the usual cell count when only the volts are known."""
        cells = self.cells if self.cells is not None else cells_for(self.chemistry, self.nominal_volts)
        return Bank(
            chemistry=self.chemistry, cells=cells, capacity_ah=self.capacity_ah, temperature_c=self.temperature_c
        )
