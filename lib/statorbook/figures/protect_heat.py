"""Figure: how the winding warms in each state of the plant, against the limit of its class."""

from math import isfinite

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, limit, line, round_end, words
from statorbook.protection import degrees
from statorbook.quantities import shown_unit, to_shown

_LOOKS = (("model", "-"), ("second", "-"), ("limit", "--"), ("quiet", "-."))
_UNKNOWN = "how fast is not known: the wire was not measured on page 01"


def draw_heat(axes, found, over, *, counted_c):
    """Draw or move the courses of temperature.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    found : HeatFound
        From `protection.heat_of`.
    over : Heating
        From `protection.overload`.
    counted_c : float
        Temperature that all pages reckon with [°C].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    states = (*found.states, over)
    air_c = states[0].warming.air_c
    minutes = found.warm_up_min
    known = isfinite(minutes)
    end = round_end(minutes) if known else 1.0
    top_c = max(found.limit_c, counted_c, *(min(s.settles_c, found.limit_c + 40.0) for s in states)) + 15.0
    axes.set(xlim=(0.0, end), xlabel="Minutes since it was at rest in the hottest air [min]")
    axes.set(ylim=tuple(float(to_shown(c, "°C")) for c in (min(air_c, 0.0), 20.0 * np.ceil(top_c / 20.0))))
    axes.set_ylabel(f"Winding, mean [{shown_unit('°C')}]")
    for state, (colour, style) in zip(states, _LOOKS, strict=True):
        seconds, copper_c = state.warming.course(air_c, 60.0 * end)
        line(
            axes,
            state.name,
            seconds / 60.0,
            to_shown(copper_c, "°C"),
            color=COLOURS[colour],
            linestyle=style,
            label=state.name,
        )
    limit(axes, "class", float(to_shown(found.limit_c, "°C")), f"its class {degrees(found.limit_c)}")
    counted = f"all pages reckon with {degrees(counted_c)}"
    limit(axes, "counted", float(to_shown(counted_c, "°C")), counted, color=COLOURS["quiet"])
    look = {"transform": axes.transAxes, "ha": "left", "va": "top", "color": COLOURS["quiet"]}
    words(axes, "unknown", [0.02], [0.97], ["" if known else _UNKNOWN], **look)
    if not axes.get_legend():
        # Above the picture: inside it a curve would pass under it.
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, fontsize=SMALLEST_PT)
    return axes
