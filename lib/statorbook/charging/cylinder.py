"""Hot water and the room: how long surplus takes to heat them, and what they lose."""

from math import inf, log

from statorbook.quantities import Fact

WATER_WH_PER_L_K = Fact(
    value=4.182 / 3.6,
    unit="Wh/(L K)",
    source="water at 3 bar, 15 to 60 °C, CoolProp 8.0.0; a litre taken as a kilogram",
    low=1.155,
    high=1.17,
)
ROUND_IT_C = Fact(
    value=20.0, unit="°C", source="air round a cylinder in a house, common practice, no source", low=10, high=25
)
_LOSS_K = 45.0  # water at 65 °C in a room of 20 °C, at which the losses of SAP are told (from memory)
_FULL_SIZE_L = 120.0


def standing_wh_a_day(litres, insulation_mm, *, jacket=False):
    """What a hot cylinder loses on a day by SAP 10.2, table 2 (read as quoted) [Wh]."""
    # V L VF, with VF = (120 / V)^(1/3); its factors for how a cylinder is used are left out: that is on the safe side.
    per_l = 0.005 + (1.76 / (insulation_mm + 12.8) if jacket else 0.55 / (insulation_mm + 4.0))
    return 1000.0 * litres * per_l * (_FULL_SIZE_L / litres) ** (1.0 / 3.0)


def loss_w_per_k(litres, insulation_mm, *, jacket=False):
    """What a cylinder loses for each kelvin that it is hotter than the air.

    Parameters
    ----------
    litres : float
        What it holds [L].
    insulation_mm : float
        Foam of the factory, or a loose jacket [mm].
    jacket : bool
        True for a jacket.

    Returns
    -------
    float
        Watts for each kelvin [W/K].

    Notes
    -----
    Equation: kWh a day = V L (120 / V)^(1/3), with L = 0.005 + 0.55 / (t + 4) for foam and 0.005 + 1.76 / (t + 12.8)
        for a jacket, t in mm; over 24 h and 45 K.
    Valid: upright cylinders with pipes as usual; factors for how it is used are left out, which is on the safe side.
    Source: SAP 10.2, table 2 (read as quoted); the 45 K from memory.
    """
    return standing_wh_a_day(litres, insulation_mm, jacket=jacket) / 24.0 / _LOSS_K


def heat_wh(litres, from_c, to_c):
    """Heat in water that is warmed: m c ΔT [Wh]."""
    return WATER_WH_PER_L_K.value * litres * (to_c - from_c)


def heat_hours(cylinder, watts=None, *, from_c=None, to_c=None, around_c=ROUND_IT_C.value):
    """Hours to the thermostat's, or another, temperature, nothing drawn; inf when it never gets there [h]."""
    # m c dθ/dt = P − K (θ − θ_air), in closed form; without losses t = m c Δθ / P.
    watts = cylinder.heater_watts if watts is None else watts
    from_c = cylinder.inlet_c if from_c is None else from_c
    to_c = cylinder.thermostat_c if to_c is None else to_c
    lost = cylinder.loss_w_per_k
    if to_c <= from_c:
        return 0.0
    begins, ends = (watts - lost * (water_c - around_c) for water_c in (from_c, to_c))
    if ends <= 0.0:
        return inf
    wh_per_k = WATER_WH_PER_L_K.value * cylinder.litres
    small = lost * (to_c - from_c) / begins  # of it the closed form loses its figures when next to nothing is lost
    return (
        wh_per_k * (to_c - from_c) / begins * (1.0 + 0.5 * small)
        if small < 1e-6
        else (wh_per_k / lost * log(begins / ends))
    )


def litres_a_day(cylinder, watts, *, around_c=ROUND_IT_C.value):
    """Hot water that some watts make on a day, after what the cylinder loses [L]."""
    left = 24.0 * (watts - cylinder.loss_w_per_k * (cylinder.thermostat_c - around_c))
    return max(0.0, left) / heat_wh(1.0, cylinder.inlet_c, cylinder.thermostat_c)


def room_rise_k(room, watts):
    """How much warmer some watts keep a room than the air outside [K]."""
    return watts / room.loss_w_per_k
