"""Figure: speed against time of a coast-down with the fitted curve, and how far each row is off it."""

import numpy as np

from statorbook.bench import coast_speed_rpm
from statorbook.figures.canvas.artists import COLOURS, hide, line
from statorbook.figures.canvas.fit_points import centre, frame, ring_odd

_POINTS = 200


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
    labels = {"label": "Speed [rpm]", "along": "Time [s]"}
    end_s = frame(speed_axes, residual_axes, time_s, rpm, empty=(60.0, 500.0), logged=len(readings), **labels)
    _draw_rows(speed_axes, used, rpm, fit)
    _draw_curve(speed_axes, time_s, end_s, fit)
    off = [fit.residual_percent[r.row] for r in used] if fit else []
    centre(residual_axes, off)
    _draw_rows(residual_axes, used if fit else [], off, fit)
    return speed_axes, residual_axes


def _draw_rows(axes, used, values, fit):
    time_s = [r.time_s for r in used]
    points = {"linestyle": "none", "marker": "o", "markersize": 7, "zorder": 3}
    line(axes, "rows", time_s, values, color=COLOURS["measured"], **points)
    ring_odd(axes, used, time_s, values, fit, right_of=lambda place, off: place < 0.5)


def _draw_curve(axes, time_s, end_s, fit):
    if fit is None:
        hide(axes, "fit")
        return
    since_s = np.linspace(0.0, end_s - time_s[0], _POINTS)
    line(axes, "fit", time_s[0] + since_s, coast_speed_rpm(since_s, *fit.curve), color=COLOURS["model"], zorder=2)
