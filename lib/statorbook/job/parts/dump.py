"""Dump loads of a job."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled


class DumpPart(AssumingPart):
    """Dump loads of a job."""

    part_title: ClassVar[str] = "dump loads"
    dump_1_ohm: float | None = labelled(
        "First dump load",
        "Ω",
        "Measured hot, or volts squared over watts of its label. Empty while you have none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
