"""Inverter of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled


class InverterPart(AssumingPart):
    """Inverter of a job."""

    part_title: ClassVar[str] = "inverter"
    rated_watts: float | None = labelled(
        "Watts for hours",
        "W",
        "On its label. Empty while there is none.",
        default=None,
        gt=0,
        le=100_000,
        next_step="read its label",
    )
