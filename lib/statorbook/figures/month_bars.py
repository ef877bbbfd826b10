"""A bar for each month on given axes, and a line at what each needs: what the figures of a year share."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, line, round_end
from statorbook.year import MONTHS


def month_axes(axes, top_kwh, *, names=tuple(month[0] for month in MONTHS)):
    """Lay the months side by side, January first, with room up to a round number."""
    axes.set(xlim=(-0.7, len(MONTHS) - 0.3), ylim=(0.0, round_end(top_kwh)))
    axes.set_xticks(range(len(MONTHS)), names)
    axes.grid(visible=False, axis="x")


def month_bars(axes, kwh, colours, thick):
    """Draw or move a plain bar for each month, in a colour each."""
    for month, (value, colour) in enumerate(zip(kwh, colours, strict=True)):
        look = {"color": colour, "linewidth": thick, "solid_capstyle": "butt", "zorder": 2}
        line(axes, f"month {month}", [month, month], [0.0, float(value)], **look)


def need_line(axes, need_kwh, zorder=4):
    """Draw or move a line that steps from month to month."""
    edges = np.repeat(np.arange(len(MONTHS) + 1) - 0.5, 2)[1:-1]
    line(axes, "need", edges, np.repeat(need_kwh, 2), color=COLOURS["measured"], linewidth=2.2, zorder=zorder)
