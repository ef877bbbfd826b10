"""Figure of notebook 91: power of a jet runner against the speed of its buckets, by formula and by library."""

import numpy as np

from statorbook.drives import bent_jet_torque, shaft_watts
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.quantities import number

_POINTS, _MARKS = 121, np.linspace(0.05, 0.95, 13)


def draw_derived_jet(axes, drive):
    """Draw or move the power without losses, the runner's, and the derived points on it.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    drive : WaterJet or PipedJet
        Jet and runner.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    best, free = drive.best_speed_rpm, drive.free_speed_rpm
    bucket = drive.speed_ratio / best  # bucket speed over jet speed for each turn a minute
    speeds = np.linspace(0.0, free, _POINTS)
    watts, ideal = shaft_watts(drive, speeds), np.linspace(0.0, 1.0, _POINTS)
    axes.set(xlim=(0.0, 1.02), ylim=(0.0, 1.22), ylabel="Power over the most [-]")
    axes.set(xlabel="Speed of the buckets / speed of the jet  [-]")
    line(axes, "no losses", ideal, 4.0 * ideal * (1.0 - ideal), color=COLOURS["quiet"], linestyle="--")
    line(axes, "library", bucket * speeds, watts / drive.best_shaft_watts, color=COLOURS["model"])
    torque, given = bent_jet_torque()["torque"], {"P": 1.0, "n_b": 1.0, "k": drive.runaway_ratio}
    marks = _MARKS * drive.runaway_ratio
    points = [at * number(torque, n=at, **given) / number(torque, n=1.0, **given) for at in marks]
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": COLOURS["measured"]}
    line(axes, "formula", marks * drive.speed_ratio, points, **look)
    limit(axes, "best", bucket * best, f"best {bucket * best:.2f}", across="y", color=COLOURS["chosen"], at_foot=True)
    key = "dashed: no losses, most at ½; line: the library; circles: the formula"
    words(axes, "key", [0.99], [0.99], [key], transform=axes.transAxes, ha="right", va="top", color=COLOURS["quiet"])
    return axes
