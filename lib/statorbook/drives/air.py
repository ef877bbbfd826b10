"""The air: how dense it is, how the wind grows with height, what power it carries and what a rotor can take."""

from functools import cache
from math import pi

import numpy as np

from statorbook.quantities import GRAVITY_M_PER_S2, Fact, require_number

SEA_LEVEL_PRESSURE = Fact(
    value=101_325.0, unit="Pa", source="ISO 2533, standard atmosphere (from memory)", low=95_000, high=105_000
)
SEA_LEVEL_KELVIN = Fact(value=288.15, unit="K", source="ISO 2533, 15 °C (from memory)", low=273, high=300)
LAPSE = Fact(value=0.0065, unit="K/m", source="ISO 2533, below 11 km (from memory)", low=0.004, high=0.010)
AIR_GAS_CONSTANT = Fact(value=287.053, unit="J/(kg·K)", source="ISO 2533, dry air (from memory)", low=287, high=288)
SHEAR_EXPONENT = Fact(
    value=0.14,
    unit="-",
    source="power law over short grass, one seventh, texts on wind power (from memory)",
    low=0.10,
    high=0.40,
)
BETZ_SHARE = Fact(
    value=16.0 / 27.0, unit="-", source="Betz: a rotor that leaves a third of the speed", low=0.59259, high=0.59260
)
RAYLEIGH_CUBES = Fact(
    value=6.0 / pi,
    unit="mean of the wind cubed over the cube of its mean",
    source="Rayleigh's distribution, closed form 6/π, texts on wind power; 1.2 a steady trade wind, 3 a gusty site",
    low=1.2,
    high=3.0,
)
# Heier, Grid Integration of Wind Energy (from memory), blades at their finest pitch.
_C1, _C2, _C3, _C4, _C5, _SHIFT = 0.5176, 116.0, 5.0, 21.0, 0.0068, 0.035
_MOST_HEIER_RATIO = 30.0  # over twice the unloaded one; beyond it the formula turns back up, which no rotor does
_LEAST_HEIER_RATIO = 1e-3  # stands for rest, where the formula divides by 0


def air_kg_per_m3(altitude_m=0.0, air_c=15.0):
    """Density of dry air.

    Parameters
    ----------
    altitude_m : float
        Height above the sea [m].
    air_c : float
        Temperature of the air there [°C].

    Returns
    -------
    float
        Density [kg/m³].

    Raises
    ------
    BadInput
        When altitude or temperature is out of range.

    Notes
    -----
    Equation: p = p0 (1 − L h / T0)^(g / (R L)), ρ = p / (R T).
    Valid: −500 m to 6000 m, mean weather; a high or a low shifts it by 3 %, damp air is up to 2 % lighter.
    Source: ISO 2533, standard atmosphere (from memory); ideal gas.
    Derivation: `drives.thinner_air`.
    """
    require_number(altitude_m, "altitude", "m", at_least=-500, at_most=6000, next_step="read it from a map")
    require_number(air_c, "air temperature", "°C", at_least=-60, at_most=60)
    power = GRAVITY_M_PER_S2.value / (AIR_GAS_CONSTANT.value * LAPSE.value)
    pressure = SEA_LEVEL_PRESSURE.value * (1.0 - LAPSE.value * altitude_m / SEA_LEVEL_KELVIN.value) ** power
    return pressure / (AIR_GAS_CONSTANT.value * (air_c + 273.15))


def wind_at_height(wind_m_s, measured_height_m, hub_height_m, exponent=SHEAR_EXPONENT.value):
    """Wind at the hub from the wind at another height, over open level ground, a mean over many minutes [m/s]."""
    # v = v0 (h / h0)^α, power law of the wind profile, texts on wind power (from memory): both heights well above
    # bushes and roofs; α is 0.14 over short grass, 0.25 and more among trees and houses.
    hint = "measure it from the ground"
    require_number(measured_height_m, "height of the wind reading", "m", at_least=1, at_most=200, next_step=hint)
    require_number(hub_height_m, "hub height", "m", at_least=1, at_most=200, next_step=hint)
    hint = "keep 0.14 over open ground, 0.25 among trees"
    require_number(exponent, "wind shear exponent", "", at_least=0, at_most=0.5, next_step=hint)
    return wind_m_s * (hub_height_m / measured_height_m) ** exponent


def wind_watts(rotor_diameter_m, wind_m_s, density_kg_per_m3):
    """Power of a steady wind through a rotor's circle, ½ ρ (π D² / 4) v³; gusts carry more than their mean [W]."""
    return 0.5 * density_kg_per_m3 * pi / 4.0 * rotor_diameter_m**2 * wind_m_s**3


def heier_torque_coefficient(tip_speed_ratio):
    """Torque coefficient Cq of a large rotor at a tip speed ratio, the curve whose shape `wind_rotor` uses [-]."""
    # Cq = Cp / λ, Cp = 0.5176 (116 k − 5) e^(−21 k) + 0.0068 λ, k = 1/λ − 0.035, λ from 0, held beyond 30.
    held = np.clip(np.asarray(tip_speed_ratio, dtype=float), _LEAST_HEIER_RATIO, _MOST_HEIER_RATIO)
    k = 1.0 / held - _SHIFT
    found = _C1 * (_C2 * k - _C3) * np.exp(-_C4 * k) / held + _C5
    return found if found.ndim else float(found)


def heier_power_coefficient(tip_speed_ratio):
    """Power coefficient Cp = λ Cq of a large rotor at a tip speed ratio [-]."""
    return heier_torque_coefficient(tip_speed_ratio) * tip_speed_ratio


@cache
def heier_marks():
    """Heier's curve, not rounded: best tip speed ratio, power coefficient there, ratio of no power again [-]."""
    from scipy.optimize import brentq

    def slope(ratio):
        k = 1.0 / ratio - _SHIFT
        return _C5 - _C1 * np.exp(-_C4 * k) * (_C2 - _C4 * (_C2 * k - _C3)) / ratio**2

    best = brentq(slope, 6.0, 10.0, xtol=1e-14)
    return best, heier_power_coefficient(best), brentq(heier_power_coefficient, 10.0, 20.0, xtol=1e-14)
