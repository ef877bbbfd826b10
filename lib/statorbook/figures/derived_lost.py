"""Figure of the derived run-up: volts at the rectifier once the bank is off."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.protection import bank_comes_off
from statorbook.quantities import RAD_S_PER_RPM, number, say

_MARKS = np.array([0.05, 0.15, 0.3, 0.5, 0.8])


def draw_derived_lost(axes, lost, time_s, numbers):
    """Draw the library's volts after the bank has come off, with the formula's as points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    lost : LoadLost
        From `protection.load_lost`, of a drive whose torque falls in a straight line.
    time_s : float
        Of the last moment shown [s].
    numbers : dict of str to float
        By the letters of `protection.bank_comes_off`: J, T, omega_0 and omega_r.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    speed = bank_comes_off()["speed"]
    volts_per_rad_s = lost.at_once_dc_volts / (lost.starts_rpm * RAD_S_PER_RPM)
    marks_s = time_s * _MARKS
    volts = [volts_per_rad_s * number(speed, t=mark_s, **numbers) for mark_s in marks_s]
    top = max(lost.highest_dc_volts, lost.bank_dc_volts)
    axes.set(xlim=(-0.08 * time_s, time_s), ylim=(0.0, 1.15 * top), xlabel="Time [s]")
    axes.set(ylabel="DC volts at the rectifier, peak [V]")
    before = [-0.08 * time_s, 0.0, 0.0]
    line(axes, "before", before, [lost.bank_dc_volts, lost.bank_dc_volts, lost.dc_volts[0]], color=COLOURS["measured"])
    line(axes, "library", lost.time_s, lost.dc_volts, color=COLOURS["model"])
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
    line(axes, "formula", marks_s, volts, **look)
    limit(axes, "end", lost.ends_dc_volts, f"at the runaway speed {say(lost.ends_dc_volts, 'V', figures=2)}")
    words(axes, "bank", [0.01 * time_s], [lost.bank_dc_volts], ["bank on"], color=COLOURS["measured"], va="top")
    key = ["line: the library, step by step; circles: the formula"]
    words(axes, "key", [0.99], [0.04], key, transform=axes.transAxes, ha="right", color=COLOURS["quiet"])
    return axes
