"""Round wire: its area; gauges are in `quantities.typed_quantity`, ohms of cables in `cable`."""

from math import pi


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
