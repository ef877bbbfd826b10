"""Known speeds over the year: the hours of each, by month or all the year alike."""

from dataclasses import dataclass
from math import nan

from statorbook.bench import SPEED_HOURS_LOG, Reading, month_of, read_rows
from statorbook.quantities import cell_text, holds_anything
from statorbook.year.months import require_month_hours


@dataclass(frozen=True, kw_only=True)
class SpeedHours(Reading):
    """One speed and its hours."""

    speed_rpm: float = nan
    held_hours: float = nan
    month: int = -1  # -1 when the hours are those of the whole year


def read_speed_hours(rows):
    """Read the log of known speeds.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of SpeedHours
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_rows(SPEED_HOURS_LOG, SpeedHours, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where):
    log = SPEED_HOURS_LOG
    found = {name: log.number(row, name, where).value for name in ("speed_rpm", "held_hours")}
    if not cell_text(row.get("month")):
        return found, []
    month = month_of(row.get("month"), where=log.cell(where, "month"))
    require_month_hours(found["held_hours"], month, where=log.cell(where, "held_hours"))
    return found | {"month": month}, []
