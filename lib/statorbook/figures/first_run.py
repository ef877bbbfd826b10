"""Figure: amps of the finished machine against speed, promised with ± and read, and how far each row is off."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, line, words
from statorbook.figures.canvas.fit_points import centre, frame, ring_odd

_NEAR_RIGHT = 0.7
_EDGE = 0.08  # of the height
_BAND = {"color": COLOURS["band"], "alpha": 0.5, "linewidth": 0}
_OURS = ("promise", "promised", "rows", "bars", "odd", "odd from left", "odd from right", "middle", "middle said")


def draw_first_run(amps_axes, residual_axes, promise):
    """Draw or move the run log beside the promise.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, DC amps into the bank.
    residual_axes : matplotlib.axes.Axes
        Lower axes, percent off the promise.
    promise : Promise or None
        From `first_run.promise.promise_of`, its odd rows ringed; None when there is no row with current yet.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    rows = promise.case.charging if promise else ()
    rpm, amps = [row.speed_rpm for row in rows], [row.dc_amps for row in rows]
    labels = {"label": "Into the bank, DC [A]", "along": "Speed [rpm]"}
    odd = {row.row for row in promise.odd_rows} if promise else ()
    belongs = np.array([row.row not in odd for row in rows], dtype=bool)
    # A slip of ten times must not press the rest flat: rows that belong set the height, a ring may stand at the edge.
    tallest = [*np.asarray(amps)[belongs], *(promise.high_amps if promise else ())]
    frame(amps_axes, residual_axes, rpm, tallest, empty=(1000.0, 10.0), **labels)
    residual_axes.set_ylabel("Off the promise [%]")
    if promise is None:
        for name in _OURS:
            hide(amps_axes, name)
            hide(residual_axes, name)
        if amps_axes.get_legend():
            amps_axes.get_legend().remove()
        centre(residual_axes, [])
        return amps_axes, residual_axes
    # The rows stand together at working speed; the axes begin shortly before them.
    amps_axes.set_xlim(promise.speed_rpm[0], promise.speed_rpm[-1])
    residual_axes.set_xlim(amps_axes.get_xlim())
    _draw_amps(amps_axes, promise, rpm, amps)
    off = _draw_residuals(residual_axes, promise, rpm, amps, belongs)
    for axes, values in ((amps_axes, amps), (residual_axes, off)):
        low, high = axes.get_ylim()
        edge = _EDGE * (high - low)
        inside = np.clip(values, low + edge, high - edge)
        ring_odd(axes, rows, rpm, inside, promise, right_of=lambda place, percent: place < _NEAR_RIGHT)
    return amps_axes, residual_axes


def _draw_amps(axes, promise, rpm, amps):
    band(
        axes,
        "promise",
        promise.speed_rpm,
        promise.low_amps,
        promise.high_amps,
        **_BAND,
        label="promised, ± 95 %, at the mean volts",
    )
    line(
        axes,
        "promised",
        rpm,
        promise.amps,
        linestyle="none",
        marker="s",
        markersize=6,
        color=COLOURS["model"],
        fillstyle="none",
        markeredgewidth=1.6,
        zorder=3,
        label="promised at the row's own volts and temperature",
    )
    _points(axes, rpm, np.asarray(amps), promise.read_half_width_amps)
    shown = [artist for artist in (*axes.collections, *axes.lines) if not artist.get_label().startswith("_")]
    # Above the picture: inside it a point would lie under it wherever it stands.
    axes.legend(handles=shown, loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, fontsize=SMALLEST_PT)


def _draw_residuals(axes, promise, rpm, amps, belongs):
    """Percent off, each with the ± of its reading; the band is the ± of the promise, the dashed line the middle row."""
    scale = 100.0 / np.maximum(promise.amps, 1e-9)
    off = (np.asarray(amps) - promise.amps) * scale
    order, width = np.argsort(rpm), promise.promised_half_width_amps * scale
    edges = [promise.speed_rpm[0], *np.asarray(rpm)[order], promise.speed_rpm[-1]]
    reach = np.concatenate([width[order][:1], width[order], width[order][-1:]])
    middle = 100.0 * promise.off_share
    centre(axes, [*off[belongs], *reach])
    band(axes, "promise", edges, -reach, reach, **_BAND)
    if np.isnan(middle):
        hide(axes, "middle")
        hide(axes, "middle said")
    else:
        _draw_middle(axes, middle)
    _points(axes, rpm, off, promise.read_half_width_amps * scale)
    return off


def _draw_middle(axes, percent):
    """The number that the sentence says, at the left end, where no row stands."""
    frame_of_width = axes.get_yaxis_transform()
    line(
        axes,
        "middle",
        [0.0, 1.0],
        [percent, percent],
        transform=frame_of_width,
        color=COLOURS["measured"],
        linestyle="--",
        linewidth=1.4,
    )
    said = f"middle row {percent:+.1f} %".replace("-", "−")
    words(axes, "middle said", [0.005], [percent], [said], transform=frame_of_width, va="bottom", fontsize=11)


def _points(axes, rpm, values, reach):
    line(
        axes,
        "rows",
        rpm,
        values,
        linestyle="none",
        marker="o",
        markersize=7,
        color=COLOURS["measured"],
        zorder=3,
        label="read, ± 95 %",
    )
    # A gap after each pair of ends makes one line of all bars.
    gaps = np.full(len(rpm), np.nan)
    ends = np.column_stack([values - reach, values + reach, gaps]).ravel()
    line(axes, "bars", np.repeat(rpm, 3), ends, color=COLOURS["measured"], linewidth=1.4, zorder=2, label="_bars")
