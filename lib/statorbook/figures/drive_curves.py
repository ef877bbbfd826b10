"""Figure: torque and shaft power of a drive against speed."""

import numpy as np

from statorbook.drives import shaft_watts
from statorbook.figures.canvas.artists import COLOURS, hide, limit, line, words
from statorbook.quantities import shown_unit, to_shown

_FAR_OFF = ", off the picture"
_POINTS = 120
_FAR, _SHOWN = 1.8, 1.25  # times the unloaded speed: beyond the one, runaway is told and the axis ends at the other


def draw_drive_curves(power_axes, torque_axes, drive):
    """Draw or move shaft power and torque of a drive.

    Parameters
    ----------
    power_axes : matplotlib.axes.Axes
        Left axes.
    torque_axes : matplotlib.axes.Axes
        Right axes.
    drive : Drive
        What turns it.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    runaway_rpm, free = drive.runaway_speed_rpm, drive.free_speed_rpm
    # A runaway far off would press the curve into a corner of the picture.
    far = bool(np.isfinite(free)) and runaway_rpm > _FAR * max(free, drive.best_speed_rpm)
    top = _SHOWN * max(free, drive.best_speed_rpm) if far else runaway_rpm
    speed = np.linspace(0.0, top, _POINTS)
    torque = drive.torque_nm(speed)
    known = not np.isfinite(torque).all()
    torque, power = (np.zeros_like(speed),) * 2 if known else (torque, shaft_watts(drive, speed))
    best = f"{'working' if known else 'best'} {drive.best_speed_rpm:.0f} rpm"
    runaway = (
        f"{'runaway with its guard' if drive.guard_words else 'runaway'} {runaway_rpm:.0f} rpm{_FAR_OFF if far else ''}"
    )
    torque_label = f"Torque [{shown_unit('N·m')}]"
    torque = to_shown(torque, "N·m")
    for axes, values, label in ((power_axes, power, "Shaft power [W]"), (torque_axes, torque, torque_label)):
        axes.set(xlim=(0.0, 1.08 * top), ylim=(0.0, 1.15 * max(float(values.max()), 1.0)))
        axes.set(xlabel="Speed [rpm]", ylabel=label)
        line(axes, "curve", speed, values, color=COLOURS["model"])
        limit(axes, "best", drive.best_speed_rpm, best, across="y", color=COLOURS["chosen"], at_foot=True)
        mark = limit(axes, "runaway", 1.08 * top if far else top, runaway, across="y")
        mark.set_visible(not far)
        look = {"transform": axes.transAxes, "ha": "center", "color": COLOURS["quiet"]}
        words(axes, "unknown", [0.5], [0.5], ["power and torque not known"], **look)
        hide(axes, "curve" if known else "unknown")
    return power_axes, torque_axes
