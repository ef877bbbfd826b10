"""Figure: what a grouping gives at each setting of the source, with the hours of the year behind it."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, line, round_end, words
from statorbook.quantities import shown_unit, to_shown

_FEW = 12  # settings that stand by themselves, as the flows of twelve months; more are a scale
_KEPT = 0.9995  # of the hours; a storm once in a thousand years would press the rest into a corner


def draw_year_power(watts_axes, hours_axes, source, year):
    """Draw or move the power of a grouping above, and below the hours of the year and where its energy comes from.

    Parameters
    ----------
    watts_axes : matplotlib.axes.Axes
        Upper axes.
    hours_axes : matplotlib.axes.Axes
        Lower axes.
    source : SourceYear
        The year.
    year : GroupingYear
        What the grouping makes of it.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    name, unit = source.setting_name, source.setting_unit
    at = np.asarray(to_shown(source.setting, unit, name=name) if unit else source.setting, dtype=float)
    order = np.argsort(at, kind="stable")
    at, hours, watts = at[order], source.hours_by_setting[order], year.bank_watts[order]
    last = _last(hours)
    at, hours, watts = at[: last + 1], hours[: last + 1], watts[: last + 1]
    right = round_end(1.05 * max(float(at[-1]), 1e-6))
    top = round_end(1.15 * max(float(watts.max()), 1.0))
    for axes in (watts_axes, hours_axes):
        axes.set_xlim(0.0, right)
    watts_axes.set(ylim=(min(0.0, 1.1 * float(watts.min())), top), ylabel="Into the bank [W]")
    line(watts_axes, "watts", at, watts, color=COLOURS["model"], marker="o", markersize=4, zorder=3)
    label, shown = name[:1].upper() + name[1:], shown_unit(unit, name=name) if unit else ""
    hours_axes.set_xlabel(f"{label} [{shown}]" if shown else label)
    _draw_shares(hours_axes, *_outlines(at, hours, watts), f" per {shown}" if shown and len(at) > _FEW else "")
    return watts_axes, hours_axes


def _last(hours):
    """The last setting that matters."""
    before = np.cumsum(hours)
    return int(np.argmax(before >= _KEPT * before[-1])) if before[-1] > 0.0 else len(hours) - 1


def _outlines(at, hours, watts):
    """Outline of the hours and of the energy: bars of a few settings, else areas of 100 % over a scale."""
    energy = hours * np.maximum(watts, 0.0)
    shares = [100.0 * each / max(float(each.sum()), 1e-12) for each in (hours, energy)]
    if len(at) > _FEW:
        # An hour stands for half the way to the settings on both sides, however far those are.
        return at, *(share / np.gradient(at) for share in shares)
    gaps = np.diff(at)
    half = 0.45 * float(gaps[gaps > 0.0].min()) if np.any(gaps > 0.0) else 0.05 * max(float(at[0]), 1e-6)
    x = np.ravel([at - half, at - half, at + half, at + half], "F")
    return x, *(np.ravel([0.0 * share, share, share, 0.0 * share], "F") for share in shares)


def _draw_shares(axes, x, of_hours, of_energy, per):
    axes.set_ylim(0.0, round_end(1.25 * max(float(of_hours.max()), float(of_energy.max()), 0.1)))
    axes.set_ylabel(f"Of the year [%{per}]")
    band(axes, "hours", x, np.zeros(len(x)), of_hours, color=COLOURS["quiet"], alpha=0.45)
    band(axes, "energy", x, np.zeros(len(x)), of_energy, color=COLOURS["chosen"], alpha=0.5)
    marks = {"transform": axes.transAxes, "va": "top", "ha": "right", "fontsize": SMALLEST_PT}
    words(axes, "key hours", [0.985], [0.96], ["grey: of its hours"], color=COLOURS["quiet"], **marks)
    words(axes, "key energy", [0.985], [0.82], ["green: of its kilowatt-hours"], color=COLOURS["chosen"], **marks)
