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
    """Draw or move the usable rows; `group` is the reading's field that tells pairs or leads apart."""
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
    """Draw or move the rings round the odd rows and their names; limits of the axes are set before."""
    # `right_of` says of a place as a share of the width, and a percent off, whether the name stands right of the ring.
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
    """Draw or move how far usable rows are off the fit, between dashed lines at the 95 % ± of the constant."""
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
    """Lay the line of the fit through the middle of the residuals."""
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
    """Set limits and labels, and say so when there is nothing to draw; returns the right end in the axes' unit."""
    # `empty` is the size of the axes without a row; `logged` counts the rows that hold anything, usable or not.
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
    """Hide all that belongs to rows and fit, when there is none."""
    for shared in axes:
        for artist in (*shared.lines, *shared.collections, *shared.texts):
            artist.set_visible(str(artist.get_gid()).startswith("nothing"))
        if shared.get_legend():
            shared.get_legend().remove()


def key(axes, *, place, title):
    """Say which marker is which pair or lead; returns the key."""
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
