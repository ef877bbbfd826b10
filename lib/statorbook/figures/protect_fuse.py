"""Figure: how soon the fuse opens, against how long the cable stands it."""

from math import isfinite

from statorbook.figures.canvas.artists import COLOURS, hide, limit, line, words

_SLOWEST_S, _FASTEST_S = 2e4, 1e-4


def draw_break_times(axes, times):
    """Draw or move the times of fuse and cable over the current, both axes in logarithms.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    times : BreakTimes
        From `protection.break_times`.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    low = 0.5 * max(min(times.continuous_amps, times.fuse_amps), 0.05 * times.fuse_amps)
    axes.set(xscale="log", yscale="log", xlim=(low, 1.6 * times.amps[-1]), ylim=(_FASTEST_S, _SLOWEST_S))
    axes.set(xlabel="Amps [A]", ylabel="Seconds [s]")
    line(axes, "fuse", times.amps, times.fuse_s, color=COLOURS["model"], linewidth=2.2)
    line(axes, "cable", times.amps, times.cable_s, color=COLOURS["limit"], linewidth=2.2)
    limit(axes, "work", times.continuous_amps, "most for hours", across="y", color=COLOURS["measured"])
    if isfinite(times.cable_amps):
        limit(axes, "carries", times.cable_amps, "cable carries", across="y", at_foot=True)
        limit(axes, "far", times.far_amps, "short at the far end", across="y", color=COLOURS["quiet"])
    else:
        hide(axes, "carries")
        hide(axes, "far")
    limit(axes, "bank", times.bank_amps, "bank shorted, most", across="y", color=COLOURS["quiet"])
    right, said = [0.75 * times.amps[-1]], {"ha": "right", "va": "bottom"}
    words(
        axes,
        "fuse name",
        right,
        [1000.0],
        [f"fuse of {times.fuse_amps:g} A, at the latest"],
        color=COLOURS["model"],
        **said,
    )
    words(axes, "cable name", right, [100.0], ["cable too hot, up to 5 s"], color=COLOURS["limit"], **said)
    return axes
