"""The bench logs of a job as its fits take them: read, judged, and without the sessions that the reader left out."""

from dataclasses import replace

from statorbook.bench import ALL_SESSIONS, LOGS, leave_out, read_logs
from statorbook.errors import BadInput
from statorbook.job.parts import SessionsPart, meters_of


def bench_logs(job, stator_part=None, **own_rows):
    """The spin, shorted and ohms logs of a job, read and checked row by row, sessions left out as chosen.

    Parameters
    ----------
    job : Job
        The job.
    stator_part : StatorPart or None
        Its stator facts; those on the disk when None.
    **own_rows : list of dict of str to str
        Rows to take instead of those on the disk, by the log's name.

    Returns
    -------
    Logs
        The readings.

    Raises
    ------
    BadInput
        When the stator facts are missing or a log on the disk is damaged.
    """
    now = job.read()
    part = stator_part or now.stator
    if part is None:
        raise BadInput(
            "the slots and poles are not known",
            "stator facts are needed",
            "fill them in on page 01_know_your_stator",
            where="bench logs",
        )
    raw = {log: own_rows[log] if log in own_rows else now.read_log(log) for log in LOGS}
    logs = read_logs(raw, part.to_stator(), found_connection=part.found_connection, meters=meters_of(now))
    return replace(logs, **{log: leave_out(getattr(logs, log), sessions_used(now, log)) for log in LOGS})


def sessions_used(job, log):
    """Which sessions of a log the reader wants in its fit.

    Parameters
    ----------
    job : Job
        The job.
    log : str
        "spin", "shorted", "ohms", "coast" or "drill".

    Returns
    -------
    str
        "all" while nothing was chosen.
    """
    kept = job.sessions
    return getattr(kept, log) if kept else ALL_SESSIONS


def choose_sessions(job, log, chosen):
    """Keep in the job which sessions of a log go into its fit.

    Parameters
    ----------
    job : Job
        The job.
    log : str
        "spin", "shorted", "ohms", "coast" or "drill".
    chosen : str
        From `bench.sessions.session_options`.

    Raises
    ------
    BadInput
        When it is no such choice, or the disk refuses.
    """
    kept = job.sessions
    job.save_part("sessions", SessionsPart(**{**(kept.as_saved() if kept else {}), log: chosen}))
