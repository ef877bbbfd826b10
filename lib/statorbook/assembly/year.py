"""The source of a job over a year, from its drive, its year and the logs of the year."""


def source_year_from(job):
    """What the source of a job does over a year.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    SourceYear or None
        None while no year is filled in for the kind of drive that the job has.

    Raises
    ------
    BadInput
        When it is filled in and cannot be used.
    """
    now = job.read()
    if now.drive is None:
        return None
    build = _BUILDERS.get(now.drive.kind)
    return build(now) if build else None


_BUILDERS = {}  # by the kind of drive: what makes a `SourceYear` of a job
