"""The comparison that a job's choice is made by: by kilowatt-hours where its year is known, else at the one setting."""

from statorbook.assembly.machine import machine_from
from statorbook.assembly.year import source_year_from
from statorbook.errors import BadInput
from statorbook.year import grouping_years, year_verdict


def judged_from(job):
    """Compare all groupings for a job as it stands.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.

    Returns
    -------
    Comparison
        By the year where it is known.

    Raises
    ------
    BadInput
        When a part is missing or out of date.
    """
    now = job.read()
    machine = machine_from(now)
    found = machine.compared()
    source = usable_year(now)[0]
    return year_verdict(found, grouping_years(machine, source)).by_year if source else found


def usable_year(job):
    """The year of a job for pages that do without one.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of SourceYear or None, and str
        The year, None when it is not known or cannot be used, and why it cannot be used, else "".
    """
    try:
        return source_year_from(job), ""
    except BadInput as complaint:
        return None, str(complaint)
