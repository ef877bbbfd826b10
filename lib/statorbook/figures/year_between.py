"""Figure: volts to hold at the converter's input against speed, and kilowatt-hours with and without the converter."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, limit, line, round_end, words

MOST_PAIRS = 8
_THICK = 8.0
_APART = 0.2  # of the place of a grouping: half the way between its two bars


def draw_between(volts_axes, bar_axes, years, picked, to_hold, at_once):
    """Draw or move the volts to hold for one grouping, and two bars for each grouping.

    Parameters
    ----------
    volts_axes : matplotlib.axes.Axes
        Upper axes.
    bar_axes : matplotlib.axes.Axes
        Lower axes.
    years : sequence of BetweenYear
        All groupings.
    picked : BetweenYear
        The one whose volts are drawn.
    to_hold : VoltsToHold
        For the settings of the source.
    at_once : VoltsToHold
        At held speeds, whatever turns it.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    _draw_volts(volts_axes, picked, to_hold, at_once)
    _draw_bars(bar_axes, years, picked)
    return volts_axes, bar_axes


def _draw_volts(axes, picked, to_hold, at_once):
    converter, end = picked.converter, round_end(1.05 * max(float(at_once.speed_rpm[-1]), 1.0))
    held = np.isfinite(to_hold.dc_volts)
    shown = [picked.survival.dc_volts_peak, converter.survives_dc_volts]
    top = round_end(1.12 * min(max(shown), 3.0 * converter.survives_dc_volts))
    axes.set(xlim=(0.0, end), ylim=(0.0, top), xlabel="Speed [rpm]", ylabel="At its input, DC [V]")
    low = max(converter.low_volts, picked.bank_volts)
    band(axes, "window", [0.0, end], [low, low], [converter.high_volts] * 2, alpha=0.2)
    line(axes, "at once", at_once.speed_rpm, at_once.dc_volts, color=COLOURS["quiet"], linestyle=":")
    look = {"color": COLOURS["model"], "marker": "o", "markersize": 5}
    line(axes, "to hold", to_hold.speed_rpm[held], to_hold.dc_volts[held], **look)
    limit(axes, "survives", converter.survives_dc_volts, f"destroyed above {converter.survives_dc_volts:g} V")
    gone = picked.survival.dc_volts_peak
    text = f"bank full or gone, run away: {gone:.0f} V{' ↑' if gone > top else ''}"
    limit(axes, "gone", min(gone, 0.985 * top), text, color=COLOURS["measured"])
    said = ["dots: volts to hold", "dotted: most at a held speed", "band: where it seeks"]
    words(
        axes,
        "key",
        [0.01] * 3,
        [0.19, 0.11, 0.03],
        said,
        transform=axes.transAxes,
        color=COLOURS["quiet"],
        fontsize=SMALLEST_PT,
    )


def _draw_bars(axes, years, picked):
    ranked = sorted(years, key=lambda year: -max(year.through.kwh, year.straight.kwh))
    shown = ranked[:MOST_PAIRS]
    if picked not in shown:
        shown[-1] = picked
    top = max(1.0, *(max(year.through.kwh, year.straight.kwh) for year in shown))
    axes.set(xlim=(0.0, round_end(1.9 * top)), ylim=(len(shown) - 0.4, -0.6))
    axes.set(xlabel="Into the bank over the year [kWh]; grey: without")
    axes.set_yticks(range(len(shown)), [year.grouping.label for year in shown])
    axes.grid(visible=False, axis="y")
    for number in range(MOST_PAIRS):
        year = shown[number] if number < len(shown) else None
        _bar(axes, f"through {number}", number - _APART, year and year.through.kwh, _colour(year))
        _bar(axes, f"straight {number}", number + _APART, year and year.straight.kwh, COLOURS["quiet"])
    right = [max(year.through.kwh, year.straight.kwh, 0.0) + 0.015 * top for year in shown]
    texts = [_words(year, year is picked) for year in shown]
    words(axes, "amount", right, range(len(shown)), texts, va="center", ha="left", fontsize=SMALLEST_PT)


def _bar(axes, name, place, kwh, colour):
    ends = [0.0, max(kwh, 0.0)] if kwh is not None else []
    line(axes, name, ends, [place] * len(ends), color=colour, linewidth=_THICK, solid_capstyle="butt", zorder=2)
    if kwh is None:
        hide(axes, name)


def _colour(year):
    return COLOURS["limit"] if year is None or year.destroyed else COLOURS["chosen"]


def _words(year, is_picked):
    burnt = ", destroyed" if year.destroyed else ""
    lead = "▸ " if is_picked else ""
    return f"{lead}{year.through.kwh:.0f} / {year.straight.kwh:.0f} kWh{burnt}"
