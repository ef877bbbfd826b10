"""Cable by the sizes that are sold."""

from math import isclose

from statorbook.quantities import awg_diameter_mm, units_now
from statorbook.winding import wire_area_mm2

# Sizes that are sold: IEC 60228 and ASTM B258 (read in reproductions; 120 mm² from memory).
CABLE_MM2 = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0)
_GAUGES = {"14": 14, "12": 12, "10": 10, "8": 8, "6": 6, "4": 4, "2": 2, "1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
CABLE_AWG = {f"AWG {name}": round(wire_area_mm2(awg_diameter_mm(gauge)), 3) for name, gauge in _GAUGES.items()}
CONTINUOUS = 1.25  # times the amps that flow for hours: NEC 210.20(A) (read)
_SAME = 0.005  # of an area: by so little a size in mm² may differ from a gauge and still be it


def gauge_of(area_mm2):
    """The wire gauge of a cross-section, such as "AWG 6"; empty for what is no gauge that is sold."""
    return next((name for name, area in CABLE_AWG.items() if isclose(area, area_mm2, rel_tol=_SAME)), "")


def size_name(area_mm2):
    """What a cross-section is called.

    Parameters
    ----------
    area_mm2 : float
        Cross-section of one wire [mm²].

    Returns
    -------
    str
        Such as "16 mm²" or "AWG 6 (13.3 mm²)".
    """
    gauge, area = gauge_of(area_mm2), f"{area_mm2:.3g} mm²"
    return f"{gauge} ({area})" if gauge else area


def sold_mm2():
    """Cross-sections that the reader can buy.

    Returns
    -------
    tuple of float
        By gauge for US units, else those of IEC 60228, rising [mm²].

    Notes
    -----
    Equation: that of `awg_diameter_mm`, area of a circle.
    Valid: sizes that any dealer has; there are more.
    Source: IEC 60228, ASTM B258 (read in reproductions; 120 mm² from memory).
    """
    return tuple(CABLE_AWG.values()) if units_now() == "US" else CABLE_MM2
