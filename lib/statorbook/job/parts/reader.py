"""What the reader chose for reading: the units that numbers are shown in."""

from typing import ClassVar, Literal

from statorbook.job.parts.base import Part
from statorbook.job.parts.fields import labelled
from statorbook.quantities import SYSTEMS


class ReaderPart(Part):
    """How the reader wants numbers shown; no number of a comparison hangs on it."""

    part_title: ClassVar[str] = "reader's choice"
    units: Literal[SYSTEMS] = labelled(
        "Units", "", "Metric or US; numbers are kept in metric whatever is chosen.", default="metric"
    )


def units_of(job):
    """The units that the reader of a job chose.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        "metric" or "US"; metric while nothing was chosen.
    """
    part = job.reader
    return "metric" if part is None else part.units
