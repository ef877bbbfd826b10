"""An engine over the year: its run hours, and the fuel that they burn."""

from dataclasses import dataclass
from math import nan

from statorbook.bench import ENGINE_MONTHS_LOG, MonthReading, read_months
from statorbook.quantities import holds_anything
from statorbook.year.months import require_month_hours


@dataclass(frozen=True, kw_only=True)
class EngineMonth(MonthReading):
    """One month of an engine."""

    run_hours: float = nan


def read_engine_months(rows):
    """Read the log of an engine's run hours.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of EngineMonth
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_months(ENGINE_MONTHS_LOG, EngineMonth, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where, month):
    hours = ENGINE_MONTHS_LOG.number(row, "run_hours", where).value
    require_month_hours(hours, month, where=ENGINE_MONTHS_LOG.cell(where, "run_hours"))
    return {"run_hours": hours}, []
