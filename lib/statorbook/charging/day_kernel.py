"""Seconds of a charging plan, compiled: readings, rules, contacts, bus, bank, water and room, one after the other.

A day has 86,400 of them and each depends on the one before, so nothing of it can be done in arrays: plain Python needs
half a minute for a day, compiled it takes a hundredth of a second. Loaded only inside functions: numba is slow to load.
"""

from inspect import getfile
from math import cos, pi
from pathlib import Path
from zlib import crc32

import numpy as np

from statorbook.bank import bank_amps
from statorbook.charging.compiled import compiled_in_turn
from statorbook.charging.cylinder import WATER_WH_PER_L_K
from statorbook.charging.day_arrays import (
    ABOVE,
    AIR,
    AMPS,
    BANK,
    BELOW,
    BUS_MOST,
    CELL,
    CHARGE,
    COOLED,
    DRAWN,
    FLOW_COUNT,
    FORBIDDEN,
    FORBIDDEN_AMPS,
    HOT,
    HOT_LITRES,
    LEAST,
    LEAST_S,
    LITRES,
    MOST,
    MOST_S,
    NO_SOURCE,
    OUTPUT_COUNT,
    OUTSIDE,
    ROOM,
    SETTING,
    THERMOSTAT,
    TRICKLE,
    VOLTS,
    WATER,
)
from statorbook.charging.day_bus import end_of_second, flow, sockets
from statorbook.charging.day_controls import SCAN_MS, control, inside, kept, switch
from statorbook.charging.day_result import HOT_C, STATES

_STATES = len(STATES)
_WARMEST_H = 15.0  # of the day, common practice
_CELL_STEP = 1.0 / 7200.0  # cells follow their air within about two hours, a light bank's: assumed on the cold side
THERMOSTAT_K = 5.0  # below its setting a cylinder's thermostat closes again, common practice, no source
_WATER_J = 3600.0 * WATER_WH_PER_L_K.value


@inside
def turn_to(plan, state, setting):
    """Take the rows of a setting out of the supply's table."""
    state.now[SETTING] = setting
    at = min(max(np.searchsorted(plan.settings, setting) - 1, 0), len(plan.settings) - 2)
    share = (setting - plan.settings[at]) / (plan.settings[at + 1] - plan.settings[at])
    share = min(max(share, 0.0), 1.0)
    for column in range(len(plan.volts)):
        state.amps_row[column] = (1.0 - share) * plan.amps[at, column] + share * plan.amps[at + 1, column]
        state.rpm_row[column] = (1.0 - share) * plan.rpm[at, column] + share * plan.rpm[at + 1, column]


@inside
def _weather(plan, faults, state, second, begins):
    """What the world round it does: the hour's setting, and the air."""
    now = state.now
    if begins or second % 3600 == 0:
        hour = (second // 3600) % len(plan.by_hour)
        turn_to(plan, state, 0.0 if faults.flags[NO_SOURCE] else plan.by_hour[hour])
    if begins or second % 60 == 0:
        swing = plan.room[2] * cos(2.0 * pi * (second / 3600.0 - _WARMEST_H) / 24.0)
        now[OUTSIDE] = plan.room[1] + swing - faults.colder_k
    now[CELL] += (plan.bank_air_c - faults.colder_k - now[CELL]) * _CELL_STEP


@inside
def _warm(plan, state, record, second):
    """Heat cylinder and room for a second; what is drawn from the cylinder is made up at its inlet's temperature."""
    now, watts, tallies = state.now, state.watts, record.tallies
    now[ROOM] += (now[OUTSIDE] - now[ROOM]) * plan.room[3] + watts[AIR] * plan.room[4]
    if len(plan.cylinder) == 0:
        return
    inlet_c, closes_c = plan.cylinder[1], plan.cylinder[2] - THERMOSTAT_K
    litres = plan.draws[(second // 3600) % 24]
    watts[DRAWN] = litres * _WATER_J * (now[WATER] - inlet_c)
    watts[COOLED] = plan.cylinder[3] * (now[WATER] - now[ROOM])
    tallies[LITRES] += litres
    if now[WATER] >= HOT_C:
        tallies[HOT_LITRES] += litres
    now[WATER] += (watts[HOT] - watts[DRAWN] - watts[COOLED]) / (3600.0 * plan.cylinder[4])
    state.mode[THERMOSTAT] = now[WATER] < (plan.cylinder[2] if state.mode[THERMOSTAT] else closes_c)


@inside
def _outside(tallies, at, second):
    """A second outside a limit, the first of them, and the most without a break."""
    if tallies[at] == 0.0:
        tallies[at + 1] = second
    tallies[at] += 1.0
    tallies[at + 3] = tallies[at + 3] + 1.0 if tallies[at + 2] == second - 1 else 1.0
    tallies[at + 2], tallies[at + 4] = second, max(tallies[at + 4], tallies[at + 3])


@inside
def _judge(plan, state, record, second):
    """Hold the bank against its limits."""
    now, tallies = state.now, record.tallies
    most, least, per_k, least_c, most_c = plan.limits
    most += per_k * (now[CELL] - 25.0)
    volts, amps, cell_c = now[BANK], now[AMPS], now[CELL]
    if volts > tallies[MOST]:
        tallies[MOST], tallies[MOST_S] = volts, second
    if volts < tallies[LEAST]:
        tallies[LEAST], tallies[LEAST_S] = volts, second
    tallies[BUS_MOST] = max(tallies[BUS_MOST], now[VOLTS])
    if volts > most:
        _outside(tallies, ABOVE, second)
    if volts < least:
        _outside(tallies, BELOW, second)
    if amps > TRICKLE * plan.capacity_ah and not least_c <= cell_c <= most_c:
        _outside(tallies, FORBIDDEN, second)
        tallies[FORBIDDEN_AMPS] = max(tallies[FORBIDDEN_AMPS], amps)


@inside
def _keep(state, record, second):
    """Add a second to its minute."""
    now, minute, ends = state.now, record.minutes[second // 60], record.ends[second // 60]
    for at, place in enumerate((BANK, VOLTS, AMPS, CHARGE, CELL, WATER, ROOM, SETTING)):
        minute[at] += now[place]
    for at in range(FLOW_COUNT):
        minute[_STATES + at] += state.watts[at]
    for at in range(OUTPUT_COUNT):
        minute[_STATES + FLOW_COUNT + at] += state.on[at]
    ends[0], ends[1] = min(ends[0], now[BANK]), max(ends[1], now[BANK])


def _made(mark):
    """The function of many seconds; its mark changes with every file that it is made from, and so does its cache."""

    @kept
    def advance(plan, faults, state, record, from_s, to_s):
        if mark == 0:
            return
        for second in range(from_s, to_s):
            _weather(plan, faults, state, second, second == from_s)
            control(plan, faults, state, np.int64(SCAN_MS))  # a literal would be compiled apart
            switch(plan, faults, state, record)
            sockets(plan, faults, state, record, second)
            flow(plan, faults, state)
            end_of_second(plan, state, record)
            _warm(plan, state, record, second)
            _judge(plan, state, record, second)
            _keep(state, record, second)

    return advance


# numba itself looks only at the file that holds the outermost function.
_MADE_FROM = ("control", "cylinder", "scan", "day_result", "day_arrays", "day_controls", "day_bus", "day_kernel")
_FILES = (getfile(bank_amps), *(Path(__file__).with_name(f"{name}.py") for name in _MADE_FROM))
MARK = 1 + crc32(b"".join(Path(name).read_bytes() for name in _FILES))
advance = compiled_in_turn(_made(MARK), MARK)
