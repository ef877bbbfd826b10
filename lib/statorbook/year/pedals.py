"""Riders over the year: hours a week at each effort, every week alike."""

from dataclasses import dataclass, replace
from math import isnan, nan

from statorbook.bench import PEDAL_WEEKS_LOG, Reading, read_rows, require_usable
from statorbook.drives import sustained_watts
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything
from statorbook.year.months import HABIT_SHARE, in_order, listed, require_one_way
from statorbook.year.source import MONTH_HOURS, SourceYear

_WEEK_HOURS = 168.0


@dataclass(frozen=True, kw_only=True)
class PedalWeek(Reading):
    """How hard one rider rides, and how long in a usual week."""

    rider_watts: float = nan  # at the pedals
    stretch_hours: float = nan  # from which the watts were taken; nan when these were typed
    week_hours: float = nan
    rider: str = ""


def read_pedal_weeks(rows):
    """Read the log of riders.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of PedalWeek
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_rows(PEDAL_WEEKS_LOG, PedalWeek, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where):
    log = PEDAL_WEEKS_LOG
    efforts = ("rider_watts", "stretch_hours")
    typed = [name for name in efforts if cell_text(row.get(name))]
    if len(typed) != 1:
        raise BadInput(
            "both cells are filled" if typed else "both cells are empty",
            "exactly one of the two is allowed",
            "type the watts if you know them, else the hours that the rider keeps going at a stretch",
            where=log.cell(where, *efforts),
        )
    effort = log.number(row, typed[0], where).value
    found = {typed[0]: effort, "week_hours": log.number(row, "week_hours", where).value}
    watts = effort if "rider_watts" in found else sustained_watts(effort)
    return found | {"rider_watts": watts, "rider": cell_text(row.get("rider"))}, []


def year_of_riders(drive, weeks=(), *, week_hours=None):
    """The year of a pedal drive from the hours of a usual week.

    Parameters
    ----------
    drive : Pedals
        Gear and chain, and the rider where there is no log.
    weeks : sequence of PedalWeek
        Who rides how hard and how long; its own rider is not used then.
    week_hours : float or None
        How long the drive's own rider rides in a usual week, instead [h].

    Returns
    -------
    SourceYear
        One setting for each effort, spread evenly over the year.

    Raises
    ------
    BadInput
        When a row is bad, both or neither are given, nobody rides, or the hours are more than a week has.

    Notes
    -----
    Equation: hours of a month = hours a week × hours of the month / 168.
    Valid: one rider at a time, at a steady effort; holidays and illness are not in it.
    Source: definition.
    """
    require_one_way(weeks, week_hours, "hours a week", "a log of riders")
    if week_hours is not None:
        raw = {"rider_watts": drive.rider_watts, "week_hours": week_hours}
        weeks = (PedalWeek(log=PEDAL_WEEKS_LOG.name, row=1, raw={}, **raw),)
    hours = sum(week.week_hours for week in require_usable(weeks))
    if not 0.0 < hours <= _WEEK_HOURS:
        raise BadInput(
            f"{hours:g} h a week were given in all",
            f"above 0 and at most {_WEEK_HOURS:g} h are allowed, since one machine has one rider at a time",
            "correct the hours a week",
            where="hours a week",
        )
    riders = [(replace(drive, rider_watts=week.rider_watts), week) for week in weeks if week.week_hours]
    found = [(now, week.rider_watts, MONTH_HOURS * week.week_hours / _WEEK_HOURS) for now, week in riders]
    told = listed([f"{week.week_hours:g} h at {week.rider_watts:.0f} W" for _, week in riders])
    healthy = any(not isnan(week.stretch_hours) for _, week in riders)
    return SourceYear(
        **in_order(found),
        setting_name="effort at the pedals",
        setting_unit="W",
        words=f"In a week the pedals turn for {told}, the same all year: {hours / 7.0:.2g} h a day.",
        assumed=(
            *(("rider's watts, from the hours of a healthy adult",) if healthy else ()),
            "every week alike",
            f"single years within ± {100 * HABIT_SHARE.value:.0f} % of it",
        ),
        year_share=HABIT_SHARE.value,
        months_known=False,
    )
