"""The need of each month as typed in its log."""

from dataclasses import dataclass
from math import nan

import numpy as np

from statorbook.bench import MONTH_NAMES, NEED_MONTHS_LOG, MonthReading, read_months, require_usable
from statorbook.year.months import filled_months


@dataclass(frozen=True, kw_only=True)
class NeedReading(MonthReading):
    """What a house needs in one month."""

    kwh_a_day: float = nan  # at the sockets


def read_need_months(rows):
    """Read the log of the need.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of NeedReading
        One for every row that holds anything, bad rows included.
    """

    def numbers(row, where, month):
        return {"kwh_a_day": NEED_MONTHS_LOG.number(row, "need_kwh_a_day", where).value}, ()

    return read_months(NEED_MONTHS_LOG, NeedReading, rows, numbers)


def need_by_month(rows):
    """The need of every month from its log.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of ndarray and tuple of str
        Each month, shape (12,) [kWh a day]; and what was not typed but filled in, in words.

    Raises
    ------
    BadInput
        When a row cannot be used, or none holds anything.

    Notes
    -----
    Equation: a month without a row lies straight between the months typed before and after it, round the year.
    Valid: need that changes slowly.
    Source: this workbook's own rule.
    """
    found = np.full(12, np.nan)
    for reading in require_usable(read_need_months(rows)):
        found[reading.month] = reading.kwh_a_day
    missing = [name for name, kwh in zip(MONTH_NAMES, found, strict=True) if np.isnan(kwh)]
    return filled_months(found), (f"need of {', '.join(missing)}, from the months beside",) if missing else ()
