"""Leads joined to stop the rotor: amps of the switch, first swing, and how long the winding bears them."""

from dataclasses import dataclass
from math import isnan, sqrt

import numpy as np

from statorbook.protection.drive_words import words_of
from statorbook.protection.heat_at_work import degrees, duration_words, heat_of, held_warming, two_figures
from statorbook.protection.joined_leads import Brake, brake, shorted_amps_rms, shorted_torque_nm
from statorbook.quantities import say

_SPEEDS = 160


@dataclass(frozen=True, kw_only=True)
class JoinedAt:
    """All three leads joined at a speed that stays as it is."""

    speed_rpm: float
    lead_amps_rms: float  # once it is steady, the larger of the machine at work and at its coldest
    first_swing_amps: float  # peak of the first half period
    torque_nm: float  # at work
    coil_amps_rms: float
    settles_c: float  # where the winding would settle; infinite when it does not
    cold_s: float  # from the hottest air to the limit of its class; infinite when it stays below
    warm_s: float  # the same from where the winding is at work


@dataclass(frozen=True, kw_only=True)
class BrakeHeat:
    """What joined leads do to the winding and to their switch, the source at its strongest and no guard."""

    brake: Brake  # whether they hold it
    worst: JoinedAt  # joined at the runaway speed: what switch and wires are sized by
    ends: JoinedAt  # where the rotor ends
    start_c: float  # winding at work, at most at that limit: "warm"
    limit_c: float  # what the insulation class allows for the mean of the winding
    stop_words: str  # what really stops the drive, as a noun phrase

    @property
    def sentence(self):
        """How long the winding bears it, what the switch has to carry, and what really stops the drive."""
        worst = self.worst
        rms, peak = (two_figures(amps, "A") for amps in (worst.lead_amps_rms, worst.first_swing_amps))
        switch = (
            f"Switch and wires of the brake carry {rms} rms in each lead, after a first swing of up to {peak} peak, at "
            f"{worst.speed_rpm:.0f} rpm with the guard failed."
        )
        return f"{self.bears} {switch} The real stop is {self.stop_words}."

    @property
    def bears(self):
        """How long the winding bears it where the rotor ends, in a sentence."""
        ends, limit = self.ends, degrees(self.limit_c)
        at = f"Left joined at {say(ends.speed_rpm, 'rpm', figures=2)}"
        if ends.settles_c <= self.limit_c:
            return f"{at}, the winding settles at {degrees(ends.settles_c)} and bears it (its class allows {limit})."
        if isnan(ends.cold_s):
            return (
                f"{at}, the winding gets hotter than its class allows ({limit}), how soon is not known: the wire was "
                "not measured on page 01, so count on seconds."
            )
        cold, warm = duration_words(ends.cold_s), duration_words(ends.warm_s)
        return (
            f"{at}, the winding passes the {limit} that its class allows after {cold} from cold and {warm} from warm: "
            "shut off the source within that time."
        )


def brake_heat(plant):
    """What joined leads do to the winding and to their switch.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    BrakeHeat
        The source at its strongest, its own guard failed.

    Notes
    -----
    Equation: I = E / √(R² + X²); first swing κ √2 I, κ = 1.02 + 0.98 e^(−3R/X); heating as in `heat_of`, with amps that
        stay as they are.
    Valid: leads joined at the machine; an upper end, for amps of copper cold where they are more.
    Source: any text on synchronous machines; κ of IEC 60909-0 (from memory).
    """
    # Without its guard first, so that the strongest is not only what passes before the guard acts.
    found = brake(plant.drive.unguarded().strongest(), plant.winding, plant.conditions)
    heat = heat_of(plant)
    start = min(heat.at_work.settles_c, heat.limit_c)
    return BrakeHeat(
        brake=found,
        worst=joined_at(plant, plant.runaway_rpm, start),
        ends=_with_heat(plant, found.ends_rpm, found.shorted_amps_rms, start),
        start_c=start,
        limit_c=heat.limit_c,
        stop_words=words_of(plant.drive).stop,
    )


@dataclass(frozen=True, kw_only=True)
class BrakeCurves:
    """Joined leads over speed, up to the runaway; every array of shape (n,)."""

    speed_rpm: np.ndarray
    drive_nm: np.ndarray  # of the drive at its strongest; infinite where it holds its speed
    leads_nm: np.ndarray  # at work, with the drag
    lead_amps_rms: np.ndarray  # steady, the larger of the machine at work and at its coldest
    first_swing_amps: np.ndarray  # peak


def brake_curves(plant):
    """What joined leads pull and carry over speed.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    BrakeCurves
        Up to the runaway speed.

    Notes
    -----
    Equation: as in `brake_heat`.
    Valid: as there.
    Source: as there.
    """
    speed = plant.runaway_rpm * np.linspace(1.0 / _SPEEDS, 1.0, _SPEEDS) ** 2  # closer where the torque has its peak
    drive = plant.drive.unguarded().strongest()
    amps = lead_amps_rms(plant, speed)
    return BrakeCurves(
        speed_rpm=speed,
        drive_nm=np.broadcast_to(drive.torque_nm(speed), speed.shape),
        leads_nm=shorted_torque_nm(plant.winding, speed, plant.conditions),
        lead_amps_rms=amps,
        first_swing_amps=amps * first_swing_ratio(plant.winding, speed, plant.cold),
    )


def lead_amps_rms(plant, speed_rpm):
    """Steady amps in each joined lead, the larger of the machine at work and at its coldest, rms [A]."""
    return np.maximum(*(shorted_amps_rms(plant.winding, speed_rpm, at) for at in (plant.conditions, plant.cold)))


def joined_at(plant, speed_rpm, start_c):
    """Leads joined at a speed that stays as it is.

    Parameters
    ----------
    plant : Plant
        The plant.
    speed_rpm : float
        Speed [rpm].
    start_c : float
        Winding at that moment, for the time from warm [°C].

    Returns
    -------
    JoinedAt
        Amps of the lead and of the switch, torque, and how long the winding bears it.

    Notes
    -----
    Equation: as in `brake_heat`.
    Valid: as there.
    Source: as there.
    """
    return _with_heat(plant, speed_rpm, float(lead_amps_rms(plant, speed_rpm)), start_c)


def _with_heat(plant, speed_rpm, lead_amps, start_c):
    coil_amps = plant.winding.coil_amps(lead_amps)
    warming = held_warming(plant, coil_amps)
    return JoinedAt(
        speed_rpm=float(speed_rpm),
        lead_amps_rms=lead_amps,
        first_swing_amps=float(first_swing_ratio(plant.winding, speed_rpm, plant.cold)) * lead_amps,
        torque_nm=shorted_torque_nm(plant.winding, speed_rpm, plant.conditions),
        coil_amps_rms=coil_amps,
        settles_c=warming.settles_c,
        cold_s=warming.seconds_to(plant.heat.limit_c, warming.air_c),
        warm_s=warming.seconds_to(plant.heat.limit_c, start_c),
    )


def first_swing_ratio(winding, speed_rpm, conditions):
    """Peak of the first swing over the steady amps rms: κ √2 of a sudden short; √2 at standstill."""
    star = winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    reactance = 2.0 * np.pi * winding.stator.electrical_hz(speed_rpm) * star.henry
    with np.errstate(divide="ignore"):
        return sqrt(2.0) * peak_factor(star.ohm / np.asarray(reactance))


def peak_factor(ohm_over_reactance):
    """κ, the peak of a sudden short over that of the steady current, from 1.02 without reactance to 2.00."""
    # IEC 60909-0 (from memory): κ = 1.02 + 0.98 e^(−3R/X).
    return 1.02 + 0.98 * np.exp(-3.0 * np.asarray(ohm_over_reactance))
