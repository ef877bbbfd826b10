"""The bank comes off while it turns: volts at once, the rotor speeding up, and a load across the rectifier or none."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf, sqrt

import numpy as np

from statorbook.operation import sweep
from statorbook.protection.cable_run import CableRun
from statorbook.protection.drive_pull import pull_of
from statorbook.protection.over_voltage_load import loaded_curve
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import WindingHeat


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
        volts are the higher of those of a machine cold and at work, peak taken as 1.08 × mean, no more than open volts.
    Valid: bridge settled at each moment, the rotor being slow; drag left out; a drive that keeps its speed whatever
        the load is taken to stand at its runaway speed at once.
    Source: Newton's second law for rotation; that of `bridge.bridge`.
    Derivation: `protection.bank_comes_off`, `protection.capacitor_at_rectifier`.
    """
    return _course(bare(plant), load, drives_guard, strongest)


def bare(plant):
    """The plant without what stands beside machine and rotor: it would only make a memory of what is found miss."""
    beside = {"site": Site(), "run": CableRun(), "heat": WindingHeat(), "rectifier": None, "fuse": None, "guard": None}
    return replace(plant, **beside)


def struck_volts(source_volts, dc_volts, henry, amps, farad):
    """Highest volts on a capacitor that a current in an inductance runs into, with a source behind it [V]."""
    # Energy: ½ L I² + ½ C (V0 − E)² = ½ C (V − E)²; with no source V = √(V0² + L I² / C). The bridge's volts are
    # never above E and its ohms only damp, so nothing goes higher.
    return source_volts + sqrt((dc_volts - source_volts) ** 2 + henry * amps**2 / farad)


@lru_cache(maxsize=64)
def _course(plant, load, drives_guard, strongest):
    pull = pull_of(plant.drive, guarded=drives_guard, strongest=strongest)
    free = _free(plant, drives_guard, strongest, load.capacitor_uf if load else 0.0)
    acts_s = inf if load is None else free.seconds_to(load.set_dc_volts) + load.acts_within_s
    return free if acts_s == inf else _loaded(plant, pull, free, load, acts_s)


@lru_cache(maxsize=64)
def _free(plant, drives_guard, strongest, capacitor_uf):
    """Nothing across the rectifier but a capacitor."""
    pull = pull_of(plant.drive, guarded=drives_guard, strongest=strongest)
    before = pull.settled_rpm(plant)
    bank_volts, amps = _before(plant, before)
    time_s, rpm = pull.way(plant.rotor.inertia_kgm2, before, pull.top_rpm)
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
    if speed_rpm <= 0.0:
        return plant.bank.highest_volts, 0.0
    at = sweep([plant.winding], np.array([speed_rpm]), plant.bank.states[0], plant.worst)
    amps = float(at.dc_amps[0, 0])
    return plant.bank.highest_volts + amps * plant.conditions.cable_ohm, amps


def _loaded(plant, pull, free, load, acts_s):
    """The same with the load on from a moment on."""
    curve = loaded_curve(plant, load.ohm, pull.top_rpm)
    on_rpm, on_volts = (float(np.interp(acts_s, free.time_s, course)) for course in (free.speed_rpm, free.dc_volts))
    ends = curve.held(pull, on_rpm)
    later_s, later_rpm = pull.way(plant.rotor.inertia_kgm2, on_rpm, ends.speed_rpm, curve.torque_at)
    kept = free.time_s < acts_s
    return replace(
        free,
        time_s=np.concatenate([free.time_s[kept], [acts_s], acts_s + later_s]),
        speed_rpm=np.concatenate([free.speed_rpm[kept], [on_rpm], later_rpm]),
        dc_volts=np.concatenate([free.dc_volts[kept], [on_volts], curve.volts_at(later_rpm)]),
        ends_rpm=ends.speed_rpm,
        ends_dc_volts=ends.dc_volts,
        acts_s=acts_s,
        load_amps=ends.amps,
        load_watts=ends.watts,
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
