"""Figure: how long a source reaches each of its settings in a year, and what each month has at the shaft."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, hide, limit, line, round_end, words
from statorbook.figures.month_bars import month_axes, month_bars
from statorbook.quantities import shown_unit, to_shown
from statorbook.year import HOURS_A_YEAR, MONTHS, shaft_kwh_by_month

_THICK = 14.0


def draw_year_hours(hours_axes, month_axes, source):
    """Draw or move the hours at or above each setting, and the kilowatt-hours of each month at the shaft.

    Parameters
    ----------
    hours_axes : matplotlib.axes.Axes
        Left axes.
    month_axes : matplotlib.axes.Axes
        Right axes.
    source : SourceYear
        The year.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    _draw_hours(hours_axes, source)
    _draw_months(month_axes, source)
    return hours_axes, month_axes


def _draw_hours(axes, source):
    name, unit = source.setting_name, source.setting_unit
    at = to_shown(source.setting, unit, name=name) if unit else source.setting
    above = np.cumsum(source.hours_by_setting[::-1])[::-1]
    shown = above > 1e-4 * HOURS_A_YEAR  # a storm once in a thousand years would press the curve into a corner
    at, above = np.asarray(at, dtype=float)[shown], above[shown]
    label = name[:1].upper() + name[1:]
    axes.set(xlim=(0.0, round_end(1.08 * max(float(at[-1]), 1e-6))), ylim=(0.0, 10_500.0))
    axes.set(xlabel=f"{label} [{shown_unit(unit, name=name)}]" if unit else label, ylabel="Hours at or above [h]")
    limit(axes, "year", HOURS_A_YEAR, "all the year", color=COLOURS["quiet"])
    # Down to each setting the hours stay those of the next one above it.
    line(axes, "hours", [0.0, *at, at[-1]], [above[0], *above, 0.0], color=COLOURS["model"], drawstyle="steps-pre")


def _draw_months(axes, source):
    found = shaft_kwh_by_month(source)
    known = bool(np.isfinite(found).all())
    kwh = found if known else np.zeros(len(MONTHS))
    month_axes(axes, 1.15 * max(float(kwh.max()), 1e-3))
    axes.set(xlabel="Month", ylabel="At the shaft [kWh]")
    month_bars(axes, kwh, [COLOURS["model"]] * len(MONTHS), _THICK)
    look = {"transform": axes.transAxes, "ha": "center", "color": COLOURS["quiet"]}
    said = "every month taken alike" if known else "power not known"
    words(axes, "remark", [0.5], [0.93 if known else 0.5], [said], **look)
    if known and source.months_known:
        hide(axes, "remark")
