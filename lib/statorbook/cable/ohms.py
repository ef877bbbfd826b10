"""Ohms of copper cable by its size, cold and warm."""

import numpy as np

from statorbook.cable.sizes import CABLE_AWG, CABLE_MM2, gauge_of
from statorbook.winding import resistance_factor

FINE, COARSE = "fine, bends easily", "coarse or solid"
STRANDS = (FINE, COARSE)
WARM_C = 70.0  # copper at which drop and loss are reckoned: the limit of PVC, as the tables of BS 7671 do (from memory)
# The most ohms of a kilometre at 20 °C, sizes of CABLE_MM2: IEC 60228, table 3 (class 5) and table 2 (class 2), plain
# copper (read in two reproductions; 120 mm² from memory).
_OHM_PER_KM = {
    FINE: (13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780, 0.554, 0.386, 0.272, 0.206, 0.161),
    COARSE: (12.1, 7.41, 4.61, 3.08, 1.83, 1.15, 0.727, 0.524, 0.387, 0.268, 0.193, 0.153),
}
# Ohms of 1000 ft at 75 °C, uncoated stranded copper, sizes of CABLE_AWG: NEC chapter 9, table 8 (read).
_OHM_PER_KFT_AT_75_C = (3.14, 1.98, 1.24, 0.778, 0.491, 0.308, 0.194, 0.122, 0.0967, 0.0766, 0.0608)
_KFT_KM = 0.3048
_OF_GAUGE = dict(zip(CABLE_AWG, _OHM_PER_KFT_AT_75_C, strict=True))


def wire_ohm_per_km(area_mm2, *, copper_c=20.0, strands=FINE):
    """Resistance of a kilometre of one wire of a cable, as `cable_ohm`; same shape as the cross-section [Ω/km]."""
    area = np.asarray(area_mm2, dtype=float)
    products = np.multiply(_OHM_PER_KM[strands], CABLE_MM2)
    cold = np.interp(np.log(area), np.log(CABLE_MM2), products) / area
    cold = np.where(_is_gauge(area), _gauge_ohm_per_km(area), cold)
    ohm = cold * resistance_factor(copper_c)
    return ohm if ohm.ndim else float(ohm)


def cable_ohm(length_m, area_mm2, *, wires=2, copper_c=20.0, strands=FINE):
    """Resistance of the wires of a cable in series: of a DC loop, or of one wire.

    Parameters
    ----------
    length_m : float
        One way [m].
    area_mm2 : float or ndarray
        Cross-section of each wire by its name [mm²].
    wires : int
        How many in series: 2 there and back, 1 for a wire of an AC run [-].
    copper_c : float
        Temperature of the copper [°C].
    strands : str
        "fine, bends easily" or "coarse or solid".

    Returns
    -------
    float or ndarray
        Resistance, same shape as the cross-section [Ω].

    Notes
    -----
    Equation: wires × length × table × (235 + θ) / 255; between the rows of the table, and beyond them, ohms times area
        straight over the logarithm of the area.
    Valid: plain copper; lugs and joints come on top. A gauge has the ohms of the US table, whatever its strands.
    Source: IEC 60228 (read in two reproductions), NEC chapter 9, table 8 (read in a reproduction). IEC 60228 itself
        reckons with (230 + θ) / 250, 0.3 % more at 75 °C.
    Derivation: `winding.warm_factors`.
    """
    return wires * length_m / 1000.0 * wire_ohm_per_km(area_mm2, copper_c=copper_c, strands=strands)


def _is_gauge(area_mm2):
    return np.vectorize(lambda area: bool(gauge_of(area)), otypes=[bool])(area_mm2)


def _gauge_ohm_per_km(area_mm2):
    def cold(area):
        return _OF_GAUGE.get(gauge_of(area), np.nan) / _KFT_KM / resistance_factor(75.0)

    return np.vectorize(cold, otypes=[float])(area_mm2)
