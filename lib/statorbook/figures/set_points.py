"""Figure: rest volts of a bank against its charge, with its set-points as lines."""

from statorbook.bank import bank_table, rest_volts_of
from statorbook.charging import POINT_NAMES
from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, apart, hide, line, words
from statorbook.quantities import say

_ENDS = ("most_volts", "least_volts")
_CHARGING = ("equalise_volts", "absorption_volts", "float_volts", "balance_volts")
_RIGHT, _ROOM = 100.0, 165.0


def draw_set_points(axes, bank, points):
    """Draw or move the rest volts and the set-points.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    bank : Bank
        The bank.
    points : SetPoints
        Its set-points.

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    table, charges = bank_table(bank), range(101)
    rest = [rest_volts_of(charge / 100.0, table) for charge in charges]
    there = {name: getattr(points, name) for name in POINT_NAMES if getattr(points, name) is not None}
    low, high = min(*rest, *there.values()), max(*rest, *there.values())
    room = 0.05 * (high - low)
    axes.set(
        xlim=(0.0, _ROOM),
        ylim=(low - room, high + 2.0 * room),
        ylabel=f"The whole bank, DC, as at {say(25.0, '°C', form='g')} [V]",
    )
    axes.grid(visible=False)
    axes.set_xlabel("Charge [%]")
    axes.set_xticks(range(0, 101, 20))
    line(axes, "rest", charges, rest, color=COLOURS["model"], linewidth=2.2)
    words(axes, "rest name", [22.0], [rest[22] - 0.2 * room], ["at rest"], color=COLOURS["model"], va="top", ha="left")
    for name in POINT_NAMES:
        if name in there:
            look = {"color": _colour(name), "linestyle": "--", "linewidth": 1.4}
            line(axes, name, [0.0, _RIGHT], [there[name]] * 2, **look)
        else:
            hide(axes, name)
    heights = apart(list(there.values()), 1.25 * room)
    look = {"ha": "left", "va": "center", "fontsize": SMALLEST_PT, "color": COLOURS["measured"]}
    said = [f"{POINT_NAMES[name]} {round(volts, 2):g} V" for name, volts in there.items()]
    words(axes, "point", [_RIGHT + 2.0] * len(said), heights, said, **look)
    return axes


def _colour(name):
    return COLOURS["limit" if name in _ENDS else "chosen" if name in _CHARGING else "quiet"]
