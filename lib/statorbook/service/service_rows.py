"""Rows of the service log: hours run, and what the bearings felt, sounded and looked like that day."""

from dataclasses import dataclass
from datetime import date
from math import nan

from statorbook.bench import HEADINGS, Reading, number_in, read_rows
from statorbook.quantities import cell_text, holds_anything, typed_day, typed_word

PLAY = ("none", "slight", "clear")
NOISE = ("quiet", "hum", "grind")
WATER = ("none", "damp outside", "inside")
WORDS = {"play": PLAY, "noise": NOISE, "water": WATER}
# Unit, lowest and highest number; beyond them it is a slip of the pen.
_LIMITS = {"hours_run": ("h", 0, 1_000_000), "bearing_c": ("°C", -40, 200), "room_c": ("°C", -40, 60)}


@dataclass(frozen=True, kw_only=True)
class ServiceReading(Reading):
    """One look at the machine.

    Parameters
    ----------
    day : date or None
        When.
    run_hours : float
        Hours since the first day at work; nan when not read [h].
    play : str
        "none", "slight", "clear" or empty.
    noise : str
        "quiet", "hum", "grind" or empty.
    bearing_c : float
        Outside of the bearing's seat after a long run; nan when not read [°C].
    room_c : float
        Air around; nan when not read [°C].
    water : str
        "none", "damp outside", "inside" or empty.
    """

    day: date | None = None
    run_hours: float = nan
    play: str = ""
    noise: str = ""
    bearing_c: float = nan
    room_c: float = nan
    water: str = ""


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
    return read_rows("service", ServiceReading, rows, _numbers)


def _numbers(row, where):
    day = typed_day(row.get("taken_on"), where=f"{where}, {HEADINGS['taken_on']}", next_step="type the day you looked")
    found = {"day": day}
    for name in _LIMITS:
        if cell_text(row.get(name)):
            found["run_hours" if name == "hours_run" else name] = number_in(row, name, _LIMITS, where).value
    for name, words in WORDS.items():
        if cell_text(row.get(name)):
            found[name] = typed_word(row[name], {word: word for word in words}, where=f"{where}, {HEADINGS[name]}")
    lonely = ("bearing_c" in found) != ("room_c" in found)
    warnings = [f"{where}: the bearing's warmth tells only beside that of the air: type both."] if lonely else []
    return found, warnings
