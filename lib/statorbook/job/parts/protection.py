"""The list of what protects a job's plant, as it was saved, and what it was worked out for."""

from typing import ClassVar

from statorbook.job.parts.base import DatedPart
from statorbook.job.parts.fields import labelled


class ProtectionPart(DatedPart):
    """What protects the plant of a job."""

    part_title: ClassVar[str] = "list of what protects it"
    most_dc_amps: float = labelled("Most amps into the bank, DC", "A", "What it is sized by.", ge=0, le=10_000)
    runaway_line_volts_rms: float = labelled(
        "Runaway line volts, AC rms", "V", "Open leads, every guard failed, cold magnets.", ge=0, le=20_000
    )
    runaway_dc_volts_peak: float = labelled(
        "Runaway volts after the bridge, DC peak", "V", "With the bank gone, every guard failed.", ge=0, le=30_000
    )
    items: str = labelled("What to buy", "", "A line for each part, with its rating.", max_length=10_000)
    worked_out_for: str = labelled(
        "Worked out for", "", "Marks of the parts of the job that it was worked out for.", default="", max_length=400
    )
