"""Figure: need against what comes, month by month, and what banks of other sizes leave short and spill."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, hide, limit, line, round_end, words
from statorbook.figures.month_bars import month_axes, month_bars, need_line

_THICK = 11.0


def draw_need(months_axes, sizes_axes, months, need, found, chosen, *, enough_kwh):
    """Draw or move both pictures of a need.

    Parameters
    ----------
    months_axes : matplotlib.axes.Axes
        Left axes: months.
    sizes_axes : matplotlib.axes.Axes
        Right axes: sizes of the bank.
    months : NeedMonths
        The balance of each month.
    need : Need
        What the house takes.
    found : BankYears
        Banks of several sizes over the year.
    chosen : BankYears
        The size that is looked at, first.
    enough_kwh : float
        The size from which a larger one hardly helps; infinite when there is none [kWh].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    return _draw_months(months_axes, months, need), _draw_sizes(sizes_axes, found, chosen, enough_kwh)


def _draw_months(axes, months, need):
    """What the bank gives out, a bar a month, over the need."""
    wanted, given = need.bank_kwh, months.out_kwh
    month_axes(axes, 1.25 * max(float(wanted.max()), float(given.max()), 1.0))
    axes.set(ylabel="Out of the bank [kWh a month]")
    month_bars(axes, given, [COLOURS["limit" if short > 0.0 else "model"] for short in months.short_kwh], _THICK)
    need_line(axes, wanted, zorder=3)
    corner = {"transform": axes.transAxes, "va": "top", "ha": "left"}
    words(axes, "need name", [0.02], [0.985], ["line: wanted; bars: there"], **corner)
    return axes


def _draw_sizes(axes, found, chosen, enough_kwh):
    """Short and spilt against the size of the bank, the largest left out that nobody can pick."""
    found = found.only(np.flatnonzero(found.usable_kwh <= found.usable_kwh[-1] / 2.0 + 1e-9))
    sizes = found.usable_kwh
    top = max(float(found.short_kwh_high.max()), float(found.spill_kwh.max()), 1.0)
    axes.set(xlim=(0.0, round_end(max(float(sizes[-1]), 1e-3))), ylim=(0.0, round_end(1.2 * top)))
    axes.set(xlabel="Usable in the bank [kWh]", ylabel="Over the year [kWh]")
    line(axes, "spilt", sizes, found.spill_kwh, color=COLOURS["model"], linestyle="--")
    line(axes, "short", sizes, found.short_kwh, color=COLOURS["limit"])
    line(axes, "worst", sizes, found.short_kwh_high, color=COLOURS["limit"], linewidth=0.8)
    line(axes, "best", sizes, found.short_kwh_low, color=COLOURS["limit"], linewidth=0.8)
    at = {"linestyle": "none", "marker": "o", "markersize": 10, "color": COLOURS["chosen"], "zorder": 4}
    line(axes, "chosen", chosen.usable_kwh[:1], chosen.short_kwh[:1], **at)
    far = {"va": "bottom", "ha": "right"}
    words(axes, "short name", sizes[-1:], found.short_kwh_high[-1:], ["short"], color=COLOURS["limit"], **far)
    words(axes, "spilt name", sizes[-1:], found.spill_kwh[-1:], ["spilt"], color=COLOURS["model"], **far)
    inside = sizes[0] < enough_kwh < sizes[-1]
    limit(axes, "enough", enough_kwh if inside else 0.0, "hardly helps beyond", across="y", color=COLOURS["quiet"])
    if not inside:
        hide(axes, "enough")
    return axes
