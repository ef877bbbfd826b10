"""What the built machine pushes into the bank at the rows of its run log, when this or that is different."""

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from statorbook.bridge import bridge
from statorbook.winding import Winding, magnet_factor, resistance_factor

_SHARES = ("emf_share", "ohm_share", "henry_share", "source_share")
_ADDED = ("diode_v", "cable_ohm", "drag_nm", "copper_k")
_MOST_DC_SHARE = 1.99  # of the phase ohms: what `bridge.rectifier.bridge` still takes from its chart
_LOSS_STEPS = 5


@dataclass(frozen=True, kw_only=True)
class Deviation:
    """What is taken to be different from the promise; the default is nothing."""

    emf_share: float = 1.0  # over what was promised, as the next two
    ohm_share: float = 1.0
    henry_share: float = 1.0
    diode_v: float = 0.0  # added to the drop of each diode, DC
    cable_ohm: float = 0.0  # added to the cable
    drag_nm: float = 0.0  # added to the drag
    source_share: float = 1.0  # what the source gives over what was read
    copper_k: float = 0.0  # added to the winding's temperature where it was not read

    def joined(self, other):
        """This and something else different together."""
        shares = {name: getattr(self, name) * getattr(other, name) for name in _SHARES}
        return Deviation(**shares, **{name: getattr(self, name) + getattr(other, name) for name in _ADDED})


def amps_table(case, deviations):
    """DC amps into the bank at the speed and bank volts of each charging row, shape (deviations, rows) [A]."""
    return flows_at(case, deviations, case.readings_of("speed_rpm")).dc_amps


def flows_at(case, deviations, speed_rpm):
    """Currents and losses of the charging rows at some speeds, a `BridgeResult` of shape (deviations, rows)."""
    # The bridge with the row's bank volts and winding temperature. Valid: volts read at the bank's terminals; winding
    # as warm as promised where its temperature was not read.
    machine, at = case.machine, case.machine.setting.conditions
    coil, copper_c = machine.coil, case.readings_of("copper_c")
    star = Winding(stator=machine.stator, coil=coil, grouping=case.grouping).star_equivalent()
    by = {name: np.array([[getattr(deviation, name)] for deviation in deviations]) for name in (*_SHARES, *_ADDED)}
    warm = np.where(np.isnan(copper_c), at.copper_c + by["copper_k"], copper_c)
    emf = by["emf_share"] * star.emf_v_per_rpm * magnet_factor(at.magnet_c, magnet=coil.magnet)
    ohm = by["ohm_share"] * star.ohm * resistance_factor(warm, conductor=coil.conductor) + at.ac_cable_ohm
    reactance = 2.0 * pi * machine.stator.electrical_hz(speed_rpm) * star.henry * by["henry_share"]
    cable = at.cable_ohm + by["cable_ohm"]
    inside = np.minimum(cable, _MOST_DC_SHARE * ohm)
    given = {"diode_drop_v": at.diode_drop_v + by["diode_v"], "dc_resistance_ohm": inside}
    return _behind(cable - inside, case.readings_of("dc_volts"), sqrt(2.0) * emf * speed_rpm, ohm, reactance, given)


def _behind(ohm_beyond, volts, emf_peak_v, ohm, reactance_ohm, given):
    """The bridge behind more resistance than its chart takes: the rest by its mean volts, which saves most time."""
    # The current rises with every volt that is missing, so a secant from none lost to all lost closes in on the loss.

    def flows(lost):
        return bridge(emf_peak_v, ohm, reactance_ohm, volts + lost, **given)

    old, found = np.zeros(np.broadcast(ohm_beyond, ohm).shape), flows(0.0)
    if not np.any(ohm_beyond > 0.0):
        return found
    miss_old = ohm_beyond * found.dc_amps
    lost = miss_old / (1.0 + ohm_beyond / np.hypot(ohm, reactance_ohm))
    for _ in range(_LOSS_STEPS):
        found = flows(lost)
        miss = ohm_beyond * found.dc_amps - lost
        change = lost - old
        slope = np.divide(miss - miss_old, change, out=np.full_like(miss, -1.0), where=np.abs(change) > 1e-9)
        old, miss_old, lost = lost, miss, np.maximum(lost - miss / np.minimum(slope, -1.0), 0.0)
    return found
