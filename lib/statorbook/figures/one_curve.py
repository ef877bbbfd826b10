"""Figure: power against voltage ratio, every grouping a point on the one curve."""

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, ink, limit, line, round_end, words

# Danger is told by shape, colour and words together.
DANGER_LOOK = (("o", "#009E73"), ("s", "#56B4E9"), ("^", "#E69F00"), ("D", "#D55E00"), ("X", "#000000"))
_LEFT, _RIGHT = 0.0, 1.06
_MOVED = len(DANGER_LOOK)  # stands in the key below every danger
_BEFORE = {"marker": "o", "markersize": 13, "fillstyle": "none", "markeredgewidth": 1.4, "zorder": 2}
_PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.0}
_CROWDED_LEFT, _CROWDED_RIGHT = 0.12, 0.97  # names of points beyond it would leave the picture
# Side of a point: alignment across and up, shift in u, lift as a share of the most watts.
_PAST_RING = 2.2  # times the usual distance, for the name of the ringed one
_SIDES = {
    "left above": ("right", "bottom", -0.012, 0.012),
    "right below": ("left", "top", 0.014, -0.012),
    "right above": ("left", "bottom", 0.012, 0.012),
    "left below": ("right", "top", -0.014, -0.012),
    "above": ("center", "bottom", 0.0, 0.035),
}


def draw_one_curve(
    axes,
    curve,
    rows,
    picked,
    *,
    speed_rpm,
    drive_watts=float("inf"),
    limit_dc_volts=None,
    before=None,
    volts_words="bank volts",
):
    """Draw or move the one curve with all groupings on it.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    curve : OneCurve
        From `operation.power_curve.one_curve`, windings in the order of `rows`.
    rows : sequence of Row
        From the comparison.
    picked : Grouping
        The one to mark.
    speed_rpm : float
        Speed for which the curve holds [rpm].
    drive_watts : float
        Most that the drive can give at that speed; infinite when not known [W].
    limit_dc_volts : float or None
        Highest volts accepted with the bank gone; drawn as a wall, since u falls as they rise [V].
    before : tuple of float or None
        Where the marked one was before the last move, u and watts [-, W].
    volts_words : str
        Which DC volts stand in u: behind a converter those that it holds, of each grouping its own.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    axes.set(
        xlim=(_LEFT, _RIGHT),
        ylim=(0.0, round_end(1.22 * max(curve.best_watts, 1.0))),
        ylabel="Power into the bank [W]",
        xlabel=f"u = ({volts_words} + two diode drops) / line volts peak  [-]",
    )
    line(axes, "curve", curve.ratio, curve.watts, color=COLOURS["model"], zorder=2)
    places = _places(curve, rows)
    for level, (marker, colour) in enumerate(DANGER_LOOK):
        here = [(u, w) for u, w, row in places if row.runaway.level == level]
        look = {"marker": marker, "color": colour, "markersize": 10, "zorder": 3}
        _points(axes, f"danger {level}", here, **look)
    ring = {"marker": "o", "markersize": 20, "fillstyle": "none", "markeredgewidth": 2.6, "zorder": 4}
    _points(axes, "picked", [(u, w) for u, w, row in places if row.grouping == picked], color=COLOURS["chosen"], **ring)
    _point_further(axes, curve, rows, picked)
    was = [before] if before and before[0] < _RIGHT else []
    _points(axes, "before", was, color=COLOURS["measured"], **_BEFORE)
    _name_points(axes, places, curve, picked)
    idle = sum(u >= 1.0 for u in curve.grouping_ratio)
    limit(axes, "drive", min(drive_watts, 1e9), f"the drive has {drive_watts:.0f} W at this speed")
    if drive_watts > 0.86 * axes.get_ylim()[1]:  # no point is above it, and its words would stand on the wall's
        hide(axes, "drive")
    corner = f"All held at {speed_rpm:.0f} rpm; {idle} of {len(rows)} groupings give nothing (u ≥ 1)"
    axes.set_title(corner, loc="left", color=ink(COLOURS["quiet"]), fontsize=SMALLEST_PT)
    _wall(axes, curve, rows, limit_dc_volts)
    _key(axes, rows, moved=bool(was))
    return axes


def _point_further(axes, curve, rows, picked):
    """Where the marked one lies right of the picture, an arrow and words at the edge say how far: it is never lost."""
    far = [(u, row) for u, row in zip(curve.grouping_ratio, rows, strict=True) if row.grouping == picked]
    far = [(u, f"{row.grouping.series} {row.grouping.connection}") for u, row in far if u >= _RIGHT]
    height = 0.3 * axes.get_ylim()[1]
    look = {"marker": ">", "color": COLOURS["chosen"], "markersize": 14, "zorder": 4}
    _points(axes, "further", [(_RIGHT - 0.012, height) for _ in far], **look)
    said = [f"{name} lies further right, at u = {u:.1f}: it gives nothing" for u, name in far]
    look = {"color": COLOURS["chosen"], "fontsize": SMALLEST_PT, "va": "center", "ha": "right", "bbox": _PAPER}
    words(axes, "further words", [_RIGHT - 0.03 for _ in far], [height for _ in far], said, **look)


def _wall(axes, curve, rows, limit_dc_volts):
    """Where the accepted volts end: everything left of it makes more with the bank gone."""
    top, names = axes.get_ylim()[1], ("wall", "wall words", "beyond the wall")
    at, text = _LEFT, ""
    if limit_dc_volts:
        # u times the runaway volts is the same for every grouping of one stator.
        at = min(curve.grouping_ratio[0] * rows[0].runaway.dc_volts_peak / limit_dc_volts, _RIGHT)
        text = f"left of the wall: above the {limit_dc_volts:.0f} V that you accept"
    shaded = band(axes, "beyond the wall", [_LEFT, at], [0.0, 0.0], [top, top], color=COLOURS["limit"], alpha=0.12)
    shaded.set_zorder(1)
    line(axes, "wall", [at, at], [0.0, top], color=COLOURS["limit"], linewidth=5, solid_capstyle="butt", zorder=1)
    # In the corner above the curve, wherever the wall is: at its foot stand names of points, at the left the key.
    look = {"color": COLOURS["limit"], "fontsize": SMALLEST_PT, "va": "top", "ha": "right", "bbox": _PAPER}
    words(axes, "wall words", [_RIGHT - 0.012], [0.98 * top], [text], **look)
    for name in names if not limit_dc_volts else ():
        hide(axes, name)


def _places(curve, rows):
    """(u, watts, row) of the groupings that lie inside the picture, from left to right."""
    places = zip(curve.grouping_ratio, curve.grouping_watts, rows, strict=True)
    return sorted((place for place in places if place[0] < _RIGHT), key=lambda place: place[0])


def _points(axes, name, places, **look):
    left, up = zip(*places, strict=True) if places else ((), ())
    made = line(axes, name, left, up, linestyle="none", **look)
    made.set_in_layout(False)  # without points it would count as one in the figure's corner and push the axes aside


def _name_points(axes, places, curve, picked):
    for side, (across, up, right, lift) in _SIDES.items():
        here = [place for number, place in enumerate(places) if _side(number, place[0], curve.best_ratio) == side]
        names = [f"{row.grouping.series} {row.grouping.connection}" for _, _, row in here]
        further = [_PAST_RING if row.grouping == picked else 1.0 for _, _, row in here]
        left = [u + past * right for past, (u, _, _) in zip(further, here, strict=True)]
        height = [w + past * lift * curve.best_watts for past, (_, w, _) in zip(further, here, strict=True)]
        words(axes, side, left, height, names, ha=across, va=up, fontsize=SMALLEST_PT)


def _side(number, ratio, best_ratio):
    """On which side of its point a name stands, so that neighbours on the slope do not meet."""
    if abs(ratio - best_ratio) < 0.05:
        return "above"
    if ratio > _CROWDED_RIGHT:
        return "left above"
    if ratio < _CROWDED_LEFT:
        return "right below"
    pair = ("left above", "right below") if ratio < best_ratio else ("right above", "left below")
    return pair[number % 2]


def _key(axes, rows, *, moved):
    """Say in words what each shape means, for the levels that occur, and for the ring of before."""
    seen = sorted({(row.runaway.level, row.runaway.word) for row in rows})
    seen += [(_MOVED, "before the move")] if moved else []
    up = [0.93 - 0.075 * number for number in range(len(seen))]
    place = {"transform": axes.transAxes}
    names = [word for _, word in seen]
    words(axes, "key", [0.05] * len(seen), up, names, va="center", fontsize=SMALLEST_PT, bbox=_PAPER, **place)
    for level, (marker, colour) in enumerate(DANGER_LOOK):
        spots = [(0.03, y) for y, (seen_level, _) in zip(up, seen, strict=True) if seen_level == level]
        _points(axes, f"key {level}", spots, marker=marker, color=colour, markersize=9, clip_on=False, **place)
    spots = [(0.03, up[-1])] if moved else []
    _points(axes, "key before", spots, color=COLOURS["measured"], clip_on=False, **_BEFORE, **place)
