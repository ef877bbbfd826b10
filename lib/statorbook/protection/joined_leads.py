"""All three leads joined: what that pulls on the shaft, whether it holds the drive, and in how much wind."""

from dataclasses import dataclass, replace
from functools import cache
from math import inf, isinf, isnan, nan

import numpy as np

from statorbook.quantities import RAD_S_PER_RPM, Fact, say

COLD_COPPER_C = Fact(value=0.0, unit="°C", source="idle in winter; common practice, no source", low=-30, high=20)
CREEP_SHARE = Fact(value=0.25, unit="of the free speed", source="common practice, no source", low=0.1, high=0.5)
_SPEEDS = 400  # points of each of the two scans in which a crossing is looked for
_WINDS_M_S = np.arange(1.0, 61.0)
JOINED_LEADS_CAUTION = (
    "Never rely on joined leads alone: fit a brake that grips the shaft or shut off the source, join the leads at low "
    "speed and at the machine itself, and keep clear. The current heats the coils as long as it turns, and it can "
    "weaken ferrite magnets for good (common practice, no source)."
)


def shorted_amps_rms(winding, speed_rpm, conditions):
    """Current in one lead with all three joined, rms [A]."""
    # One star phase on itself, I = E / √(R² + X²), any text on synchronous machines. Leads joined at the machine,
    # current settled; the first swing can be twice as high.
    star = winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    reactance = 2.0 * np.pi * winding.stator.electrical_hz(speed_rpm) * star.henry
    amps = star.emf_v_per_rpm * speed_rpm / np.hypot(star.ohm, reactance)
    return amps if np.ndim(speed_rpm) else float(amps)


def _copper_watts(winding, speed_rpm, conditions):
    """3 I² R at a speed."""
    ohm = winding.star_equivalent(conditions.copper_c, conditions.magnet_c).ohm
    return 3.0 * ohm * shorted_amps_rms(winding, speed_rpm, conditions) ** 2


def shorted_torque_nm(winding, speed_rpm, conditions):
    """Torque that the shaft needs with all three leads joined; at rest only the drag is left [N·m]."""
    # Energy balance: T = 3 E² R / ((R² + X²) Ω) + drag; iron loss as in the drag.
    speed = np.asarray(speed_rpm, dtype=float)
    turning = np.where(speed == 0.0, 1.0, speed)  # at rest there is no power, so any divisor serves
    electric = _copper_watts(winding, speed, conditions) / (turning * RAD_S_PER_RPM)
    torque = electric + conditions.drag_at_nm(speed)
    return torque if torque.ndim else float(torque)


def _peak_rpm(winding, conditions):
    """Speed of most torque, where X = R: the slope of R n / (R² + X²) is 0 there; infinite without inductance."""
    star = winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    per_rpm = 2.0 * np.pi * winding.stator.electrical_hz(1.0) * star.henry
    return float(star.ohm / per_rpm) if per_rpm else inf


@dataclass(frozen=True, kw_only=True)
class Brake:
    """What becomes of a drive when all three leads are joined while it runs at any speed up to its free speed."""

    holds: bool  # it slows from every such speed to a creep, under a quarter of the free speed
    creep_rpm: float  # to which it comes when joined slowly enough; nan where it never does
    peak_nm: float  # where joined leads pull hardest, drag included
    peak_rpm: float  # that speed, at the working temperature
    escapes_above_rpm: float  # joined above it no longer comes to its creep; 0: from nowhere, inf: from everywhere
    ends_rpm: float  # where it ends when joined at the free speed, which a drive that keeps its speed never leaves
    free_rpm: float
    shorted_amps_rms: float  # in one lead where it ends
    copper_watts: float  # in the coils there

    @property
    def keeps(self):
        """True when a rotor that stands, or turns slowly, comes to no more than a creep."""
        return self.escapes_above_rpm > 0.0 and self.creep_rpm <= CREEP_SHARE.value * self.free_rpm

    @property
    def sentence(self):
        """What the brake does and what to beware of, in plain words."""
        return f"{self.finding} {JOINED_LEADS_CAUTION}"

    @property
    def finding(self):
        """What the brake does, in plain words."""
        amps, watts = say(self.shorted_amps_rms, "A", figures=2), say(self.copper_watts, "W", figures=2)
        heat = f"with {amps} in each lead and {watts} of heat in the coils"
        creep, ends, free = (say(n, "rpm", figures=2) for n in (self.creep_rpm, self.ends_rpm, self.free_rpm))
        if self.holds:
            words = f"holds it: from any speed up to {free} it slows to a creep of {ends}, {heat}"
        elif self.ends_rpm == self.free_rpm:
            words = f"cannot hold a drive that keeps its speed whatever the load: it would go on at {ends}, {heat}"
        elif isnan(self.creep_rpm):
            words = f"does not hold it: it runs on at {ends}, {heat}"
        elif isinf(self.escapes_above_rpm):
            words = f"only slows it, from {free} unloaded to {ends}, {heat}"
        else:
            words = (
                f"{'holds' if self.keeps else 'slows'} it only below {self.escapes_above_rpm:.0f} rpm, down to a creep "
                f"of {creep}; joined above that it runs on at {ends}, {heat}"
            )
        return f"Joining all three leads {words}."


def brake(drive, winding, conditions):
    """Join all three leads and see whether the drive is held.

    Parameters
    ----------
    drive : Drive
        What turns it; one that keeps its speed whatever the load is never held.
    winding : Winding
        The winding.
    conditions : Conditions
        Temperatures and drag.

    Returns
    -------
    Brake
        The worse of copper at its working temperature and at 0 °C.

    Notes
    -----
    Equation: drive torque against 3 E² R / ((R² + X²) Ω) + drag; the creep is the first speed where they meet, if not
        above the peak; it escapes above the second and ends at the last. Of copper cold and at work the worse is told.
    Valid: the source as it stands, slow changes, furling or another brake failed.
    Source: mechanics of steady operation.
    """
    drive = drive.unguarded()  # joined leads are for the day when nothing else holds
    # Cold copper pulls less on a fast rotor, warm copper less on a slow one; magnets at work are the weaker ones.
    cases = (replace(conditions, copper_c=min(conditions.copper_c, COLD_COPPER_C.value)), conditions)
    courses = [_course(drive, winding, case) for case in cases]
    creeps, escapes, ends = zip(*courses, strict=True)
    creep, escapes, ends = max(creeps), min(escapes), max(ends)
    free, peak = drive.free_speed_rpm, _peak_rpm(winding, conditions)
    finals = [(winding, course[-1], case) for course, case in zip(courses, cases, strict=True)]
    return Brake(
        holds=isinf(escapes) and creep <= CREEP_SHARE.value * free,
        creep_rpm=creep if escapes else nan,
        peak_nm=inf if isinf(peak) else shorted_torque_nm(winding, peak, conditions),
        peak_rpm=peak,
        escapes_above_rpm=escapes,
        ends_rpm=ends,
        free_rpm=free,
        shorted_amps_rms=max(shorted_amps_rms(*final) for final in finals),
        copper_watts=max(_copper_watts(*final) for final in finals),
    )


def _course(drive, winding, conditions):
    """Creep, speed above which it escapes, and where it ends when joined at the free speed."""
    from scipy.optimize import brentq

    free, peak = drive.free_speed_rpm, _peak_rpm(winding, conditions)
    if isinf(drive.torque_nm(0.0)):
        return nan, 0.0, free

    def surplus_nm(speed_rpm):
        return drive.torque_nm(speed_rpm) - shorted_torque_nm(winding, speed_rpm, conditions)

    # The peak may lie at a small share of the free speed, so slow speeds are looked at more closely.
    slow = np.geomspace(min(peak, free) / 1000.0, free, _SPEEDS)
    grid = np.unique(np.concatenate([np.linspace(0.0, free, _SPEEDS), slow]))
    ahead = surplus_nm(grid) > 0.0
    changes = np.flatnonzero(ahead[1:] != ahead[:-1])
    # Holding and escaping speeds take turns, a holding one first; rest holds where the drag is not overcome.
    meets = [*([] if ahead[0] else [0.0]), *(brentq(surplus_nm, grid[at], grid[at + 1]) for at in changes)]
    meets += [free] if ahead[-1] else []
    if meets[0] > peak:
        return nan, 0.0, meets[-1]
    return meets[0], meets[1] if len(meets) > 1 else inf, meets[-1]


@dataclass(frozen=True, kw_only=True)
class HeldWind:
    """Up to which wind joined leads hold a wind rotor; at the height of its wind reading, infinite from 60 m/s up."""

    turning_m_s: float  # in which a rotor at its free speed is slowed to a creep
    standing_m_s: float  # in which a rotor that stands is kept to a creep

    def sentence(self):
        """Both winds in plain words, in m/s or mph; the caution stands in `Brake.sentence`."""
        winds = (min(wind, _WINDS_M_S[-1]) for wind in (self.turning_m_s, self.standing_m_s))
        turning, standing = (say(wind, "m/s", name="wind") for wind in winds)
        return (
            f"Joined leads slow an unloaded rotor to a creep in wind up to {turning}, and hold a standing one to a "
            f"creep in wind up to {standing}; do not rely on them in stronger wind."
        )


def highest_wind_m_s(drive, winding, conditions):
    """The highest winds in which joined leads hold a wind rotor, turning and standing.

    Parameters
    ----------
    drive : WindRotor
        The rotor; its own wind is not used.
    winding : Winding
        The winding.
    conditions : Conditions
        Temperatures and drag.

    Returns
    -------
    HeldWind
        It holds in every lighter wind as well; to 0.01 m/s.
    """

    @cache  # both winds are looked for among the same ones
    def found_in(wind_m_s):
        return brake(replace(drive, wind_m_s=float(wind_m_s)), winding, conditions)

    return HeldWind(turning_m_s=_highest(found_in, "holds"), standing_m_s=_highest(found_in, "keeps"))


def _highest(found_in, name):
    """The wind below which what is named is true: first that is not held, then halving; 0 when not below 1 m/s."""
    # By hand: yes or no leaves a root finder nothing to steer by.
    high = next((float(wind) for wind in _WINDS_M_S if not getattr(found_in(wind), name)), inf)
    if isinf(high):
        return inf
    low = high - 1.0
    while high - low > 0.01:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if getattr(found_in(middle), name) else (low, middle)
    return low
