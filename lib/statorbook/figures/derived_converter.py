"""Figure of notebook 92: watts against speed, the bank straight on the bridge and behind a converter."""

from dataclasses import replace

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, limit, line, round_end, words
from statorbook.operation import Conditions, best_dc_volts, converter_optimum, sweep
from statorbook.quantities import number

_TOP = 3.0  # times the speed at which the bank's volts are the best ones
_SPEEDS_ABOVE = np.array([1.0, _TOP])
_STRAIGHT, _THROUGH = {"color": COLOURS["model"]}, {"color": COLOURS["chosen"]}
_CIRCLES = {"linestyle": "none", "marker": "o", "fillstyle": "none"}
_KEY = {"color": COLOURS["quiet"], "va": "top"}


def draw_straight_and_through(axes, winding, bank_state, *, efficiency=0.95):
    """Draw watts into the bank against speed, straight on the bridge and through a converter, formula and library.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    winding : Winding
        A winding with hardly any resistance, for which the formulas are true.
    bank_state : BankState
        The bank.
    efficiency : float
        Of the converter [-].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    best, star = converter_optimum(), winding.star_equivalent()
    peak_per_rpm = 2.0**0.5 * star.emf_v_per_rpm
    best_rpm = bank_state.volts / number(best.volts, E=peak_per_rpm)
    pays_rpm = best_rpm / number(best.pays_below, e=efficiency)
    # Watts at the best volts go with the speed, since E² and X both do: one number serves all speeds.
    reactance = 2.0 * np.pi * winding.stator.electrical_hz(best_rpm) * star.henry
    watts = number(best.watts, E=peak_per_rpm * best_rpm, X=reactance)
    ratio = np.linspace(0.8, _TOP, 60)
    straight = watts * ratio * np.array([number(best.share, b=1.0 / each) for each in ratio])
    top = round_end(1.05 * watts * _TOP)
    axes.set(xlim=(0.0, _TOP * best_rpm), ylim=(0.0, top), xlabel="Speed [rpm]", ylabel="Power into the bank [W]")
    line(axes, "straight", ratio * best_rpm, straight, **_STRAIGHT)
    # At less speed the best volts lie below the bank's, where a converter that steps down cannot go.
    line(axes, "through", _SPEEDS_ABOVE * best_rpm, efficiency * watts * _SPEEDS_ABOVE, **_THROUGH)
    _draw_library(axes, winding, bank_state, np.linspace(1.0, 2.9, 12) * best_rpm, efficiency)
    limit(axes, "pays", pays_rpm, "the converter pays from here", across="y", color=COLOURS["quiet"])
    end, look = 0.98 * _TOP * best_rpm, {"ha": "right", "va": "top"}
    words(
        axes, "through words", [0.8 * end], [0.8 * axes.get_ylim()[1]], ["through a converter"], ha="right", **_THROUGH
    )
    words(axes, "straight words", [end], [0.92 * straight[-1]], ["straight on the bridge"], **look, **_STRAIGHT)
    key = ["lines: the formulas", "circles: the library"]
    words(axes, "key", [0.02] * 2, [0.96, 0.89], key, transform=axes.transAxes, **_KEY)
    return axes


def _draw_library(axes, winding, bank_state, speeds_rpm, efficiency):
    """Watts of the library, into a bank without resistance and through diodes without a drop, as circles."""
    stiff, bare = replace(bank_state, ohm=0.0), Conditions(diode_drop_v=0.0, copper_c=20.0, magnet_c=20.0)
    line(
        axes,
        "library straight",
        speeds_rpm,
        sweep([winding], speeds_rpm, stiff, bare).bank_watts[0],
        **_CIRCLES,
        **_STRAIGHT,
    )
    most = best_dc_volts(winding, speeds_rpm, stiff, bare).bank_watts
    line(axes, "library through", speeds_rpm, efficiency * most, **_CIRCLES, **_THROUGH)
