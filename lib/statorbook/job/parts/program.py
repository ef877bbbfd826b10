"""The controller's program of a job, as it was saved, and what it was written for."""

from typing import ClassVar

from statorbook.job.parts.base import DatedPart
from statorbook.job.parts.fields import labelled


class ProgramPart(DatedPart):
    """What was saved as the controller's program."""

    part_title: ClassVar[str] = "controller's program"
    file_name: str = labelled("File", "", "Its name in the job's folder.", max_length=80)
    rules: int = labelled("Rules", "count", "In the program.", ge=1, le=999)
    timers: int = labelled("Timers", "count", "That the controller has to have.", ge=0, le=3000)
    relays: int = labelled("Relays", "count", "That it switches.", ge=1, le=99)
    text_mark: str = labelled("Mark of the text", "", "To see whether the file was changed by hand.", max_length=64)
    worked_out_for: str = labelled(
        "Worked out for", "", "Marks of the parts and logs of the job that it was written for.", max_length=500
    )
