"""Figure: amps into the bank and open-circuit volts against speed."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, limit, line, round_end, words

_ROOM = 1.05
_WORDS_SHARE = 0.09  # of the height of the picture, that a line of words takes
_CLEAR, _UPRIGHT = 0.006, 0.03  # of the width: beside a line, and beside a line with upright words left of it
_PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 1.0}
_FAR, _SHOWN = 5.0, 2.5  # times the working speed: beyond the one, runaway is told and the axis ends at the other
_NEAR_LEFT = 0.2  # of the width, that the words of the point take
_LETTERS = "abcdef"  # one name for each limit that may be drawn


def draw_speed_curves(
    amps_axes,
    volts_axes,
    sweeps,
    row,
    *,
    at,
    plus_minus_band,
    runaway_rpm,
    volts_peak,
    limits,
    state=1,
    device_max_volts=None,
):
    """Draw or move both curves of one grouping.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, DC amps.
    volts_axes : matplotlib.axes.Axes
        Lower axes, DC volts peak with the bank gone.
    sweeps : sequence of Sweep
        Bank empty, half full, charging, each of one winding.
    row : Row
        The grouping's line in the comparison.
    at : OperatingPoint
        Where it settles.
    plus_minus_band : tuple of ndarray
        Lower and upper edge of the amps that the ± of the coil constants leaves, at the sweep's speeds [A].
    runaway_rpm : float
        Speed with the load gone [rpm].
    volts_peak : ndarray
        DC peak with the bank gone, cold magnets, at the sweep's speeds [V].
    limits : sequence of tuple
        (volts [V], words) to show as dashed lines.
    state : int
        The bank state that the line, the ± and the point are for: 0 empty, 1 half full, 2 charging [-].
    device_max_volts : float or None
        Highest DC input of a device on the bank [V].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    speed = sweeps[0].speed_rpm[0]
    runaway_volts = float(np.interp(runaway_rpm, speed, volts_peak))
    end = _end_rpm(max(rpm for rpm in (row.cut_in_rpm, at.speed_rpm, 1.0) if rpm <= runaway_rpm), runaway_rpm)
    for axes in (amps_axes, volts_axes):
        axes.set_xlim(0.0, end)
        _mark_speeds(axes, row.cut_in_rpm, at.speed_rpm, runaway_rpm, named=axes is volts_axes)
    _draw_amps(amps_axes, sweeps, at, plus_minus_band, state)
    reach = [float(volts_peak[speed <= end].max()), 1.0]
    # Where the picture ends before runaway the volts to be kept below still show.
    highest = round_end(1.15 * max(reach + ([volts for volts, _ in limits] if end < runaway_rpm else [])))
    volts_axes.set(ylim=(0.0, highest), xlabel="Speed [rpm]", ylabel="Open circuit, DC peak [V]")
    line(volts_axes, "volts", speed, volts_peak, color=COLOURS["second"])
    device = [(device_max_volts, "most that the device stands")] if device_max_volts else []
    marks = (row.cut_in_rpm, at.speed_rpm, runaway_rpm)
    _mark_limits(volts_axes, [*limits, *device], highest, marks, (speed, volts_peak))
    look = {"transform": volts_axes.transAxes, "ha": "right", "color": COLOURS["limit"], "fontsize": SMALLEST_PT}
    off = f"runaway {runaway_rpm:.0f} rpm, {runaway_volts:.0f} V: beyond this picture →"
    words(volts_axes, "beyond", [0.995], [0.02], [off if end < runaway_rpm else ""], bbox=_PAPER, **look)
    return amps_axes, volts_axes


def _end_rpm(working_rpm, runaway_rpm):
    """Where the axis of speed ends: beyond runaway, unless that would press all work into a corner [rpm]."""
    return round_end(_SHOWN * working_rpm if runaway_rpm > _FAR * working_rpm else _ROOM * runaway_rpm)


def _draw_amps(axes, sweeps, at, plus_minus_band, state):
    """The band from bank empty to charging, the line for one state, and the point where it settles."""
    empty, _, charging = states = [s.dc_amps[0] for s in sweeps]
    speed = sweeps[0].speed_rpm[0]
    seen = speed <= axes.get_xlim()[1]
    top = float(max(empty[seen].max(), charging[seen].max(), 0.1))
    axes.set(ylim=(0.0, round_end(1.18 * top)), ylabel="Current, DC [A]")
    band(axes, "bank states", speed, np.minimum(empty, charging), np.maximum(empty, charging))
    band(axes, "plus minus", speed, *plus_minus_band, color=COLOURS["model"], alpha=0.35)
    line(axes, "amps", speed, states[state], color=COLOURS["model"])
    look = {"color": COLOURS["chosen"], "zorder": 4}
    line(
        axes,
        "point",
        [at.speed_rpm],
        [at.dc_amps],
        linestyle="none",
        marker="o",
        markersize=11,
        **{**look, "zorder": 5},
    )
    text = f"{at.dc_amps:.1f} A, {at.bank_watts:.0f} W"
    height = at.dc_amps + 0.05 * top
    side = "right" if at.speed_rpm > _NEAR_LEFT * axes.get_xlim()[1] else "left"
    words(axes, "point words", [at.speed_rpm], [height], [text], ha=side, fontweight="bold", bbox=_PAPER, **look)


def _mark_speeds(axes, cut_in_rpm, working_rpm, runaway_rpm, *, named):
    end, marks = axes.get_xlim()[1], {"cut-in": cut_in_rpm, "working": working_rpm, "runaway": runaway_rpm}
    crowded = abs(cut_in_rpm - working_rpm) < _UPRIGHT * end
    for name, speed in marks.items():
        text, at_foot = f"{name} {speed:.0f} rpm" if named else "", crowded and name == "cut-in"
        limit(axes, name, speed, text, across="y", color=COLOURS["quiet"], at_foot=at_foot)
        if speed > min(_ROOM * runaway_rpm, end):
            hide(axes, name)


def _widest_gap(end_rpm, marks_rpm):
    """Both ends of the widest stretch of the axis without an upright line, where words can stand [rpm]."""
    stops = sorted({0.0, end_rpm, *(rpm for rpm in marks_rpm if 0.0 < rpm < end_rpm)})
    left, right = max(zip(stops, stops[1:]), key=lambda gap: gap[1] - gap[0])
    beside = _CLEAR if right == end_rpm else _UPRIGHT
    return left + _CLEAR * end_rpm, right - beside * end_rpm


def _away_from_curve(ends_rpm, volts, volts_curve):
    """At which end of a gap the words of a limit stand, and where: where the curve is far above or below them."""
    far = [abs(float(np.interp(rpm, *volts_curve)) - volts) for rpm in ends_rpm]
    return ("left", ends_rpm[0]) if far[0] >= far[1] else ("right", ends_rpm[1])


def _mark_limits(axes, limits, top, marks_rpm, volts_curve):
    """Dashed lines; words of one at the top, or close to a higher one, stand under the line, the others on it."""
    ends = _widest_gap(axes.get_xlim()[1], marks_rpm)
    heights = [volts for volts, _ in limits]
    for letter in _LETTERS[len(limits) :]:
        hide(axes, f"limit {letter}")
        hide(axes, f"limit {letter} words")
    for number, (letter, (volts, text)) in enumerate(zip(_LETTERS, limits, strict=False)):
        name = f"limit {letter}"
        limit(axes, name, volts, "")
        others = [other for index, other in enumerate(heights) if (other, index) > (volts, number) and other <= top]
        crowded = any(above - volts < _WORDS_SHARE * top for above in (top, *others))
        look = {"color": COLOURS["limit"], "fontsize": SMALLEST_PT, "va": "top" if crowded else "bottom"}
        look["ha"], place = _away_from_curve(ends, volts, volts_curve)
        words(axes, f"{name} words", [place], [volts], [f"{volts:g} V, {text}"], bbox=_PAPER, **look)
        if volts > top:
            hide(axes, name)
            hide(axes, f"{name} words")
