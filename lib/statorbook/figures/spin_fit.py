"""Figure: volts against speed with the fitted line, and how far each row is off it."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, band, line
from statorbook.figures.canvas.fit_points import draw_residuals, draw_rows, frame, hide_rows, key


def draw_spin_fit(volts_axes, residual_axes, readings, fit):
    """Draw or move the spin log with its fit.

    Parameters
    ----------
    volts_axes : matplotlib.axes.Axes
        Upper axes, star-equivalent phase volts, rms.
    residual_axes : matplotlib.axes.Axes
        Lower axes, percent off the fit.
    readings : sequence of SpinReading
        The log; rows that cannot be used are not drawn.
    fit : Fit or None
        The fit; None when there is none yet.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    used = [r for r in readings if r.usable] if fit else []
    volts = [r.star_emf_v_rms for r in used]
    top_rpm = frame(
        volts_axes, residual_axes, [r.speed_rpm for r in used], volts, label="Phase EMF, rms [V]", logged=len(readings)
    )
    if not used:
        hide_rows(volts_axes, residual_axes)
        return volts_axes, residual_axes
    speed_rpm, share = np.array([0.0, top_rpm]), fit.estimate.plus_minus / fit.estimate.value
    emf_v_rms = _slope_v_per_rpm(used[0], fit) * speed_rpm
    band(volts_axes, "band", speed_rpm, (1.0 - share) * emf_v_rms, (1.0 + share) * emf_v_rms, alpha=0.45)
    line(volts_axes, "fit", speed_rpm, emf_v_rms, color=COLOURS["model"], label="_fit")
    draw_rows(volts_axes, used, volts, fit, group="terminals")
    key(volts_axes, place="upper left", title="between the leads")
    draw_residuals(residual_axes, used, fit, group="terminals", band_percent=100.0 * share)
    return volts_axes, residual_axes


def _slope_v_per_rpm(reading, fit):
    """The line that the residuals are counted from: the fit with the magnets as warm as they were, not at 20 °C."""
    share_off = fit.residual_percent[reading.row] / 100.0
    return reading.star_emf_v_rms / (reading.speed_rpm * (1.0 + share_off))
