"""Cable by the sizes that are sold: its ohms, and the amps that it carries for hours."""

import numpy as np

from statorbook.quantities import CABLE_OVER_COPPER, awg_diameter_mm
from statorbook.winding import wire_area_mm2, wire_ohm

# Sizes that are sold: IEC 60228 (from memory), ASTM B258 by gauge.
CABLE_MM2 = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0)
_GAUGES = {"14": 14, "12": 12, "10": 10, "8": 8, "6": 6, "4": 4, "2": 2, "1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
CABLE_AWG = {f"AWG {name}": round(wire_area_mm2(awg_diameter_mm(gauge)), 3) for name, gauge in _GAUGES.items()}

# What a cable carries for hours: three loaded conductors in conduit on a wall, PVC, 40 °C, so that a pair in a cooler
# place carries more. IEC 60364-5-52, method B2, as tabulated in an industrial machine maker's instruction book (read).
_CARRIES = {1.5: 13, 2.5: 17, 4: 23, 6: 30, 10: 40, 16: 54, 25: 70, 35: 86, 50: 103, 70: 130, 95: 156}
CONTINUOUS = 1.25  # times the amps that flow for hours: NEC 210.20(A) (read)


def carried_amps(area_mm2):
    """What a cable of PVC in a warm place carries for hours, erring to the safe side.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Cross-section [mm²].

    Returns
    -------
    float or ndarray
        0 below the thinnest of the table, that of the thickest above it [A].

    Notes
    -----
    Equation: straight between the rows of the table.
    Valid: for looking at prices; the cable itself is sized by its maker's table, its fuse and the local code.
    Source: IEC 60364-5-52, method B2, three loaded conductors at 40 °C (read in a reproduction).
    """
    return np.interp(area_mm2, list(_CARRIES), list(_CARRIES.values()), left=0.0)


def cable_ohm(length_m, area_mm2):
    """Resistance of the loop of a fine-stranded copper cable at 20 °C.

    Parameters
    ----------
    length_m : float
        One way [m].
    area_mm2 : float or ndarray
        Cross-section by its name [mm²].

    Returns
    -------
    float or ndarray
        There and back [Ω].

    Notes
    -----
    Equation: 1.13 × 2 L / (58 A).
    Valid: 20 °C; 0.4 % more for each degree above.
    Source: IEC 60228 class 5, met within 3 % (from memory).
    """
    return CABLE_OVER_COPPER.value * wire_ohm(2.0 * length_m, area_mm2)
