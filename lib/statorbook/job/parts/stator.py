"""The stator of a job: what was salvaged, and how it was found wired."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import SPUN, STILL, Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.winding import Grouping, Stator, found_from_words, found_wiring

_WIRE = (Exposure.STANDING, Exposure.SHARP, Exposure.CHEMICALS)


class StatorPart(AssumingPart):
    """What the salvaged stator is, and how it was found wired."""

    part_title: ClassVar[str] = "stator facts"
    part_noun: ClassVar[str] = "stator"
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
        self.require_whole(("open_corner_volts_rms", "open_corner_rpm"))
        return self

    def _told_at(self, field, call, *, next_step=""):
        """Let a complaint name the field in which the reader mends it."""
        try:
            call()
        except BadInput as refusal:
            where = field_facts(type(self), field).title
            raise BadField.mended_in(field, refusal, next_step=next_step, where=where) from None

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
