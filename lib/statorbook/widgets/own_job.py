"""A page may show the example while the reader's job is not complete: say so, and write nothing there."""

from statorbook.errors import BadInput


def job_prefix(job):
    """What stands before the result of a panel that shows a job other than the reader's.

    Parameters
    ----------
    job : Job
        The job shown.

    Returns
    -------
    str
        Such as "Job example_wheel, not your own: "; empty for the reader's job.
    """
    return f"Job {job.name}, not your own: " if job.notice else ""


def require_own(job, allowed, next_step, where):
    """Refuse to write to a job other than the reader's.

    Parameters
    ----------
    job : Job
        The job shown.
    allowed : str
        What is written where.
    next_step : str
        What to do next.
    where : str
        What was to be written.

    Raises
    ------
    BadInput
        When the panel shows another job.
    """
    if job.notice:
        raise BadInput(f"this panel shows the job {job.name}, not your own", allowed, next_step, where=where)
