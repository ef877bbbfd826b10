"""Every part of a job by its name, and two of them: stator and bank, with labels, limits and what is assumed."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bank import Bank, cells_for, chemistries
from statorbook.cautions import SPUN, STILL, Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart, part_from_fields
from statorbook.job.parts.drive import DrivePart
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.job.parts.inductance import HenriesPart
from statorbook.job.parts.meters import MetersPart
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.parts.refined import RefinedPart
from statorbook.job.parts.results import ChoicePart, CoilPart, PlanPart
from statorbook.job.parts.service import ServicePart
from statorbook.job.parts.sessions import SessionsPart
from statorbook.quantities import DIODE_DROP_V
from statorbook.winding import Grouping, Stator, found_from_words, found_wiring

__all__ = [
    "PARTS",
    "BankPart",
    "ChoicePart",
    "CoilPart",
    "DrivePart",
    "HenriesPart",
    "MetersPart",
    "PlanPart",
    "ReaderPart",
    "RefinedPart",
    "ServicePart",
    "SessionsPart",
    "StatorPart",
    "part_from_fields",
]

_BANK_FIT_LOW, _BANK_FIT_HIGH = 0.85, 1.2  # half-full volts over nominal volts, loose enough for every usual cell count
_WIRE = (Exposure.STANDING, Exposure.SHARP, Exposure.CHEMICALS)


class StatorPart(AssumingPart):
    """What the salvaged stator is, and how it was found wired."""

    part_title: ClassVar[str] = "stator facts"
    slots: int = labelled(
        "Slots",
        "count",
        "Gaps between the teeth; as many as teeth and as coils.",
        ge=3,
        le=144,
        next_step="count the teeth once round the ring, from a mark",
    )
    poles: int = labelled(
        "Magnet poles",
        "count",
        "Magnet poles of the rotor, north and south together.",
        ge=2,
        le=144,
        next_step="count the magnet poles again, north and south together",
    )
    found_parallel: int = labelled(
        "Parallel paths as found",
        "count",
        "Paths that each phase was split into by the factory.",
        default=1,
        assumed=True,
        ge=1,
        le=48,
        next_step="follow the wires of one phase again",
    )
    found_connection: Literal["star", "delta"] = labelled(
        "Connection as found", "", "How the three phases were joined."
    )
    found_wiring: str = labelled(
        "Wires as traced",
        "",
        "Teeth of each path in order from the lead, such as "
        "A: 1 4 7 / 10 13 16; B: 2 5 8 / 11 14 17; C: 3 6 9 / 12 15 18; a tooth passed backwards gets an r. The "
        "letters are those of your leads, whatever their order; in delta A ends on lead B, B on C, C on A. "
        "Empty: taken in tooth order, not traced.",
        default="",
        max_length=2000,
        next_step="trace the wires again, or leave it empty",
        exposes=STILL,
    )
    wire_diameter_mm: float | None = labelled(
        "Wire diameter",
        "mm",
        "Bare wire without enamel, one strand; leave empty when not measured.",
        default=None,
        gt=0.05,
        le=6,
        next_step="scrape the enamel off and measure the bare wire again",
        exposes=_WIRE,
    )
    wires_in_hand: int = labelled(
        "Wires in hand",
        "count",
        "Strands wound side by side as one.",
        default=1,
        assumed=True,
        ge=1,
        le=50,
        next_step="count the strands at a coil's end again",
    )
    conductor: Literal["copper", "aluminium"] = labelled(
        "Conductor", "", "Copper shines red where scraped, aluminium white.", default="copper", assumed=True
    )
    magnet: Literal["ferrite", "neodymium"] = labelled(
        "Magnets",
        "",
        "Ferrite is dark grey like stone; neodymium is plated and far stronger.",
        default="ferrite",
        assumed=True,
    )
    insulation_megohm: float | None = labelled(
        "Insulation",
        "MΩ",
        "Ohms from the joined leads to the iron; if the meter shows OL, type the top of its range.",
        default=None,
        ge=0,
        le=1_000_000,
        next_step="dry the stator and measure again",
        exposes=(Exposure.TESTER, Exposure.HEAT),
    )
    diameter_mm: float | None = labelled(
        "Diameter over the teeth",
        "mm",
        "Across the stator, outside the teeth.",
        default=None,
        ge=20,
        le=2000,
        next_step="measure it again",
    )
    open_corner_volts_rms: float | None = labelled(
        "Open delta corner, AC rms",
        "V",
        "Across the one open corner of the three phases in line, paths as found, nothing connected.",
        default=None,
        ge=0,
        le=10_000,
        next_step="read it again, or leave it and its speed empty",
        exposes=SPUN,
    )
    open_corner_rpm: float | None = labelled(
        "Open delta corner, speed",
        "rpm",
        "Rotor speed of that reading.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read it again, or leave it and its volts empty",
        exposes=SPUN,
    )
    mark_note: str = labelled("Your mark", "", "Where tooth 1 is and how it was marked.", default="", max_length=300)
    notes: str = labelled("Notes", "", "Anything else worth keeping.", default="", max_length=2000)

    @model_validator(mode="after")
    def _check(self):
        self._counted()
        self._told_at("found_parallel", self.to_found_grouping, next_step="type one of these")
        self._told_at("found_wiring", self.to_found_wiring)
        pair = {name: getattr(self, name) for name in ("open_corner_volts_rms", "open_corner_rpm")}
        empty = [name for name, value in pair.items() if value is None]
        if len(empty) == 1:
            facts = field_facts(type(self), empty[0])
            raise BadField(
                "nothing was given but its partner was",
                facts.allowed,
                facts.next_step,
                where=facts.title,
                field=empty[0],
            )
        return self

    def _told_at(self, field, call, *, next_step=""):
        """Let a complaint name the field in which the reader mends it."""
        try:
            call()
        except BadInput as refusal:
            where = field_facts(type(self), field).title
            raise BadField(
                refusal.given, refusal.allowed, next_step or refusal.next_step, field=field, where=where
            ) from None

    def _counted(self):
        return Stator(slots=self.slots, poles=self.poles)

    def to_stator(self):
        """The stator of these counts, its phases called as the reader traced them."""
        return self.to_found_wiring().stator

    def to_found_grouping(self):
        """The wiring as found, legal for this stator."""
        stator = self._counted()
        series = max(1, stator.coils_per_phase // self.found_parallel)
        found = Grouping(series=series, parallel=self.found_parallel, connection=self.found_connection)
        return found.require_legal(stator)

    def to_found_wiring(self):
        """The wires as traced; where they were not, the phases in tooth order."""
        stator, grouping = self._counted(), self.to_found_grouping()
        if not self.found_wiring.strip():
            return found_wiring(stator, grouping)
        return found_from_words(stator, grouping, self.found_wiring)

    def to_open_corner(self):
        """The reading across an open delta corner; None when it was not taken."""
        if self.open_corner_volts_rms is None:
            return None
        from statorbook.winding import OpenCorner

        delta = Grouping(series=self.to_found_grouping().series, parallel=self.found_parallel, connection="delta")
        return OpenCorner(
            stator=self.to_stator(),
            grouping=delta,
            volts_rms=self.open_corner_volts_rms,
            speed_rpm=self.open_corner_rpm,
        )


class BankPart(AssumingPart):
    """The battery bank and what lies between it and the rectifier."""

    part_title: ClassVar[str] = "bank"
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
        next_step="work it out from length and cross-section",
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
        if self.nominal_volts is not None and not _BANK_FIT_LOW <= half / self.nominal_volts <= _BANK_FIT_HIGH:
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


PARTS = {
    "stator": StatorPart,
    "coil": CoilPart,
    "drive": DrivePart,
    "bank": BankPart,
    "choice": ChoicePart,
    "plan": PlanPart,
    "reader": ReaderPart,
    "service": ServicePart,
    "refined": RefinedPart,
    "henries": HenriesPart,
    "sessions": SessionsPart,
    "meters": MetersPart,
}
