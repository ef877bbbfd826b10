"""Set-points of the bank of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled


class SetPointsPart(AssumingPart):
    """Set-points of the bank of a job."""

    part_title: ClassVar[str] = "set-points"
    absorption_volts: float | None = labelled(
        "Absorption",
        "V",
        "Whole bank, as at 25 °C. Empty: usual for its chemistry.",
        default=None,
        gt=0,
        le=100,
        next_step="read it in the sheet of the bank's maker",
    )
