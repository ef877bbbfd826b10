"""The rows of a log in a picture: each pair of leads with its own marker, odd rows ringed and numbered."""

import numpy as np

from statorbook.figures.artists import COLOURS, hide, line, words

MARKERS = {"AB": "o", "BC": "s", "CA": "^", "ABC": "D", "AN": "v", "BN": "<", "CN": ">", "A": "o", "B": "s", "C": "^"}
_ROOM = 1.06
_LEAST_RESIDUAL_PERCENT = 3.0
_NEAR_LEFT, _NEAR_RIGHT = 0.22, 0.78


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
        line(axes, f"rows {name}", *(zip(*here, strict=True) if here else ((), ())), linestyle="none", marker=marker,
             color=COLOURS["measured"], markersize=7, zorder=3, label=name if here else f"_{name}")
    odd = {row.row: row for row in fit.odd_rows}
    ringed = [(r.speed_rpm, value, f"row {r.row}: {odd[r.row].percent_off:+.1f} %")
              for r, value in zip(readings, values, strict=True) if r.row in odd]
    line(axes, "odd", [x for x, _, _ in ringed], [y for _, y, _ in ringed], linestyle="none", marker="o",
         markersize=17, fillstyle="none", markeredgewidth=2.4, color=COLOURS["odd"], zorder=4)
    _name_odd(axes, ringed)
    return axes


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
    reach = 1.3 * max([*map(abs, off), band_percent, _LEAST_RESIDUAL_PERCENT])
    axes.set(ylim=(-reach, reach), ylabel="Off the fit [%]", xlabel="Speed [rpm]")
    line(axes, "zero", [0.0, 1.0], [0.0, 0.0], transform=axes.get_yaxis_transform(), color=COLOURS["model"],
         linewidth=1.6)
    if band_percent:
        edges = [-band_percent, -band_percent, np.nan, band_percent, band_percent]
        line(axes, "band", [0.0, 1.0, np.nan, 0.0, 1.0], edges, transform=axes.get_yaxis_transform(),
             color=COLOURS["band"], linestyle="--", linewidth=1.2)
    return draw_rows(axes, readings, off, fit, group=group)


def frame(upper, lower, readings, values, *, label):
    """Set the limits and the upper label, and show whether there is anything to draw.

    Parameters
    ----------
    upper : matplotlib.axes.Axes
        Where the readings are drawn.
    lower : matplotlib.axes.Axes
        Where the residuals are drawn.
    readings : sequence of Reading
        Usable rows only; may be empty.
    values : sequence of float
        What each of them says, in the unit of the axes.
    label : str
        Label of the upper axes, with its unit.

    Returns
    -------
    float
        Highest speed on the axes [rpm].
    """
    top_rpm = _ROOM * max([r.speed_rpm for r in readings], default=500.0)
    upper.set(xlim=(0.0, top_rpm), ylim=(0.0, 1.15 * max(values, default=1.0)), ylabel=label)
    lower.set(xlim=(0.0, top_rpm), xlabel="Speed [rpm]", ylabel="Off the fit [%]")
    words(upper, "nothing", [0.5], [0.5], ["no usable row yet"], transform=upper.transAxes, ha="center", va="center",
          color=COLOURS["quiet"])
    if readings:
        hide(upper, "nothing")
    return top_rpm


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
    return axes.legend(handles=shown, loc=place, title=title, ncols=2 if len(shown) > 3 else 1, fontsize=11,
                       title_fontsize=11)


def _name_odd(axes, ringed):
    """Row numbers beside the rings, on the side away from the line, which rises to the right, where there is room."""
    left, right = axes.get_xlim()
    reach = 0.022 * (right - left)
    for side, sign in (("left", 1.0), ("right", -1.0)):
        here = [odd for odd in ringed if (_right_of_ring(odd, left, right)) == (sign > 0)]
        words(axes, f"odd from {side}", [x + sign * reach for x, _, _ in here], [y for _, y, _ in here],
              [text.replace("-", "−") for _, _, text in here], ha=side, va="center", color=COLOURS["odd"],
              fontweight="bold", fontsize=12,
              bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.5})


def _right_of_ring(odd, left, right):
    place = (odd[0] - left) / (right - left)
    return place < _NEAR_LEFT or (place < _NEAR_RIGHT and "-" in odd[2])
