"""Round wire: area and resistance; gauges are in `quantities.typed_quantity`."""

from math import pi

from statorbook.quantities import COPPER_OHM_MM2_PER_M


def wire_area_mm2(diameter_mm, wires=1):
    """Copper cross-section of round wires in parallel.

    Parameters
    ----------
    diameter_mm : float or ndarray
        Bare diameter of one wire [mm].
    wires : int
        Wires in hand [-].

    Returns
    -------
    float or ndarray
        Area [mm²].

    Notes
    -----
    Equation: A = N π d² / 4.
    Valid: bare metal; enamel adds 5 to 10 % to what a calliper reads.
    Source: geometry.
    """
    return wires * pi * diameter_mm**2 / 4.0


def wire_ohm(length_m, area_mm2):
    """Resistance of a copper wire at 20 °C.

    Parameters
    ----------
    length_m : float
        Its length, there and back for a pair [m].
    area_mm2 : float or ndarray
        Copper cross-section [mm²].

    Returns
    -------
    float or ndarray
        Resistance [Ω].

    Notes
    -----
    Equation: R = ρ L / A.
    Valid: pure solid copper; see below for cables.
    Source: IEC 60028.
    """
    # IEC 60028: pure copper; real cables are 5 to 12 % higher, fine-stranded ones up to 16 % (IEC 60228).
    return COPPER_OHM_MM2_PER_M.value * length_m / area_mm2
