"""An over-voltage load at the rectifier that acts by itself, and what the machine makes of it."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from statorbook.bank import BankState
from statorbook.operation import open_circuit_volts, sweep
from statorbook.quantities import require_number

PEAK_OVER_MEAN = 1.08  # DC of six diodes into a resistance, the most at any reactance; π/3 without or with much
_SPEEDS = 28  # at which the loaded bridge is solved, closer together where it is slow
_POINTS = 800  # between which a curve is straight


@dataclass(frozen=True, kw_only=True)
class OverVoltageLoad:
    """A resistor that is switched across the rectifier when its volts rise too far, and stays on.

    Parameters
    ----------
    set_dc_volts : float
        Volts at which it is switched on [V].
    ohm : float
        Its resistance [Ω].
    watts : float
        What it stands for hours [W].
    acts_within_s : float
        Longest time from those volts to its current [s].
    capacitor_uf : float
        Capacitor across the rectifier that slows the rise of its volts; 0 for none or not known [µF].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    set_dc_volts: float
    ohm: float
    watts: float
    acts_within_s: float = 0.01
    capacitor_uf: float = 0.0

    def __post_init__(self):
        require_number(self.set_dc_volts, "set-point of the over-voltage load", "V", above=0, at_most=2000)
        require_number(self.ohm, "resistance of the over-voltage load", "Ω", above=0, at_most=10_000)
        require_number(self.watts, "watts of the over-voltage load", "W", above=0, at_most=1_000_000)
        require_number(self.acts_within_s, "time in which the over-voltage load acts", "s", above=0, at_most=10)
        require_number(self.capacitor_uf, "capacitor at the rectifier", "µF", at_least=0, at_most=1_000_000)


@dataclass(frozen=True, kw_only=True)
class Held:
    """Where drive and loaded machine agree: amps and watts in the load."""

    ohm: float
    speed_rpm: float
    dc_volts: float  # peak
    amps: float  # mean
    watts: float


@dataclass(frozen=True, kw_only=True, eq=False)
class LoadedCurve:
    """A machine that turns a resistor behind its rectifier, at speeds from rest on."""

    ohm: float
    speed_rpm: np.ndarray
    torque_nm: np.ndarray  # the weaker of machine cold and at work
    dc_amps: np.ndarray  # mean, the more of the two
    dc_volts: np.ndarray  # peak, the higher of the two

    def torque_at(self, speed_rpm):
        """Torque that it takes at a speed [N·m]."""
        return np.interp(speed_rpm, self.speed_rpm, self.torque_nm)

    def volts_at(self, speed_rpm):
        """DC volts at the rectifier at a speed, peak [V]."""
        return np.interp(speed_rpm, self.speed_rpm, self.dc_volts)

    def held(self, pull, from_rpm):
        """Where it ends when a drive's pull brings it there from a speed, as Held."""
        speed = pull.balance_rpm(from_rpm, self.torque_at)
        volts, amps = float(self.volts_at(speed)), float(np.interp(speed, self.speed_rpm, self.dc_amps))
        return Held(ohm=self.ohm, speed_rpm=speed, dc_volts=volts, amps=amps, watts=self.ohm * amps**2)


def loaded_curve(plant, ohm, top_rpm):
    """The plant's machine on a resistor across its rectifier, up to a speed, as a LoadedCurve."""
    # Warm magnets behind a long run hold least, cold ones beside the rectifier make most volts; drag would only help.
    bare = {"converter": None, "cable_ohm": 0.0, "drag_nm": 0.0, "drag_nm_per_1000rpm": 0.0}
    around = (replace(plant.cold, ac_cable_ohm=0.0, **bare), replace(plant.conditions, **bare))
    return _curve(plant.winding, around, ohm, top_rpm)


@lru_cache(maxsize=128)
def _curve(winding, around, ohm, top_rpm):
    from scipy.interpolate import PchipInterpolator

    # From where the first of them conducts; closer together where it is slow, for there the torque has its peak.
    per_rpm = open_circuit_volts(winding, 1.0, around[0].magnet_c)[1]
    first = min(max(2.0 * around[0].diode_drop_v / per_rpm, 1e-3 * top_rpm), 0.5 * top_rpm)
    speed = first + (top_rpm - first) * np.linspace(0.0, 1.0, _SPEEDS)[1:] ** 2
    load = BankState(name="over-voltage load", volts=0.0, ohm=ohm)
    found = sweep([winding] * len(around), speed, load, around, method="exact")
    fine, knots = np.linspace(0.0, top_rpm, _POINTS), np.concatenate([[0.0, first], speed])
    torque, amps = (
        PchipInterpolator(knots, np.concatenate([[0.0, 0.0], each]))(fine)
        for each in (found.torque_nm.min(axis=0), found.dc_amps.max(axis=0))
    )
    volts = np.minimum(PEAK_OVER_MEAN * ohm * amps, per_rpm * fine)
    return LoadedCurve(ohm=ohm, speed_rpm=fine, torque_nm=torque, dc_amps=amps, dc_volts=volts)
