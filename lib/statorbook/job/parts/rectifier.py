"""The rectifier that the reader of a job has."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import Rectifier


class RectifierPart(AssumingPart):
    """Rectifier of a job."""

    part_title: ClassVar[str] = "rectifier"
    part_noun: ClassVar[str] = "its label"
    needed_first: ClassVar[tuple] = ("label_amps", "reverse_volts")
    label_amps: float = labelled(
        "Amps on its label, DC", "A", "Of the whole bridge.", gt=0, le=10_000, next_step="read its label or sheet"
    )
    reverse_volts: float = labelled(
        "Reverse volts on its label, DC peak",
        "V",
        "Repetitive peak reverse volts of each diode.",
        gt=0,
        le=20_000,
        next_step="read its label or sheet",
    )

    def to_rectifier(self):
        """The rectifier, for the physics."""
        return Rectifier(label_amps=self.label_amps, reverse_volts=self.reverse_volts)
