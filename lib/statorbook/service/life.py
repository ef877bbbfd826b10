"""How long a deep groove ball bearing lasts at best: load, rating and speed to hours, an upper bound for clean ones."""

from dataclasses import dataclass

import numpy as np

from statorbook.errors import BadInput
from statorbook.quantities import require_number

_FROM_MEMORY = "usual catalogue ratings of bearings to ISO 15, rounded down, from memory"
_BALL, _ROLLER = 3.0, 10.0 / 3.0
_STANDARD_GRAVITY = 9.80665  # m/s², BIPM SI brochure (from memory)
# ISO 281:2007, table 3, deep groove ball bearings, normal clearance (from memory): f0 Fa / C0 to e and Y.
_RELATIVE_AXIAL = (0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89)
_LIMIT_E = (0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44)
_FACTOR_Y = (2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00)
_FACTOR_X = 0.56
_USUAL_F0 = 14.0


@dataclass(frozen=True, kw_only=True)
class BearingSize:
    """One deep groove ball bearing by the number stamped on its face."""

    bore_mm: float
    outer_mm: float
    width_mm: float
    dynamic_rating_n: float  # basic load rating C
    static_rating_n: float  # basic load rating C0
    source: str = _FROM_MEMORY


def _size(bore, outer, width, dynamic, static):
    return BearingSize(bore_mm=bore, outer_mm=outer, width_mm=width, dynamic_rating_n=dynamic, static_rating_n=static)


# Single-row deep groove ball bearings; dimensions ISO 15 (from memory), ratings of makers differ by some percent.
SIZES = {
    "6000": _size(10, 26, 8, 4500, 1900),
    "6001": _size(12, 28, 8, 5000, 2300),
    "6002": _size(15, 32, 9, 5500, 2800),
    "6003": _size(17, 35, 10, 6000, 3200),
    "6004": _size(20, 42, 12, 9300, 5000),
    "6005": _size(25, 47, 12, 11000, 6500),
    "6006": _size(30, 55, 13, 13000, 8300),
    "6200": _size(10, 30, 9, 5000, 2300),
    "6201": _size(12, 32, 10, 6800, 3000),
    "6202": _size(15, 35, 11, 7600, 3700),
    "6203": _size(17, 40, 12, 9500, 4700),
    "6204": _size(20, 47, 14, 12700, 6500),
    "6205": _size(25, 52, 15, 14000, 7800),
    "6206": _size(30, 62, 16, 19400, 11200),
    "6304": _size(20, 52, 15, 15900, 7800),
    "6305": _size(25, 62, 17, 22400, 11400),
    "6306": _size(30, 72, 19, 28000, 15900),
    "6308": _size(40, 90, 23, 41000, 24000),
}


def bearing_named(number):
    """The bearing of a number on its face such as "6203-2RS C3", letters for seals and clearance left aside."""
    found = SIZES.get(str(number).strip()[:4])
    if found is None:
        raise BadInput(
            f"{str(number).strip()[:40]!r} was given",
            f"{', '.join(SIZES)} are in the table",
            "read the first four digits on the bearing's face again, or measure bore, outer diameter and width",
            where="bearing",
        )
    return found


def equivalent_load_n(radial_n, axial_n, static_rating_n, f0=_USUAL_F0):
    """Equivalent dynamic load: across the shaft alone it would wear the bearing as much as both do [N]."""
    # P = X Fr + Y Fa when Fa / Fr > e, else Fr; f0 of 12 to 16 is usual. Deep groove ball bearings of normal clearance,
    # axial load up to half the static rating: ISO 281:2007, 5.2 and table 3 (from memory).
    require_number(radial_n, "radial load", "N", at_least=0)
    require_number(static_rating_n, "static load rating", "N", above=0)
    step = "take a larger bearing, or one made for thrust"
    require_number(axial_n, "axial load", "N", at_least=0, at_most=0.5 * static_rating_n, next_step=step)
    relative = f0 * axial_n / static_rating_n
    limit, factor = (float(np.interp(relative, _RELATIVE_AXIAL, column)) for column in (_LIMIT_E, _FACTOR_Y))
    if axial_n <= limit * radial_n:
        return float(radial_n)
    return float(_FACTOR_X * radial_n + factor * axial_n)


def l10_hours(dynamic_rating_n, load_n, speed_rpm, *, roller=False):
    """Hours that nine bearings of ten reach, clean, dry and well greased.

    Parameters
    ----------
    dynamic_rating_n : float
        Basic dynamic load rating C [N].
    load_n : float or ndarray
        Equivalent dynamic load P [N].
    speed_rpm : float or ndarray
        Shaft speed [rpm].
    roller : bool
        True for roller bearings.

    Returns
    -------
    float or ndarray
        Basic rating life [h].

    Raises
    ------
    BadInput
        When a rating, load or speed is not above 0.

    Notes
    -----
    Equation: L10h = 10⁶ (C / P)^p / (60 n), p = 3 for balls, 10/3 for rollers.
    Valid: an upper bound here: no water, no dirt, no current through the bearing, aligned, greased.
    Source: ISO 281:2007, 5.3 (from memory).
    """
    require_number(dynamic_rating_n, "dynamic load rating", "N", above=0)
    for value, name, unit in ((load_n, "bearing load", "N"), (speed_rpm, "shaft speed", "rpm")):
        require_number(float(np.min(value)), name, unit, above=0)
    hours = (
        1e6 * (dynamic_rating_n / np.asarray(load_n)) ** (_ROLLER if roller else _BALL) / (60.0 * np.asarray(speed_rpm))
    )
    return hours if np.ndim(hours) else float(hours)


def weight_n(mass_kg):
    """Weight of what turns, anywhere on the ground within 0.3 % [N]."""
    return require_number(mass_kg, "mass", "kg", at_least=0) * _STANDARD_GRAVITY


def turning_force_n(torque_nm, radius_mm, pull_factor=1.0):
    """Force across the shaft that comes with a torque at a radius [N]."""
    # F = k T / r, k 1 for a single jet or a chain, 2 for a tensioned belt; evenly placed jets cancel. Shigley's
    # Mechanical Engineering Design, belts (from memory); factor for belts common practice, no source.
    require_number(torque_nm, "torque", "N·m", at_least=0)
    require_number(radius_mm, "radius", "mm", above=0)
    return pull_factor * torque_nm / (radius_mm / 1000.0)
