"""Rows of a log of the wind as numbers, in order of time, each with the hours it holds; what is odd is said."""

import re

import numpy as np

from statorbook.bench import WIND_SERIES_LOG
from statorbook.errors import BadInput
from statorbook.quantities import say
from statorbook.year.wind_text import NUMBER, WHERE, metres_a_second
from statorbook.year.wind_times import times_of

_MOST_WIND_M_S = WIND_SERIES_LOG.column("wind").limits[1]
_LEAST_STEP_H, _MOST_STEP_H = 0.9 / 60.0, 24.5  # a minute and a day, with a clock that is not quite right
_USUAL_SHARE = 0.05  # a step as common as that is one of the log's own; a rarer, longer one is a gap
_LONGER = 1.5  # times its step, and a reading is followed by a gap
_MOSTLY = 0.9  # of the steps go back: a log with the newest reading first
_STUCK_H = 48.0  # of the very same reading; no wind does that
_FAILED = ", as loggers write when a sensor fails: taken as no reading."


def numbers_of(time_texts, wind_texts):
    """Times and winds [m/s] of the rows that have both, and a sentence about every kind of row that has not."""
    import pandas as pd

    cells = pd.Series(wind_texts, dtype=object).str.strip()
    times, assumed = times_of(time_texts)
    winds, timed = _winds_of(cells), ~np.isnat(times)
    limit = say(_MOST_WIND_M_S, "m/s", name="wind")
    kinds = (
        (~timed, time_texts, "no time that can be read", ": set aside."),
        (timed & np.isnan(winds) & (cells != ""), cells, "no wind that can be read", ": taken as no reading."),
        (timed & (winds < 0.0), cells, "a wind below 0", _FAILED),
        (timed & (winds > _MOST_WIND_M_S), cells, f"a wind above {limit}", _FAILED),
    )
    said = [_rows_words(*kind) for kind in kinds if np.any(kind[0])]
    used = timed & (winds >= 0.0) & (winds <= _MOST_WIND_M_S)
    return times[used], winds[used], tuple(filter(None, (assumed, *said)))


def _winds_of(cells):
    """Winds in m/s; not a number where none can be read."""
    import pandas as pd

    # A few hundred different winds stand in thousands of rows, so that each is read once.
    at, typed = pd.factorize(cells)
    parts = pd.Series(typed).str.extract(f"^{NUMBER}$")
    number = pd.to_numeric(parts[0].str.replace(",", ".").str.replace("−", "-"), errors="coerce").astype(float)
    units = parts[1].fillna("m/s")
    found = number * units.map({unit: _factor(unit) for unit in units.unique()[:50]}).astype(float)
    return np.where(np.isfinite(found), found, np.nan)[at]


def _factor(unit):
    """Metres a second in a unit, not a number in what is none of speed."""
    try:
        return metres_a_second(unit) if re.fullmatch(r"[A-Za-z/]{2,14}", unit) else np.nan
    except BadInput:
        return np.nan


def _rows_words(where, texts, what, then):
    """One sentence about the rows of a mask, the first of them shown."""
    rows = np.flatnonzero(where)
    text = " ".join(str(texts[rows[0]]).split())[:30]
    many = f"{len(rows):,} rows have {what}, the first" if len(rows) > 1 else f"1 row has {what},"
    return f"{many} {f'“{text}”' if text else 'an empty cell'} in row {rows[0] + 1:,}{then}"


def in_order(times, winds):
    """Times and winds sorted, how many of the same time share its hours, and sentences about that."""
    steps, said = np.diff(times), []
    back = np.flatnonzero(steps < np.timedelta64(0, "s"))
    if len(back) > _MOSTLY * len(steps):
        said.append("The rows run backwards in time; they were turned round.")
    elif len(back):
        at = _minute(times[back[0] + 1])
        rows = (
            f"1 row is earlier than the one above, at {at}"
            if len(back) == 1
            else (f"{len(back):,} rows are earlier than the one above, the first at {at}")
        )
        said.append(f"{rows}; all were sorted by time.")
    order = np.argsort(times, kind="stable")
    times, winds = times[order], winds[order]
    _, place, count = np.unique(times, return_inverse=True, return_counts=True)
    twice = np.flatnonzero(count > 1)
    if len(twice):
        at = _minute(times[place == twice[0]][0])
        stand = "1 time stands" if len(twice) == 1 else f"{len(twice):,} times stand"
        said.append(f"{stand} there more than once, first {at}; what was read then shares its hours.")
    return times, winds, 1.0 / count[place], tuple(said)


def held_hours(times):
    """How long each reading holds [h], for sorted times, and sentences about changing steps and gaps."""
    moments, place = np.unique(times, return_inverse=True)
    steps = np.diff(moments).astype(float) / 3600.0
    values, counts = np.unique(np.round(steps, 6), return_counts=True)
    usual = values[counts >= _USUAL_SHARE * len(steps)]
    usual = usual if len(usual) else np.array([np.median(steps)]) if len(steps) else np.array([0.0])
    # No longer than to the reading after or before, so that the last one before a gap does not fill it.
    held = np.minimum(np.minimum(np.append(steps, np.inf), np.insert(steps, 0, np.inf)), usual.max())
    step = float(np.median(held))
    if not _LEAST_STEP_H <= step <= _MOST_STEP_H:
        raise BadInput(
            f"there is a reading every {step_words(step)}",
            "steps from 1 minute to 1 day are allowed",
            "take means over ten minutes or an hour" if step < 1.0 else "bring in a log that was read more often",
            where=WHERE,
        )
    changes = usual.max() > 1.2 * usual.min()
    between = f"between {step_words(usual.min())} and {step_words(usual.max())}"
    said = [f"The step changes {between}; each reading counts for its own."] if changes else []
    return held[place], (*said, *_gap_words(moments, steps, held))


def _gap_words(moments, steps, held):
    gaps = np.where(steps > _LONGER * held[:-1], steps - held[:-1], 0.0)
    if not gaps.any():
        return ()
    longest = int(gaps.argmax())
    lasting = f"{step_words(gaps[longest])} from {_minute(moments[longest])}"
    share = 100.0 * gaps.sum() / (gaps.sum() + held.sum())
    if (count := int((gaps > 0.0).sum())) == 1:
        return (f"There is 1 gap without a reading, of {lasting}, {share:.2g} % of the time.",)
    return (f"There are {count:,} gaps without a reading, {share:.2g} % of the time, the longest of {lasting}.",)


def stuck_words(times, winds, hours):
    """What is said of a wind that does not change for days; nothing when it does."""
    starts = np.flatnonzero(np.append(True, np.diff(winds) != 0.0))
    lasting = np.add.reduceat(hours, starts)
    longest = int(lasting.argmax())
    if lasting[longest] < _STUCK_H:
        return ()
    wind, since = say(winds[starts[longest]], "m/s", name="wind"), _minute(times[starts[longest]])
    return (
        f"The wind stands at {wind} for {lasting[longest]:.0f} h from {since}, as a stuck or iced sensor does; it is "
        "counted as read.",
    )


def _minute(time):
    """A time as "2025-05-31 14:00"."""
    return str(time).replace("T", " ")[:16]


def step_words(hours):
    """A time such as "1 h", "10 min", "3 s" or "2.5 days"."""
    if hours >= 48.0:
        return f"{hours / 24.0:.3g} days"
    if hours >= 1.0:
        return f"{hours:.3g} h"
    return f"{60.0 * hours:.3g} min" if hours >= 1.0 / 60.0 else f"{3600.0 * hours:.3g} s"


def listed(names):
    """Words one after the other: "a, b and c"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
