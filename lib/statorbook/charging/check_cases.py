"""The cases in which a plan is checked: bank full, empty, too cold or too hot, and all that may be so beside it."""

from dataclasses import dataclass
from itertools import pairwise, product
from math import nan

import numpy as np

from statorbook.charging.house import house_day
from statorbook.charging.set_points import volts_at
from statorbook.charging.supply import supply_of
from statorbook.quantities import Fact

FULL, EMPTY, FORBIDDEN = "full", "empty", "too cold or too hot"
SPELL_K = Fact(
    value=15.0,
    unit="K",
    source="a cold spell below the usual air of the bank, common practice, no source",
    low=10,
    high=25,
)
SHED_C = Fact(
    value=-5.0, unit="°C", source="air of a shed without heating, common practice, no source", low=-20, high=5
)
PASSING_S = Fact(
    value=6,
    unit="s",
    source="what bank and its electronics stand past a limit, common practice, no source",
    low=1,
    high=60,
)
_HAIR = 1e-3  # past a limit, as a share of its volts
_WINDOW_STEPS = 5  # of the bank's volts while it may not be charged
_TRIPPED = (False, True)


@dataclass(frozen=True, kw_only=True)
class HeldCase:
    """What is so in a case, beside the fault."""

    volts: float  # of the bank
    cell_c: float
    water_c: float  # not a number without a cylinder
    thermostat_closed: bool
    room_c: float
    setting: float  # of the source
    tripped: bool  # the inverter


def coldest_c(plan):
    """The coldest that the cells are checked at [°C]."""
    return min(plan.bank.temperature_c - SPELL_K.value, SHED_C.value)


def cells_c(plan):
    """Temperatures of the cells that are checked: the coldest, the usual one, and just outside what may be charged."""
    points, coldest, usual = plan.points, coldest_c(plan), float(plan.bank.temperature_c)
    edges = (points.least_charging_c - 0.1, points.most_charging_c + 0.1)
    return tuple(sorted({coldest, usual, *(edge for edge in edges if coldest <= edge <= usual)}))


def most_volts(plan, cell_c):
    """The limit of the bank at a cell temperature [V]."""
    return volts_at(plan.points.most_volts, plan.points, cell_c)


def house_watts(plan):
    """The most that all appliances take together [W]."""
    return house_day(plan.house).most_watts


def cases_of(plan, side, thermostat_k, *, ends_only=False):
    """All that may be so while the bank is on one side of its limits, a list of `HeldCase`; or only its ends."""
    waters, rooms = _waters(plan, thermostat_k), _rooms(plan)
    if ends_only or side == FORBIDDEN:  # all that draws only keeps the bank from being charged
        waters, rooms = waters[:: max(len(waters) - 1, 1)], rooms[:: max(len(rooms) - 1, 1)]
    return [
        HeldCase(
            volts=volts,
            cell_c=cell_c,
            water_c=water_c,
            thermostat_closed=closed,
            room_c=room_c,
            setting=setting,
            tripped=tripped,
        )
        for volts, cell_c, setting in _sides(plan, side)
        for (water_c, closed), room_c, tripped in product(waters, rooms, _TRIPPED if plan.inverter else (False,))
    ]


def _sides(plan, side):
    """Volts, cell temperature and setting of the source on one side."""
    points, temperatures = plan.points, cells_c(plan)
    if side == EMPTY:
        return [(points.least_volts * (1.0 - _HAIR), cell_c, 0.0) for cell_c in temperatures]
    if side == FULL:
        limits = [(most_volts(plan, cell_c) * (1.0 + _HAIR), cell_c) for cell_c in temperatures]
        return [(volts, cell_c, setting) for volts, cell_c in limits for setting in _settings(plan, volts)]
    outside = [c for c in temperatures if not points.least_charging_c <= c <= points.most_charging_c]
    return [
        (volts, cell_c, setting)
        for cell_c in outside
        for volts in _window_volts(plan, cell_c)
        for setting in _settings(plan, volts)
    ]


def _settings(plan, volts):
    """The setting that gives most at these volts, and half of it where a rule looks at what the source does."""
    supply = supply_of(plan)
    amps = [supply.amps_at(setting, volts) for setting in supply.settings]
    strongest = float(supply.settings[int(np.argmax(amps))])
    looked_at = {"bank_amps", "speed_rpm"} & set(plan.rules.inputs_used)
    return (strongest, 0.5 * strongest) if looked_at else (strongest,)


def _window_volts(plan, cell_c):
    """Volts between the limits: evenly spread, and on both sides of where the guard takes loads off."""
    low, high = plan.points.least_volts, most_volts(plan, cell_c)
    spread = set(np.linspace(low * (1.0 + _HAIR), high * (1.0 - _HAIR), _WINDOW_STEPS))
    spread |= {plan.guard.low_off_volts * (1.0 + off) for off in (-_HAIR, _HAIR)} if plan.guard else set()
    return sorted(float(volts) for volts in spread if low <= volts <= high)


def _between(plan, name, low, high):
    """One value of a reading in each stretch between the limits of the rules that look at it."""
    limits = {end for rule in plan.rules.rules if rule.input == name for end in (rule.on_at, rule.off_at)}
    ends = [low, *sorted(limit for limit in limits if limit is not None and low < limit < high), high]
    return [0.5 * (start + end) for start, end in pairwise(ends)]


def _waters(plan, thermostat_k):
    """Temperatures of the water, each with its thermostat closed or open, as it may be."""
    if plan.cylinder is None:
        return [(nan, False)]
    inlet_c, opens_c = plan.cylinder.inlet_c, plan.cylinder.thermostat_c
    closed = [(c, True) for c in _between(plan, "water_c", inlet_c, opens_c)]
    return closed + [(c, False) for c in _between(plan, "water_c", opens_c - thermostat_k, opens_c)]


def _rooms(plan):
    """Temperatures of the room."""
    if plan.room is None:
        return [15.0]
    low = plan.room.outside_c - plan.room.outside_swing_k - SPELL_K.value
    warm = plan.room.heater_watts / plan.room.loss_w_per_k if plan.room.loss_w_per_k else SPELL_K.value
    return _between(plan, "air_c", low, plan.room.outside_c + plan.room.outside_swing_k + warm)
