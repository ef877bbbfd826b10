"""A log of the job as a grid: read from the disk, saved cell by cell, each row with its verdict."""

from contextlib import suppress

from statorbook.assembly import units_for
from statorbook.bench import ALL_LOGS, LOGS
from statorbook.errors import BadInput
from statorbook.job import Drafts
from statorbook.widgets import LogGrid

_WIDTHS = {
    "taken_on": "minmax(7.5em, 9em)",
    "note": "minmax(6em, 26em)",
    "between": "minmax(7em, 10em)",
    "appliance": "minmax(9em, 18em)",
    "rule": "11em",
    "only_if": "20em",
}
_TYPED_IN_US = {
    "°C": "68 F",
    "L/s": "12 gpm",
    "m": "90 ft",
    "mm": "0.5 in",
    "m/s": "12 mph",
}  # what a cell takes beside its own unit


def log_grid(job, log, judge, *, words=None, heads=None, in_turn=None):
    """One log of a job as a grid; `words` and `heads` by column besides those of the log, the rest as in `LogGrid`."""
    columns = ALL_LOGS[log].columns
    system = units_for(job)
    typed = _TYPED_IN_US if system == "US" else {}
    usual = {c.name: f"{c.heading} (or type {typed[c.unit]})" if c.unit in typed else c.heading for c in columns}
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
        system=system,
        first=_wiring(job),
        in_turn=in_turn,
    )


def _wiring(job):
    """The wiring as found, with which the rows of a log begin; nothing while it is not known."""
    with suppress(BadInput):
        return {"connection": job.stator.found_connection} if job.stator else {}
    return {}


def file_notes(job, log):
    """What was odd in a log's file and was kept; a log that a job may do without says nothing before it is begun."""
    return job.log_notes(log) if log in LOGS or job.has_log(log) else ()


def row_verdict(reading, odd="", ahead=""):
    """What is said beside a row: "good", "odd" or "bad", a colon and why; a caution before it is taken comes first."""
    if ahead:
        return f"bad: {ahead}"
    if reading.refusal:
        return f"bad: {reading.refusal}"
    if reading.left_out:
        return reading.left_out
    return f"odd: {odd}" if odd else f"good: {' '.join(reading.warnings)}"
