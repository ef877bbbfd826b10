"""The over-voltage load of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import OverVoltageLoad


class GuardPart(AssumingPart):
    """Over-voltage load of a job."""

    part_title: ClassVar[str] = "over-voltage load"
    part_noun: ClassVar[str] = "the load"
    needed_first: ClassVar[tuple] = ("set_dc_volts", "ohm")
    set_dc_volts: float = labelled(
        "Switched on from, DC", "V", "Across the rectifier.", gt=0, le=2000, next_step="type its set-point"
    )
    ohm: float = labelled("Resistance", "Ω", "Of the load, hot.", gt=0, le=10_000, next_step="measure it")
    watts: float = labelled(
        "Watts that it stands for hours", "W", "On its label.", gt=0, le=1_000_000, next_step="read its label"
    )
    acts_within_s: float = labelled(
        "Acts within",
        "s",
        "From those volts until its current flows.",
        default=0.01,
        assumed=True,
        gt=0,
        le=10,
        next_step="read its sheet",
    )

    def to_guard(self):
        """The load, for the physics."""
        return OverVoltageLoad(
            set_dc_volts=self.set_dc_volts, ohm=self.ohm, watts=self.watts, acts_within_s=self.acts_within_s
        )
