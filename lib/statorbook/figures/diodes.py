"""Figure: what the diodes do, over one electrical period."""

import numpy as np

from statorbook.bridge import LEADS
from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, line, words

# Three colours that colour-blind readers keep apart; every curve carries its name as well.
_LEAD_COLOURS = ("#0072B2", "#D55E00", "#009E73")
_PAIRS = ("AB", "BC", "CA")
_SHADES = {2: ("#E69F00", 0.22), 3: ("#56B4E9", 0.28)}
_SHADE_WORDS = {0: "white: no diode conducts", 2: "yellow: two diodes", 3: "blue: three diodes"}
_NAMED_FROM_DEG = 17.0
_ROOM = 1.25


def draw_diodes(amps_axes, volts_axes, dc_axes, waves):
    """Draw or move lead currents, line volts and DC current, with the conduction intervals shaded.

    Parameters
    ----------
    amps_axes : matplotlib.axes.Axes
        Upper axes, currents in the three leads.
    volts_axes : matplotlib.axes.Axes
        Middle axes, volts between the leads.
    dc_axes : matplotlib.axes.Axes
        Lower axes, current into the bank.
    waves : Waveforms
        From `bridge.waveforms.bridge_waveforms` or `operation.speed_sweep.winding_waveforms`.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        The three axes.
    """
    angle = waves.angle_deg
    tops = [float(np.abs(signal).max()) for signal in (waves.phase_amps, waves.line_emf_volts, waves.dc_amps)]
    three = (amps_axes, volts_axes, dc_axes)
    for axes, top in zip(three, tops, strict=True):
        top = _ROOM * max(top, 0.01)
        axes.set(xlim=(0.0, 360.0), ylim=(0.0 if axes is dc_axes else -top, top), xticks=range(0, 361, 60))
        _shade(axes, waves.intervals, top)
    amps_axes.set(ylabel="Lead current [A]")
    volts_axes.set(ylabel="Line volts [V]")
    dc_axes.set(ylabel="DC current [A]", xlabel="Electrical angle [°]")
    for number, colour in enumerate(_LEAD_COLOURS):
        line(amps_axes, LEADS[number], angle, waves.phase_amps[:, number], color=colour)
        open_look = {"color": colour, "linewidth": 1.0, "linestyle": ":"}
        line(volts_axes, f"open {_PAIRS[number]}", angle, waves.line_emf_volts[:, number], **open_look)
        line(volts_axes, _PAIRS[number], angle, waves.line_volts[:, number], color=colour)
    line(dc_axes, "DC", angle, waves.dc_amps, color="#222222")
    _name_curves(amps_axes, LEADS, angle, waves.phase_amps)
    _name_curves(volts_axes, _PAIRS, angle, waves.line_emf_volts)
    _name_intervals(dc_axes, waves)
    return three


def _shade(axes, intervals, top):
    """One band for each number of conducting diodes, and a thin line at each switching; each edge stands twice."""
    edges = np.array([(interval.start_deg, interval.end_deg) for interval in intervals]).ravel()
    for count, (colour, alpha) in _SHADES.items():
        inside = np.repeat([sum(map(abs, interval.signs)) == count for interval in intervals], 2)
        low, high = np.full(edges.shape, -top), np.where(inside, top, -top)
        band(axes, f"{count} diodes", edges, low, high, color=colour, alpha=alpha, zorder=0.5)
    switchings = np.repeat([interval.start_deg for interval in intervals[1:]], 3)
    upright = np.tile([-top, top, np.nan], len(intervals) - 1)
    line(axes, "switchings", switchings, upright, color=COLOURS["quiet"], linewidth=0.5, zorder=0.6)


def _name_curves(axes, names, angle, signals):
    """Each name above the highest point of its curve."""
    places = signals.argmax(axis=0)
    heights = signals.max(axis=0) + 0.02 * max(float(signals.max()), 0.01)
    texts = zip(names, angle[places], heights, _LEAD_COLOURS, strict=True)
    for name, left, up, colour in texts:
        words(axes, f"name {name}", [min(left, 350.0)], [up], [name], color=colour, ha="center", fontweight="bold")


def _name_intervals(axes, waves):
    """Which diodes conduct, where there is room for it, and what the shades mean."""
    shown = [
        interval
        for interval in waves.intervals
        if interval.signs.count(0) < 3 and interval.end_deg - interval.start_deg >= _NAMED_FROM_DEG
    ]
    middles = [0.5 * (interval.start_deg + interval.end_deg) for interval in shown]
    frame = {"transform": axes.get_xaxis_transform(), "ha": "center", "va": "bottom", "fontsize": SMALLEST_PT}
    names = [interval.diodes.replace(" ", "\n") for interval in shown]
    words(axes, "pattern", middles, [0.03] * len(shown), names, **frame)
    counts = sorted({sum(map(abs, interval.signs)) for interval in waves.intervals})
    text = f"{waves.conduction}  ({'; '.join(_SHADE_WORDS[count] for count in counts)})"
    words(axes, "key", [0.01], [0.96], [text], transform=axes.transAxes, va="top", color=COLOURS["quiet"])
