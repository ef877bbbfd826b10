"""A log of the job as a grid: read from the disk, saved cell by cell, each row with its verdict."""

from statorbook.assembly import units_for
from statorbook.bench import ALL_LOGS, LOGS
from statorbook.job import Drafts
from statorbook.widgets import LogGrid

_WIDTHS = {"taken_on": "minmax(7.5em, 9em)", "note": "minmax(6em, 26em)", "between": "minmax(7em, 10em)"}


def log_grid(job, log, judge, *, words=None, heads=None):
    """The grid of one log of a job.

    Parameters
    ----------
    job : Job
        A handle of the panel's own, see `Job.reopen`.
    log : str
        Name of the log.
    judge : callable
        Given the rows as typed, at the start and after each change; returns a verdict for each row number.
    words : dict of str to sequence of str or None
        Columns with fixed words besides those that the log itself says.
    heads : dict of str to str or None
        Headings that differ from the usual ones, by column.

    Returns
    -------
    LogGrid
        The grid.
    """
    columns = ALL_LOGS[log].columns
    usual = {column.name: column.heading for column in columns}
    if units_for(job) == "US":
        usual = {name: f"{head} (or type 68 F)" if "°C" in head else head for name, head in usual.items()}
    own_words = {column.name: tuple(dict.fromkeys(column.words.values())) for column in columns if column.words}
    return LogGrid(
        usual | (heads or {}),
        job.read_log(log),
        own_words | (words or {}),
        judge,
        save=lambda rows: job.save_log(log, rows),
        widths=_WIDTHS,
        log=log,
        drafts=Drafts(job.folder, f"{log} log"),
    )


def file_notes(job, log):
    """What was odd in a log's file and was kept all the same.

    Parameters
    ----------
    job : Job
        The job.
    log : str
        Name of the log.

    Returns
    -------
    tuple of str
        One sentence each; a log that a job may do without says nothing before it is begun.
    """
    return job.log_notes(log) if log in LOGS or job.has_log(log) else ()


def row_verdict(reading, odd="", ahead=""):
    """What is to be said about a row.

    Parameters
    ----------
    reading : Reading
        The row as read.
    odd : str
        Why it does not belong to the others; empty when it does.
    ahead : str
        A caution before the reading is taken; may be empty.

    Returns
    -------
    str
        "good", "odd" or "bad", a colon and why.
    """
    if ahead:
        return f"bad: {ahead}"
    if reading.refusal:
        return f"bad: {reading.refusal}"
    if reading.left_out:
        return reading.left_out
    return f"odd: {odd}" if odd else f"good: {' '.join(reading.warnings)}"
