"""Figure: shaft power against the nozzle, with the share of the drop that the pipe takes."""

import numpy as np

from statorbook.drives import best_nozzle_mm, nozzle_sweep, usable_nozzles_mm
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.quantities import say, shown_unit, to_shown

_POINTS = 60


def draw_nozzle_power(power_axes, share_axes, drive):
    """Draw or move shaft power and pipe loss of a piped jet against its nozzle.

    Parameters
    ----------
    power_axes : matplotlib.axes.Axes
        Left or upper axes.
    share_axes : matplotlib.axes.Axes
        Right or lower axes.
    drive : PipedJet
        Drop, pipe, runner and the nozzle chosen.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    best, chosen = best_nozzle_mm(drive), drive.jet_mm
    least, most = usable_nozzles_mm(drive)
    found = nozzle_sweep(drive, np.linspace(least, max(min(most, 1.8 * max(best, chosen)), chosen), _POINTS))
    own = nozzle_sweep(drive, [chosen])
    bore, at = to_shown(found.nozzle_mm, "mm"), to_shown(chosen, "mm")
    label = f"Nozzle bore, each [{shown_unit('mm')}]"
    said = f"now {say(chosen, 'mm')},\n{own.shaft_watts[0]:.0f} W"
    panels = (
        (power_axes, found.shaft_watts, own.shaft_watts, "Shaft power at best speed [W]"),
        (share_axes, 100 * found.pipe_share, 100 * own.pipe_share, "Head lost in the pipe [% of the drop]"),
    )
    for axes, values, value, name in panels:
        axes.set(xlim=(0.0, 1.03 * bore[-1]), xlabel=label, ylabel=name)
        axes.set_ylim(0.0, 1.5 * max(float(values.max()), 1.0) if axes is power_axes else 100.0)
        line(axes, "curve", bore, values, color=COLOURS["model"])
        line(
            axes, "chosen", [at], value, linestyle="none", marker="o", markersize=11, color=COLOURS["chosen"], zorder=4
        )
        title = f"best {say(best, 'mm')}"
        limit(axes, "best", to_shown(best, "mm"), title, across="y", color=COLOURS["limit"])
    # On the side of the best nozzle's line that has more room.
    side = {"ha": "left"} if to_shown(best, "mm") > 0.5 * bore[-1] else {"ha": "right"}
    look = {"transform": power_axes.transAxes, "color": COLOURS["chosen"], "va": "top", **side}
    words(power_axes, "chosen text", [0.02 if side["ha"] == "left" else 0.98], [0.97], [said], **look)
    limit(share_axes, "third", 100.0 / 3.0, "a third", color=COLOURS["quiet"])
    return power_axes, share_axes
