"""Figure: what one diode carries over an electrical period, and how hot the rectifier gets on its way to the air."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, line, round_end, words
from statorbook.protection import degrees
from statorbook.quantities import say, shown_unit, to_shown

_MOST_STEPS = 5
_THICK, _THIN = 13.0, 5.0
_ROOM, _ROOM_FOR_WORDS = 1.25, 1.45


def draw_rectifier(amps_axes, heat_axes, waves, needs, fit):
    """Draw or move the current of one diode and the temperatures from the air to the junction.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, current of a diode.
    heat_axes : matplotlib.axes.Axes
        Lower axes, temperatures.
    waves : tuple of Waveforms
        From `protection.diode_waves`.
    needs : RectifierNeeds
        From `protection.rectifier_needs`.
    fit : RectifierFit
        From `protection.rectifier_fit`.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    _draw_amps(amps_axes, waves, needs)
    _draw_heat(heat_axes, fit.steps)
    return amps_axes, heat_axes


def _draw_amps(axes, waves, needs):
    top = round_end(_ROOM * max(needs.most.amps_peak, 0.01))
    axes.set(xlim=(0.0, 360.0), ylim=(0.0, top), xticks=range(0, 361, 60))
    axes.set(xlabel="Electrical angle [°]", ylabel="Current of a diode [A]")
    for name, wave, colour in zip(("most", "work"), waves, (COLOURS["limit"], COLOURS["model"]), strict=True):
        line(axes, name, wave.angle_deg, np.maximum(wave.phase_amps[:, 0], 0.0), color=colour)
    peaks = (("at the most amps", needs.most, "limit"), ("at work", needs.working, "model"))
    # The conducting half lies left; words stand in the right half, where the diode blocks.
    for number, (text, amps, colour) in enumerate(peaks):
        mean, rms, peak = (say(each, "A", figures=2) for each in (amps.mean_amps, amps.amps_rms, amps.amps_peak))
        said = f"{text}: {mean} average, {rms} rms, {peak} peak"
        look = {"transform": axes.transAxes, "ha": "right", "va": "top", "fontsize": SMALLEST_PT}
        words(axes, f"said {text}", [0.985], [0.96 - 0.12 * number], [said], color=COLOURS[colour], **look)


def _draw_heat(axes, steps):
    rows = list(range(len(steps)))
    shown = [[to_shown(each, "°C") for each in (step.most_c, step.working_c)] for step in steps]
    start = min(to_shown(0.0, "°C"), *map(min, shown))
    limits = [None if step.limit_c is None else to_shown(step.limit_c, "°C") for step in steps]
    top = max(*map(max, shown), *(each for each in limits if each is not None))
    end = round_end(start + _ROOM_FOR_WORDS * (top - start))
    axes.set(xlim=(start, end), ylim=(len(steps) - 0.4, -0.6), xlabel=f"Temperature [{shown_unit('°C')}]")
    axes.set_yticks(rows, [step.name for step in steps])
    axes.grid(visible=False, axis="y")
    for row in range(_MOST_STEPS):
        for name in (f"most {row}", f"work {row}", f"limit {row}"):
            hide(axes, name)
    for row, ((most, work), limit) in enumerate(zip(shown, limits, strict=True)):
        look = {"solid_capstyle": "butt"}
        line(axes, f"most {row}", [start, most], [row, row], color=COLOURS["limit"], linewidth=_THICK, **look)
        line(axes, f"work {row}", [start, work], [row, row], color=COLOURS["model"], linewidth=_THIN, **look)
        if limit is not None:
            line(axes, f"limit {row}", [limit, limit], [row - 0.4, row + 0.4], color=COLOURS["measured"], linewidth=2.0)
    texts = [_said(step) for step in steps]
    right = [max(*each, limit or start) + 0.012 * (top - start) for each, limit in zip(shown, limits, strict=True)]
    words(axes, "degrees", right, rows, texts, va="center", ha="left", fontsize=SMALLEST_PT)


def _said(step):
    most = degrees(step.most_c)
    if step.limit_c is None:
        return most
    return f"{most}, limit {degrees(step.limit_c)}"
