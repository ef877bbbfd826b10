"""Rows of the service log: hours run, and what the bearings felt, sounded and looked like that day."""

from dataclasses import dataclass
from datetime import date
from math import nan

from statorbook.bench import SERVICE_LOG, Reading, read_rows
from statorbook.quantities import cell_text, holds_anything, typed_day

PLAY = ("none", "slight", "clear")
NOISE = ("quiet", "hum", "grind")
WATER = ("none", "damp outside", "inside")
WORDS = {"play": PLAY, "noise": NOISE, "water": WATER}


@dataclass(frozen=True, kw_only=True)
class ServiceReading(Reading):
    """One look at the machine; nan or empty for what was not looked at."""

    day: date | None = None
    run_hours: float = nan  # since the first day at work
    play: str = ""  # of PLAY
    noise: str = ""  # of NOISE
    bearing_c: float = nan  # outside of the bearing's seat after a long run
    room_c: float = nan  # air around
    water: str = ""  # of WATER


def read_service(rows):
    """Read the service log.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of ServiceReading
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    if not holds_anything(rows):
        return ()
    return read_rows(SERVICE_LOG, ServiceReading, rows, _numbers)


def _numbers(row, where):
    day = typed_day(row.get("taken_on"), where=SERVICE_LOG.cell(where, "taken_on"), next_step="type the day you looked")
    found = {"day": day}
    for name in ("hours_run", "bearing_c", "room_c"):
        if cell_text(row.get(name)):
            found["run_hours" if name == "hours_run" else name] = SERVICE_LOG.number(row, name, where).value
    for name, words in WORDS.items():
        if cell_text(row.get(name)):
            found[name] = SERVICE_LOG.word(row, name, where, words={word: word for word in words})
    lonely = ("bearing_c" in found) != ("room_c" in found)
    warnings = [f"{where}: the bearing's warmth tells only beside that of the air: type both."] if lonely else []
    return found, warnings
