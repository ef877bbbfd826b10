"""Figures: watts of the dump loads against the bank's volts, and what a contact breaks on DC."""

import numpy as np

from statorbook.charging import typical_dc_amps
from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, limit, line, round_end, words

_LEFT = 0.85  # of the volts to hold
_VOLTS = (10.0, 300.0)
_TICKS_V = (10, 15, 20, 30, 50, 100, 200, 300)
_AMPS = (0.05, 400.0)


def draw_dump_watts(axes, judged):
    """Draw or move what the dump loads take by the bank's volts, with the most that the source gives.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    judged : JudgedDumps
        From `charging.judged_dumps`.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    needs = judged.needs
    left, right = _LEFT * needs.held_volts, 1.03 * needs.top_volts
    volts = np.linspace(left, right, 60)
    source = needs.source_amps * volts
    every = judged.amps / needs.held_volts * volts**2
    rest = judged.left_amps / needs.held_volts * volts**2
    top = round_end(1.1 * max(every[-1], needs.amps * right))
    axes.set(xlim=(left, right), ylim=(0.0, top), xlabel="Bank, DC [V]", ylabel="Watts [W]")
    line(axes, "source", volts, source, color=COLOURS["limit"], label="most of the source")
    asked = {"color": COLOURS["limit"], "linestyle": ":"}
    line(axes, "asked", volts, needs.amps / needs.source_amps * source, label="150 % of it", **asked)
    line(axes, "all", volts, every, color=COLOURS["chosen"], linewidth=2.4, label="all dump loads")
    dead = {"color": COLOURS["model"], "linestyle": "-."}
    line(axes, "left", volts, rest, label="the strongest one dead", **dead)
    grey = {"across": "y", "color": COLOURS["quiet"]}
    limit(axes, "held", needs.held_volts, "held at", **grey, at_foot=True)
    limit(axes, "top", needs.top_volts, "highest", **grey, at_foot=True)
    if not axes.get_legend():
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, fontsize=SMALLEST_PT)
    return axes


def draw_contacts(axes, judged, ac_amps):
    """Draw or move what a contact labelled for AC may break on DC, with what each contact of the plan has to.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    judged : sequence of JudgedContact
        From `charging.judged_contacts`.
    ac_amps : float
        On the label, at 250 V AC [A].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    if axes.get_xscale() != "log":
        axes.set(xscale="log", yscale="log", xlim=_VOLTS, ylim=_AMPS)
        axes.minorticks_off()
        axes.set_xticks(_TICKS_V, [str(tick) for tick in _TICKS_V])
        axes.set_yticks(*_ticks((0.1, 0.3, 1, 3, 10, 30, 100, 300)))
        axes.set(xlabel="Volts that it has to break, DC [V]", ylabel="Amps [A]")
    volts = np.geomspace(*_VOLTS, 80)
    guide = [typical_dc_amps(ac_amps, float(each)) for each in volts]
    line(axes, "guide", volts, guide, color=COLOURS["limit"], linewidth=2.2)
    said = [f"contact for {ac_amps:.0f} A AC: about this on DC"]
    look = {"color": COLOURS["limit"], "fontsize": SMALLEST_PT}
    words(axes, "guide words", [11.0], [0.07], said, ha="left", va="bottom", **look)
    needs = _grouped([each.need for each in judged if each.need.current == "DC" and each.need.amps > 0.0])
    mark = {"linestyle": "none", "marker": "D", "markersize": 8, "color": COLOURS["measured"], "zorder": 4}
    line(axes, "needs", [volts for volts, _, _ in needs], [amps for _, amps, _ in needs], **mark)
    paper = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.0}
    names = {"ha": "left", "va": "center", "fontsize": SMALLEST_PT, "color": COLOURS["measured"], "bbox": paper}
    places = [1.08 * volts for volts, _, _ in needs], [amps for _, amps, _ in needs]
    words(axes, "need", *places, [name for _, _, name in needs], **names)
    return axes


def _ticks(values):
    return values, [f"{value:g}" for value in values]


def _grouped(needs):
    """Needs that stand on the same place share one point and its words; those apart stay in their order."""
    found = {}
    for need in needs:
        found.setdefault((need.volts, float(f"{need.amps:.2g}")), []).append(need.output.replace("_", " "))
    return [(volts, amps, " · ".join(dict.fromkeys(names))) for (volts, amps), names in found.items()]
