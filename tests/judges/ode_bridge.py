"""A second opinion on the bridge: the differential equations run until they repeat, diodes as a steep curve.

Nothing of the library is used here, and no mode of conduction is known beforehand.
"""

import numpy as np
from scipy.integrate import solve_ivp

_STEEPNESS = 2e-5  # the diodes change over within this share of the short-circuit current
_SIXTH = np.pi / 3.0
_SHIFT = 2.0 * np.pi / 3.0 * np.arange(3)


def settled_bridge(emf_peak_v, ohm, reactance_ohm, dc_volts, diode_drop_v, dc_ohm=0.0, *, cycles=8):
    """Mean DC amps and phase amps rms over the last of several periods, started from rest.

    A diode keeps its lead within half the DC side's volts of the middle between the rails: at one rail while current
    flows out, at the other while it flows in, anywhere between while none flows. tanh is that rule with round corners.
    """
    amps_scale = _STEEPNESS * emf_peak_v / np.hypot(ohm, reactance_ohm)

    def slope(angle, amps):
        side = np.tanh(amps / amps_scale)
        rail = 0.5 * (dc_volts + 2.0 * diode_drop_v + dc_ohm * 0.5 * (amps * side).sum())
        free = emf_peak_v * np.sin(angle - _SHIFT) - ohm * amps - rail * side
        return (free - free.mean()) / reactance_ohm

    end = 2.0 * np.pi * cycles
    angles = np.linspace(end - 2.0 * np.pi, end, 6001)
    run = solve_ivp(
        slope,
        (0.0, end),
        np.zeros(3),
        method="LSODA",
        t_eval=angles,
        rtol=1e-7,
        atol=1e-7 * amps_scale / _STEEPNESS,
        max_step=_SIXTH / 20.0,
    )
    dc = 0.5 * (run.y * np.tanh(run.y / amps_scale)).sum(axis=0)
    return np.trapezoid(dc, angles) / (2.0 * np.pi), np.sqrt(np.trapezoid(run.y[0] ** 2, angles) / (2.0 * np.pi))
