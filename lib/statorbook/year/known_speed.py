"""Known speeds over the year: the hours of each, by month or all the year alike."""

from dataclasses import dataclass, replace
from math import nan

import numpy as np

from statorbook.bench import SPEED_HOURS_LOG, Reading, month_of, read_rows, require_usable
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything
from statorbook.year.months import HABIT_SHARE, in_order, listed, require_month_hours, require_one_way
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS, SourceYear


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


def year_of_speeds(drive, speeds=(), *, year_hours=None):
    """The year of a known speed from the hours of each.

    Parameters
    ----------
    drive : KnownSpeed
        The drive, and its speed where there is no log.
    speeds : sequence of SpeedHours
        Hours at each speed, those of the whole year spread evenly over it; its own speed is not used then.
    year_hours : float or None
        Hours at the drive's own speed, instead [h].

    Returns
    -------
    SourceYear
        One setting for each speed.

    Raises
    ------
    BadInput
        When a row is bad, both or neither are given, a speed stands twice for one time, a month has too many hours, or
        there are none.

    Notes
    -----
    Equation: hours of a month = those typed for it + those of the year × hours of the month / 8760.
    Valid: speeds that hold under load.
    Source: definition.
    """
    require_one_way(speeds, year_hours, "hours a year", "a log of speeds")
    if year_hours is not None:
        raw = {"speed_rpm": drive.working_rpm, "held_hours": year_hours}
        speeds = (SpeedHours(log=SPEED_HOURS_LOG.name, row=1, raw={}, **raw),)
    _require_once(require_usable(speeds))
    found = [(replace(drive, working_rpm=each.speed_rpm), each.speed_rpm, _by_month(each)) for each in speeds]
    _require_room(sum(hours for _, _, hours in found))
    at = in_order(found)
    told = listed([f"{hours:.0f} h at {rpm:.0f} rpm" for rpm, hours in zip(at["setting"], at["hours"].sum(axis=0))])
    return SourceYear(
        **at,
        setting_name="speed",
        setting_unit="rpm",
        words=f"In a year it turns for {told}.",
        assumed=(f"single years within ± {100 * HABIT_SHARE.value:.0f} % of it",),
        year_share=HABIT_SHARE.value,
        months_known=any(each.month >= 0 for each in speeds),
    )


def _require_once(speeds):
    """Refuse a speed that stands twice for the same time."""
    first = {}
    for each in speeds:
        other = first.setdefault((each.speed_rpm, each.month), each)
        if other is not each:
            raise BadInput(
                f"{each.speed_rpm:g} rpm stands in row {other.row} for the same time already",
                "each speed is allowed once a month, or once for the whole year",
                "add the hours up in one row and empty the other",
                where=SPEED_HOURS_LOG.cell(each.where, "speed_rpm"),
            )


def _by_month(each):
    if each.month < 0:
        return MONTH_HOURS * each.held_hours / HOURS_A_YEAR
    return each.held_hours * (np.arange(12) == each.month)


def _require_room(hours):
    """Refuse hours that together are none, or more than a month has."""
    where = "hours at all speeds together"
    if hours.sum() > HOURS_A_YEAR * (1.0 + 1e-9):
        raise BadInput(
            f"{hours.sum():g} h were given",
            f"a year has {HOURS_A_YEAR:g} h",
            "correct the hours of one or more speeds",
            where=where,
        )
    for month in range(12):
        require_month_hours(hours[month], month, where=where)
    if not hours.any():
        raise BadInput("no hours were given", "more than 0 h are needed", "type the hours at a speed", where=where)
