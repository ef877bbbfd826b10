"""Readings, rules, contacts and guard in one second of simulated days, compiled."""

from math import floor

from numba import njit

from statorbook.charging.day_arrays import (
    ABSENT,
    ALIVE,
    BANK,
    DEAD,
    FROZEN,
    GUARD_DEAD,
    GUARD_HIGH,
    GUARD_LOW,
    HEALTHY,
    HIGH,
    IS_LOAD,
    LOW,
    MEASURED,
    NO_POWER,
    OUTPUT_COUNT,
    POWER,
    READ_FROM,
    STOP,
    STOPPED,
    TRIPPED,
    VOLTS,
    WELDED,
)
from statorbook.charging.scan import scan

# Amps over 0 are none, not an error; and arrays stay Python's own: to count who holds them would take ten times as long
# as all the rest, so nothing compiled here may make an array.
FAST = {"error_model": "numpy", "_nrt": False}
# What only compiled functions call is put into them once compiled: numba's own way writes it out anew at each place and
# takes half as long again. Nothing calls it from Python, so it needs no door to it.
INSIDE = {"forceinline": True, "no_cpython_wrapper": True, "no_cfunc_wrapper": True, **FAST}
inside = njit(**INSIDE)
_scan = njit(**INSIDE)(scan)
SCAN_MS = 1000


def kept(function):
    """The function compiled, and kept for the next process where some folder for that can be written."""
    try:
        return njit(cache=True, **FAST)(function)
    except RuntimeError:  # numba found none
        return njit(**FAST)(function)


@inside
def _read(plan, faults, state):
    """What the controller reads, with what is wrong with its inputs."""
    inputs, ranges = state.inputs, plan.rules.ranges
    for at in range(MEASURED):
        least, most, fault = ranges[at, 0], ranges[at, 1], faults.inputs[at]
        if fault == HIGH:
            inputs[at] = most
        elif fault == LOW:
            inputs[at] = least
        elif fault == ABSENT or plan.missing[at]:
            inputs[at] = least - 1
        elif fault != FROZEN and READ_FROM[at] >= 0:
            true = floor(state.now[READ_FROM[at]] * plan.per_unit[at] + 0.5)
            inputs[at] = int(min(max(true, float(least)), float(most)))
    for at, says in ((HEALTHY, len(plan.inverter) > 0 and state.mode[TRIPPED] < 0), (POWER, True)):
        fault = faults.inputs[at]
        if fault == 0:
            inputs[at] = says
        elif fault != FROZEN:
            inputs[at] = fault == HIGH


@inside
def control(plan, faults, state, elapsed_ms=SCAN_MS):
    """One scan of the controller; one without power has dead coils, and starts anew afterwards."""
    alive = not faults.flags[NO_POWER] and state.now[VOLTS] >= 0.5 * plan.limits[1]
    if alive:
        if not state.mode[ALIVE]:
            state.latches[:] = -1
            state.latches[:, -1] = 0
        _read(plan, faults, state)
        _scan(plan.rules, state.latches, state.inputs, elapsed_ms, state.coils)
    state.mode[ALIVE] = alive


@inside
def _watch(plan, faults, state):
    """The volts relay that guards the bank, a second after the bank's volts."""
    mode, volts = state.mode, state.now[BANK]
    if len(plan.guard) == 0 or faults.flags[GUARD_DEAD]:
        mode[GUARD_HIGH], mode[GUARD_LOW] = 0, 0
        return
    high_on, high_off, low_off, low_on = plan.guard
    mode[GUARD_HIGH] = volts >= high_on or (mode[GUARD_HIGH] and volts > high_off)
    mode[GUARD_LOW] = volts <= low_off or (mode[GUARD_LOW] and volts < low_on)


@inside
def switch(plan, faults, state, record):
    """What is on: the controller's coils, its contacts and their faults, and the guard above all."""
    _watch(plan, faults, state)
    for at in range(OUTPUT_COUNT):
        on = state.coils[at] != 0 if state.mode[ALIVE] else plan.closed_at_rest[at]
        if state.mode[GUARD_HIGH] and (plan.siemens[at] > 0.0 or at == STOP):
            on = True
        if faults.outputs[at] == WELDED:
            on = True
        if faults.outputs[at] == DEAD or (state.mode[GUARD_LOW] and IS_LOAD[at]):
            on = False
        record.operations[at] += on and not state.on[at]
        state.on[at] = on
    state.mode[STOPPED] = plan.stops_source and state.on[STOP]


def read_once(plan, faults, state):
    """Fill in what the controller reads before the first second, uncompiled."""
    _read.py_func(plan, faults, state)
