"""Figures: what is lost in each size of cable, and watts into the bank by the length of the run."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, apart, limit, line, round_end, words
from statorbook.quantities import shown_unit, to_shown

_WAYS = ("second", "band", "chosen")
_HIGHEST = 4.0  # times the wished drop: what is far above it need not be told apart


def draw_cable_sizes(axes, needs):
    """Draw or move the drop of each size that is sold, with the wished one and the cable as it is.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    needs : CableNeeds
        From `protection.cable_needs`.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    own, sold = needs.own, needs.sold
    wished = own.run.most_drop_percent
    top = round_end(max(_HIGHEST * wished, 1.1 * own.drop_percent))
    places, drop = np.arange(len(sold)), np.array([size.drop_percent for size in sold])
    carries = np.array([size.carries for size in sold], dtype=bool)
    axes.set(xlim=(-0.6, len(sold) - 0.4), ylim=(0.0, top), ylabel="Lost of the volts that arrive [%]")
    axes.set_xticks(places, [size.name.partition(" (")[0] for size in sold], rotation=60, ha="right")
    line(axes, "sizes", places, drop, color=COLOURS["model"])
    mark = {"linestyle": "none", "marker": "o", "markersize": 9, "zorder": 4}
    line(axes, "carries", places[carries], drop[carries], color=COLOURS["model"], label="carries what can flow", **mark)
    line(axes, "thin", places[~carries], drop[~carries], color=COLOURS["quiet"], label="too thin for it", **mark)
    at = np.interp(np.log(own.run.area_mm2), np.log([size.run.area_mm2 for size in sold]), places)
    look = {"linestyle": "none", "marker": "D", "markersize": 9, "zorder": 5, "color": COLOURS["measured"]}
    line(axes, "own", [at], [own.drop_percent], label="yours", **look)
    limit(axes, "wished", wished, f"wished: {wished:g} %")
    if not axes.get_legend():
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, fontsize=SMALLEST_PT)
    return axes


def draw_cable_distances(axes, found, length_m):
    """Draw or move watts into the bank by the length of the run, as it is and in other ways.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    found : Distances
        From `protection.cable_distances`.
    length_m : float
        The run, one way [m].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    lengths = to_shown(found.length_m, "m")
    curves = [("as it is", found.watts, COLOURS["model"])]
    curves += [(way.words, way.watts, COLOURS[colour]) for way, colour in zip(found.others, _WAYS, strict=False)]
    top = round_end(1.15 * max(float(watts.max()) for _, watts, _ in curves) or 1.0)
    right = float(lengths[-1])
    axes.set(xlim=(0.0, 1.45 * right), ylim=(0.0, top), ylabel="Into the half-full bank [W]")
    axes.set_xlabel(f"Length of the run, one way [{shown_unit('m')}]")
    for place in range(len(_WAYS) + 1):
        x, y, colour = (lengths, *curves[place][1:]) if place < len(curves) else ([], [], COLOURS["quiet"])
        line(axes, f"way {place}", x, y, color=colour)
    ends = apart([float(watts[-1]) for _, watts, _ in curves], 0.06 * top)
    look = {"va": "center", "ha": "left", "fontsize": SMALLEST_PT}
    words(axes, "way", [1.01 * right] * len(curves), ends, [name for name, *_ in curves], **look)
    limit(axes, "run", float(to_shown(length_m, "m")), "this run", across="y", color=COLOURS["quiet"], at_foot=True)
    return axes
