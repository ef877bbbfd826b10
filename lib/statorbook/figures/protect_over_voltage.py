"""Figure: volts at the rectifier and speed after the bank has come off, with and without a load."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, limit, line, round_end

_LOOKS = {"without": ("measured", "-"), "needed": ("chosen", "-"), "yours": ("second", "--")}
_NEARLY = 0.95  # of the way, where the picture may end


def draw_over_voltage(volts_axes, speed_axes, courses, *, limit_dc_volts):
    """Draw or move the courses of volts and speed.

    Parameters
    ----------
    volts_axes : matplotlib.axes.Axes
        Upper axes, volts at the rectifier.
    speed_axes : matplotlib.axes.Axes
        Lower axes, speed.
    courses : dict of str to tuple
        "without", "needed" or "yours" to its words and its `LoadLost`.
    limit_dc_volts : float
        Volts that must not be passed, DC [V].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    end = round_end(max(_shown_s(lost) for _, lost in courses.values()))
    volts_axes.set(xlim=(0.0, end), ylabel="At the rectifier, DC peak [V]")
    speed_axes.set(xlim=(0.0, end), ylabel="Speed [rpm]", xlabel="Time since the bank came off [s]")
    lost = [lost for _, lost in courses.values()]
    volts_axes.set_ylim(0.0, round_end(1.05 * max(limit_dc_volts, *(one.highest_dc_volts for one in lost))))
    speed_axes.set_ylim(0.0, round_end(1.05 * max(one.speed_rpm.max() for one in lost)))
    for name, (colour, style) in _LOOKS.items():
        for axes, values in ((volts_axes, "dc_volts"), (speed_axes, "speed_rpm")):
            _draw(axes, name, courses.get(name), values, end, color=COLOURS[colour], linestyle=style)
    limit(volts_axes, "limit", limit_dc_volts, f"must not pass {limit_dc_volts:.0f} V")
    _name(volts_axes, courses)
    return volts_axes, speed_axes


def _name(axes, courses):
    """A legend of the courses that are shown, made anew only for others: it takes longer than all curves."""
    words = [said for said, _ in courses.values()]
    old = axes.get_legend()
    if old is None or [text.get_text() for text in old.get_texts()] != words:
        shown = {artist.get_gid(): artist for artist in axes.lines}
        axes.legend([shown[name] for name in courses], words, fontsize=SMALLEST_PT)


def _draw(axes, name, course, values, end_s, **look):
    if course is None:
        hide(axes, name)
        return
    lost = course[1]
    # Before zero it is the bank that holds the volts; after the last point nothing changes any more.
    times = np.concatenate([lost.time_s, [max(end_s, lost.time_s[-1])]])
    line(axes, name, times, np.append(getattr(lost, values), getattr(lost, values)[-1]), **look)


def _shown_s(lost):
    """Time after which there is little left to be seen."""
    way = np.abs(lost.speed_rpm - lost.speed_rpm[-1])
    late = np.flatnonzero(way > (1.0 - _NEARLY) * max(way.max(), 1e-9))
    return float(max(lost.time_s[late[-1]] if late.size else 0.0, 0.2))
