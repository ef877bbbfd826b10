"""What the source of a job does hour by hour through one month, from its year, or the drive as it stands."""

from functools import lru_cache

import numpy as np

from statorbook.assembly.year import source_year_from
from statorbook.bench import MONTH_NAMES
from statorbook.charging import Course
from statorbook.drives import Engine, Pedals
from statorbook.quantities import WEATHER_HOURS
from statorbook.year import MONTH_HOURS, grouping_years, is_drawn, order_words, watts_by_hour

_DAYS = 28  # shown of a source whose year is not filled in
_EVENING = range(17, 19)  # hours of a day in which a rider or an engine of unknown hours runs


def course_from(job, plant, month=None):
    """What the source of a job does hour by hour, a Course; month 0 for January, None strongest, -1 weakest."""
    # A month of its year, refused where it cannot be used; without a year four weeks of the drive as it stands.
    source = source_year_from(job)
    if source is None:
        return _as_it_stands(plant.drive)
    return _of_year(source, plant, month)


@lru_cache(maxsize=8)
def _of_year(source, plant, month):
    """The month that is asked for; a page's panels ask for the same one."""
    if not source.months_known:
        return _of_month(source, plant.drive, max(month or 0, 0), "Every month is taken alike")
    if month is not None and month >= 0:
        return _of_month(source, plant.drive, month, MONTH_NAMES[month])
    kwh = grouping_years(plant.machine, source, [plant.winding])[0].kwh_by_month
    mean = (kwh / MONTH_HOURS).round(9)  # of months that are alike the first, whatever their last digits are
    found = int(mean.argmax() if month is None else mean.argmin())
    named = f"{MONTH_NAMES[found]}, its {'strongest' if month is None else 'weakest'} month"
    return _of_month(source, plant.drive, found, named)


def _of_month(source, drive, month, title):
    hours, first = int(MONTH_HOURS[month]), int(MONTH_HOURS[:month].sum())
    there = np.flatnonzero(source.hours[month] > 0.0)
    by_hour = watts_by_hour(source, source.setting, draws=1)[0, first : first + hours]
    if not there.size:
        return Course(
            settings=(1.0,),
            drives=(drive,),
            by_hour=(0.0,) * hours,
            name="source",
            unit="",
            words=f"{title}: it stands still.",
        )
    return Course(
        settings=tuple(source.setting[there].tolist()),
        drives=tuple(source.drives[at] for at in there),
        by_hour=tuple(by_hour.tolist()),
        name=source.setting_name,
        unit=source.setting_unit,
        words=f"{title}. {_order_words(source)}",
        assumed=source.assumed,
    )


def _order_words(source):
    """How the hours follow each other."""
    if not is_drawn(source):
        return order_words(source)
    return (
        "Only its hours are known, not their order: one such month was drawn in which weather lasts about "
        f"{WEATHER_HOURS.value:.0f} h (assumed), with exactly those hours."
    )


def _as_it_stands(drive):
    """Four weeks of a drive whose year nobody filled in."""
    daily = isinstance(drive, (Pedals, Engine))
    day = [float(hour in _EVENING or not daily) for hour in range(24)]
    every = f"every day from {_EVENING.start} to {_EVENING.stop} o'clock" if daily else "the same in every hour"
    return Course(
        settings=(1.0,),
        drives=(drive,),
        by_hour=tuple(day * _DAYS),
        name="source",
        unit="",
        words=f"The source runs as page 03 describes it, {every}.",
        assumed=(f"the source {every}",),
    )
