"""Figure: kilowatt-hours a year by grouping, each bar with its volts when the bank is gone."""

from statorbook.choice import ABOVE, CHOSEN, NEEDS_A_GUARD, REJECTED, WORKABLE
from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, ink, line, round_end, words

MOST_BARS, _LEAST_BARS = 12, 7
_SOME_ROOM, _ROOM = 0.54, 0.36  # of the width for the bars; the rest is for the words behind them
_THICK = 15.0
# Told by colour and by the words behind the bar.
_LOOKS = {
    CHOSEN: (COLOURS["chosen"], ""),
    WORKABLE: (COLOURS["chosen"], ""),
    NEEDS_A_GUARD: (COLOURS["limit"], ", above yours"),
    ABOVE: (COLOURS["limit"], ", above yours"),
    REJECTED: (COLOURS["quiet"], ", rejected"),
}


def draw_year_bars(axes, rows, years, picked, *, plus_minus_kwh=0.0, remarks=None):
    """Draw or move one bar a grouping, most kilowatt-hours first.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    rows : sequence of Row
        From the comparison; its verdict gives the colour, its runaway volts stand behind the bar.
    years : sequence of GroupingYear
        One for each of them, in any order.
    picked : Grouping
        The one that is ringed; it is shown even where others give more.
    plus_minus_kwh : float
        95 % half-width of its kilowatt-hours; 0 draws no whisker [kWh].
    remarks : dict of Grouping to str or None
        Words behind some of the bars, such as "one setting".

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    kwh = {year.grouping: year.kwh for year in years}
    shown = _shown(rows, kwh, picked)
    top = max(1.0, *(kwh[row.grouping] for row in shown))
    low, high = max(kwh[picked] - plus_minus_kwh, 0.0), kwh[picked] + plus_minus_kwh
    room = _ROOM if remarks else _SOME_ROOM
    axes.set(xlim=(0.0, round_end(max(top, high) / room)), ylim=(max(len(shown), _LEAST_BARS) - 0.4, -0.6))
    axes.set_xlabel("Into the bank over the year [kWh]")
    axes.set_yticks(range(len(shown)), [row.grouping.label for row in shown])
    axes.grid(visible=False, axis="y")
    behind = "Behind each bar: kWh a year, and V DC peak with the bank gone"
    axes.set_title(behind, loc="left", color=ink(COLOURS["quiet"]), fontsize=SMALLEST_PT)
    for number in range(MOST_BARS):
        row = shown[number] if number < len(shown) else None
        ends, look = ([0.0, max(kwh[row.grouping], 0.0)], _LOOKS[row.verdict][0]) if row else ([], COLOURS["quiet"])
        place = [number] * len(ends)
        line(axes, f"bar {number}", ends, place, color=look, linewidth=_THICK, solid_capstyle="butt", zorder=2)
    at = next(number for number, row in enumerate(shown) if row.grouping == picked)
    line(axes, "picked", [0.0], [at], linestyle="none", marker=">", markersize=14, color=COLOURS["measured"], zorder=4)
    line(axes, "whisker", [low, high], [at, at], color=COLOURS["measured"], linewidth=2.2, marker="|", zorder=3)
    if not plus_minus_kwh:
        hide(axes, "whisker")
    texts = [_words(row, kwh[row.grouping], (remarks or {}).get(row.grouping, "")) for row in shown]
    right = [(high if row.grouping == picked else max(kwh[row.grouping], 0.0)) + 0.015 * top for row in shown]
    words(axes, "amount", right, range(len(shown)), texts, va="center", ha="left", fontsize=SMALLEST_PT)
    return axes


def _shown(rows, kwh, picked):
    """The rows with most kilowatt-hours; the picked one takes the last place where it is not among them."""
    ranked = sorted(rows, key=lambda row: -kwh[row.grouping])
    first, rest = ranked[:MOST_BARS], ranked[MOST_BARS:]
    return [*first[:-1], *(row for row in rest if row.grouping == picked)] if _among(rest, picked) else first


def _among(rows, picked):
    return any(row.grouping == picked for row in rows)


def _words(row, kwh, remark):
    said = f"{kwh:.0f} kWh, {row.runaway.dc_volts_peak:.0f} V{_LOOKS[row.verdict][1]}"
    return f"{said}; {remark}" if remark else said
