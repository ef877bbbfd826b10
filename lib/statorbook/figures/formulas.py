"""Figures of notebook 90: the six-pulse wave, the currents between two limits, and where most power is."""

import numpy as np

from statorbook.bridge import best_ratios, bridge, lossless_current, resistive_gaps, resistive_overlap
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.quantities import number

_POINTS = 200
# ωL/R from a source that is nearly all resistance to one that is nearly all inductance.
_RATIOS = {0.01: "#E69F00", 1.0: "#009E73", 100.0: "#0072B2"}
_MARKS = np.linspace(0.05, 0.95, 19)


def draw_six_pulse(axes):
    """Draw the rectified line volts of one period and their mean.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    angle = np.linspace(0.0, 360.0, 6 * _POINTS + 1)
    waves = np.cos(np.radians(angle[:, None] - 60.0 * np.arange(6)))
    axes.set(xlim=(0.0, 360.0), ylim=(0.0, 1.12), xticks=range(0, 361, 60))
    axes.set(xlabel="Electrical angle [°]", ylabel="Volts over line volts peak [-]")
    for number_of_wave, wave in enumerate(waves.T):
        line(axes, f"wave {number_of_wave}", angle, np.where(wave > 0.0, wave, np.nan), color=COLOURS["quiet"], lw=0.8)
    line(axes, "top", angle, waves.max(axis=1), color=COLOURS["model"])
    limit(axes, "mean", 3.0 / np.pi, "", color=COLOURS["chosen"])
    words(axes, "mean value", [357.0], [1.04], ["mean 3/π = 0.955"], color=COLOURS["chosen"], ha="right")
    return axes


def draw_currents(axes):
    """Draw the library's current against voltage ratio, with the derived formulas as points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    u = np.linspace(0.0, 1.05, _POINTS)
    axes.set(xlim=(0.0, 1.06), ylim=(0.0, 1.05), xlabel="u = DC volts / line volts peak  [-]")
    axes.set(ylabel="Mean DC current over E/|Z|  [-]")
    for q, colour in _RATIOS.items():
        line(axes, f"q {q:g}", u, _current(u, q), color=colour)
        place, side = (0.36, "right") if q < 0.1 else (0.52, "left")
        look = {"color": colour, "ha": side, "va": "top" if q < 0.1 else "bottom"}
        words(axes, f"word {q:g}", [place], [float(_current(place, q))], [f" q = {q:g} "], **look)
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
    line(axes, "no resistance", *_formula(lossless_current(), "X", upto=True), **look)
    line(axes, "no inductance, overlap", *_formula(resistive_overlap(), "R", upto=True), **look)
    line(axes, "no inductance, gaps", *_formula(resistive_gaps(), "R", upto=False), **look)
    key = "lines: the library; circles: the formulas for q → ∞ (above) and q → 0 (below)"
    words(axes, "key", [0.99], [0.96], [key], transform=axes.transAxes, ha="right", va="top", color=COLOURS["quiet"])
    return axes


def draw_powers(axes):
    """Draw power into the bank against voltage ratio, each curve over its own most, with the derived best ratios.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    u = np.linspace(0.0, 1.0, _POINTS)
    axes.set(xlim=(0.0, 1.06), ylim=(0.0, 1.42), xlabel="u = DC volts / line volts peak  [-]")
    axes.set(ylabel="Power / highest power  [-]")
    for place, (q, colour) in zip((0.22, 0.3, 0.78), _RATIOS.items(), strict=True):
        power = u * _current(u, q)
        line(axes, f"q {q:g}", u, power / power.max(), color=colour)
        up = np.interp(place, u, power / power.max())
        side = "right" if place < 0.5 else "left"
        words(axes, f"word {q:g}", [place], [up], [f" q = {q:g} "], color=colour, ha=side, va="bottom")
    for name, best, colour in zip(("q → 0", "q → ∞"), best_ratios(), (_RATIOS[0.01], _RATIOS[100.0]), strict=True):
        limit(axes, name, float(best), f"{name}: {float(best):.3f}", across="y", color=colour)
    return axes


def _current(u, q):
    """Mean DC current in units of E/|Z|, from the library."""
    return bridge(np.hypot(1.0, q), 1.0, q, u * np.sqrt(3.0) * np.hypot(1.0, q), diode_drop_v=0.0).dc_amps


def _formula(formula, letter, *, upto):
    """Voltage ratios on the true side of the formula's limit, and its current there in units of E/|Z|."""
    edge = number(formula.limit, E=1.0) / np.sqrt(3.0)
    places = _MARKS[_MARKS <= edge] if upto else _MARKS[_MARKS > edge]
    return places, [number(formula.current, E=1.0, V=u * np.sqrt(3.0), **{letter: 1.0}) for u in places]
