"""Figure of page 91: what more rows do to the ± of volts per rpm, and what speed does to the ± of the henries."""

from math import hypot, sqrt

import numpy as np

from statorbook.bench import METER_CLASS, READING_SHARE, Meter, Meters, blank_row, read_logs
from statorbook.figures.canvas.artists import COLOURS, limit, line, words
from statorbook.fits import fit_emf, from_resistors, henry_share, slope_share
from statorbook.quantities import Estimate, number

_COUNTS = (2, 4, 6, 10, 16, 24, 40)
_CLASSES = {0.005: COLOURS["chosen"], 0.01: COLOURS["model"], 0.02: COLOURS["second"]}
_CIRCLES = {"linestyle": "none", "marker": "o", "fillstyle": "none", "color": "#222222"}
_V_PER_RPM, _OHM, _RPM, _INPUTS = 0.2, 3.0, 300.0, 0.01
_RATIOS = np.array([0.5, 0.7, 1.0, 1.5, 2.0, 3.0, 4.0])


def draw_derived_errors(rows_axes, henry_axes, stator):
    """Draw the formulas of the ± as lines and what the library's fits give for made-up readings as circles.

    Parameters
    ----------
    rows_axes : matplotlib.axes.Axes
        ± of volts per rpm over the number of rows, for three classes of meter.
    henry_axes : matplotlib.axes.Axes
        ± of the henries over reactance by ohms.
    stator : Stator
        Slots and poles of the made-up readings.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    rows_axes.set(xlim=(0.0, 41.0), ylim=(0.0, 6.0), xlabel="Rows in the log [-]", ylabel="± of the volts per rpm [%]")
    formula = slope_share()
    for share, colour in _CLASSES.items():
        widths = [100.0 * number(formula, s=READING_SHARE.value, t=_t(n), n=n, c=share) for n in _COUNTS]
        line(rows_axes, f"rows {share}", _COUNTS, widths, color=colour)
        limit(rows_axes, f"class {share}", 100.0 * share, "", color=colour)
        line(rows_axes, f"fitted {share}", _COUNTS, [_of_rows(stator, n, share) for n in _COUNTS], **_CIRCLES)
    heights, named = [100.0 * share - 0.05 for share in _CLASSES], [f"class {100.0 * share:g} %" for share in _CLASSES]
    words(rows_axes, "classes", [40.5] * 3, heights, named, ha="right", va="top", color=COLOURS["measured"])
    henry_axes.set(xlim=(0.0, 4.1), ylim=(0.0, 14.0), xlabel="q = ωL / ohms [-]", ylabel="± of the henries [%]")
    amps, every, formula = METER_CLASS["amps"].value, np.geomspace(0.45, 4.1, 40), henry_share()
    known = {"e": _INPUTS, "r": _INPUTS, "i": amps, "v": _INPUTS}
    line(henry_axes, "formula", every, [100.0 * number(formula, q=q, **known) for q in every], color=COLOURS["model"])
    line(henry_axes, "library", _RATIOS, [_of_ratio(stator, q) for q in _RATIOS], **_CIRCLES)
    least = 100.0 * hypot(_INPUTS, amps)
    limit(henry_axes, "least", least, "", color=COLOURS["quiet"])
    look = {"ha": "right", "va": "top", "color": COLOURS["quiet"]}
    words(henry_axes, "least words", [4.05], [least - 0.1], ["± of volts and amps"], **look)
    key = "lines: formula\ncircles: the workbook"
    for axes in (rows_axes, henry_axes):
        words(axes, "key", [0.97], [0.95], [key], transform=axes.transAxes, ha="right", va="top", color="#222222")
    return rows_axes, henry_axes


def _t(rows):
    from scipy.special import stdtrit

    return float(stdtrit(rows - 1, 0.975))


def _of_rows(stator, rows, class_share):
    """The fit's ± of an even number of rows that scatter by just the usual share [%]."""
    off = READING_SHARE.value * sqrt((rows - 1) / rows)
    how = {"terminals": "AB", "connection": "star", "quantity": "AC line rms", "meter": "true rms"}
    logged = [
        {"speed_rpm": f"{rpm:.2f}", "volts": f"{sqrt(3.0) * _V_PER_RPM * rpm * (1.0 + off * (-1) ** row):.4f}"}
        for row, rpm in enumerate(np.linspace(100.0, 400.0, rows))
    ]
    meters = Meters(volts=Meter(quantity="volts", percent=100.0 * class_share, band_hz=1e4))
    spin = read_logs({"spin": [blank_row("spin") | how | row for row in logged]}, stator, meters=meters).spin
    found = fit_emf(spin, stator, machine_c=20.0).estimate
    return 100.0 * found.plus_minus / found.value


def _of_ratio(stator, ratio):
    """The ± that the library gives the henries of a winding on resistors, at one speed [%]."""
    emf = Estimate(value=_V_PER_RPM, plus_minus=_INPUTS * _V_PER_RPM, unit="V/rpm", how="made up")
    resistor_ohm = 0.001 * _OHM  # as good as joined leads
    ohm = Estimate(value=_OHM, plus_minus=_INPUTS * _OHM, unit="Ω", how="made up")
    amps = _V_PER_RPM * _RPM / ((_OHM + resistor_ohm) * hypot(1.0, ratio))
    read = {"speed_rpm": _RPM, "resistor_ohm": resistor_ohm, "joined": "star", "line_amps": amps}
    found = from_resistors(stator, emf, ohm, **read)
    return 100.0 * found.plus_minus / found.value
