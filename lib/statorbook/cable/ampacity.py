"""What a cable carries for hours, by its size, its insulation, how it is laid and how hot it is there."""

import numpy as np

from statorbook.cable.sizes import CABLE_AWG, CABLE_MM2, gauge_of

IN_CONDUIT, IN_AIR, IN_GROUND = "in conduit or trunking", "clipped to a wall, in free air", "in a duct in the ground"
WAYS_LAID = (IN_CONDUIT, IN_AIR, IN_GROUND)
PVC, XLPE = "PVC", "XLPE"
INSULATIONS = (PVC, XLPE)
# Amps, sizes of CABLE_MM2, copper, by way laid, insulation and loaded wires: IEC 60364-5-52, methods B2, C and D1,
# tables B.52.2 to B.52.5, air 30 °C, ground 20 °C. Read in a reproduction: three loaded wires in PVC, B2 up to 95 mm²
# and C up to 35 mm² (whose first row is rounded down there); all else from memory.
_AMPS = {
    (IN_CONDUIT, PVC, 2): (16.5, 23, 30, 38, 52, 69, 90, 111, 133, 168, 201, 232),
    (IN_CONDUIT, PVC, 3): (15, 20, 27, 34, 46, 62, 80, 99, 118, 149, 179, 206),
    (IN_CONDUIT, XLPE, 2): (22, 30, 40, 51, 69, 91, 119, 146, 175, 221, 265, 305),
    (IN_CONDUIT, XLPE, 3): (19.5, 26, 35, 44, 60, 80, 105, 128, 154, 194, 233, 268),
    (IN_AIR, PVC, 2): (19.5, 27, 36, 46, 63, 85, 112, 138, 168, 213, 258, 299),
    (IN_AIR, PVC, 3): (17.5, 24, 32, 41, 57, 76, 96, 119, 144, 184, 223, 259),
    (IN_AIR, XLPE, 2): (24, 33, 45, 58, 80, 107, 138, 171, 209, 269, 328, 382),
    (IN_AIR, XLPE, 3): (22, 30, 40, 52, 71, 96, 119, 147, 179, 229, 278, 322),
    (IN_GROUND, PVC, 2): (22, 29, 37, 46, 60, 78, 99, 119, 140, 173, 204, 231),
    (IN_GROUND, PVC, 3): (18, 24, 30, 38, 50, 64, 82, 98, 116, 143, 169, 192),
    (IN_GROUND, XLPE, 2): (25, 33, 43, 53, 71, 91, 116, 139, 164, 203, 239, 271),
    (IN_GROUND, XLPE, 3): (21, 28, 36, 44, 58, 75, 96, 115, 135, 167, 197, 223),
}
# Amps by gauge, up to three loaded wires in raceway, cable or ground at 30 °C: NEC (2020, 2023) table 310.16, 60 and
# 75 °C columns (read in reproductions; AWG 3/0 at 60 °C from memory), the smallest three no more than the fuse that NEC
# 240.4(D) allows them (read). Terminals of small parts stand 75 °C at most, so XLPE is not used up to 90 °C.
_GAUGE_AMPS = {
    PVC: (15, 20, 30, 40, 55, 70, 95, 125, 145, 165, 195),
    XLPE: (15, 20, 30, 50, 65, 85, 115, 150, 175, 200, 230),
}
_LIMIT_C, _GAUGE_LIMIT_C = {PVC: 70.0, XLPE: 90.0}, {PVC: 60.0, XLPE: 75.0}
_TABLE_C = {IN_CONDUIT: 30.0, IN_AIR: 30.0, IN_GROUND: 20.0}


def carried_amps(area_mm2, *, laid=IN_CONDUIT, insulation=PVC, wires=3, around_c=40.0):
    """What each wire of a cable carries for hours.

    Parameters
    ----------
    area_mm2 : float or ndarray
        Cross-section [mm²].
    laid : str
        "in conduit or trunking", "clipped to a wall, in free air" or "in a duct in the ground".
    insulation : str
        "PVC" or "XLPE".
    wires : int
        That carry current: 2 for DC, 3 for an AC run [-].
    around_c : float
        Hottest air, or ground, round it [°C].

    Returns
    -------
    float or ndarray
        0 below the thinnest of the table, that of the thickest above it [A].

    Notes
    -----
    Equation: table × √((limit − around) / (limit − that of the table)), never more than the table; straight between
        its rows. A gauge has the amps of the US table however it is laid.
    Valid: one cable by itself, copper; bundled with others it carries less.
    Source: IEC 60364-5-52 and NEC table 310.16 (parts read in reproductions, the rest from memory, see the tables); the
        factor of the heat is that of their correction tables.
    """
    area = np.asarray(area_mm2, dtype=float)
    amps = np.interp(area, CABLE_MM2, _AMPS[laid, insulation, wires], left=0.0)
    amps = amps * _heat_share(_LIMIT_C[insulation], _TABLE_C[laid], around_c)
    gauges = dict(zip(CABLE_AWG, _GAUGE_AMPS[insulation], strict=True))
    share = _heat_share(_GAUGE_LIMIT_C[insulation], 30.0, around_c)
    by_gauge = np.vectorize(lambda each: gauges.get(gauge_of(each), np.nan), otypes=[float])(area)
    amps = np.where(np.isnan(by_gauge), amps, share * by_gauge)
    return amps if amps.ndim else float(amps)


def _heat_share(limit_c, table_c, around_c):
    return min(1.0, (max(limit_c - around_c, 0.0) / (limit_c - table_c)) ** 0.5)
