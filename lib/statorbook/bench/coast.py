"""The coast log: how the speed falls when nothing drives the rotor, and the curve and the inertia behind it."""

from dataclasses import dataclass
from math import hypot, nan, sqrt

import numpy as np

from statorbook.bench.columns import DAY, HZ, NOTE, SPEED
from statorbook.bench.log import Column, Log
from statorbook.bench.rows import Reading, read_rows
from statorbook.bench.speed import speed_of, speed_sigma_rpm
from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95, Fact, require_number

COAST_LOG = Log(
    name="coast",
    by_session=True,
    columns=(
        Column(
            name="time_s", label="Time", unit="s", limits=(0, 3_600), usual=("s", "sec", "second", "seconds", "time")
        ),
        SPEED,
        HZ,
        DAY,
        NOTE,
    ),
)
REACTION_S = Fact(
    value=0.3,
    unit="s, 95 %",
    source="stopwatch in hand, eyes on a meter; common practice, no source",
    low=0.1,
    high=0.6,
)


@dataclass(frozen=True, kw_only=True)
class CoastReading(Reading):
    """Speed at a time, nothing driving and the leads open."""

    time_s: float = nan  # on the stopwatch
    time_sigma_s: float = nan
    speed_rpm: float = nan
    speed_sigma_rpm: float = nan


def read_coast(rows, stator):
    """Read the coast log: the speed at times of a stopwatch.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    stator : Stator
        Slots and poles, to turn Hz into rpm.

    Returns
    -------
    tuple of CoastReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows(COAST_LOG, CoastReading, rows, lambda row, where: _numbers(row, where, stator))


def _numbers(row, where, stator):
    time = COAST_LOG.number(row, "time_s", where)
    speed, warnings = speed_of(COAST_LOG, row, where, stator)
    return {
        "time_s": time.value,
        # Reaction and rounding, a digit / √12, are independent: JCGM 100 (from memory).
        "time_sigma_s": hypot(REACTION_S.value / NORMAL_95, time.step / sqrt(12.0)),
        "speed_rpm": speed.value,
        "speed_sigma_rpm": speed_sigma_rpm(row, speed),
    }, warnings


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
    from scipy.special import exprel

    start_rpm, fall, rate = values
    turned = np.maximum(rate * np.asarray(time_s, float), -50.0)
    speed_rpm = start_rpm * np.exp(-turned) - fall * time_s * exprel(-turned)
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
