"""The wind's year as typed in a log: a mean for each month, or hours by how much wind."""

from dataclasses import dataclass
from math import nan

from statorbook.bench import WIND_HOURS_LOG, WIND_MONTHS_LOG, MonthReading, Reading, read_months, read_rows
from statorbook.errors import BadInput
from statorbook.quantities import holds_anything, say_pair


@dataclass(frozen=True, kw_only=True)
class WindMonth(MonthReading):
    """The mean wind of one month."""

    mean_wind_m_s: float = nan


@dataclass(frozen=True, kw_only=True)
class WindHours(Reading):
    """Hours of the year with so much wind."""

    wind_from_m_s: float = nan
    wind_to_m_s: float = nan
    hours: float = nan


def read_wind_months(rows):
    """Read the log of a mean wind for each month.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of WindMonth
        One for every row that holds anything, bad rows included; empty for an empty log.
    """

    def numbers(row, where, month):
        return {"mean_wind_m_s": WIND_MONTHS_LOG.number(row, "mean_wind", where).value}, []

    return read_months(WIND_MONTHS_LOG, WindMonth, rows, numbers) if holds_anything(rows) else ()


def read_wind_hours(rows):
    """Read the table of hours by how much wind.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of WindHours
        One for every row that holds anything, bad rows included, and those that reach into another row; empty for an
        empty log.
    """
    log, before = WIND_HOURS_LOG, []

    def numbers(row, where):
        low, high, hours = (log.number(row, name, where).value for name in log.names[:3])
        if high <= low:
            raise BadInput(
                f"{say_pair(low, high, 'm/s', form='g', name='wind')} was given",
                "the second wind must be above the first",
                "exchange or correct them",
                where=log.cell(where, "wind_from", "wind_to"),
            )
        for other, other_low, other_high in before:
            if low < other_high and other_low < high:
                raise BadInput(
                    f"{say_pair(low, high, 'm/s', form='g', name='wind')} reaches into {other}",
                    "each wind may stand in one row only",
                    "begin where the row before ends",
                    where=log.cell(where, "wind_from", "wind_to"),
                )
        before.append((where.rpartition(", ")[2], low, high))
        return {"wind_from_m_s": low, "wind_to_m_s": high, "hours": hours}, []

    return read_rows(log, WindHours, rows, numbers) if holds_anything(rows) else ()
