"""Figure: amps of the finished machine against speed, promised with ± and read, and how far each row is off."""

import numpy as np

from statorbook.estimate import NORMAL_95
from statorbook.figures.artists import COLOURS, band, hide, line
from statorbook.figures.fit_points import centre, frame

_POINTS = 120


def draw_first_run(amps_axes, residual_axes, case, predicted, sigma, promise):
    """Draw or move the run log beside the promise.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, DC amps into the bank.
    residual_axes : matplotlib.axes.Axes
        Lower axes, percent off the promise.
    case : RunCase or None
        The rows; None when there are none yet.
    predicted : sequence of float
        Amps promised at each charging row [A].
    sigma : sequence of float
        Likely error of each, one sigma [A].
    promise : tuple of ndarray or None
        Speeds [rpm], and the lower and upper edge of the amps promised [A].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    rows = case.charging if case else ()
    rpm, amps = [each.speed_rpm for each in rows], [each.dc_amps for each in rows]
    labels = {"label": "Into the bank, DC [A]", "along": "Speed [rpm]"}
    tallest = [*amps, *(promise[2] if promise is not None and rows else ())]
    frame(amps_axes, residual_axes, rpm, tallest, empty=(1000.0, 10.0), **labels)
    residual_axes.set_ylabel("Off the promise [%]")
    if promise is None or not rows:
        for name in ("promise", "rows", "bars"):
            hide(amps_axes, name)
            hide(residual_axes, name)
        centre(residual_axes, [])
        return amps_axes, residual_axes
    # The rows stand together at working speed; the axes begin shortly before them.
    amps_axes.set_xlim(0.85 * min(rpm), 1.06 * max(rpm))
    residual_axes.set_xlim(amps_axes.get_xlim())
    band(amps_axes, "promise", *promise, color=COLOURS["band"], alpha=0.5, linewidth=0)
    reach = NORMAL_95 * np.asarray(sigma)
    _points(amps_axes, rpm, np.asarray(amps), reach)
    scale = 100.0 / np.maximum(np.asarray(predicted), 1e-9)
    off = (np.asarray(amps) - predicted) * scale
    centre(residual_axes, off)
    _points(residual_axes, rpm, off, reach * scale)
    return amps_axes, residual_axes


def _points(axes, rpm, values, reach):
    line(axes, "rows", rpm, values, linestyle="none", marker="o", markersize=7, color=COLOURS["measured"], zorder=3)
    # A gap after each pair of ends makes one line of all bars.
    gaps = np.full(len(rpm), np.nan)
    ends = np.column_stack([values - reach, values + reach, gaps]).ravel()
    line(axes, "bars", np.repeat(rpm, 3), ends, color=COLOURS["measured"], linewidth=1.4, zorder=2)


def speeds_for(case):
    """Speeds over which the promise is drawn.

    Parameters
    ----------
    case : RunCase
        The rows.

    Returns
    -------
    ndarray
        From a little below the slowest row to a little above the fastest, shape (points,) [rpm].
    """
    rpm = [each.speed_rpm for each in case.charging]
    return np.linspace(max(1.0, 0.85 * min(rpm)), 1.06 * max(rpm), _POINTS)
