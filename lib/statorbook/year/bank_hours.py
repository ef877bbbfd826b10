"""Banks of many sizes through the same year, hour by hour: what falls short, what is spilt, what is lost in them."""

from dataclasses import dataclass

import numpy as np

from statorbook.year.source import MONTH_HOURS

SIZES = 0.25 * 2.0 ** (np.arange(25) / 4.0)  # of the present bank, a quarter to eight times, and twice of that
_DOUBLE = 4  # places on in `SIZES`
_FIRST_DAYS = np.concatenate([[0], np.cumsum(MONTH_HOURS / 24.0)[:-1]]).astype(int)
_HAIR = 1e-9  # kWh that are no shortfall but rounding


@dataclass(frozen=True, kw_only=True)
class BankYears:
    """Banks of several sizes through a year, the mean of the years drawn; shape (s,) but for the months."""

    usable_kwh: np.ndarray  # sizes: what may be taken out of the full bank
    short_kwh_by_month: np.ndarray  # what the bank could not give, shape (12, s)
    come_kwh: np.ndarray  # to the bank, spilt or not
    need_kwh: np.ndarray  # wanted out of the bank
    spill_kwh: np.ndarray  # came while the bank was full and nothing took it
    lost_kwh: np.ndarray  # in the bank
    change_kwh: np.ndarray  # in the bank, end of the year less its beginning
    short_hours: np.ndarray  # in which it could not give all
    short_kwh_low: np.ndarray  # of the best year drawn
    short_kwh_high: np.ndarray  # of the worst year drawn

    def only(self, places):
        """Some of its sizes, by indices."""
        return BankYears(**{name: value[..., places] for name, value in vars(self).items()})

    @property
    def short_kwh(self):
        """At the bank, shape (s,) [kWh]."""
        return self.short_kwh_by_month.sum(axis=0)


def bank_years(come_watts, need_watts, usable_kwh, *, round_trip_share):
    """Take banks of several sizes through a year, hour by hour.

    Parameters
    ----------
    come_watts : ndarray
        Into the bank, each hour of one or more years, shape (d, 8760) [W].
    need_watts : ndarray
        Out of the bank, each hour, shape (8760,) [W].
    usable_kwh : ndarray
        Sizes, what may be taken out of the full bank, shape (s,) [kWh].
    round_trip_share : float
        What of the energy put in comes out again [-].

    Returns
    -------
    BankYears
        What falls short, is spilt and is lost.

    Notes
    -----
    Equation: what comes serves the need of the hour first; a surplus goes in times the round trip until the bank is
        full, the rest is spilt; a lack comes out until it is empty, the rest is short. Each year begins as it ends.
    Valid: a bank that takes any amps, keeps what it holds, and is as good at the end as at the beginning.
    Source: definition.
    """
    surplus = (come_watts - need_watts) / 1000.0
    in_kwh = np.maximum(surplus, 0.0).sum(axis=1)[:, None]
    flow = np.where(surplus > 0.0, round_trip_share * surplus, surplus)
    short, short_hours, spilt, change = _through(flow, np.asarray(usable_kwh, dtype=float))
    spill, whole = spilt / round_trip_share, short.sum(axis=0)
    sizes = np.ones(len(usable_kwh))
    return BankYears(
        usable_kwh=usable_kwh,
        short_kwh_by_month=short.mean(axis=1),
        come_kwh=come_watts.sum(axis=1).mean() / 1000.0 * sizes,
        need_kwh=need_watts.sum() / 1000.0 * sizes,
        spill_kwh=spill.mean(axis=0),
        lost_kwh=((1.0 - round_trip_share) * (in_kwh - spill)).mean(axis=0),
        change_kwh=change.mean(axis=0),
        short_hours=short_hours.mean(axis=0),
        short_kwh_low=whole.min(axis=0),
        short_kwh_high=whole.max(axis=0),
    )


def _through(flow, usable_kwh):
    """Short by month (12, d, s), short hours, spilt and change, each (d, s), for flows (d, 8760) into the bank."""
    days = np.repeat(flow.T.reshape(-1, 24, len(flow)), len(usable_kwh), axis=2)  # (365, 24, d × s)
    full = np.tile(usable_kwh, len(flow))
    level, end = _mornings(days, full)
    change, short, spilt, short_hours = end - level[0], *np.zeros((3, len(days), len(full)))
    for hour in days.transpose(1, 0, 2):
        level = level + hour
        over, under = np.maximum(level - full, 0.0), np.maximum(-level, 0.0)
        level = level - over + under
        spilt += over
        short += under
        short_hours += under > _HAIR
    found = (np.add.reduceat(short, _FIRST_DAYS), short_hours.sum(axis=0), spilt.sum(axis=0), change)
    return [values.reshape(*values.shape[:-1], len(flow), len(usable_kwh)) for values in found]


def _mornings(days, full):
    """Level at the beginning of each day, shape (365, b), and at the end of the last, for flows (365, 24, b)."""
    # Whatever it begins with, an hour takes a level to level + flow held between 0 and full, and so does any run of
    # hours: level + its sum, held between where it ends from an empty and from a full bank.
    low, high = np.zeros_like(days[:, 0]), np.broadcast_to(full, days[:, 0].shape)
    for hour in days.transpose(1, 0, 2):
        low, high = (np.clip(level + hour, 0.0, full) for level in (low, high))
    total = days.sum(axis=1)

    def through(level):
        found = np.empty((len(days) + 1, *np.shape(level)))
        found[0] = level
        for day in range(len(days)):
            found[day + 1] = np.minimum(np.maximum(found[day] + total[day], low[day]), high[day])
        return found

    # A year that brings more than it takes leaves the bank as the full one ends, any other as the empty one does.
    from_empty, from_full = through(np.stack([np.zeros_like(full), full]))[-1]
    begin = np.where(total.sum(axis=0) > 0.0, from_full, from_empty)
    found = through(begin)
    return found[:-1], found[-1]


def enough_kwh(found, need_kwh):
    """The size from which a larger bank hardly helps.

    Parameters
    ----------
    found : BankYears
        At `SIZES` of the present bank.
    need_kwh : float
        Of the year, at the bank [kWh].

    Returns
    -------
    float
        The smallest size whose double takes less than 1 % of the year's need from the shortfall; infinite when even
        half of the largest is smaller than that [kWh].

    Notes
    -----
    Equation: shortfall(size) − shortfall(2 × size) < need / 100.
    Valid: the sizes looked at.
    Source: this workbook's own measure.
    """
    saved = found.short_kwh[:-_DOUBLE] - found.short_kwh[_DOUBLE:]
    hardly = np.flatnonzero(saved < 0.01 * need_kwh)
    return float(found.usable_kwh[hardly[0]]) if hardly.size else float("inf")
