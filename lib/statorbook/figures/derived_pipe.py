"""Figure of notebook 91: power at the end of a pipe against the head that it takes."""

import numpy as np

from statorbook.drives import MeasuredLoss, PipedJet, nozzle_sweep, third_of_the_head
from statorbook.figures.canvas.artists import COLOURS, limit, line, words

_BORES_MM = np.linspace(1.0, 80.0, 120)
_MARKS = np.linspace(0.03, 0.97, 17)
# An invented pipe whose loss goes as the flow squared: the picture is the same for every one.
_EXAMPLE = PipedJet(
    gross_head_m=30.0,
    pipe=MeasuredLoss(static_m=30.0, running_m=25.0, flow_l_s=1.5),
    nozzle_mm=10.0,
    pitch_diameter_mm=260.0,
)


def draw_derived_pipe(axes):
    """Draw or move the power of all nozzles on one pipe, and the derived points on it.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    swept = nozzle_sweep(_EXAMPLE, _BORES_MM)
    most = float(third_of_the_head()["share lost"])
    axes.set(xlim=(0.0, 1.0), ylim=(0.0, 1.22), ylabel="Power over the most [-]")
    axes.set(xlabel="Head that the pipe takes / whole head  [-]")
    line(axes, "library", swept.pipe_share, swept.shaft_watts / swept.shaft_watts.max(), color=COLOURS["model"])
    # Flow goes as the root of the head lost, and what is left drives the jet.
    points = np.sqrt(_MARKS / most) * (1.0 - _MARKS) / (1.0 - most)
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": COLOURS["measured"]}
    line(axes, "formula", _MARKS, points, **look)
    limit(axes, "third", most, "a third", across="y", color=COLOURS["chosen"])
    key = "line: the library, nozzle by nozzle; circles: the formula"
    words(axes, "key", [0.99], [0.99], [key], transform=axes.transAxes, ha="right", va="top", color=COLOURS["quiet"])
    return axes
