"""Hot water and room of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled


class WaterPart(AssumingPart):
    """Hot water and room of a job."""

    part_title: ClassVar[str] = "hot water and room"
    litres: float | None = labelled(
        "Cylinder",
        "L",
        "What it holds. Empty while there is none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
