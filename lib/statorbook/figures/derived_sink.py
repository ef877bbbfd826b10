"""Figure of the derived row of thermal resistances: temperature from the air to the junction."""

from itertools import accumulate

from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.protection import heat_in_a_row
from statorbook.quantities import number, say, shown_unit, to_shown

_NAMES = ("air", "heat sink", "base", "junction")


def draw_derived_sink(axes, steps, watts, parts):
    """Draw temperature over kelvins for each watt by the formula, with the library's steps as points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    steps : tuple of HeatStep
        Of a rectifier in the open air, from `protection.rectifier_fit`.
    watts : float
        Lost in all diodes [W].
    parts : dict of str to float
        K/W by the letters of `protection.heat_in_a_row`.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    row, air_c = heat_in_a_row(), steps[0].most_c
    way = list(accumulate((0.0, parts["R_sb"], parts["R_cs"], parts["R_jc"])))
    formula_c = [air_c, *(number(row[name], P=watts, theta_a=air_c, **parts) for name in _NAMES[1:])]
    by_formula, by_library = ([to_shown(c, "°C") for c in each] for each in (formula_c, (s.most_c for s in steps)))
    axes.set(xlabel="Kelvins for each watt, from the air on [K/W]", ylabel=f"Temperature [{shown_unit('°C')}]")
    rise = max(by_formula[-1] - by_formula[0], 1.0)
    axes.set(xlim=(-0.02, 1.4 * way[-1]), ylim=(by_formula[0] - 0.15 * rise, by_formula[-1] + 0.15 * rise))
    line(axes, "formula", way, by_formula, color=COLOURS["model"])
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
    line(axes, "library", way, by_library, **look)
    said = [f"{name} {say(c, '°C', form='.0f')}" for name, c in zip(_NAMES, formula_c, strict=True)]
    words(axes, "place", [at + 0.012 for at in way], by_formula, said, color=COLOURS["model"], va="top")
    key = [f"{say(watts, 'W', figures=2)} through all; line: the formula; circles: the library"]
    words(axes, "key", [0.99], [0.04], key, transform=axes.transAxes, ha="right", color=COLOURS["quiet"])
    return axes
