"""Figure of notebook 91: how much of the magnets' flux a tooth-coil winding turns into volts, by its poles."""

from math import gcd

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.quantities import letters
from statorbook.winding import Stator, tooth_coil_factors

_MOST_POLES = 144
_POINTS = 200


def draw_tooth_factors(axes, stator):
    """Draw the library's winding factors of a slot count, with the derived formulas.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    stator : Stator
        Its slots, with every pole count that makes three equal phases; its own poles are marked.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    from sympy import lambdify

    slots, most = stator.slots, min(2 * stator.slots, _MOST_POLES)
    counts = [poles for poles in range(2, most + 1, 2) if slots % (3 * gcd(slots, poles // 2)) == 0]
    spread, pitch = (
        lambdify(letters(names), each) for names, each in zip(("z", "p Q"), tooth_coil_factors(), strict=True)
    )
    formula = [spread(slots // gcd(slots, 3 * poles)) * pitch(poles // 2, slots) for poles in counts]
    along = np.linspace(0.0, most, _POINTS)
    axes.set(xlim=(0.0, most + 2), ylim=(0.0, 1.06), xlabel=f"Magnet poles of a rotor in {slots} slots [-]")
    axes.set(ylabel="Winding factor [-]")
    line(axes, "pitch", along, pitch(along / 2.0, slots), color=COLOURS["quiet"], lw=1.0)
    look = {"linestyle": "none", "marker": "o"}
    factors = [Stator(slots=slots, poles=poles).winding_factor for poles in counts]
    line(axes, "library", counts, factors, color=COLOURS["model"], **look)
    line(axes, "formula", counts, formula, color="#222222", fillstyle="none", markersize=10, **look)
    line(axes, "yours", [stator.poles], [stator.winding_factor], color=COLOURS["chosen"], markersize=9, **look)
    key = ("grey line: pitch factor alone", "points: the library", "circles: the formulas", "green: this machine")
    up = [0.36 - 0.08 * row for row in range(len(key))]
    words(axes, "key", [0.5] * len(key), up, key, transform=axes.transAxes, ha="center", color=COLOURS["quiet"])
    return axes
