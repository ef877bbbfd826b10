"""Figure: power against the volts with the bank gone, every grouping a point, with and without a guard."""

from math import log

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, limit, line, round_end, words
from statorbook.protection import BARE, DRIVES, LOAD

_TICKS_V = (5, 7, 10, 15, 20, 30, 40, 60, 80, 120, 160, 240, 320, 480, 640, 960, 1400, 2000, 3000)
_PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.6, "pad": 0.5}
_CLOSE = 1.06  # volts nearer than that stand on each other's words
_LOOKS = {
    BARE: {"marker": "o", "color": COLOURS["limit"], "fillstyle": "full"},
    DRIVES: {"marker": "^", "color": COLOURS["model"], "fillstyle": "full"},
    LOAD: {"marker": "D", "color": COLOURS["chosen"], "fillstyle": "full"},
}


def draw_trade(axes, found, limit_dc_volts, limits=()):
    """Draw or move the trade.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    found : Trade
        From `protection.trade`.
    limit_dc_volts : float
        Highest volts that the reader accepts [V].
    limits : sequence of tuple of float and str
        Other limits and their words; one too close to what is accepted is left out [V].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    points = found.sound or found.points
    volts = [point.dc_volts(guard) for point in points for guard in _LOOKS]
    left, right = 0.82 * min(*volts, limit_dc_volts), 1.5 * max(*volts, limit_dc_volts)
    if axes.get_xscale() != "log":
        axes.set_xscale("log")
        axes.minorticks_off()
    ticks = [tick for tick in _TICKS_V if left <= tick <= right]
    axes.set_xticks(ticks, [str(tick) for tick in ticks])
    top = round_end(1.45 * max(1.0, *(point.watts for point in points)))
    axes.set(xlim=(left, right), ylim=(0.0, top), ylabel="Power into the bank [W]")
    axes.set_xlabel("Bank gone and run away, DC peak [V]")
    band(axes, "beyond", [limit_dc_volts, right], [0.0, 0.0], [top, top], color=COLOURS["limit"], alpha=0.10)
    _draw_reaches(axes, points)
    _draw_points(axes, found, points, right)
    _draw_limits(axes, [(limit_dc_volts, f"accepted {limit_dc_volts:.0f} V"), *limits], left, right)
    if not axes.get_legend():
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, fontsize=SMALLEST_PT)
    return axes


def _draw_reaches(axes, points):
    """From each grouping with the load to the same one without: how far its volts leap when the load fails."""
    across, up = [], []
    for point in points:
        across += [point.held_dc_volts, point.bare_dc_volts, float("nan")]
        up += [point.watts, point.watts, float("nan")]
    line(axes, "reach", across, up, color=COLOURS["quiet"], linewidth=1.0, zorder=1)


def _draw_points(axes, found, points, right):
    for guard, look in _LOOKS.items():
        shown = points if guard != DRIVES or found.guard_words else ()
        across, up = [point.dc_volts(guard) for point in shown], [point.watts for point in shown]
        label = guard if shown else f"_{guard}"
        line(axes, guard, across, up, linestyle="none", markersize=9, zorder=3, label=label, **look)
    volts, watts = found.steps(BARE)
    edge = ([], [])
    if volts:
        edge = [*(v for v in volts for _ in (0, 1)), right], [0.0, *(w for w in watts for _ in (0, 1))]
    line(axes, "steps", *edge, color=COLOURS["limit"], linewidth=1.4, linestyle=":", zorder=2)
    own = [(found.own.dc_volts(guard), found.own.watts) for guard in (BARE, LOAD)]
    ring = {"marker": "o", "markersize": 19, "fillstyle": "none", "markeredgewidth": 2.4, "linestyle": "none"}
    line(axes, "own", *zip(*own, strict=True), color=COLOURS["measured"], zorder=4, label="yours", **ring)
    _name_points(axes, points)


def _name_points(axes, points):
    """Names right of their points, under the hill's rising side and over its falling one; that of its top above it."""
    best = max(points, key=lambda point: point.watts)
    for name, sign, lift, across, up in (
        ("rising", -1, -0.012, "left", "top"),
        ("best", 0, 0.03, "center", "bottom"),
        ("falling", 1, 0.012, "left", "bottom"),
    ):
        named = [point for point in points if sign == _side(point.bare_dc_volts, best.bare_dc_volts)]
        words(
            axes,
            name,
            [point.bare_dc_volts * (1.0 + abs(sign) * 0.02) for point in named],
            [point.watts + lift * axes.get_ylim()[1] for point in named],
            [f"{point.grouping.series} {point.grouping.connection}" for point in named],
            ha=across,
            va=up,
            bbox=_PAPER,
            fontsize=SMALLEST_PT,
        )


def _side(volts, best_volts):
    return (volts > best_volts) - (volts < best_volts)


def _draw_limits(axes, limits, left, right):
    """Upright lines, each with its words on a row of its own above the points; the accepted volts stand first."""
    taken = []
    for number, (volts, text) in enumerate(limits):
        name, colour = f"limit {number}", COLOURS["quiet"] if number else COLOURS["measured"]
        limit(axes, name, volts, "", across="y", color=colour)
        near = any(max(volts, other) < _CLOSE * min(volts, other) for other in taken)
        if near or not left < volts < right:
            hide(axes, name)
            hide(axes, f"{name} words")
            continue
        taken.append(volts)
        room = log(volts / left) > 0.3 * log(right / left)
        words(
            axes,
            f"{name} words",
            [volts * (0.985 if room else 1.015)],
            [(0.97 - 0.08 * number) * axes.get_ylim()[1]],
            [text],
            ha="right" if room else "left",
            va="center",
            color=colour,
            fontsize=SMALLEST_PT,
        )
