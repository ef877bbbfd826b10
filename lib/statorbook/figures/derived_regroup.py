"""Figure of notebook 91: every grouping of a machine by its volts and ohms, on one line."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.quantities import number
from statorbook.winding import Winding, regrouped

_SPAN = np.array([0.6, 1.6])
_SIDES = {"star": (COLOURS["model"], "right", "bottom"), "delta": (COLOURS["limit"], "left", "top")}


def draw_regrouped(axes, stator, coil):
    """Draw volts and ohms of a star phase for all groupings of a machine, library and formula.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    stator : Stator
        The machine.
    coil : CoilConstants
        What one coil does.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    axes.set(xscale="log", yscale="log", xlabel="Volts per rpm of a star phase [V/rpm]")
    axes.set(ylabel="Ohms of a star phase [Ω]")
    groupings, ends = stator.groupings(), []
    for kind, (colour, side, edge) in _SIDES.items():
        rules, alike = regrouped(kind), [each for each in groupings if each.connection == kind]
        values = [_values(each, stator, coil) for each in alike]
        stars = [Winding(stator=stator, coil=coil, grouping=each).star_equivalent() for each in alike]
        volts, ohms = [star.emf_v_per_rpm for star in stars], [star.ohm for star in stars]
        derived = [[number(rules[name], **each) for each in values] for name in ("emf", "ohm")]
        line(axes, f"library {kind}", volts, ohms, color=colour, linestyle="none", marker="o")
        look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "markersize": 10}
        line(axes, f"formula {kind}", *derived, color="#222222", **look)
        labels = [f"  {each.series} × {each.parallel} {kind}  " for each in alike]
        words(axes, f"word {kind}", volts, ohms, labels, color=colour, ha=side, va=edge)
        ends += [(max(volts), max(ohms)), (min(volts), min(ohms))]
    most, least = max(ends), min(ends)
    volts = np.array([least[0], most[0]]) * _SPAN
    line(axes, "one line", volts, most[1] * (volts / most[0]) ** 2, color=COLOURS["quiet"], lw=0.8, zorder=0)
    axes.set(xlim=(least[0] / 3.0, most[0] * 3.0), ylim=(least[1] / 2.0, most[1] * 3.0))
    key = "coils in series × paths; points: the library, circles: the formulas"
    words(axes, "key", [0.02], [0.97], [key], transform=axes.transAxes, va="top", color=COLOURS["quiet"])
    return axes


def _values(grouping, stator, coil):
    """What stands for the letters of the formulas."""
    return {
        "s": grouping.series,
        "a": grouping.parallel,
        "k": stator.distribution_factor,
        "e": coil.emf_v_per_rpm,
        "r": coil.ohm,
        "l": coil.henry,
    }
