"""Figure: what a house takes through a day, what its source carries, and what its inverter stands."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, limit, line, round_end

_HOURS = np.arange(25.0)
_LEAST_WATTS = 10.0
_IN_SIGHT = 3.0  # times the highest curve; a limit above it would press the day into the ground


def draw_house_day(axes, day, source_ac_watts, inverter):
    """Draw or move the watts of a day.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    day : HouseDay
        What the house takes.
    source_ac_watts : ndarray
        What the source carries at the sockets by the hour of the clock, shape (24,) [W].
    inverter : Inverter or None
        What feeds it.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    limits = {"rated": inverter.rated_watts, "surge": inverter.surge_watts} if inverter else {}
    curves = max(day.most_start_watts, float(source_ac_watts.max()), _LEAST_WATTS)
    shown = {name: watts for name, watts in limits.items() if watts <= _IN_SIGHT * curves}
    axes.set(xlim=(0.0, 24.0), ylim=(0.0, round_end(1.15 * max(curves, *shown.values(), 0.0))))
    axes.set(xlabel="Hour of the day [h]", ylabel="At the sockets [W]")
    axes.set_xticks(range(0, 25, 3))
    line(axes, "starts", *_steps(day.start_watts), color=COLOURS["odd"], linewidth=0.9)
    line(axes, "runs", *_steps(day.running_watts), color=COLOURS["model"], linewidth=1.8)
    source = {"color": COLOURS["chosen"], "linestyle": "--", "drawstyle": "steps-post"}
    line(axes, "source", _HOURS, np.append(source_ac_watts, source_ac_watts[-1]), **source)
    for name, words in (("rated", "inverter, for hours"), ("surge", "inverter, for some seconds")):
        limit(axes, name, shown.get(name, 0.0), words, color=COLOURS["quiet"])
        if name not in shown:
            hide(axes, name)
    if axes.get_legend() is None:
        named = {artist.get_gid(): artist for artist in axes.lines}
        words = {"runs": "runs", "starts": "while it starts", "source": "the source carries by itself, mean"}
        handles = [named[name] for name in words]
        axes.legend(handles, words.values(), fontsize=SMALLEST_PT, loc="upper left")
    return axes


def _steps(watts):
    """Corners of a curve of minutes, which stays flat for most of the day: hours and watts."""
    at = np.flatnonzero(np.diff(watts, prepend=np.nan))
    edges = np.append(at, len(watts)) / 60.0
    return np.repeat(edges, 2)[1:-1], np.repeat(watts[at], 2)
