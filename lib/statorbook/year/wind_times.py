"""Dates and times of a log in whatever order a hand or a logger wrote them."""

import re

import numpy as np

# Year, month and day in any order with a point, stroke, hyphen or month's English name between, or in one, 20250531.
_DATES = (
    r"(?P<a>\d{1,4})[-/. ](?P<b>\d{1,2}|[A-Za-z]{3,9})[-/., ]+(?P<c>\d{4}|\d{2})",
    r"(?P<a>\d{4})(?P<b>\d{2})(?P<c>\d{2})",
)
_CLOCK = (
    r"(?P<hour>\d{1,2}?)(?:[:.h]?(?P<minute>\d{2}))?(?:[:.]?(?P<second>\d{2})(?:[.,]\d+)?)?"
    r"\s*(?P<half>[AaPp]\.?[Mm]\.?)?\s*(?:Z|UTC|GMT|[+-]\d{2}:?\d{2})?"
)
_BOTH = re.compile(
    r"\s*(\d{1,4}[-/. ](?:\d{1,2}|[A-Za-z]{3,9})[-/., ]+(?:\d{4}|\d{2})(?=[T ,:_]|$)|\d{8})[T ,:_-]*(\d.*)?"
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DAY_FIRST = (
    "The dates are read day first (assumed), for nothing in them tells day from month; where the month comes first, "
    "write them year-month-day."
)


def looks_like_a_time(text):
    """Whether a cell holds a date, with or without a time of the day."""
    found = _BOTH.fullmatch(text.strip())
    return bool(found) and bool(re.fullmatch(_CLOCK, found[2] or "0"))


def times_of(texts):
    """Times of texts, datetime64[s] with NaT where none can be read, and a sentence about the order assumed or ""."""
    import pandas as pd

    series = pd.Series(texts, dtype=object).str.strip()
    found = pd.to_datetime(series.where(series.str.match(r"\d{4}-\d"), ""), format="ISO8601", errors="coerce", utc=True)
    if found.notna().sum() == (series != "").sum():
        return found.dt.tz_localize(None).to_numpy("datetime64[s]"), ""
    halves = [_BOTH.fullmatch(text) for text in series]
    # Few days and few times of the day stand in many rows, so that each is read once.
    day_at, days = pd.factorize(np.array([found[1] if found else "" for found in halves], dtype=object))
    clock_at, clocks = pd.factorize(np.array([found[2] or "0" if found else "" for found in halves], dtype=object))
    read, assumed = _days_of(days)
    return read[day_at] + _seconds_of(clocks)[clock_at], assumed


def _seconds_of(clocks):
    """Times of the day, timedelta64[s]; 24:00 ends a day."""
    import pandas as pd

    parts = pd.Series(clocks).str.extract(rf"^{_CLOCK}$")
    hour, minute, second = (_whole(parts[name]) for name in ("hour", "minute", "second"))
    half = parts["half"].str.lower().str[0]
    hour = np.where(half.notna(), hour % 12 + 12 * (half == "p"), hour)
    fits = parts["hour"].notna() & (hour <= 24) & (minute < 60) & (second < 60)
    seconds = (3600 * hour + 60 * minute + second).astype("timedelta64[s]")
    return np.where(fits, seconds, np.timedelta64("NaT"))


def _days_of(texts):
    """Days of dates, datetime64[s], and a sentence about the order that was assumed."""
    import pandas as pd

    series = pd.Series(texts, dtype=object)
    parts = max((series.str.extract(f"^{form}$") for form in _DATES), key=lambda parts: parts["a"].notna().sum())
    named = parts["b"].str[:3].str.lower().map({name: at for at, name in enumerate(_MONTHS, 1)})
    a, c = _whole(parts["a"]), _whole(parts["c"])
    b = np.where(named.notna(), named.fillna(0), _whole(parts["b"])).astype(int)
    if (parts["a"].str.len() == 4).any():
        return _dates(a, b, c), ""
    year = np.where(c < 100, 2000 + c, c)
    orders = {True: _dates(year, b, a), False: _dates(year, a, b)}
    if named.notna().any():
        return orders[True], ""
    if (a > 12).any() or (b > 12).any():
        return orders[(a > 12).sum() >= (b > 12).sum()], ""
    even = {first: _evenness(days) for first, days in orders.items()}
    return orders[even[True] >= even[False]], _DAY_FIRST if even[True] == even[False] else ""


def _dates(year, month, day):
    import pandas as pd

    return pd.to_datetime(pd.DataFrame({"year": year, "month": month, "day": day}), errors="coerce").to_numpy(
        "datetime64[s]"
    )


def _evenness(days):
    """How many days follow one another: in the right order more than in the wrong one."""
    return int((np.diff(days) == np.timedelta64(86_400, "s")).sum())


def _whole(texts):
    import pandas as pd

    return pd.to_numeric(texts, errors="coerce").fillna(0).astype(int).to_numpy()
