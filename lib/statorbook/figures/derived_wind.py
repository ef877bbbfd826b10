"""Figure of notebook 91: the share of the wind's power that is taken, against the wind that is left."""

import numpy as np

from statorbook.drives import most_of_the_wind
from statorbook.figures.canvas.artists import COLOURS, limit, line
from statorbook.quantities import number

_LEFT = np.linspace(0.0, 1.0, 101)


def draw_derived_wind(axes, rotor):
    """Draw or move the derived share, its most, and what the library lets a rotor take.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    rotor : WindRotor
        The rotor.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    found = most_of_the_wind()
    behind = number(found["best behind"], v=1.0)
    through = np.array([number(found["at the rotor"], v=1.0, w=left) if left else 0.5 for left in _LEFT])
    share = through * (1.0 - _LEFT**2)
    wind, left_in_it, _ = (watts for _, watts in rotor.source_steps)
    axes.set(xlim=(0.0, 1.0), ylim=(0.0, 0.75), ylabel="Power taken / power of the wind  [-]")
    axes.set(xlabel="Wind behind the rotor / wind before it  [-]")
    line(axes, "formula", _LEFT, share, color=COLOURS["model"])
    limit(axes, "best behind", behind, "a third", across="y", color=COLOURS["chosen"])
    limit(axes, "most", (wind + left_in_it) / wind, "the most that the library allows, 16/27", color=COLOURS["limit"])
    coefficient = rotor.power_coefficient
    limit(axes, "rotor", coefficient, f"this rotor, {coefficient:.2g}", color=COLOURS["quiet"])
    return axes
