"""The rows of a log in a picture: each pair of leads with its own marker, odd rows ringed and numbered."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, line, words

MARKERS = {"AB": "o", "BC": "s", "CA": "^", "ABC": "D", "AN": "v", "BN": "<", "CN": ">", "A": "o", "B": "s", "C": "^"}
_ROOM = 1.06
_LEAST_RESIDUAL_PERCENT = 3.0
_NEAR_LEFT, _NEAR_RIGHT = 0.22, 0.78
_RING = dict(
    linestyle="none", marker="o", markersize=17, fillstyle="none", markeredgewidth=2.4, color=COLOURS["odd"], zorder=4
)


def draw_rows(axes, readings, values, fit, *, group):
    """Draw or move the usable rows of a log.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    readings : sequence of Reading
        Usable rows only.
    values : sequence of float
        What each of them says, in the unit of the axes.
    fit : Fit
        Says which of them are odd.
    group : str
        Name of the reading's field that tells the pairs or leads apart.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    for name, marker in MARKERS.items():
        here = [(r.speed_rpm, value) for r, value in zip(readings, values, strict=True) if getattr(r, group) == name]
        line(
            axes,
            f"rows {name}",
            *(zip(*here, strict=True) if here else ((), ())),
            linestyle="none",
            marker=marker,
            color=COLOURS["measured"],
            markersize=7,
            zorder=3,
            label=name if here else f"_{name}",
        )
    ring_odd(axes, readings, [r.speed_rpm for r in readings], values, fit, right_of=_right_of_ring)
    return axes


def ring_odd(axes, readings, across, values, fit, *, right_of):
    """Draw or move the rings round the odd rows and their names beside them.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw; its limits are set.
    readings : sequence of Reading
        Usable rows only.
    across : sequence of float
        Horizontal place of each, in the unit of the axes.
    values : sequence of float
        Height of each, in the unit of the axes.
    fit : Fit or None
        Says which of them are odd; none without a fit.
    right_of : callable
        From the place as a share of the width, and the percent off, to whether the name stands right of its ring.
    """
    odd = {row.row: row.percent_off for row in fit.odd_rows} if fit else {}
    ringed = [(x, y, r.row) for r, x, y in zip(readings, across, values, strict=True) if r.row in odd]
    line(axes, "odd", [x for x, _, _ in ringed], [y for _, y, _ in ringed], **_RING)
    left, right = axes.get_xlim()
    width = right - left
    for side, sign in (("left", 1.0), ("right", -1.0)):
        here = [(x, y, row) for x, y, row in ringed if right_of((x - left) / width, odd[row]) == (sign > 0)]
        words(
            axes,
            f"odd from {side}",
            [x + sign * 0.022 * width for x, _, _ in here],
            [y for _, y, _ in here],
            [f"row {row}: {odd[row]:+.1f} %".replace("-", "−") for _, _, row in here],
            ha=side,
            va="center",
            color=COLOURS["odd"],
            fontweight="bold",
            fontsize=12,
            bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.5},
        )


def draw_residuals(axes, readings, fit, *, group, band_percent=0.0):
    """Draw or move how far each usable row is off the fit.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    readings : sequence of Reading
        Usable rows only.
    fit : Fit
        Holds the residuals.
    group : str
        Name of the reading's field that tells the pairs or leads apart.
    band_percent : float
        95 % half-width of the fitted constant, drawn as two dashed lines; none when 0 [%].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    off = [fit.residual_percent[r.row] for r in readings]
    centre(axes, [*off, band_percent])
    if band_percent:
        edges = [-band_percent, -band_percent, np.nan, band_percent, band_percent]
        line(
            axes,
            "band",
            [0.0, 1.0, np.nan, 0.0, 1.0],
            edges,
            transform=axes.get_yaxis_transform(),
            color=COLOURS["band"],
            linestyle="--",
            linewidth=1.2,
        )
    return draw_rows(axes, readings, off, fit, group=group)


def centre(axes, off_percent):
    """Lay the line of the fit through the middle of the residuals.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where the residuals are drawn.
    off_percent : sequence of float
        All that has to have room, on either side [%].
    """
    reach = 1.3 * max([*map(abs, off_percent), _LEAST_RESIDUAL_PERCENT])
    axes.set_ylim(-reach, reach)
    line(
        axes,
        "zero",
        [0.0, 1.0],
        [0.0, 0.0],
        transform=axes.get_yaxis_transform(),
        color=COLOURS["model"],
        linewidth=1.6,
    )


def frame(upper, lower, across, values, *, label, along="Speed [rpm]", empty=(500.0, 1.0), logged=0):
    """Set the limits and the labels, and show whether there is anything to draw.

    Parameters
    ----------
    upper : matplotlib.axes.Axes
        Where the readings are drawn.
    lower : matplotlib.axes.Axes
        Where the residuals are drawn.
    across : sequence of float
        Horizontal place of each usable row, in the unit of the axes; may be empty.
    values : sequence of float
        What each of them says, in the unit of the axes.
    label : str
        Label of the upper axes, with its unit.
    along : str
        Label of the horizontal axis, with its unit.
    empty : tuple of float
        Width and height without a row, in the units of the axes.
    logged : int
        Rows that hold anything, usable or not, for what is said when none is drawn [-].

    Returns
    -------
    float
        Right end of the axes, in their unit.
    """
    end = _ROOM * max(across, default=empty[0]) or 1.0
    upper.set(xlim=(0.0, end), ylim=(0.0, 1.15 * max(values, default=empty[1])), ylabel=label)
    lower.set(xlim=(0.0, end), xlabel=along, ylabel="Off the fit [%]")
    nothing = "no fit yet: the sentence says why" if logged else "no row yet"
    words(
        upper,
        "nothing",
        [0.5],
        [0.5],
        [nothing],
        transform=upper.transAxes,
        ha="center",
        va="center",
        color=COLOURS["quiet"],
    )
    if len(across):
        hide(upper, "nothing")
    return end


def hide_rows(*axes):
    """Hide all that belongs to rows and fit, when there is none.

    Parameters
    ----------
    *axes : matplotlib.axes.Axes
        Where they were drawn.
    """
    for each in axes:
        for artist in (*each.lines, *each.collections, *each.texts):
            artist.set_visible(str(artist.get_gid()).startswith("nothing"))
        if each.get_legend():
            each.get_legend().remove()


def key(axes, *, place, title):
    """Say which marker is which pair or lead.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where the rows are drawn.
    place : str
        Corner, as matplotlib names it.
    title : str
        What the names are.

    Returns
    -------
    matplotlib.legend.Legend
        The key.
    """
    shown = [artist for artist in axes.lines if not artist.get_label().startswith("_")]
    return axes.legend(
        handles=shown,
        loc=place,
        title=title,
        ncols=2 if len(shown) > 3 else 1,
        fontsize=SMALLEST_PT,
        title_fontsize=SMALLEST_PT,
    )


def _right_of_ring(place, percent_off):
    """On the side away from the line, which rises to the right, where there is room."""
    return place < _NEAR_LEFT or (place < _NEAR_RIGHT and percent_off < 0.0)
