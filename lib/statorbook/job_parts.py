"""The five parts of a job: stator, coil, drive, bank and choice, each with labels, limits and what is assumed."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bank import Bank, cells_for, chemistries
from statorbook.constants import DIODE_DROP_V
from statorbook.errors import BadInput
from statorbook.grouping import Grouping
from statorbook.job_fields import BadField, field_facts, labelled
from statorbook.job_part_base import AssumingPart, part_from_fields
from statorbook.job_results_parts import ChoicePart, CoilPart
from statorbook.stator import Stator

__all__ = ["PARTS", "BankPart", "ChoicePart", "CoilPart", "DrivePart", "StatorPart", "part_from_fields"]

# What a drive complains of, and the field where the reader mends it.
_DRIVE_FIELDS = {"nozzle or flow": "nozzle_mm", "runner and jet": "pitch_diameter_mm"}
_BANK_FIT_LOW, _BANK_FIT_HIGH = 0.85, 1.2  # half-full volts over nominal volts, loose enough for every usual cell count


class StatorPart(AssumingPart):
    """What the salvaged stator is, and how it was found wired."""

    part_title: ClassVar[str] = "stator facts"
    slots: int = labelled("Slots", "count", "Gaps between the teeth; as many as teeth and as coils.", ge=3, le=144,
        next_step="count the teeth once round the ring, from a mark")
    poles: int = labelled("Magnet poles", "count", "Magnet poles of the rotor, north and south together.", ge=2,
        le=144, next_step="count the magnet poles again, north and south together")
    found_parallel: int = labelled("Parallel paths as found", "count",
        "Paths that each phase was split into by the factory.", default=1, assumed=True, ge=1, le=48,
        next_step="follow the wires of one phase again")
    found_connection: Literal["star", "delta"] = labelled("Connection as found", "",
        "How the three phases were joined.")
    wire_diameter_mm: float | None = labelled("Wire diameter", "mm",
        "Bare wire without enamel, one strand; leave empty when not measured.", default=None, gt=0.05, le=6,
        next_step="scrape the enamel off and measure the bare wire again")
    wires_in_hand: int = labelled("Wires in hand", "count", "Strands wound side by side as one.", default=1,
        assumed=True, ge=1, le=50, next_step="count the strands at a coil's end again")
    conductor: Literal["copper", "aluminium"] = labelled("Conductor", "",
        "Copper shines red where scraped, aluminium white.", default="copper", assumed=True)
    magnet: Literal["ferrite", "neodymium"] = labelled("Magnets", "",
        "Ferrite is dark grey like stone; neodymium is plated and far stronger.", default="ferrite", assumed=True)
    insulation_megohm: float | None = labelled("Insulation", "MΩ",
        "Ohms from the joined leads to the iron; if the meter shows OL, type the top of its range.", default=None,
        ge=0, le=1_000_000, next_step="dry the stator and measure again")
    diameter_mm: float | None = labelled("Diameter over the teeth", "mm", "Across the stator, outside the teeth.",
        default=None, ge=20, le=2000, next_step="measure it again")
    open_corner_volts_rms: float | None = labelled("Open delta corner, AC rms", "V",
        "Across the one open corner of the three phases in line, paths as found, nothing connected.", default=None,
        ge=0, le=10_000, next_step="read it again, or leave it and its speed empty")
    open_corner_rpm: float | None = labelled("Open delta corner, speed", "rpm", "Rotor speed of that reading.",
        default=None, gt=0, le=20_000, next_step="read it again, or leave it and its volts empty")
    mark_note: str = labelled("Your mark", "", "Where tooth 1 is and how it was marked.", default="", max_length=300)
    notes: str = labelled("Notes", "", "Anything else worth keeping.", default="", max_length=2000)

    @model_validator(mode="after")
    def _check(self):
        self.to_stator()
        try:
            self.to_found_grouping()
        except BadInput as refusal:
            raise BadField(refusal.given, refusal.allowed, "type one of these", field="found_parallel",
                           where=field_facts(type(self), "found_parallel").title) from None
        pair = {name: getattr(self, name) for name in ("open_corner_volts_rms", "open_corner_rpm")}
        empty = [name for name, value in pair.items() if value is None]
        if len(empty) == 1:
            facts = field_facts(type(self), empty[0])
            raise BadField("nothing was given but its partner was", facts.allowed, facts.next_step, where=facts.title,
                           field=empty[0])
        return self

    def to_stator(self):
        """The stator of these counts.

        Returns
        -------
        Stator
            For the physics.
        """
        return Stator(slots=self.slots, poles=self.poles)

    def to_found_grouping(self):
        """The wiring as found.

        Returns
        -------
        Grouping
            Legal for this stator.
        """
        stator = self.to_stator()
        series = max(1, stator.coils_per_phase // self.found_parallel)
        found = Grouping(series=series, parallel=self.found_parallel, connection=self.found_connection)
        return found.require_legal(stator)

    def to_open_corner(self):
        """The reading across an open delta corner.

        Returns
        -------
        OpenCorner or None
            None when it was not taken.
        """
        if self.open_corner_volts_rms is None:
            return None
        from statorbook.third_harmonic import OpenCorner
        delta = Grouping(series=self.to_found_grouping().series, parallel=self.found_parallel, connection="delta")
        return OpenCorner(stator=self.to_stator(), grouping=delta, volts_rms=self.open_corner_volts_rms,
                          speed_rpm=self.open_corner_rpm)


class DrivePart(AssumingPart):
    """What turns the machine; fields of the kind not chosen may stay filled in and are not used."""

    part_title: ClassVar[str] = "drive"
    kind: Literal["known speed", "water jet"] = labelled("Kind of drive", "", "What turns the rotor.")
    speed_rpm: float | None = labelled("Working speed", "rpm", "Rotor speed under load, for a known speed.",
        default=None, gt=0, le=20_000, next_step="measure the speed again")
    runaway_ratio: float = labelled("Runaway ratio", "-", "Speed with the load gone, over the speed under load.",
        default=1.8, assumed=True, ge=1, le=5, next_step="keep 1.8 unless you have measured it")
    head_m: float | None = labelled("Net head", "m", "Pressure at the running nozzle as metres of water.",
        default=None, gt=0, le=1000, next_step="read the pressure at the running nozzle; 1 bar is 10.2 m")
    nozzle_mm: float | None = labelled("Nozzle bore", "mm", "Bore of one nozzle; leave empty when the flow is given.",
        default=None, gt=0, le=500, next_step="measure the bore again")
    flow_l_s: float | None = labelled("Flow", "L/s", "Of all nozzles together; leave empty when the bore is given.",
        default=None, gt=0, le=1000, next_step="time the filling of a bucket again")
    jets: int = labelled("Jets", "count", "Nozzles on the runner.", default=1, ge=1, le=6,
        next_step="count the nozzles")
    pitch_diameter_mm: float | None = labelled("Pitch diameter", "mm", "Circle on the runner that the jet touches.",
        default=None, gt=0, le=5000, next_step="measure the runner again")
    efficiency: float = labelled("Runner efficiency", "-", "Shaft power over water power at the best speed.",
        default=0.7, assumed=True, gt=0, le=0.95, next_step="keep 0.7 unless you have measured it")
    drag_nm: float = labelled("Drag", "N·m", "Torque that turns the unloaded rotor: bearings, air, iron.",
        default=0.3, assumed=True, ge=0, le=50, next_step="measure the pull on a known lever again")

    @model_validator(mode="after")
    def _check(self):
        needed = ("speed_rpm",) if self.kind == "known speed" else ("head_m", "pitch_diameter_mm")
        missing = [name for name in needed if getattr(self, name) is None]
        if missing:
            facts = field_facts(type(self), missing[0])
            raise BadField(f"nothing was given but a {self.kind} needs it", facts.allowed, facts.next_step,
                           where=facts.title, field=missing[0])
        if self.kind == "water jet" and self.nozzle_mm is None and self.flow_l_s is None:
            raise BadField("neither was given but a water jet needs one", "a bore in mm or a flow in L/s is allowed",
                           "measure the bore, or time the filling of a bucket", field="nozzle_mm",
                           where="Nozzle bore [mm] or Flow [L/s]")
        try:
            self.to_drive()
        except BadInput as refusal:
            raise BadField(refusal.given, refusal.allowed, refusal.next_step, where=refusal.where,
                           field=_DRIVE_FIELDS.get(refusal.where, "")) from None
        return self

    def to_drive(self):
        """The drive, for the physics.

        Returns
        -------
        KnownSpeed or WaterJet
            As the kind says.
        """
        if self.kind == "known speed":
            from statorbook.drives.known_speed import KnownSpeed
            return KnownSpeed(working_rpm=self.speed_rpm, runaway_ratio=self.runaway_ratio)
        from statorbook.drives.water_jet import WaterJet
        return WaterJet(head_m=self.head_m, pitch_diameter_mm=self.pitch_diameter_mm, nozzle_mm=self.nozzle_mm,
                        flow_l_s=self.flow_l_s, jets=self.jets, efficiency=self.efficiency,
                        runaway_ratio=self.runaway_ratio)

    @classmethod
    def _completed(cls, fields):
        """A known speed uses no runner, so the runner's efficiency is not one of the things assumed."""
        filled = super()._completed(fields)
        if fields.get("kind") != "known speed" or "efficiency" in fields or not isinstance(filled["assumed"], tuple):
            return filled
        return filled | {"assumed": tuple(name for name in filled["assumed"] if name != "efficiency")}


class BankPart(AssumingPart):
    """The battery bank and what lies between it and the rectifier."""

    part_title: ClassVar[str] = "bank"
    nominal_volts: float | None = labelled("Nominal bank volts, DC", "V",
        "12, 24 or 48; for another bank give the cells.", default=None, gt=0, le=1000,
        next_step="type 12, 24 or 48, or the cells")
    chemistry: Literal[tuple(chemistries())] = labelled("Chemistry", "", "What the label on the battery says.")
    cells: int | None = labelled("Cells in series", "count", "Empty for a usual 12, 24 or 48 V bank.", default=None,
        ge=1, le=240, next_step="count the cells in series")
    capacity_ah: float = labelled("Capacity", "Ah", "Amp-hours of the whole bank.", gt=0, le=100_000,
        next_step="read the label; strings side by side add up")
    temperature_c: float = labelled("Bank temperature", "°C", "Of the cells.", default=25.0, assumed=True, ge=-40,
        le=80)
    cable_ohm: float = labelled("Cable", "Ω", "Of the whole loop from rectifier to bank and back.", default=0.01,
        assumed=True, ge=0, le=10, next_step="work it out from length and cross-section")
    diode_drop_v: float = labelled("Diode drop, each, DC", "V", "Volts lost in one diode of the bridge.",
        default=DIODE_DROP_V.value, assumed=True, ge=0, le=3)
    device_max_volts: float | None = labelled("Device limit, DC", "V",
        "Highest DC input of inverter or charge control.", default=None, gt=0, le=2000,
        next_step="read its label or manual")

    @model_validator(mode="after")
    def _check(self):
        if self.nominal_volts is None and self.cells is None:
            raise BadField("neither was given", "12, 24 or 48 V, or a number of cells is allowed",
                           "read the label of the bank", field="nominal_volts",
                           where="Nominal bank volts, DC [V] or Cells in series [count]")
        half = self.to_bank().half_volts
        if self.nominal_volts is not None and not _BANK_FIT_LOW <= half / self.nominal_volts <= _BANK_FIT_HIGH:
            raise BadField(f"{self.nominal_volts:g} V with {self.cells} cells of {self.chemistry} was given",
                           f"{self.cells} such cells make {half:.1f} V when half full, which must be near it",
                           "count the cells in series again", where="Cells in series [count]", field="cells")
        return self

    def to_bank(self):
        """The bank, for the physics.

        Returns
        -------
        Bank
            With the usual cell count when only the volts are known.
        """
        cells = self.cells if self.cells is not None else cells_for(self.chemistry, self.nominal_volts)
        return Bank(chemistry=self.chemistry, cells=cells, capacity_ah=self.capacity_ah,
                    temperature_c=self.temperature_c)


PARTS = {"stator": StatorPart, "coil": CoilPart, "drive": DrivePart, "bank": BankPart, "choice": ChoicePart}
