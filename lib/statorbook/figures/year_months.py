"""Figure: kilowatt-hours month by month, with what is needed, what is too little and what is left over."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, words
from statorbook.figures.month_bars import month_axes, need_line
from statorbook.year import MONTHS

_HALF = 0.38  # of a bar's width; a month is 1 wide
_LOOKS = {  # told by colour, by hatching and by the words over each month
    "used": {"color": COLOURS["chosen"], "alpha": 0.85},
    "left over": {"color": COLOURS["band"], "alpha": 0.55},
    "short": {"color": COLOURS["limit"], "alpha": 0.4, "hatch": "///"},
}


def draw_year_months(axes, kwh_by_month, need_kwh_by_month=None, *, into="Into the bank"):
    """Draw or move a bar for each month, and a line at what it needs.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    kwh_by_month : ndarray
        What comes, shape (12,), January first [kWh].
    need_kwh_by_month : ndarray or None
        What is needed, same shape; no line, nothing short and nothing left over when None [kWh].
    into : str
        Where it comes to, for the axis.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    kwh = np.asarray(kwh_by_month, dtype=float)
    known = need_kwh_by_month is not None
    need = np.asarray(need_kwh_by_month, dtype=float) if known else kwh
    top = max(float(np.maximum(kwh, need).max()), 1e-3)
    month_axes(axes, 1.3 * top, names=MONTHS)
    axes.set(xlabel="Month", ylabel=f"{into} [kWh]")
    used = np.minimum(kwh, need)
    for name, low, high in (("used", 0.0 * used, used), ("left over", used, kwh), ("short", used, need)):
        band(axes, name, *_blocks(low, high), zorder=2, **_LOOKS[name])
    need_line(axes, need)
    _key(axes)
    _amounts(axes, kwh, need, top)
    if not known:
        for name in ("left over", "short", "need", "key"):
            hide(axes, name)
    return axes


def _blocks(low, high):
    """Edges of twelve bars for one band: between two of them it has no height."""
    x = np.repeat(np.arange(len(low), dtype=float), 4) + np.tile([-_HALF, -_HALF, _HALF, _HALF], len(low))
    ends = np.tile([False, True, True, False], len(low))
    floor = np.repeat(low, 4)
    return x, floor, np.where(ends, np.repeat(high, 4), floor)


def _key(axes):
    look = {"color": COLOURS["measured"], "ha": "right", "va": "top", "fontsize": SMALLEST_PT, "zorder": 5}
    words(axes, "key", [0.995], [0.985], ["line: needed; − short of it; + left over"], transform=axes.transAxes, **look)


def _amounts(axes, kwh, need, top):
    """Over each month what comes, and below that what is short or left over."""
    look = {"ha": "center", "va": "bottom", "fontsize": SMALLEST_PT, "zorder": 5}
    off, up = kwh - need, np.maximum(kwh, need) + 0.015 * top
    said = np.abs(off) >= 0.5
    texts = [f"{value:.0f}" for value in kwh]
    words(axes, "amount", range(len(kwh)), up + 0.085 * top * said, texts, color=COLOURS["measured"], **look)
    for name, there, colour in (("short by", said & (off < 0.0), "limit"), ("over by", said & (off > 0.0), "model")):
        months = np.flatnonzero(there)
        texts = [f"{off[month]:+.0f}".replace("-", "−") for month in months]
        words(axes, name, months, up[months], texts, color=COLOURS[colour], **look)
