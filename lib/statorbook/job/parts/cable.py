"""The cable of a job between machine and bank."""

from typing import ClassVar, Literal

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import AT_BANK, AT_MACHINE, CableRun


class CablePart(AssumingPart):
    """Cable run of a job."""

    part_title: ClassVar[str] = "cable run"
    part_noun: ClassVar[str] = "the cable"
    needed_first: ClassVar[tuple] = ("length_m", "area_mm2", "rectifier_at")
    length_m: float = labelled(
        "Cable from machine to bank, one way",
        "m",
        "The run; it is counted there and back.",
        default=10.0,
        assumed=True,
        gt=0,
        le=5000,
        next_step="pace or measure the run again",
    )
    area_mm2: float = labelled(
        "Cross-section of each wire",
        "mm²",
        "As its name says.",
        default=16.0,
        assumed=True,
        gt=0,
        le=1000,
        next_step="read what is printed on the cable",
    )
    rectifier_at: Literal[AT_MACHINE, AT_BANK] = labelled(
        "Rectifier",
        "",
        "At the machine the run is DC, two wires; at the bank it is AC, three wires.",
        default=AT_MACHINE,
    )

    def to_run(self):
        """The cable, for the physics."""
        return CableRun(length_m=self.length_m, area_mm2=self.area_mm2, rectifier_at=self.rectifier_at)
