"""Figure: watts and speed of two groupings over a source, and where a contactor changes between them."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, limit, line, round_end
from statorbook.quantities import shown_unit, to_shown

_ARROW = {"marker": "^", "markersize": 11, "linestyle": ":", "linewidth": 2.0, "zorder": 5}
_HEADROOM = 1.12
_BOLD = {"linewidth": 6, "alpha": 0.45, "zorder": 1, "label": "with the contactor"}


def draw_switching(watts_axes, speed_axes, source, found):
    """Draw or move both groupings with the set speeds of the change-over.

    Parameters
    ----------
    watts_axes : matplotlib.axes.Axes
        Upper axes.
    speed_axes : matplotlib.axes.Axes
        Lower axes, with the same settings across.
    source : SourceYear
        The year.
    found : Switching
        The pair.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    name, unit = source.setting_name, source.setting_unit
    setting = to_shown(np.asarray(source.setting, dtype=float), unit, name=name) if unit else source.setting
    low, high = found.low, found.high
    looks = ((low, "low", COLOURS["model"], "below"), (high, "high", COLOURS["second"], "above"))
    ends = (float(setting[0]), float(setting[-1]))
    for axes, column in ((watts_axes, "bank_watts"), (speed_axes, "speed_rpm")):
        most = max(float(getattr(year, column).max()) for year in (low, high))
        axes.set(xlim=ends if ends[0] < ends[1] else (ends[0] - 1.0, ends[0] + 1.0))
        axes.set(ylim=(0.0, round_end(_HEADROOM * max(most, 1.0))))
        for year, gid, colour, word in looks:
            said = f"{word}: {year.grouping.label}"
            line(axes, gid, setting, getattr(year, column), color=colour, marker=".", label=said)
    line(watts_axes, "switched", setting, found.bank_watts, color=COLOURS["chosen"], **_BOLD)
    watts_axes.set(ylabel="Into the bank [W]")
    label = f"{name[:1].upper()}{name[1:]}"
    label = f"{label} [{shown_unit(unit, name=name)}]" if unit else label
    speed_axes.set(ylabel="Settled speed [rpm]", xlabel=label)
    _mark_either(watts_axes, setting, found)
    _mark_changes(speed_axes, setting, found)
    watts_axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, fontsize=SMALLEST_PT)
    return watts_axes, speed_axes


def _mark_either(axes, setting, found):
    """Shade the settings at which it rests in the grouping that it came from."""
    top = axes.get_ylim()[1]
    within = np.where(found.rests == 0, top, 0.0)
    band(axes, "either", setting, np.zeros_like(within), within, label="in either, the worse counts")


def _mark_changes(axes, setting, found):
    """The two set speeds, and an arrow from the speed before a change to that after it."""
    if not found.is_stable:
        for name in ("up", "down", "goes up", "goes down"):
            hide(axes, name)
        return
    low, high = found.low.speed_rpm, found.high.speed_rpm
    limit(axes, "up", found.up_rpm, f"up above {found.up_rpm:.0f} rpm", color=COLOURS["model"])
    limit(axes, "down", found.down_rpm, f"back below {found.down_rpm:.0f} rpm", color=COLOURS["second"])
    up = int(np.argmax(low >= found.up_rpm))
    slow = np.flatnonzero(high <= found.down_rpm)
    down = int(slow[-1]) if slow.size else 0
    for name, at, start, end, colour in (
        ("goes up", up, low[up], high[up], COLOURS["model"]),
        ("goes down", down, high[down], low[down], COLOURS["second"]),
    ):
        look = {**_ARROW, "marker": "^" if end >= start else "v", "markevery": [1], "color": colour}
        line(axes, name, [setting[at]] * 2, [start, end], **look)
