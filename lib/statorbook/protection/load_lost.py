"""The bank comes off while it turns: volts at once, the rotor speeding up, and a load across the rectifier or none."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf, sqrt

import numpy as np

from statorbook.operation import operating_points, sweep
from statorbook.protection.over_voltage_load import PEAK_OVER_MEAN, loaded_curve
from statorbook.quantities import RAD_S_PER_RPM

_SPEEDS = 400  # points of the drive's torque, from rest to the worst speed
_POINTS = 300  # of each stretch of the curves that are returned, closer together at its start
_LEFT_SHARE = 0.003  # of the way, which counts as its end
_LONGEST_S = 1e5
_CLOSE_RPM = 1e-6


@dataclass(frozen=True, kw_only=True)
class LoadLost:
    """What becomes of speed and volts when the bank comes off; volts at the rectifier, without the contact's arc."""

    time_s: np.ndarray  # since then, until next to nothing of the way to the last speed is left
    speed_rpm: np.ndarray
    dc_volts: np.ndarray  # peak
    at_once_dc_volts: float  # to which the bare rectifier leaps while the speed is still the old one, peak
    bank_dc_volts: float  # just before
    amps_before: float  # DC
    ends_rpm: float
    ends_dc_volts: float  # peak
    acts_s: float = inf  # until the load's current flows; infinite without one or when its volts are never reached
    load_amps: float = 0.0  # DC in the load where it ends
    load_watts: float = 0.0  # in the load where it ends

    @property
    def starts_rpm(self):
        """Speed at which the bank comes off [rpm]."""
        return float(self.speed_rpm[0])

    @property
    def highest_dc_volts(self):
        """Highest volts on the way, DC peak [V]."""
        return float(max(self.dc_volts.max(), self.ends_dc_volts))

    def seconds_to(self, dc_volts):
        """Time until the volts at the rectifier first reach a limit; 0 at once, infinite never [s]."""
        return _first_at(self.time_s, self.dc_volts, dc_volts)


def load_lost(plant, *, load=None, drives_guard=False, strongest=True):
    """Follow speed and volts after the bank has come off.

    Parameters
    ----------
    plant : Plant
        The plant.
    load : OverVoltageLoad or None
        What is switched across the rectifier when its volts rise too far, such as the plant's `guard`; None without.
    drives_guard : bool
        Whether the drive's own guard, such as furling, works; it does not, to be safe.
    strongest : bool
        Whether the source is at its strongest, or as it is described.

    Returns
    -------
    LoadLost
        Speed and volts against time.

    Notes
    -----
    Equation: J dΩ/dt = drive torque − torque of the loaded bridge, from the fastest speed at which any state of the
        bank held it; volts √2 × line rms before the load acts, magnets cold. With a capacitor C at the rectifier they
        rise no faster than I / C and no further than `struck_volts`. The load stays on; its torque is the weaker, its
        volts are the higher of those of a machine cold and at work; peak = π/3 × mean, never above the open volts.
    Valid: bridge settled at each moment, the rotor being slow; drag left out; a drive that keeps its speed whatever
        the load is taken to stand at its runaway speed at once.
    Source: Newton's second law for rotation; that of `bridge.bridge`.
    """
    return _course(plant, load, drives_guard, strongest)


def struck_volts(source_volts, dc_volts, henry, amps, farad):
    """Highest volts on a capacitor that a current in an inductance runs into, with a source behind it [V]."""
    # Energy: ½ L I² + ½ C (V0 − E)² = ½ C (V − E)²; with no source V = √(V0² + L I² / C). The bridge's volts are
    # never above E and its ohms only damp, so nothing goes higher.
    return source_volts + sqrt((dc_volts - source_volts) ** 2 + henry * amps**2 / farad)


def spun(net_nm, inertia_kgm2, start_rpm, end_rpm):
    """Time and speed of a rotor on its way from one speed to its last one; the last step is taken at once."""
    from scipy.integrate import solve_ivp

    way_rpm = end_rpm - start_rpm
    if abs(way_rpm) < _CLOSE_RPM:
        return np.array([0.0, 1.0]), np.array([start_rpm, start_rpm])

    def arrived(time_s, rpm):
        return (end_rpm - rpm[0]) / way_rpm - _LEFT_SHARE

    arrived.terminal = True
    per_nm = 1.0 / (inertia_kgm2 * RAD_S_PER_RPM)
    close = {"rtol": 1e-7, "atol": 1e-6 * abs(way_rpm), "dense_output": True}
    run = solve_ivp(lambda _, rpm: per_nm * net_nm(rpm), (0.0, _LONGEST_S), [start_rpm], events=arrived, **close)
    time_s = run.t[-1] * np.linspace(0.0, 1.0, _POINTS) ** 2
    return time_s, np.append(run.sol(time_s[:-1])[0], end_rpm)


@lru_cache(maxsize=64)
def _course(plant, load, drives_guard, strongest):
    pull = _Pull.of(plant, drives_guard, strongest)
    free = _free(plant, pull, load.capacitor_uf if load else 0.0)
    acts_s = inf if load is None else free.seconds_to(load.set_dc_volts) + load.acts_within_s
    return free if acts_s == inf else _loaded(plant, pull, free, load, acts_s)


@dataclass(frozen=True, kw_only=True)
class _Pull:
    """The drive's torque at each speed, in that of its states which pulls hardest; None where it keeps its speed."""

    drives: tuple
    top_rpm: float
    torque_nm: Callable | None

    @classmethod
    def of(cls, plant, drives_guard, strongest):
        drives = (plant.drive,) if drives_guard else (plant.drive, plant.drive.unguarded())
        drives = tuple(dict.fromkeys((*drives, *(drive.strongest() for drive in drives)) if strongest else drives))
        if any(np.isinf(drive.torque_nm(0.0)) for drive in drives):
            return cls(drives=drives, top_rpm=max(drive.runaway_speed_rpm for drive in drives), torque_nm=None)
        top = max(drive.free_speed_rpm for drive in drives)
        speeds = np.linspace(0.0, top, _SPEEDS)
        pulls = np.max([drive.torque_nm(speeds) for drive in drives], axis=0)
        return cls(drives=drives, top_rpm=top, torque_nm=lambda rpm: np.interp(rpm, speeds, pulls))

    def settled_rpm(self, plant):
        """The fastest speed at which the bank holds it."""
        if self.torque_nm is None:
            return self.top_rpm
        each = [plant.winding] * len(plant.bank.states)
        found = (operating_points(drive, each, plant.bank.states, plant.conditions) for drive in self.drives)
        return max(float(one.speed_rpm.max()) for one in found)

    def turned(self, plant, start_rpm, end_rpm, against_nm=None):
        """Time and speed from one speed to another against a torque that hangs on the speed."""
        if self.torque_nm is None:
            return spun(None, plant.rotor.inertia_kgm2, end_rpm, end_rpm)

        def net_nm(rpm):
            return self.torque_nm(rpm) - (against_nm(rpm) if against_nm else 0.0)

        return spun(net_nm, plant.rotor.inertia_kgm2, start_rpm, end_rpm)

    def balance_rpm(self, start_rpm, against_nm):
        """The speed to which it goes from a given one against a torque that hangs on the speed."""
        if self.torque_nm is None:
            return self.top_rpm
        from scipy.optimize import brentq

        def net_nm(rpm):
            return float(self.torque_nm(rpm) - against_nm(rpm))

        speeds = np.linspace(start_rpm, self.top_rpm if net_nm(start_rpm) > 0.0 else 0.0, _SPEEDS)
        ahead = self.torque_nm(speeds) > against_nm(speeds)
        changed = np.flatnonzero(ahead != ahead[0])
        return brentq(net_nm, speeds[changed[0] - 1], speeds[changed[0]]) if changed.size else float(speeds[-1])


def _free(plant, pull, capacitor_uf):
    """Nothing across the rectifier but a capacitor."""
    before = pull.settled_rpm(plant)
    bank_volts, amps = _before(plant, before)
    time_s, rpm = pull.turned(plant, before, pull.top_rpm)
    open_volts = plant.open_volts(1.0)[1]
    volts, ends, farad = open_volts * rpm, open_volts * pull.top_rpm, capacitor_uf * 1e-6
    if farad:
        # Two phases in series carry the DC, but while they commutate.
        henry = 2.0 * plant.winding.star_equivalent(plant.cold.copper_c, plant.cold.magnet_c).henry
        struck = struck_volts(volts[0], bank_volts, henry, amps, farad)
        volts = np.minimum(np.maximum(volts, struck), bank_volts + amps * time_s / farad)
        ends = max(ends, struck)
    return LoadLost(
        time_s=time_s,
        speed_rpm=rpm,
        dc_volts=volts,
        at_once_dc_volts=float(open_volts * before),
        bank_dc_volts=bank_volts,
        amps_before=amps,
        ends_rpm=float(pull.top_rpm),
        ends_dc_volts=float(ends),
    )


def _before(plant, speed_rpm):
    """Volts at the rectifier and amps that flow at a speed with the bank on, each the most that any state makes."""
    cold = replace(plant.cold, converter=None)
    at = sweep([plant.winding], np.array([max(speed_rpm, _CLOSE_RPM)]), plant.bank.states[0], cold)
    amps = float(at.dc_amps[0, 0])
    return plant.bank.highest_volts + amps * plant.conditions.cable_ohm, amps


def _loaded(plant, pull, free, load, acts_s):
    """The same with the load on from a moment on."""
    curve = loaded_curve(plant, load.ohm, pull.top_rpm)
    on_rpm = float(np.interp(acts_s, free.time_s, free.speed_rpm))
    on_volts = float(np.interp(acts_s, free.time_s, free.dc_volts))
    ends_rpm = pull.balance_rpm(on_rpm, curve.torque_at)
    later_s, later_rpm = pull.turned(plant, on_rpm, ends_rpm, curve.torque_at)
    kept = free.time_s < acts_s
    ends_volts = float(curve.volts_at(ends_rpm))
    amps = ends_volts / PEAK_OVER_MEAN / load.ohm
    return replace(
        free,
        time_s=np.concatenate([free.time_s[kept], [acts_s], acts_s + later_s]),
        speed_rpm=np.concatenate([free.speed_rpm[kept], [on_rpm], later_rpm]),
        dc_volts=np.concatenate([free.dc_volts[kept], [on_volts], curve.volts_at(later_rpm)]),
        ends_rpm=float(ends_rpm),
        ends_dc_volts=ends_volts,
        acts_s=acts_s,
        load_amps=amps,
        load_watts=load.ohm * amps**2,
    )


def _first_at(time_s, dc_volts, limit):
    """When a course first reaches a limit: 0 at its start, infinite when it does not."""
    reached = np.flatnonzero(dc_volts >= limit)
    if not reached.size:
        return inf
    at = reached[0]
    if at == 0:
        return 0.0
    share = (limit - dc_volts[at - 1]) / (dc_volts[at] - dc_volts[at - 1])
    return float(time_s[at - 1] + share * (time_s[at] - time_s[at - 1]))
