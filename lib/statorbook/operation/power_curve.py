"""All groupings of one stator at one speed are points on one curve: the grouping only chooses the voltage ratio."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.bridge import bridge
from statorbook.operation.speed_sweep import sweep

_POINTS = 120
_LEAST_RATIO = 0.02


@dataclass(frozen=True, kw_only=True)
class OneCurve:
    """Power against voltage ratio at one speed, with the groupings on it."""

    ratio: np.ndarray  # u along the curve, shape (n,)
    watts: np.ndarray  # into the bank, along the curve, shape (n,)
    grouping_ratio: np.ndarray  # u of each winding, shape (g,)
    grouping_watts: np.ndarray  # of each winding, shape (g,)

    @property
    def best_ratio(self):
        """u of most power [-]."""
        return float(self.ratio[np.argmax(self.watts)])

    @property
    def best_watts(self):
        """Most power that any grouping could give at this speed [W]."""
        return float(self.watts.max())


def one_curve(windings, speed_rpm, bank_state, conditions, *, dc_amps=0.0, held_dc_volts=None):
    """Power into the bank against voltage ratio, at one speed.

    Parameters
    ----------
    windings : sequence of Winding
        g windings of one stator.
    speed_rpm : float
        Speed at which all are compared [rpm].
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, diode drop and cable.
    dc_amps : float
        Current for which the volts lost in bank and cable are taken, the same for all so that they share a curve [A].
    held_dc_volts : sequence of float or None
        What a converter holds on each winding; None for the volts of most power at this speed [V].

    Returns
    -------
    OneCurve
        The curve and the groupings on it.

    Notes
    -----
    Equation: k times the turns in series makes k E, k² R, k² L, so E²/|Z| and with it the curve stays the same.
    Valid: all coils used and alike, stiff bank volts; behind a converter each grouping has volts of its own, so the
        diodes' share lifts or lowers it a little off the curve.
    Source: scaling of the bridge equations.
    Derivation: `bridge.scaling`.
    """
    converter = conditions.converter
    at_bank = bank_state.volts + (0.0 if converter else bank_state.ohm * dc_amps)
    # At each moment the current passes two of the three wires before the rectifier.
    at_bridge = at_bank + (0.0 if converter else (conditions.cable_ohm + 2.0 * conditions.ac_cable_ohm) * dc_amps)
    ratio = np.linspace(_LEAST_RATIO, 1.05, _POINTS)
    star = windings[0].star_equivalent(conditions.copper_c, conditions.magnet_c)
    emf = np.sqrt(2.0) * star.emf_v_per_rpm * speed_rpm
    reactance = 2.0 * np.pi * windings[0].stator.electrical_hz(speed_rpm) * star.henry
    turns = (at_bridge + 2.0 * conditions.diode_drop_v) / (np.sqrt(3.0) * emf * ratio)
    drop = {"diode_drop_v": conditions.diode_drop_v}
    curve = bridge(turns * emf, turns**2 * star.ohm, turns**2 * reactance, at_bridge, **drop)
    if converter is None:
        stiff = replace(bank_state, volts=at_bridge, ohm=0.0)
        bare = replace(conditions, cable_ohm=0.0, ac_cable_ohm=0.0)
        points = sweep(windings, np.array([speed_rpm]), stiff, bare)
        watts, share = curve.dc_watts, at_bank / at_bridge
    else:
        around = (
            [conditions.held_at(np.fmin(volts, converter.high_volts)) for volts in held_dc_volts]
            if held_dc_volts
            else conditions
        )
        points = sweep(windings, np.array([speed_rpm]), bank_state, around)
        watts, share = converter.efficiency * curve.dc_watts - converter.idle_watts, 1.0
    return OneCurve(
        ratio=ratio,
        watts=share * watts,
        grouping_ratio=points.voltage_ratio[:, 0],
        grouping_watts=share * points.bank_watts[:, 0],
    )
