"""Figure: volts and ohms of every coil against the middle of the coils, the odd ones ringed and named."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, line, words

_ROOM_PERCENT, _LEAST_PERCENT = 6.0, 12.0
_STEPS = ((18, 1), (36, 2), (72, 4), (144, 8))  # a number under every tooth, every second, and so on
_NEAR = 0.14  # two labels within this share of the width would touch


def draw_coil_bars(volts_axes, ohms_axes, survey):
    """Draw or move the survey of the coils.

    Parameters
    ----------
    volts_axes : matplotlib.axes.Axes
        Upper axes, volts.
    ohms_axes : matplotlib.axes.Axes
        Lower axes, ohms.
    survey : Survey or None
        The survey; None when there is none yet.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    volts_axes.set_ylabel("Volts [% of middle]")
    ohms_axes.set(xlabel="Tooth", ylabel="Ohms [% of middle]")
    if survey is None:
        for axes in (volts_axes, ohms_axes):
            _hide_all(axes)
            axes.set(xlim=(0.3, 12.7), ylim=(100.0 - _LEAST_PERCENT, 100.0 + _LEAST_PERCENT))
            look = {"transform": axes.transAxes, "ha": "center", "va": "center", "color": COLOURS["quiet"]}
            words(axes, "nothing", [0.5], [0.5], ["no coil to compare yet"], **look)
        return volts_axes, ohms_axes
    _draw_column(volts_axes, survey, "volts", survey.emf_share)
    _draw_column(ohms_axes, survey, "ohms", survey.ohm_share)
    return volts_axes, ohms_axes


def _draw_column(axes, survey, name, shares):
    """One row of bars from the middle of the coils, which is 100 %."""
    _hide_all(axes)
    is_open = survey.open_teeth if name == "ohms" else ()
    slots = len(shares) + len(is_open) + len(survey.missing[name])
    percent = {tooth: 100.0 * share.value for tooth, share in shares.items()}
    low, high = _limits(percent.values())
    axes.set(xlim=(0.3, slots + 0.7), ylim=(low, high))
    axes.set_xticks(range(1, slots + 1, next(step for most, step in _STEPS if slots <= most)))
    if name in survey.limit:
        off = 100.0 * survey.limit[name]
        band(axes, "usual", [0.3, slots + 0.7], [100.0 - off] * 2, [100.0 + off] * 2)
    line(axes, "middle", [0.3, slots + 0.7], [100.0, 100.0], color=COLOURS["model"], linewidth=1.6, zorder=2)
    teeth, heights = list(percent), list(percent.values())
    stems = [(x, y) for tooth, value in percent.items() for x, y in ((tooth, 100.0), (tooth, value), (np.nan, np.nan))]
    line(axes, "bars", *_across(stems), color=COLOURS["measured"], linewidth=3.0, solid_capstyle="butt", zorder=3)
    line(axes, "coils", teeth, heights, linestyle="none", marker="o", markersize=6, color=COLOURS["measured"], zorder=4)
    _ring(axes, [odd.tooth for odd in survey.odd if name in odd.off_in], percent, is_open, slots)
    unread = survey.missing[name]
    look = {"transform": axes.get_xaxis_transform(), "ha": "center", "va": "bottom", "color": COLOURS["quiet"]}
    words(axes, "unread", unread, [0.02] * len(unread), ["?"] * len(unread), **look)


def _ring(axes, teeth, percent, is_open, slots):
    """Rings and names of the odd coils; a coil without a way through stands at the top."""
    low, high = axes.get_ylim()
    top = high - 0.09 * (high - low)
    at = {tooth: top if tooth in is_open else percent[tooth] for tooth in teeth}
    ring = {"linestyle": "none", "marker": "o", "markersize": 16, "fillstyle": "none", "markeredgewidth": 2.4}
    line(axes, "odd", list(at), list(at.values()), color=COLOURS["odd"], zorder=5, **ring)
    look = {"va": "center", "color": COLOURS["odd"], "fontweight": "bold", "fontsize": SMALLEST_PT, "zorder": 6}
    look["bbox"] = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.2}
    sides = _sides(list(at), slots)
    for side, shift in (("left", 0.018), ("right", -0.018)):
        here = [tooth for tooth in at if sides[tooth] == side]
        texts = [f"{t}: OL" if t in is_open else f"{t}: {percent[t] - 100.0:+.0f} %".replace("-", "−") for t in here]
        words(axes, f"odd {side}", [t + shift * slots for t in here], [at[t] for t in here], texts, ha=side, **look)


def _sides(teeth, slots):
    """Where a name begins: right of its ring where there is room up to the edge and to the next odd coil."""
    following = [*teeth[1:], slots / (1.0 - _NEAR)] if teeth else []
    return {
        tooth: "left" if min(after, slots) - tooth > _NEAR * slots else "right"
        for tooth, after in zip(teeth, following, strict=True)
    }


def _limits(percent):
    low, high = min(percent, default=100.0), max(percent, default=100.0)
    reach = _ROOM_PERCENT + 0.08 * (high - low)
    return min(low - reach, 100.0 - _LEAST_PERCENT), max(high + reach, 100.0 + _LEAST_PERCENT)


def _across(points):
    return zip(*points, strict=True) if points else ((), ())


def _hide_all(axes):
    for name in ("usual", "middle", "bars", "coils", "odd", "odd left", "odd right", "unread", "nothing"):
        hide(axes, name)
