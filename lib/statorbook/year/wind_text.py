"""A log of the wind as text from any hand: which cells are the time, which the wind, and in which unit."""

import io
import re
from collections import Counter
from dataclasses import dataclass
from functools import cache

from statorbook.bench import decoded
from statorbook.errors import BadInput
from statorbook.quantities import parse_quantity
from statorbook.year.wind_times import looks_like_a_time

WIND_UNITS = ("m/s", "km/h", "mph", "kn", "ft/s")
WHERE = "wind log"
MOST_ROWS = 120_000  # a reading every five minutes for a year; the job keeps every one of them
_SAMPLE = 60  # rows in which the columns are looked for; so many lines may stand above the readings
_SPREAD = 400  # rows all through the log in which numbers are looked for
_LEAST_ROWS, _LEAST_NUMBERS = 0.05, 0.3  # numbers in the rows, and among the cells with anything in them
_MOST_CELLS = 100
_MARKS = ("\t", ";", ",", r"\s+")
NUMBER = r"\s*([+\-−]?[0-9.,]+(?:[eE][+\-]?[0-9]+)?)\s*(\S.*?)?\s*"
_CLOCK = re.compile(r"[0-9]{1,2}[:.h][0-9]{2}(?:[:.][0-9]{2})?(?:\s*[AaPp]\.?[Mm]\.?)?")
# How loggers and weather services head a column, common practice, no source.
_WIND = re.compile(r"wind|speed|\bws|\bff\b|\bv\b|velocity|m/s|km/h|mph|knots?", re.IGNORECASE)
_NOT_WIND = re.compile(
    r"dir|gust|max|min\b|std|dev|temp|press|humid|rain|sun|volt|batt|power|angle|degree|°|°c", re.IGNORECASE
)
_SPELLINGS = {"ms": "m/s", "m_s": "m/s", "mps": "m/s", "ms-1": "m/s", "kmph": "km/h", "kts": "kn", "mi/h": "mph"}


@dataclass(frozen=True, kw_only=True)
class WindText:
    """What was found in a text: cells as typed, and how they are to be read."""

    times: tuple  # of str, as typed
    winds: tuple  # of str, as typed, each with its unit unless that is m/s
    unit: str  # of the wind, as it stood there or was chosen
    notes: tuple  # sentences about what was taken how

    @property
    def rows(self):
        """Rows of the job's log `wind_series`, a list of dict."""
        return [{"time": time, "wind": wind} for time, wind in zip(self.times, self.winds, strict=True)]


def read_wind_text(data, unit=""):
    """Find time and wind in a log that was pasted or brought in.

    Parameters
    ----------
    data : bytes or str
        Lines of cells, parted by tabs, semicolons, commas or spaces; lines above the readings may name the columns.
    unit : str
        Unit of the wind where no heading says it: m/s, km/h, mph, kn or ft/s; "" when nobody chose one.

    Returns
    -------
    WindText
        Every row of readings as typed, those that cannot be read included.

    Raises
    ------
    BadInput
        When no readings are found, the column of the wind cannot be told, or its unit is nowhere said.
    """
    text, assumed = decoded(data, "the file") if isinstance(data, bytes) else (data, "")
    lines = [line for line in text.replace("\x00", "").splitlines() if line.strip()]
    if len(lines) > MOST_ROWS:
        raise BadInput(
            f"{len(lines):,} lines were given",
            f"at most {MOST_ROWS:,} are kept",
            "take means over ten minutes, or one year of it",
            where=WHERE,
        )
    for mark in (mark for mark in _MARKS if _parts_most(lines, mark)):
        if (table := _table(lines, mark)) is not None and (time_at := _time_columns(table)) is not None:
            return _found(table, time_at, unit, (assumed,) if assumed else ())
    raise BadInput(
        "no column of dates and times was found" if lines else "nothing was given",
        "rows with a time and a wind are allowed, such as 2025-05-31 14:00, 5.3",
        "copy both columns, with their headings",
        where=WHERE,
    )


def _table(lines, mark):
    """Cells of all lines by column, text as typed; None without lines, or when one has too many cells."""
    import pandas as pd

    spaces = mark == _MARKS[-1]
    width = max((len(line.split()) if spaces else line.count(mark) + 1 for line in lines), default=0)
    if not 0 < width <= _MOST_CELLS:
        return None
    how = dict(sep=mark, header=None, names=range(width), dtype=str, keep_default_na=False, index_col=False)
    text = io.StringIO("\n".join(lines).lstrip("\ufeff"))
    try:
        return pd.read_csv(text, **how, skipinitialspace=True).fillna("")
    except ValueError:  # a quotation mark that is never closed
        text.seek(0)
        return pd.read_csv(text, **how, quoting=3).fillna("")


def _parts_most(lines, mark):
    """Whether a mark stands in at least half of the lines."""
    return sum(re.search(mark, line.strip()) is not None for line in lines) >= 0.5 * len(lines)


def _time_columns(table):
    """First row of readings and the columns of its time, one, or two for a date beside a clock; None without any."""
    found = [(row, columns) for row in range(min(_SAMPLE, len(table))) if (columns := _time_in(table.iloc[row]))]
    if not found:
        return None
    ((most, _),) = Counter(columns for _, columns in found).most_common(1)
    return next(row for row, columns in found if columns == most), most


def _time_in(cells):
    """The columns of the time in one row; none where there is no time."""
    for at, cell in enumerate(cells[:-1]):
        if looks_like_a_time(cell):
            beside = cells.iloc[at + 1].strip()
            clock = ":" not in cell and _CLOCK.fullmatch(beside) and len(cells) > at + 2 and not _is_decimal(beside)
            return (at, at + 1) if clock else (at,)
    return ()


def _is_decimal(cell):
    return re.fullmatch(r"\s*\d+\.\d+\s*", cell) is not None


def _found(table, time_at, unit, notes):
    first, times = time_at
    heads = [" ".join(filter(None, map(str.strip, table[at].iloc[max(0, first - 2) : first]))) for at in table]
    body = table.iloc[first:]
    spread = body.iloc[:: max(1, len(body) // _SPREAD)]
    numbers = [at for at in table if at not in times and _holds_numbers(spread[at])]
    wind_at = _wind_column(heads, numbers)
    if heads[wind_at] and wind_at + 1 in numbers and not heads[wind_at + 1]:
        raise BadInput(
            "the rows have more cells than the headings",
            "a decimal comma is allowed where semicolons or tabs part the cells",
            "save it again with semicolons between the cells, or with decimal points",
            where=WHERE,
        )
    others = [heads[at] or f"column {at + 1}" for at in numbers if at != wind_at]
    if others:
        notes += (f"Left out as no wind: {', '.join(other[:30] for other in others[:6])}.",)
    time_texts = body[times[0]].str.strip()
    if len(times) == 2:
        time_texts = (time_texts + " " + body[times[1]].str.strip()).str.strip()
    said, winds = _with_units(body[wind_at].str.strip(), _head_with_unit(heads, wind_at, numbers), unit)
    return WindText(times=tuple(time_texts), winds=tuple(winds), unit=said, notes=notes)


def _holds_numbers(cells):
    """Whether a column is one of numbers, though a sensor may have failed for a long time."""
    typed, number = cells.str.strip() != "", cells.str.fullmatch(NUMBER)
    return number.mean() >= _LEAST_ROWS and number[typed].mean() >= _LEAST_NUMBERS


def _head_with_unit(heads, at, numbers):
    """The heading of a column, with what stands behind it over no numbers: "wind m/s" that was parted at its space."""
    behind = next((column for column in range(at + 1, len(heads)) if column in numbers), len(heads))
    return " ".join(heads[at:behind])


def _wind_column(heads, numbers):
    """The column of the wind among those of numbers, or `BadInput`."""
    if len(numbers) == 1:
        return numbers[0]
    named = [at for at in numbers if _WIND.search(heads[at]) and not _NOT_WIND.search(heads[at])]
    plain = [at for at in named if heads[at].split("[")[0].split("(")[0].strip().casefold() in ("wind", "wind speed")]
    if len(plain) == 1 or len(named) == 1:
        return (plain if len(plain) == 1 else named)[0]
    if not numbers:
        raise BadInput(
            "no column of numbers was found beside the time",
            "rows with a time and a wind are allowed, such as 2025-05-31 14:00, 5.3",
            "copy the column of the wind too",
            where=WHERE,
        )
    shown = ", ".join(f"“{heads[at][:30]}”" if heads[at] else f"column {at + 1}" for at in (named or numbers)[:6])
    raise BadInput(
        f"{len(named or numbers)} columns may be the wind: {shown}",
        "one column headed “wind” is allowed",
        "write wind above the right one, with its unit, and give it again",
        where=WHERE,
    )


def _with_units(cells, head, chosen):
    """The unit of a column of wind, and its cells as typed, each with that unit unless it is m/s."""
    said = _unit_in(head)
    chosen = unit_of(chosen) if chosen else ""
    if said and chosen and said != chosen:
        raise BadInput(
            f"the heading “{head[:40]}” says {said} and {chosen} was chosen",
            "one unit is allowed",
            "choose the unit of the heading, or correct the heading",
            where=WHERE,
        )
    unit = said or chosen
    typed = cells.drop_duplicates()
    parts = typed.str.extract(f"^{NUMBER}$")
    own = parts[1].fillna("")
    units = own[own != ""].unique()
    if not unit and not len(units):
        raise BadInput(
            "no unit of the wind stands in the headings",
            f"{', '.join(WIND_UNITS)} are allowed",
            "choose the unit, and give the log again",
            where=WHERE,
        )
    # A cell that brings its unit keeps it; the others get that of the column, m/s alone goes without saying.
    unit = unit or "m/s"
    bare = cells.isin(typed[(own == "") & parts[0].notna()])
    return unit, cells if unit == "m/s" else cells.where(~bare, cells + f" {unit}")


def _unit_in(head):
    """The unit of speed that a heading names; "" for none."""
    words = re.split(r"[\s\[\](),;:]+", re.sub(r"\bm\.? ?s(-1|⁻¹)", "m/s", head))
    parts = [re.split(r"_+", word) for word in words]
    for word in [*words, *(part for found in parts for part in (*found, "/".join(found[-2:])))]:
        if word.strip().casefold() not in ("", "m", "s", "v", "h"):
            try:
                return unit_of(word)
            except BadInput:
                continue
    return ""


def unit_of(word):
    """One of `WIND_UNITS` that a word means, or `BadInput`."""
    word = _SPELLINGS.get(word.strip().casefold(), word.strip())
    if word in WIND_UNITS:
        return word
    for unit in WIND_UNITS if re.fullmatch(r"[A-Za-z/]{2,14}", word) else ():
        if abs(metres_a_second(word) / metres_a_second(unit) - 1.0) < 1e-6:
            return unit
    raise BadInput(
        f"“{word[:20]}” was given as the unit", f"{', '.join(WIND_UNITS)} are allowed", "choose one", where=WHERE
    )


@cache
def metres_a_second(unit):
    """One of a unit of speed [m/s], or `BadInput`."""
    return parse_quantity(f"1 {unit}", "m/s", WHERE)
