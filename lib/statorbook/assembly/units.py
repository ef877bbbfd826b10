"""The units in which a page is told: those of the reader's own job, also while another job is shown."""

from statorbook.errors import BadInput
from statorbook.job import open_current
from statorbook.job.parts import units_of
from statorbook.quantities import use_units


def own_job(job):
    """The reader's own job, where a page shows the example because that one is not complete yet.

    Parameters
    ----------
    job : Job
        The job shown.

    Returns
    -------
    Job
        The current job; the one shown when that cannot be opened, which the start page then says.
    """
    if job.notice:
        try:
            return open_current(job.folder.parent)
        except BadInput:
            pass
    return job


def speak_to_reader_of(job):
    """Speak in the units of a job's reader from here on, everywhere on a page.

    Parameters
    ----------
    job : Job
        The job shown.
    """
    use_units(units_for(job))


def units_for(job):
    """The units for a page that shows a job.

    Parameters
    ----------
    job : Job
        The job shown.

    Returns
    -------
    str
        "metric" or "US", as the reader chose; metric while nothing was chosen.
    """
    return units_of(own_job(job))
