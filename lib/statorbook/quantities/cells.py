"""What a person typed in one cell: a number with its last digit, or a plain sentence about it."""

import re
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache

from statorbook.errors import BadInput
from statorbook.quantities.unit_systems import from_shown, say_pair, to_shown

# Unit words that a reader may leave behind the number, lower case; anything else, such as mV, is refused.
_UNIT_WORDS = {
    "rpm": ("rpm", "r/min", "1/min", "rev/min"),
    "Hz": ("hz", "hertz"),
    "V": ("v", "volt", "volts", "vac", "v ac", "vdc", "v dc", "vrms", "v rms"),
    "A": ("a", "amp", "amps", "ampere", "a ac", "aac", "a rms", "arms"),
    "Ω": ("ω", "ohm", "ohms"),
    "s": ("s", "sec", "secs", "second", "seconds"),
    "min": ("min", "mins", "minute", "minutes"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
    "W": ("w", "watt", "watts"),
    "°C": ("°c", "c", "deg c", "degc", "°"),
    "L/s": ("l/s", "lps"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "kWh": ("kwh",),
    "jets": ("jets", "jet"),
    "number": ("number",),
    "m/s": ("m/s",),
}
# What a US reader may leave behind the number in place of the unit of the column, lower case.
_US_WORDS = {
    "°C": ("°f", "f", "deg f", "degf"),
    "L/s": ("gpm", "gal/min"),
    "m": ("ft", "foot", "feet"),
    "mm": ("in", "inch", "inches", '"'),
    "m/s": ("mph",),  # of the wind
}
_ODD_SPACES = dict.fromkeys((0xA0, 0x2007, 0x2009, 0x202F, 0x09), " ") | {0x2212: "-"}
# Not the grammar of `typed_quantity`, on purpose. A cell takes what a meter shows: its last digit counts, "1 234" is
# one number, and mV in a column of volts is refused, since it is mostly a wrong range. A field takes what a label or a
# tape says: "3/8 in", "AWG 19", any usual unit; "1 234" are two numbers there. One parser would change one of them.
_NUMBER = re.compile(
    r"([+-]?(?:[0-9]{1,3}(?: [0-9]{3})+|[0-9]+)(?:[.,]([0-9]+))?|[+-]?[.,]([0-9]+))"
    r"(?:[eE]([+-]?[0-9]{1,2}))?(?![0-9]) *(.*)"
)
# Each order in which people write a day. Points stand between day, month and year only; after a stroke or a hyphen
# the month comes first in some countries. Names of months are English, short or long (common practice, no source).
_DAY_ORDERS = (
    "%Y-%m-%d",
    "%Y/%m/%d",
    "%Y.%m.%d",
    "%d.%m.%Y",
    "%d/%m/%Y",
    "%m/%d/%Y",
    "%d-%m-%Y",
    "%m-%d-%Y",
    "%d %b %Y",
    "%d %B %Y",
    "%b %d %Y",
    "%B %d %Y",
)
_DAY_ALLOWED = "a day as year-month-day, such as 2026-05-31, is allowed"
_ORDINAL = re.compile(r"(?<=[0-9])(?:st|nd|rd|th)?[.]? (?=[A-Za-z])|(?<=[A-Za-z] )([0-9]{1,2})(?:st|nd|rd|th)\b")
_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")
_THOUSANDS_OR_DECIMALS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")


@dataclass(frozen=True, kw_only=True)
class TypedNumber:
    """A number as typed, with the worth of its last digit.

    Parameters
    ----------
    value : float
        The number, in the unit of its column.
    step : float
        One count of the last digit typed, same unit; 0.1 for "23.4".
    """

    value: float
    step: float


def cell_text(value):
    """The text of a cell; nothing and not-a-number become an empty text.

    Parameters
    ----------
    value : object
        What the row holds: text, a number or None.

    Returns
    -------
    str
        Text without outer or unusual spaces.
    """
    if value is None or value != value:
        return ""
    return str(value).translate(_ODD_SPACES).strip()


def holds_anything(rows):
    """Whether any cell of a log was typed into.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    bool
        False for an empty log and for one of blanks.
    """
    return any(cell_text(cell) for row in rows for cell in row.values())


def day_of(text):
    """A day as typed.

    Parameters
    ----------
    text : str
        Year-month-day, such as 2026-05-31.

    Returns
    -------
    date or None
        None when it is no such day.
    """
    try:
        return date.fromisoformat(text.strip()) if _DAY.fullmatch(text.strip()) else None
    except ValueError:
        return None


@lru_cache(maxsize=4096)
def days_meant(text):
    """The days that a text can mean.

    Parameters
    ----------
    text : str
        A day in any usual order, with numbers or with the month's English name; the year has four digits.

    Returns
    -------
    tuple of date
        None of them when it is no day, two when day and month can be exchanged, earliest first.
    """
    plain = cell_text(text)
    if any(letter.isalpha() for letter in plain):
        plain = " ".join(re.sub(r"[,-]|(?<=[A-Za-z])[.]", " ", plain).split()).replace("Sept ", "Sep ")
        plain = _ORDINAL.sub(lambda found: found[1] or " ", plain)
    found = set()
    for order in _DAY_ORDERS if plain.isascii() else ():
        try:
            found.add(datetime.strptime(plain, order).date())
        except ValueError:
            continue
    return tuple(sorted(found))


def typed_day(value, *, where, next_step="type the day again"):
    """Read one cell with a day, or refuse it in one sentence.

    Parameters
    ----------
    value : object
        The cell as typed, in any usual order of day, month and year.
    where : str
        Log, row and field, for the sentence.
    next_step : str
        What to do when it is no day.

    Returns
    -------
    date
        The day.

    Raises
    ------
    BadInput
        When the cell is empty, no day, or can mean two days.
    """
    text = cell_text(value)
    days = days_meant(text)
    if len(days) == 2:
        one, other = days
        raise BadInput(
            f"{_shown(text)} can mean {_in_words(one)} or {_in_words(other)}",
            _DAY_ALLOWED,
            f"type {one.isoformat()} or {other.isoformat()}",
            where=where,
        )
    if not days:
        raise BadInput(
            f"{_shown(text)} was given" if text else "nothing was given", _DAY_ALLOWED, next_step, where=where
        )
    return days[0]


def tidy_day(value):
    """A day as the job keeps it.

    Parameters
    ----------
    value : str
        The cell as typed.

    Returns
    -------
    str
        Year-month-day; as typed when it is no day or can mean two.
    """
    days = days_meant(value)
    return days[0].isoformat() if len(days) == 1 else value


def typed_number(value, unit, *, at_least, at_most, where, hint="", name=""):
    """Read one number cell, or refuse it in one sentence.

    Parameters
    ----------
    value : object
        The cell as typed; a decimal point or one decimal comma, spaces and the column's unit are accepted, beside °C,
        L/s, m and mm also °F, gpm, ft and in, and mph of the wind.
    unit : str
        The unit of the column.
    at_least : float
        Lowest number allowed, in that unit.
    at_most : float
        Highest number allowed, in that unit.
    where : str
        Log, row and field, for the sentence.
    hint : str
        A guess at what went wrong, put before the next step; may be empty.
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    TypedNumber
        The number and its last digit.

    Raises
    ------
    BadInput
        When the cell is empty, no number, of another unit, ambiguous or outside the limits.
    """
    text = cell_text(value)
    allowed = f"a number from {say_pair(at_least, at_most, unit, form='g', name=name)} is allowed"
    again = f"{hint}type the reading again"
    if not text:
        raise BadInput("the cell is empty", allowed, f"{hint}type the reading", where=where)
    match = _NUMBER.fullmatch(text)
    if not match:
        raise BadInput(f"{_shown(text)} is not a number", allowed, again, where=where)
    digits, exponent, unit_typed = match[1].replace(" ", ""), int(match[4] or 0), match[5].strip()
    in_us = unit_typed.casefold() in _US_WORDS.get(unit, ())
    if unit_typed and not in_us and unit_typed.casefold() not in _UNIT_WORDS[unit]:
        raise BadInput(f"{_shown(text)} is not a number in {unit}", allowed, f"{again} in {unit}", where=where)
    if _THOUSANDS_OR_DECIMALS.fullmatch(digits):
        raise BadInput(
            f"{_shown(text)} can mean {digits.replace(',', '.')} or {digits.replace(',', '')}",
            allowed,
            "type it without the comma, with a point for decimals",
            where=where,
        )
    number = float(digits.replace(",", ".")) * 10.0**exponent
    step = 10.0 ** (exponent - len(match[2] or match[3] or ""))
    if in_us:
        # A step is a difference: counted from the zero of the column's unit it has no offset.
        step += to_shown(0.0, unit, "US", name)
        number, step = (from_shown(each, unit, "US", name) for each in (number, step))
    if not at_least <= number <= at_most:
        raise BadInput(f"{_shown(text)} was given", allowed, again, where=where)
    return TypedNumber(value=number, step=step)


def typed_word(value, words, *, where, hint=""):
    """Read one cell that holds a word of a short list, or refuse it in one sentence.

    Parameters
    ----------
    value : object
        The cell as typed; capitals, spaces, commas and hyphens do not matter.
    words : dict of str to str
        From each accepted spelling to the word meant.
    where : str
        Log, row and field, for the sentence.
    hint : str
        A guess at what went wrong, put before the next step; may be empty.

    Returns
    -------
    str
        The word meant.

    Raises
    ------
    BadInput
        When the cell is empty or holds another word.
    """
    text = cell_text(value)
    known = {_squeezed(spelling): word for spelling, word in words.items()}
    if _squeezed(text) in known:
        return known[_squeezed(text)]
    given = f"{_shown(text)} was given" if text else "the cell is empty"
    listed = ", ".join(f'"{word}"' for word in dict.fromkeys(words.values()))
    raise BadInput(given, f"allowed are {listed}", f"{hint}choose one of them", where=where)


def _in_words(day):
    return f"{day.day} {day:%B %Y}"


def _squeezed(text):
    return re.sub(r"[\s,\-–_/]+", "", text).casefold()


def _shown(text):
    text = " ".join(text.split())  # a line break inside a cell would break the sentence
    return f'"{text}"' if len(text) <= 40 else f'"{text[:37]}…"'
