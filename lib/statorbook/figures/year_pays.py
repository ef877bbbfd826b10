"""Figure: kilowatt-hours a year by the size of cable or pipe, and what each size leaves over the years."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, hide, limit, line, words


def draw_pays(kwh_axes, left_axes, found, names, *, left, left_name, own, works, best=None):
    """Draw or move both pictures of sizes.

    Parameters
    ----------
    kwh_axes : matplotlib.axes.Axes
        Left axes: kilowatt-hours a year.
    left_axes : matplotlib.axes.Axes
        Right axes: what is left over the years, or lost.
    found : SizeYears
        Sizes in any order.
    names : sequence of str
        Each size in words.
    left : ndarray
        What the right axes show, shape (n,); not a number where there is none, in the unit of its name.
    left_name : str
        Its name with its unit.
    own : int
        Place of the size that the job has [-].
    works : sequence of bool
        Which sizes can be used.
    best : int or None
        Place of the size that pays best; None without prices [-].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    places = np.argsort(np.argsort(found.sizes))
    for axes, values, name in ((kwh_axes, found.kwh, "Into the bank [kWh a year]"), (left_axes, left, left_name)):
        axes.set(xlim=(-0.6, len(names) - 0.4), ylabel=name)
        known = np.isfinite(values)
        low, high = (values[known].min(), values[known].max()) if known.any() else (0.0, 1.0)
        room = max(0.15 * (high - low), 0.01 * abs(high), 0.5)
        axes.set_ylim(low - room, high + 2.0 * room)
        order = np.argsort(places)
        axes.set_xticks(places[order], [names[at] for at in order], rotation=60, ha="right", rotation_mode="anchor")
        order = order[known[order]]
        line(axes, "sizes", places[order], values[order], color=COLOURS["model"], marker="o", markersize=6)
        mark = {"linestyle": "none", "marker": "o", "zorder": 4}
        line(axes, "own", [places[own]], [values[own]], color=COLOURS["measured"], markersize=9, **mark)
        fit = order[~works[order]]
        line(axes, "unfit", places[fit], values[fit], color=COLOURS["quiet"], markersize=8, **mark)
        limit(axes, "best", places[own if best is None else best], "pays best", across="y", color=COLOURS["chosen"])
        if best is None:
            hide(axes, "best")
        nothing = {"transform": axes.transAxes, "ha": "center", "color": COLOURS["quiet"]}
        words(axes, "nothing", [0.5], [0.5], ["" if known.any() else "no prices yet"], **nothing)
    return kwh_axes, left_axes
