"""Figure: amps of the shorted leads against speed with the model's curve, and how far each row is off it."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, band, hide, line
from statorbook.figures.canvas.fit_points import draw_residuals, draw_rows, frame, hide_rows, key

_POINTS = 120
_LEAST_SPEEDS_APART = 1.05


def draw_shorted_fit(amps_axes, residual_axes, readings, fit):
    """Draw or move the shorted-lead log with its fit.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, line amps, rms.
    residual_axes : matplotlib.axes.Axes
        Lower axes, percent off the fit.
    readings : sequence of ShortedReading
        The log; rows that cannot be used are not drawn.
    fit : Fit or None
        The fit; None when there is none yet.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    used = [r for r in readings if r.usable] if fit else []
    amps = [r.line_amps_rms for r in used]
    top_rpm = frame(
        amps_axes, residual_axes, [r.speed_rpm for r in used], amps, label="Line current, rms [A]", logged=len(readings)
    )
    if not used:
        hide_rows(amps_axes, residual_axes)
        return amps_axes, residual_axes
    _draw_curve(amps_axes, used, fit, top_rpm)
    draw_rows(amps_axes, used, amps, fit, group="lead")
    key(amps_axes, place="lower right", title="clamped lead")
    draw_residuals(residual_axes, used, fit, group="lead")
    return amps_axes, residual_axes


def _draw_curve(axes, used, fit, top_rpm):
    """E / √(R² + (ωL)²) with the band of the henries."""
    # For the model (n/I)² is a straight line in n², so the amps that the residuals are counted from give it whole, at
    # the temperature of the readings.
    rpm = np.array([r.speed_rpm for r in used])
    if rpm.max() < _LEAST_SPEEDS_APART * rpm.min():
        hide(axes, "fit")
        hide(axes, "band")
        return
    model_amps = np.array([r.line_amps_rms / (1.0 + fit.residual_percent[r.row] / 100.0) for r in used])
    slope, start = np.polyfit(rpm**2, (rpm / model_amps) ** 2, 1)
    speed_rpm = np.linspace(0.0, top_rpm, _POINTS)
    henry = fit.estimate

    def amps(value):
        return speed_rpm / np.sqrt(max(start, 1e-12) + max(slope, 0.0) * (value / henry.value * speed_rpm) ** 2)

    band(axes, "band", speed_rpm, amps(henry.high), amps(max(henry.low, 0.0)), alpha=0.45)
    line(axes, "fit", speed_rpm, amps(henry.value), color=COLOURS["model"], label="_fit")
