"""Figure of notebook 91: torque of legs and of a governed engine against speed, by formula and by library."""

import numpy as np

from statorbook.drives import governed_torque, pedal_torque, torque_of_power
from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.quantities import number

_POINTS, _MARKS = 201, 11


def draw_derived_legs(axes, rider, engine):
    """Draw or move both torques over their own at the speed of most power, and the derived points on them.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    rider : Pedals
        Legs and gear.
    engine : Engine
        Engine, governor and belt.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    axes.set(xlim=(0.0, 2.05), ylim=(0.0, 2.4), xlabel="Speed / speed of most power  [-]")
    axes.set(ylabel="Torque / torque there  [-]")
    pull, flat = number(torque_of_power(), P=1.0, n=1.0), governed_torque()
    given = {"P": 1.0, "N": 1.0, "b": 1.0, "e": 1.0, "s": engine.droop}
    marks = {"legs": np.linspace(0.05, 1.95, _MARKS), "engine": 1.0 + engine.droop * np.linspace(0.2, 0.8, 3)}
    legs = [number(pedal_torque()["torque"], P=1.0, n=at, c=1.0, r=1.0, e=1.0) for at in marks["legs"]]
    falling = [number(flat["falling"], n=at, **given) for at in marks["engine"]]
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": COLOURS["measured"]}
    for name, drive, points, colour in (
        ("legs", rider, legs, COLOURS["model"]),
        ("engine", engine, falling, COLOURS["limit"]),
    ):
        share = np.linspace(0.0, 2.0, _POINTS)
        best = drive.best_speed_rpm
        torque = drive.torque_nm(share * best) / drive.torque_nm(best)
        line(axes, name, share, torque, color=colour)
        line(axes, f"{name} formula", marks[name], np.array(points) / pull, **look)
        words(axes, f"{name} word", [0.1], [torque[10] + 0.04], [name], color=colour, ha="left", va="bottom")
    key = "lines: the library; circles: the formulas"
    words(axes, "key", [0.99], [0.99], [key], transform=axes.transAxes, ha="right", va="top", color=COLOURS["quiet"])
    return axes
