"""The rules worked through until they rest while the bank's volts are held, for thousands of cases, compiled.

Readings, scan, contacts, guard and inverter are those of the simulated days. Loaded only inside functions.
"""

from pathlib import Path
from typing import NamedTuple
from zlib import crc32

import numpy as np

from statorbook.charging.check_cases import PASSING_S
from statorbook.charging.compiled import compiled_in_turn
from statorbook.charging.day_arrays import (
    AMPS,
    BANK,
    CELL,
    INVERTING,
    ROOM,
    RPM,
    STOPPED,
    THERMOSTAT,
    TRIP,
    TRIPPED,
    VOLTS,
    WATER,
)
from statorbook.charging.day_bus import along, sockets, taken_at_bus
from statorbook.charging.day_controls import control, inside, kept, switch
from statorbook.charging.day_kernel import MARK, turn_to

SECONDS = int(PASSING_S.value)  # worked through one by one before the long steps
_QUIET = 4  # long steps in which nothing changed, after which the rules are taken to rest
_NO_START = 1  # a second in which no appliance starts


class Starts(NamedTuple):
    """What rules, contacts and guard may remember when a case begins, one state in each row."""

    modes: np.ndarray
    latches: np.ndarray  # (start, rule, timers and whether it holds)
    inputs: np.ndarray
    coils: np.ndarray
    on: np.ndarray


class Cases(NamedTuple):
    """What is held still while the rules come to rest, one case in each row."""

    held: np.ndarray  # (case, 5): bank volts, cells, water and room °C, setting of the source
    closed: np.ndarray  # whether the thermostat of the cylinder is
    tripped: np.ndarray  # whether the inverter is
    start: np.ndarray  # row of the starts


class AtRest(NamedTuple):
    """Amps into the bank in each case."""

    most: np.ndarray  # once all delays are over; where it never rests the most of its round
    least: np.ndarray
    late: np.ndarray  # just after the first seconds


@inside
def _copy(source, target):
    """One row of numbers into another, one by one: whole rows would have to be made anew."""
    for at in range(len(target)):
        target[at] = source[at]


@inside
def _begin(plan, faults, state, cases, starts, at):
    """Take over what is held and what is remembered."""
    now, start = state.now, cases.start[at]
    for column, place in enumerate((BANK, CELL, WATER, ROOM)):
        now[place] = cases.held[at, column]
    now[VOLTS], now[AMPS] = now[BANK], 0.0
    turn_to(plan, state, cases.held[at, 4])
    now[RPM] = along(now[BANK], plan.volts, state.rpm_row)
    _copy(starts.modes[start], state.mode)
    for rule in range(len(state.latches)):
        _copy(starts.latches[start, rule], state.latches[rule])
    _copy(starts.inputs[start], state.inputs)
    _copy(starts.coils[start], state.coils)
    _copy(starts.on[start], state.on)
    state.mode[THERMOSTAT], state.mode[TRIPPED] = cases.closed[at], -1
    faults.flags[TRIP] = cases.tripped[at]


@inside
def _step(plan, faults, state, record, elapsed_ms):
    """One scan and what follows of it, and the amps that then go into the bank."""
    now, mode = state.now, state.mode
    control(plan, faults, state, elapsed_ms)
    switch(plan, faults, state, record)
    sockets(plan, faults, state, record, np.int64(_NO_START))  # a literal would be compiled apart
    siemens, dc_watts = taken_at_bus(plan, state)
    volts = now[BANK]
    come = 0.0 if mode[STOPPED] else along(volts, plan.volts, state.amps_row)
    now[RPM] = 0.0 if mode[STOPPED] else along(volts, plan.volts, state.rpm_row)
    now[AMPS] = come - siemens * volts - dc_watts / volts
    if mode[INVERTING] and not plan.inverter[4] <= volts <= plan.inverter[6]:
        mode[TRIPPED] = 0
    return now[AMPS]


@inside
def _end(state, ends, at):
    """Write down what is remembered and on."""
    _copy(state.mode, ends.modes[at])
    for rule in range(len(state.latches)):
        _copy(state.latches[rule], ends.latches[at, rule])
    _copy(state.inputs, ends.inputs[at])
    _copy(state.coils, ends.coils[at])
    _copy(state.on, ends.on[at])


@inside
def _changed(state, held, coils):
    """Whether a rule or an output is not as it was; `held` and `coils` are brought up to date."""
    changed = False
    for rule in range(len(held)):
        changed |= held[rule] != state.latches[rule, -1]
        held[rule] = state.latches[rule, -1]
    for out in range(len(coils)):
        changed |= coils[out] != state.coils[out]
        coils[out] = state.coils[out]
    return changed


def _made(mark):
    """The function of many cases; its mark changes with every file that it is made from, and so does its cache."""

    @kept
    def rest(plan, faults, state, record, cases, starts, found, ends, held, coils, long_ms):
        if mark == 0:
            return
        steps = SECONDS + 3 * len(plan.rules.rows) + 12
        for at in range(len(cases.start)):
            _begin(plan, faults, state, cases, starts, at)
            quiet, found.most[at], found.least[at] = 0, -np.inf, np.inf
            for step in range(steps):
                amps = _step(plan, faults, state, record, 1000 if step < SECONDS else long_ms)
                quiet = quiet + 1 if not _changed(state, held, coils) and step >= SECONDS else 0
                if step == SECONDS - 1:
                    found.late[at] = amps
                if quiet >= _QUIET:
                    found.most[at], found.least[at] = amps, amps
                    break
                if step >= steps // 2:
                    found.most[at], found.least[at] = max(found.most[at], amps), min(found.least[at], amps)
            _end(state, ends, at)

    return rest


# numba itself looks only at the file that holds the outermost function.
_REST_MARK = 1 + crc32(Path(__file__).read_bytes() + MARK.to_bytes(8, "little"))
rest = compiled_in_turn(_made(_REST_MARK), _REST_MARK)
