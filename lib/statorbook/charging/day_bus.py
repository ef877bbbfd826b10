"""Inverter, bus and bank in one second of simulated days, compiled."""

import numpy as np
from numba import njit

from statorbook.bank import amps_at_once, next_slow_volts, rest_volts_of, slow_wh, stored_at_once
from statorbook.charging.day_arrays import (
    AIR,
    AIR_HEATER,
    AMPS,
    BANK,
    CAUSE,
    CELL,
    CHARGE,
    DUMPS,
    ENABLE,
    EVENT_TRIP,
    FUSE,
    HIGH_TRIP,
    HOT,
    HOUSE,
    INVERTER,
    INVERTING,
    LOST,
    LOW_TRIP,
    OUTPUT_COUNT,
    RPM,
    SLOPE,
    SLOW,
    SOURCE,
    SPILLED,
    STOPPED,
    STORED,
    THERMOSTAT,
    TRIP,
    TRIPPED,
    UNSERVED,
    VOLTS,
    WATER_HEATER,
    WATTS_TRIP,
)
from statorbook.charging.day_controls import INSIDE, inside

_bank_amps, _stored_amps, _rest_volts = map(njit(**INSIDE), (amps_at_once, stored_at_once, rest_volts_of))
_next_slow_volts, _slow_wh = map(njit(**INSIDE), (next_slow_volts, slow_wh))
_BACK_S = 30  # until an inverter that tripped tries again, common practice, no source
_AMPS_OFF = 1e-8  # of the sum at the bus


@inside
def along(volts, grid, row):
    """A row of the supply's table at bus volts, held at its ends."""
    if volts <= grid[0]:
        return row[0]
    at = np.searchsorted(grid, volts)
    if at >= len(grid):
        return row[-1]
    share = (volts - grid[at - 1]) / (grid[at] - grid[at - 1])
    return (1.0 - share) * row[at - 1] + share * row[at]


@inside
def _trip(state, record, cause):
    """The inverter takes itself off."""
    state.mode[TRIPPED], state.mode[CAUSE] = 0, cause
    record.trips[cause] += 1


@inside
def _come_back(plan, faults, state, record):
    """Let an inverter that tripped try again, and trip it by an event or with the fuse."""
    mode, volts = state.mode, state.now[VOLTS]
    if faults.flags[TRIP] or faults.flags[FUSE]:
        if mode[TRIPPED] < 0:
            _trip(state, record, EVENT_TRIP)
        mode[TRIPPED] = 0
    elif mode[TRIPPED] >= 0:
        mode[TRIPPED] += 1
        least = plan.inverter[5] if mode[CAUSE] == LOW_TRIP else plan.inverter[4]
        if mode[TRIPPED] > _BACK_S and least < volts < plan.inverter[6]:
            mode[TRIPPED] = -1


@inside
def sockets(plan, faults, state, record, second):
    """AC watts of house, water heater and air heater, and whether the inverter carries them."""
    watts, minute = state.watts, (second // 60) % 1440
    watts[HOUSE] = plan.house[minute]
    watts[HOT] = plan.cylinder[0] if len(plan.cylinder) and state.on[WATER_HEATER] and state.mode[THERMOSTAT] else 0.0
    watts[AIR] = plan.room[0] if state.on[AIR_HEATER] else 0.0
    runs = False
    if len(plan.inverter):
        _come_back(plan, faults, state, record)
        runs = state.on[ENABLE] and state.mode[TRIPPED] < 0
        wanted = watts[HOUSE] + watts[HOT] + watts[AIR]
        starting = wanted + (plan.surge[minute] if second % 60 == 0 else 0.0)
        if runs and (wanted > plan.inverter[0] or starting > plan.inverter[1]):
            _trip(state, record, WATTS_TRIP)
            runs = False
    watts[UNSERVED] = 0.0 if runs else watts[HOUSE]
    if not runs:
        watts[HOUSE], watts[HOT], watts[AIR] = 0.0, 0.0, 0.0
    state.mode[INVERTING] = runs


@inside
def _sum_at_bus(plan, state, volts, siemens, dc_watts):
    """Amps into the bus less amps out of it, bank included [A]."""
    come = 0.0 if state.mode[STOPPED] else along(volts, plan.volts, state.amps_row)
    # Below its trip an inverter is on for this one second yet: its amps stay, so that the sum keeps falling with volts.
    taken = dc_watts / max(volts, plan.inverter[4]) if dc_watts > 0.0 else 0.0
    return (
        come
        - siemens * volts
        - taken
        - _bank_amps(volts, state.now[SLOW], state.now[CHARGE], state.now[CELL], plan.bank)
    )


@inside
def _bus_volts(plan, state, siemens, dc_watts):
    """Volts at which all amps at the bus cancel out: secant from the second before, kept within what is known [V]."""
    now, low, high = state.now, 0.0, 2.0 * max(plan.limits[0], plan.volts[-1])
    volts, slope = now[BANK], now[SLOPE]
    off, reach = _sum_at_bus(plan, state, volts, siemens, dc_watts), 0.02 * volts
    for tries in range(200):
        if abs(off) < _AMPS_OFF or high - low < 1e-12:
            break
        low, high = (volts, high) if off > 0.0 else (low, volts)
        # Far steps only by and by: at twice its volts a bank would take amps beyond all bounds.
        new, reach = volts + min(max(off / slope, -reach), reach), 1.5 * reach
        if tries > 60 or not low < new < high:
            new = 0.5 * (low + high)
        new_off = _sum_at_bus(plan, state, new, siemens, dc_watts)
        rise = (off - new_off) / (new - volts)
        slope = rise if rise > 0.0 else slope
        volts, off = new, new_off
    now[SLOPE] = slope
    return volts


@inside
def _bus_volts_alone(plan, state, siemens):
    """The same with the bank's fuse open: source and dump loads alone, 0 without a source [V]."""
    if state.mode[STOPPED]:
        return 0.0
    low, high = 0.0, plan.volts[-1]
    while high - low > 1e-11 * plan.volts[-1]:
        volts = 0.5 * (low + high)
        if along(volts, plan.volts, state.amps_row) > siemens * volts:
            low = volts
        else:
            high = volts
    return high if low > 0.0 else 0.0


@inside
def taken_at_bus(plan, state):
    """Siemens of the dump loads that are on, and watts that the inverter takes."""
    watts, siemens, dc_watts = state.watts, 0.0, 0.0
    for at in range(OUTPUT_COUNT):
        siemens += plan.siemens[at] if state.on[at] else 0.0
    if state.mode[INVERTING]:
        ac_watts = watts[HOUSE] + watts[HOT] + watts[AIR]
        dc_watts = plan.inverter[3] + ac_watts / plan.inverter[2]
        watts[INVERTER] = dc_watts - ac_watts
    else:
        watts[INVERTER] = 0.0
    return siemens, dc_watts


@inside
def flow(plan, faults, state):
    """Amps and watts at the bus for this second, and what the bank makes of its part."""
    now, watts, on = state.now, state.watts, state.on
    siemens, dc_watts = taken_at_bus(plan, state)
    if faults.flags[FUSE]:
        volts, amps = _bus_volts_alone(plan, state, siemens), 0.0
    else:
        volts = _bus_volts(plan, state, siemens, dc_watts)
        amps = _bank_amps(volts, now[SLOW], now[CHARGE], now[CELL], plan.bank)
    if dc_watts > 0.0 and volts < plan.inverter[4]:
        _weaken(state, volts / plan.inverter[4])
    could, stopped = volts * along(volts, plan.volts, state.amps_row), state.mode[STOPPED]
    watts[SOURCE], watts[SPILLED] = 0.0 if stopped else could, max(could, 0.0) if stopped else 0.0
    now[RPM] = 0.0 if stopped else along(volts, plan.volts, state.rpm_row)
    for at in range(3):
        watts[DUMPS + at] = plan.siemens[at] * volts * volts if on[at] else 0.0
    now[VOLTS], now[AMPS] = volts, amps
    _charge(plan, faults, state)


@inside
def _weaken(state, share):
    """What an inverter below its trip still carries of everything in its last second."""
    watts = state.watts
    watts[UNSERVED] += (1.0 - share) * watts[HOUSE]
    for at in (HOUSE, HOT, AIR, INVERTER):
        watts[at] *= share


@inside
def _charge(plan, faults, state):
    """Move the bank's charge, and find what of its watts is stored at its rest volts and what is lost."""
    now, watts = state.now, state.watts
    before, slow = now[CHARGE], now[SLOW]
    # Behind an open fuse no amps flow, and what the last minutes left in the cells fades.
    now[BANK] = _rest_volts(before, plan.bank) + now[SLOW] if faults.flags[FUSE] else now[VOLTS]
    stored = 0.0 if faults.flags[FUSE] else _stored_amps(now[VOLTS], now[SLOW], before, plan.bank)
    now[SLOW] = _next_slow_volts(now[BANK], slow, before, now[CELL], plan.bank)
    now[CHARGE] += stored / (3600.0 * plan.capacity_ah)
    watts[STORED] = stored * _rest_volts(0.5 * (before + now[CHARGE]), plan.bank)
    watts[STORED] += 3600.0 * (_slow_wh(now[SLOW], plan.bank) - _slow_wh(slow, plan.bank))
    watts[LOST] = now[VOLTS] * now[AMPS] - watts[STORED]


@inside
def end_of_second(plan, state, record):
    """Trip an inverter that its volts leave no choice."""
    volts = state.now[VOLTS]
    if state.mode[INVERTING] and not plan.inverter[4] <= volts <= plan.inverter[6]:
        _trip(state, record, LOW_TRIP if volts < plan.inverter[4] else HIGH_TRIP)
