"""Controller of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled


class ControlPart(AssumingPart):
    """Controller of a job."""

    part_title: ClassVar[str] = "controller"
    scan_ms: int = labelled(
        "Scan",
        "count",
        "Milliseconds in which the controller works once through all rules.",
        default=100,
        assumed=True,
        ge=1,
        le=1000,
        next_step="read it in the controller's manual",
    )
