"""The fuse that the reader of a job has."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import Fuse


class FusePart(AssumingPart):
    """Fuse of a job."""

    part_title: ClassVar[str] = "fuse"
    part_noun: ClassVar[str] = "its label"
    needed_first: ClassVar[tuple] = ("amps", "dc_volts", "breaking_amps")
    amps: float = labelled("Rated amps", "A", "On its label.", gt=0, le=10_000, next_step="read its label")
    dc_volts: float = labelled(
        "Rated volts, DC",
        "V",
        "The DC volts on its label, not the AC ones.",
        gt=0,
        le=10_000,
        next_step="read its label",
    )
    breaking_amps: float = labelled(
        "Breaking capacity, DC",
        "A",
        "The most amps that it can break.",
        gt=0,
        le=1_000_000,
        next_step="read its label or sheet",
    )

    def to_fuse(self):
        """The fuse, for the physics."""
        return Fuse(amps=self.amps, dc_volts=self.dc_volts, breaking_amps=self.breaking_amps)
