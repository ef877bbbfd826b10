"""An engine over the year: its run hours, and the fuel that they burn."""

from dataclasses import dataclass
from math import nan

import numpy as np

from statorbook.bench import ENGINE_MONTHS_LOG, MonthReading, read_months, require_usable
from statorbook.errors import BadInput
from statorbook.quantities import holds_anything, require_number
from statorbook.year.months import HABIT_SHARE, in_order, month_words, require_month_hours, require_one_way
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS, SourceYear


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


def year_of_engine(drive, months=(), *, year_hours=None):
    """The year of an engine from its run hours.

    Parameters
    ----------
    drive : Engine
        The engine.
    months : sequence of EngineMonth
        Run hours by month; it rests in a month without a row.
    year_hours : float or None
        Run hours of the whole year, spread evenly, instead of those by month [h].

    Returns
    -------
    SourceYear
        One setting.

    Raises
    ------
    BadInput
        When a row is bad, both or neither are given, or the hours are none or more than a year has.

    Notes
    -----
    Equation: hours of a month = those typed, or hours a year × hours of the month / 8760.
    Valid: the engine at its governor in all those hours.
    Source: definition.
    """
    require_one_way(months, year_hours, "run hours a year", "a log of run hours")
    hours = _spread(year_hours) if year_hours is not None else _typed(require_usable(months))
    rests = [each.month for each in months if not each.run_hours]
    rest = f" It rests {month_words(rests)}." if rests else ""
    return SourceYear(
        **in_order([(drive, drive.engine_rpm, hours)]),
        setting_name="governed speed",
        setting_unit="rpm",
        words=f"In a year the engine runs for {hours.sum():.0f} h.{rest}",
        assumed=(
            *(("every month alike",) if not months else ()),
            f"single years within ± {100 * HABIT_SHARE.value:.0f} % of it",
        ),
        year_share=HABIT_SHARE.value,
        months_known=bool(months),
        gaps=_gaps(months),
    )


def _spread(year_hours):
    hint = "type the hours that the engine runs in a whole year"
    hours = require_number(year_hours, "run hours a year", "h", above=0, at_most=HOURS_A_YEAR, next_step=hint)
    return MONTH_HOURS * hours / HOURS_A_YEAR


def _typed(months):
    hours = np.zeros(12)
    for each in months:
        hours[each.month] = each.run_hours
    if not hours.any():
        raise BadInput(
            "no run hours were given",
            "more than 0 h are needed",
            "type the hours of a month",
            where="engine months log",
        )
    return hours


def _gaps(months):
    missing = [month for month in range(12) if months and month not in {each.month for each in months}]
    return (f"No run hours were typed {month_words(missing)}: the engine is taken to rest then.",) if missing else ()
