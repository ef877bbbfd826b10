"""Figure: speed against time of a coast-down with the fitted curve, and how far each row is off it."""

import numpy as np

from statorbook.drag_rows import coast_speed_rpm
from statorbook.figures.artists import COLOURS, hide, line, words

_ROOM = 1.06
_POINTS = 200
_LEAST_RESIDUAL_PERCENT = 3.0


def draw_coast_fit(speed_axes, residual_axes, readings, fit):
    """Draw or move the coast-down log with its fit.

    Parameters
    ----------
    speed_axes : matplotlib.axes.Axes
        Upper axes, rotor speed.
    residual_axes : matplotlib.axes.Axes
        Lower axes, percent off the fit.
    readings : sequence of CoastReading
        The log; rows that cannot be used are not drawn.
    fit : Drag or None
        The fit; None when there is none yet, then the rows stand alone.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    used = [r for r in readings if r.usable]
    time_s, rpm = [r.time_s for r in used], [r.speed_rpm for r in used]
    end_s = _ROOM * max(time_s, default=60.0) or 1.0
    speed_axes.set(xlim=(0.0, end_s), ylim=(0.0, 1.15 * max(rpm, default=500.0)), ylabel="Speed [rpm]")
    residual_axes.set(xlim=(0.0, end_s), xlabel="Time [s]", ylabel="Off the fit [%]")
    words(
        speed_axes,
        "nothing",
        [0.5],
        [0.5],
        ["no usable row yet"],
        transform=speed_axes.transAxes,
        ha="center",
        va="center",
        color=COLOURS["quiet"],
    )
    if used:
        hide(speed_axes, "nothing")
    _draw_rows(speed_axes, used, rpm, fit)
    _draw_curve(speed_axes, time_s, end_s, fit)
    _draw_residuals(residual_axes, used, fit)
    return speed_axes, residual_axes


def _draw_rows(axes, used, values, fit):
    points = {"linestyle": "none", "marker": "o"}
    line(axes, "rows", [r.time_s for r in used], values, color=COLOURS["measured"], markersize=7, zorder=3, **points)
    off = {row.row: f"row {row.row}: {row.percent_off:+.1f} %".replace("-", "−") for row in fit.odd_rows} if fit else {}
    ringed = [(r.time_s, value, off[r.row]) for r, value in zip(used, values, strict=True) if r.row in off]
    ring = {"markersize": 17, "fillstyle": "none", "markeredgewidth": 2.4, "color": COLOURS["odd"], "zorder": 4}
    line(axes, "odd", [x for x, _, _ in ringed], [y for _, y, _ in ringed], **points, **ring)
    _name_odd(axes, ringed)


def _name_odd(axes, ringed):
    """Row numbers beside the rings, on the side where there is room."""
    left, right = axes.get_xlim()
    look = {"va": "center", "color": COLOURS["odd"], "fontweight": "bold", "fontsize": 12}
    for side, sign in (("left", 1.0), ("right", -1.0)):
        here = [odd for odd in ringed if (odd[0] < (left + right) / 2.0) == (sign > 0)]
        x, y, texts = zip(*here, strict=True) if here else ((), (), ())
        words(axes, f"odd from {side}", [at + sign * 0.022 * (right - left) for at in x], y, texts, ha=side, **look)


def _draw_curve(axes, time_s, end_s, fit):
    if fit is None:
        hide(axes, "fit")
        return
    since_s = np.linspace(0.0, end_s - time_s[0], _POINTS)
    line(axes, "fit", time_s[0] + since_s, coast_speed_rpm(since_s, *fit.curve), color=COLOURS["model"], zorder=2)


def _draw_residuals(axes, used, fit):
    off = [fit.residual_percent[r.row] for r in used] if fit else []
    reach = 1.3 * max([*map(abs, off), _LEAST_RESIDUAL_PERCENT])
    axes.set_ylim(-reach, reach)
    line(
        axes,
        "zero",
        [0.0, 1.0],
        [0.0, 0.0],
        transform=axes.get_yaxis_transform(),
        color=COLOURS["model"],
        linewidth=1.6,
    )
    _draw_rows(axes, used if fit else [], off, fit)
