"""Figure of the derived adiabatic equation: how a wire warms until its insulation gives in."""

import numpy as np

from statorbook.cable import SHORT_CIRCUIT_C, adiabatic_constant, short_circuit_heating
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.quantities import number, say, shown_unit, to_shown

_COPPER = {"Q": 3.45e-3, "rho": 17.241e-6, "beta": 234.5}
_AMPS = 1000.0
_SIZES = {10.0: COLOURS["model"], 6.0: COLOURS["second"]}
_MARKS = np.linspace(0.1, 1.0, 7)


def draw_derived_adiabatic(axes):
    """Draw how two wires in PVC warm under 1000 A, by the formula, with the library's times as points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    first_c, last_c = SHORT_CIRCUIT_C["PVC"]
    end = short_circuit_heating()["end"]
    axes.set(xlabel=f"Time at {say(_AMPS, 'A')} [s]", ylabel=f"Copper [{shown_unit('°C')}]", xlim=(0.0, 1.6))
    axes.set(ylim=(to_shown(first_c, "°C"), to_shown(last_c + 30.0, "°C")))
    for area_mm2, colour in _SIZES.items():
        marks_c = first_c + (last_c - first_c) * _MARKS
        times_s = [(adiabatic_constant(first_c, mark_c) * area_mm2 / _AMPS) ** 2 for mark_c in marks_c]
        seconds = np.linspace(0.0, 1.1 * times_s[-1], 40)
        hot_c = [number(end, I=_AMPS, S=area_mm2, t=s, theta_i=first_c, **_COPPER) for s in seconds]
        line(axes, f"formula {area_mm2:g}", seconds, to_shown(np.array(hot_c), "°C"), color=colour)
        look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
        line(axes, f"library {area_mm2:g}", times_s, to_shown(marks_c, "°C"), **look)
        place = [times_s[3] + 0.04], [to_shown(marks_c[3], "°C")]
        words(axes, f"size {area_mm2:g}", *place, [say(area_mm2, "mm²")], color=colour, ha="left", va="top")
    limit(axes, "PVC", to_shown(last_c, "°C"), f"the most that PVC stands, {say(last_c, '°C')}")
    key = ["lines: the formula; circles: the library"]
    words(axes, "key", [0.99], [0.04], key, transform=axes.transAxes, ha="right", color=COLOURS["quiet"])
    return axes
