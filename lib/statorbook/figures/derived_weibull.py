"""Figure of notebook 92: which winds have the hours of a year and which have its energy."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, limit, line, round_end, words
from statorbook.quantities import number, shown_unit, to_shown
from statorbook.year import windy_year

_LINE_POINTS, _CIRCLES = 60, 24
_TOP = 3.4  # times the mean wind: hardly an hour lies beyond
_ENERGY = {"color": COLOURS["limit"]}
_HOURS = {"color": COLOURS["model"]}
_KEY = {"color": COLOURS["quiet"], "ha": "right", "va": "top"}


def draw_hours_and_energy(axes, source, *, mean_wind_m_s, shape=2.0):
    """Draw how hours and energy spread over the winds, formula and library, in the reader's unit of wind.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    source : SourceYear
        From `year.year_of_mean_wind`.
    mean_wind_m_s : float
        Its mean at the hub [m/s].
    shape : float
        Shape of its spread [-].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    found, wind = windy_year(), np.linspace(0.02, 1.0, _LINE_POINTS) * _TOP * mean_wind_m_s
    hours = 100.0 * np.array([number(found.density, v=v, M=mean_wind_m_s, k=shape) for v in wind])
    energy = hours * wind**3 / (number(found.pattern, k=shape) * mean_wind_m_s**3)
    unit, one = shown_unit("m/s", name="wind"), to_shown(1.0, "m/s", name="wind")
    hours, energy = hours / one, energy / one
    top = round_end(1.15 * max(hours.max(), energy.max()))
    axes.set(xlim=(0.0, one * wind[-1]), ylim=(0.0, top))
    axes.set(xlabel=f"Wind at the hub [{unit}]", ylabel=f"Share of the year in each 1 {unit} [%]")
    line(axes, "hours", one * wind, hours, **_HOURS)
    line(axes, "energy", one * wind, energy, **_ENERGY)
    circles = {"linestyle": "none", "marker": "o", "fillstyle": "none"}
    at, share = _library(source, wind[-1])
    line(axes, "library's hours", one * at, share / one, **circles, **_HOURS)
    cube = float(source.hours_by_setting @ source.setting**3 / source.hours_by_setting.sum())
    line(axes, "library's energy", one * at, share * at**3 / cube / one, **circles, **_ENERGY)
    limit(axes, "mean", one * mean_wind_m_s, "mean wind", across="y", color=COLOURS["quiet"])
    for name, curve, look in (("hours", hours, _HOURS), ("energy", energy, _ENERGY)):
        best = int(curve.argmax())
        words(axes, f"{name} words", [one * wind[best]], [curve[best]], [name], ha="center", va="bottom", **look)
    key = ["lines: the formulas", "circles: the library"]
    words(axes, "key", [0.99] * 2, [0.96, 0.89], key, transform=axes.transAxes, **_KEY)
    return axes


def _library(source, last_m_s):
    """Winds of the library and its hours there in per cent of the year for each 1 m/s; some of them."""
    # Each setting has the hours of half the way to its neighbours; where both are as far it stands in their middle.
    step = np.diff(source.setting)
    share = 100.0 * source.hours_by_setting[1:-1] / source.hours_by_setting.sum() / step[1:]
    near = np.flatnonzero((source.setting[1:-1] < last_m_s) & np.isclose(step[1:], step[:-1]))
    some = near[:: max(1, len(near) // _CIRCLES)]
    return source.setting[1:-1][some], share[some]
