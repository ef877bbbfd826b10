"""Rows of a coast-down or of a drill's wattmeter: cells in, numbers out, and the shape of a coast-down."""

from dataclasses import dataclass
from math import hypot, nan, sqrt

import numpy as np

from statorbook.bench.columns import HEADINGS, number_in
from statorbook.bench.meters import HZ_SHARE, READING_SHARE
from statorbook.bench.row_numbers import speed_of
from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95, Fact, cell_text, require_number

REACTION_S = Fact(
    value=0.3,
    unit="s, 95 %",
    source="stopwatch in hand, eyes on a meter; common practice, no source",
    low=0.1,
    high=0.6,
)
# Unit, lowest and highest number; beyond them it is a slip of the pen.
_LIMITS = {"time_s": ("s", 0, 3_600), "watts_coupled": ("W", 0.1, 5_000), "watts_alone": ("W", 0.1, 5_000)}


@dataclass(frozen=True, kw_only=True)
class CoastNumbers:
    """Speed at a time, nothing driving and the leads open.

    Parameters
    ----------
    time_s : float
        On the stopwatch [s].
    time_sigma_s : float
        Its likely error, one sigma [s].
    speed_rpm : float
        Rotor speed [rpm].
    speed_sigma_rpm : float
        Its likely error, one sigma [rpm].
    """

    time_s: float = nan
    time_sigma_s: float = nan
    speed_rpm: float = nan
    speed_sigma_rpm: float = nan


@dataclass(frozen=True, kw_only=True)
class DrillNumbers:
    """Watts that the coupled rotor adds to those of the drill, leads open.

    Parameters
    ----------
    speed_rpm : float
        Rotor speed [rpm].
    added_watts : float
        Watts coupled less watts alone, on the mains lead [W].
    added_watts_sigma : float
        Their likely error, one sigma [W].
    """

    speed_rpm: float = nan
    added_watts: float = nan
    added_watts_sigma: float = nan


def coast_numbers(row, where, stator):
    """The numbers of one row of the coast-down log.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.

    Returns
    -------
    tuple of dict and list
        Fields of a `CoastReading` by name, and warnings.

    Raises
    ------
    BadInput
        When a cell cannot be used.

    Notes
    -----
    Equation: one sigma of the speed = share of the reading and rounding of its last digit, of the time = reaction and
        rounding, each joined as the root of the sum of squares; rounding is a digit / √12.
    Valid: errors of speed and time independent.
    Source: JCGM 100 (from memory).
    """
    time = number_in(row, "time_s", _LIMITS, where)
    speed, warnings = speed_of(row, where, stator)
    return {
        "time_s": time.value,
        "time_sigma_s": hypot(REACTION_S.value / NORMAL_95, time.step / sqrt(12.0)),
        "speed_rpm": speed.value,
        "speed_sigma_rpm": speed_sigma_rpm(row, speed),
    }, warnings


def speed_sigma_rpm(row, speed):
    """Likely error of the speed of a row: the meter's Hz is closer than a hand-held rpm meter.

    Parameters
    ----------
    row : dict
        Raw cells.
    speed : TypedNumber
        From `bench.row_numbers.speed_of`.

    Returns
    -------
    float
        One sigma [rpm].

    Notes
    -----
    Equation: √((share × speed)² + (last digit)² / 12).
    Valid: errors of reading and rounding independent.
    Source: JCGM 100 (from memory).
    """
    by_hz = not cell_text(row.get("speed_rpm"))
    share = HZ_SHARE.value / NORMAL_95 if by_hz else READING_SHARE.value
    return hypot(share * speed.value, speed.step / sqrt(12.0))


def drill_numbers(row, where, stator):
    """The numbers of one row of the drill log.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.

    Returns
    -------
    tuple of dict and list
        Fields of a `DrillReading` by name, and warnings.

    Raises
    ------
    BadInput
        When a cell cannot be used, or the rotor takes nothing.

    Notes
    -----
    Equation: added watts = coupled − alone; one sigma from meter share and last digit of both.
    Valid: both read at the same speed and on the same day, the drill warm.
    Source: JCGM 100 (from memory).
    """
    speed, warnings = speed_of(row, where, stator)
    coupled, alone = (number_in(row, name, _LIMITS, where) for name in ("watts_coupled", "watts_alone"))
    if coupled.value <= alone.value:
        raise BadInput(
            f"{coupled.value:g} W is not more than the {alone.value:g} W of the drill alone",
            "with the rotor coupled the drill must take more",
            "let the drill run warm, then read both again at the same speed",
            where=f"{where}, {HEADINGS['watts_coupled']}",
        )
    sigmas = (hypot(READING_SHARE.value * each.value, each.step / sqrt(12.0)) for each in (coupled, alone))
    added = coupled.value - alone.value
    return {"speed_rpm": speed.value, "added_watts": added, "added_watts_sigma": hypot(*sigmas)}, warnings


def coast_speed_rpm(time_s, *values):
    """Speed of a rotor that nothing drives.

    Parameters
    ----------
    time_s : float or ndarray
        Time since the start [s].
    *values : float
        Speed at the start, fall of the speed near rest, and what the fall gains with the speed [rpm, rpm/s, 1/s].

    Returns
    -------
    float or ndarray
        Speed, same shape; below 0 once the rotor would stand [rpm].

    Notes
    -----
    Equation: dn/dt = −(a + k n), so n = n0 e^(−k t) − a (1 − e^(−k t)) / k, or n0 − a t for k = 0.
    Valid: drag that is a straight line of the speed; fans and big wheels in air, with drag as n², bend it.
    Source: Newton's second law for rotation; linear differential equation of first order.
    """
    start_rpm, fall, rate = values
    turned = np.clip(rate * np.asarray(time_s, float), -50.0, 50.0)
    near_zero = np.abs(turned) < 1e-9
    share = np.where(near_zero, 1.0, -np.expm1(-turned) / np.where(near_zero, 1.0, turned))
    speed_rpm = start_rpm * np.exp(-turned) - fall * time_s * share
    return speed_rpm if np.ndim(time_s) else float(speed_rpm)


def ring_inertia_kgm2(mass_kg, diameter_mm, *, wheel_kg=0.0, wheel_mm=0.0):
    """Inertia of a magnet ring, with a disc added to it or not.

    Parameters
    ----------
    mass_kg : float
        All that turns with the ring, taken as if it sat in it [kg].
    diameter_mm : float
        Middle of the ring, between inside and outside [mm].
    wheel_kg : float
        Plain disc of even thickness bolted on; 0 without [kg].
    wheel_mm : float
        Its outside diameter; 0 without [mm].

    Returns
    -------
    float
        Moment of inertia about the shaft [kg·m²].

    Raises
    ------
    BadInput
        When a number is out of range, or only one of the disc's two was given.

    Notes
    -----
    Equation: J = m d² / 4 for the ring, + m d² / 8 for the disc.
    Valid: the ring thin against its diameter; hub and spokes count too much, by a tenth or so.
    Source: Young and Freedman, University Physics, moments of inertia of hoop and solid cylinder (from memory).
    """
    mass_kg = require_number(mass_kg, "rotor mass", "kg", above=0, at_most=500)
    diameter_mm = require_number(diameter_mm, "rotor diameter", "mm", above=10, at_most=3000)
    wheel_kg = require_number(wheel_kg, "mass of the added wheel", "kg", at_least=0, at_most=500)
    wheel_mm = require_number(wheel_mm, "diameter of the added wheel", "mm", at_least=0, at_most=3000)
    if bool(wheel_kg) != bool(wheel_mm):
        raise BadInput(
            "one of its mass and diameter was given",
            "both or none are allowed",
            "weigh and measure the wheel, or leave both empty",
            where="added wheel",
        )
    return mass_kg * (diameter_mm / 1000.0) ** 2 / 4.0 + wheel_kg * (wheel_mm / 1000.0) ** 2 / 8.0
