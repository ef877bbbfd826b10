"""Figure of notebook 91: what warmth does to ohms and volts."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.quantities import CONDUCTORS, MAGNETS, number, shown_unit, to_shown
from statorbook.winding import magnet_factor, resistance_factor, warm_factors

_TEMPERATURES_C = np.linspace(-20.0, 120.0, 15)
_LINES = {
    "copper": ("copper, ohms", COLOURS["model"]),
    "aluminium": ("aluminium, ohms", COLOURS["second"]),
    "neodymium": ("neodymium, volts", COLOURS["chosen"]),
    "ferrite": ("ferrite, volts", COLOURS["limit"]),
}


def draw_warm(axes):
    """Draw ohms and volts against temperature, over those at 20 °C, library and formula.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    ohms, volts = warm_factors()
    axes.set(
        xlabel=f"Temperature [{shown_unit('°C')}]", ylabel=f"Over that at {_shown(20.0):.0f} {shown_unit('°C')} [-]"
    )
    axes.set(xlim=(_shown(-25.0), _shown(165.0)), ylim=(0.7, 1.5))
    places = _shown(_TEMPERATURES_C)
    for name, (label, colour) in _LINES.items():
        if name in CONDUCTORS:
            factor = resistance_factor(_TEMPERATURES_C, conductor=name)
            formula, letter = ohms, {"k": CONDUCTORS[name].value}
        else:
            factor = magnet_factor(_TEMPERATURES_C, magnet=name)
            formula, letter = volts, {"beta": MAGNETS[name].value}
        derived = [number(formula, theta=theta, **letter) for theta in _TEMPERATURES_C]
        line(axes, f"library {name}", places, factor, color=colour)
        look = {"linestyle": "none", "marker": "o", "fillstyle": "none"}
        line(axes, f"formula {name}", places[1::3], derived[1::3], color="#222222", **look)
        up = {"copper": -0.025, "aluminium": 0.025}.get(name, 0.0)
        words(axes, f"word {name}", [_shown(121.0)], [factor[-1] + up], [label], color=colour, va="center")
    key = "lines: the library; circles: the formulas"
    words(axes, "key", [0.02], [0.97], [key], transform=axes.transAxes, va="top", color=COLOURS["quiet"])
    return axes


def _shown(celsius):
    return to_shown(celsius, "°C")
