"""Figure of the derived ohms of a dump load: what it takes from the bank, ohm by ohm."""

import numpy as np

from statorbook.charging import dump_ohms
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.quantities import number, say

_POINTS = 80


def draw_derived_dump(axes, needs, spare):
    """Draw the amps of dump loads over their ohms, with the formula's most ohms as points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    needs : DumpNeeds
        What the loads of a plant have to be, from `charging.judged_dumps`.
    spare : tuple of float
        Amps that are asked for over those of the source, the case of one load first, then of all together [-].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    most, volts = dump_ohms()["ohms"], needs.held_volts
    found = [number(most, V=volts, I=needs.source_amps, k=each, n=1) for each in spare]
    ohms = np.linspace(0.6 * min(found), 2.0 * max(found), _POINTS)
    axes.set(xlim=(0.0, ohms[-1]), ylim=(0.0, volts / ohms[0]), xlabel="All dump loads together, hot [Ω]")
    axes.set(ylabel=f"Amps at {say(volts, 'V', form='.1f')} [A]")
    line(axes, "takes", ohms, volts / ohms, color=COLOURS["model"])
    limit(axes, "source", needs.source_amps, f"the most of the source, {say(needs.source_amps, 'A', figures=2)}")
    look = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
    amps = np.multiply(spare, needs.source_amps)
    line(axes, "formula", found, amps, **look)
    said = [
        f"{name}: at most {say(ohm, 'Ω', figures=2)}"
        for name, ohm in zip(("one that can do it alone", "all together"), found, strict=True)
    ]
    words(axes, "most", [1.03 * ohm for ohm in found], 1.08 * amps, said, color=COLOURS["chosen"], va="bottom")
    return axes
