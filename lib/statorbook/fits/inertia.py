"""Inertia of all that turns, from how it coasts down against a drag that is known in another way."""

from math import hypot

from statorbook.errors import BadInput
from statorbook.fits.drag import fit_coast
from statorbook.quantities import Estimate


def inertia_from_coast(readings, drag):
    """Moment of inertia from a coast-down against a known drag.

    Parameters
    ----------
    readings : sequence of CoastReading
        One coast-down, in the order of time.
    drag : Drag
        Drag of the same rotor, found without its inertia: from a drill's wattmeter.

    Returns
    -------
    Estimate
        Of all that turned in both tests [kg·m²].

    Raises
    ------
    BadInput
        When the coast-down cannot be fitted, or one of the two finds no drag.

    Notes
    -----
    Equation: J = T / (−dΩ/dt), both at the middle speed of the coast-down; the ± of both added as independent.
    Valid: the same things turning in both tests, leads open, the same warmth of bearings and seals.
    Source: retardation test, IEC 60034-2-1 and -2-2 (from memory).
    """
    falls = fit_coast(readings, 1.0)
    used = [reading.speed_rpm for reading in readings if reading.row in falls.used_rows]
    middle_rpm = 0.5 * (min(used) + max(used))
    (torque, torque_off), (fall, fall_off) = _at(drag, middle_rpm), _at(falls, middle_rpm)
    if torque <= 0.0 or fall <= 0.0:
        raise BadInput(
            "no drag was found at the middle speed of the coast-down",
            "a drag above 0 in both tests is needed",
            "log both tests once more on page 03_what_turns_it",
            where="coast and drill log",
        )
    value = torque / fall
    off = value * hypot(torque_off / torque, fall_off / fall)
    return Estimate(
        value=value, plus_minus=off, unit="kg·m²", how="coast-down against the drag of the drill's wattmeter"
    )


def _at(drag, speed_rpm):
    """Torque at a speed and its half-width [N·m]."""
    rest, rise, share = drag.drag_nm, drag.drag_nm_per_1000rpm, speed_rpm / 1000.0
    return rest.value + rise.value * share, hypot(rest.plus_minus, rise.plus_minus * share)
