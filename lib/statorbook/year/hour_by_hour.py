"""The hours of a year one after the other: what comes into the bank in each, true to the hours of every month."""

import numpy as np

from statorbook.drives import Engine, Pedals, PipedJet, WaterJet
from statorbook.quantities import WEATHER_HOURS
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS

_FROM_CLOCK = 17  # rides and engine hours begin here every day, assumed
_SEED = 16  # the same year every time, so that a move of a slider shows its own effect alone
_EVEN, _DAILY = (WaterJet, PipedJet), (Pedals, Engine)
_DAYS = (MONTH_HOURS / 24.0).astype(int)


def is_drawn(source):
    """Whether the order of its hours is drawn, since such a source comes and goes.

    Parameters
    ----------
    source : SourceYear
        The year.

    Returns
    -------
    bool
        False for water, riders and engines, and where a log says the order.
    """
    return source.by_hour is None and not isinstance(source.drives[0], (*_EVEN, *_DAILY))


def order_words(source, weather_hours=WEATHER_HOURS.value):
    """How the hours of a source were put in order, in a sentence.

    Parameters
    ----------
    source : SourceYear
        The year.
    weather_hours : float
        As in `watts_by_hour` [h].

    Returns
    -------
    str
        What of it is assumed is named.
    """
    if source.by_hour is not None:
        return "The hours follow each other as in the log, with the hours of each month as they are."
    if isinstance(source.drives[0], _EVEN):
        return "Within a month the water is taken to run evenly."
    if isinstance(source.drives[0], _DAILY):
        return f"It is taken to run every day of a month alike, from {_FROM_CLOCK} o'clock on."
    return (
        f"Only the hours of each month are known, not their order: five years were drawn in which weather lasts about "
        f"{weather_hours:.0f} h (assumed), with exactly those hours; the mean of the five is told."
    )


def watts_by_hour(source, watts, *, weather_hours=WEATHER_HOURS.value, draws=5, seed=_SEED):
    """Power of every hour of a year, in an order that such a source can have.

    Parameters
    ----------
    source : SourceYear
        The year.
    watts : ndarray
        What each setting gives, shape (k,), such as `GroupingYear.bank_watts` [W].
    weather_hours : float
        Time after which the correlation of the weather with itself has fallen to 37 % [h].
    draws : int
        How many years are drawn of a source that comes and goes; all else has one [-].
    seed : int
        Start of the random numbers, the same for the same years [-].

    Returns
    -------
    ndarray
        Shape (draws, 8760), the hours of each month together exactly those of the source [W].

    Notes
    -----
    Equation: the hours of a month, sorted by setting, are given to the hours of the clock by the ranks of a normal
        series z(t) = r z(t − 1) + √(1 − r²) e, r = exp(−1/h).
    Valid: water runs evenly within a month; riders and engines run every day from the same hour; all else comes and
        goes without a rhythm of the day.
    Source: rank mapping of a first-order autoregressive series, time-series textbooks (from memory).
    """
    if isinstance(source.drives[0], _EVEN):
        return np.repeat(source.hours @ watts / MONTH_HOURS, MONTH_HOURS.astype(int))[None, :]
    if isinstance(source.drives[0], _DAILY):
        return _each_day(source, watts)[None, :]
    weather = _weather(weather_hours, draws, seed) if source.by_hour is None else source.by_hour[None, :]
    start, months = 0, []
    for hours in source.hours:
        count = int(MONTH_HOURS[len(months)])
        ranks = weather[:, start : start + count].argsort(axis=1).argsort(axis=1)
        months.append(_sorted_watts(hours, watts, count, np.arange(count + 1.0))[ranks])
        start += count
    return np.concatenate(months, axis=1)


def _sorted_watts(hours, watts, count, edges):
    """Mean watts between edges [h] along the hours of a month, standstill first, then the weakest setting."""
    still = max(count - hours.sum(), 0.0)
    reached = np.concatenate([[0.0, still], still + np.cumsum(hours)])
    energy = np.concatenate([[0.0, 0.0], np.cumsum(hours * watts)])
    reached[-1] = max(reached[-1], float(count))
    return np.diff(np.interp(edges, reached, energy)) / np.diff(edges)


def _each_day(source, watts):
    """Every day of a month alike, the strongest setting first."""
    found = []
    for hours, days in zip(source.hours, _DAYS, strict=True):
        count = 24 * int(days)
        day = _sorted_watts(hours, watts, count, np.linspace(0.0, count, 25))[::-1]
        found.append(np.tile(np.roll(day, _FROM_CLOCK), days))
    return np.concatenate(found)


def _weather(weather_hours, draws, seed):
    """Normal numbers that keep to each other from hour to hour, shape (draws, 8760)."""
    from scipy.signal import lfilter

    alike = np.exp(-1.0 / weather_hours)
    shocks = np.random.default_rng(seed).standard_normal((draws, int(HOURS_A_YEAR)))
    shocks[:, 1:] *= np.sqrt(1.0 - alike**2)
    return lfilter([1.0], [1.0, -alike], shocks, axis=1)
