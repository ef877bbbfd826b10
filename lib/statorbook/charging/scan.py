"""One scan of the controller: from readings to outputs by the rules, in whole numbers, as its program does it.

`scan` holds nothing but whole numbers in arrays and calls nothing, so that the simulation compiles it as it stands; the
class `Controller` is the same scan by names.
"""

from typing import NamedTuple

import numpy as np

from statorbook.charging.control import (
    ABOVE,
    BELOW,
    INPUT_NAMES,
    MEASURED,
    MEASURED_NAMES,
    NOT,
    ON,
    OUTPUT_NAMES,
    TRUE,
    VALID,
)

SIGNAL_NAMES = (*INPUT_NAMES, *(name + VALID for name in MEASURED_NAMES))
SIGNAL_PLACES = {name: at for at, name in enumerate(SIGNAL_NAMES)}  # in the array that `scan` reads
_SIGNALS, _MEASURED, _VALID = len(SIGNAL_NAMES), len(MEASURED_NAMES), len(INPUT_NAMES)
_VOLTS, _VOLTS_25, _CELL = (MEASURED_NAMES.index(name) for name in ("bank_volts", "bank_volts_25", "cell_c"))
_AT_25 = MEASURED["cell_c"].code(25)
# Columns of a rule, and of its state: a timer has the place of its delay. It counts ms, and -1 says that it stands.
_ON_MS, _OFF_MS, _LEAST_MS, _INPUT, _SIGN, _ON_AT, _OFF_AT, _OUTPUT, _ACTION = range(9)
_HELD = 3


class RuleTable(NamedTuple):
    """Rules as whole numbers in arrays."""

    rows: np.ndarray  # (rule, column)
    guards: np.ndarray  # (rule, place, 0) whose word counts, -1 nobody's; (…, 1) what it has to say
    order: np.ndarray  # rules by rising priority
    ranges: np.ndarray  # (measured, least and most) that a sensor can give
    compensation: int  # mV/K


def rule_table(rules):
    """A `RuleSet` as the arrays that `scan` takes."""
    places = SIGNAL_PLACES | {rule.name: _SIGNALS + at for at, rule in enumerate(rules.rules)}
    guards = np.full((len(rules.rules), max((len(rule.only_if) for rule in rules.rules), default=0), 2), -1)
    for rule, row in zip(rules.rules, guards, strict=True):
        for at, name in enumerate(rule.only_if):
            row[at] = places[name.removeprefix(NOT)], not name.startswith(NOT)
    return RuleTable(
        rows=np.array([_row(rule) for rule in rules.rules], dtype=np.int64).reshape(-1, 9),
        guards=guards.astype(np.int64),
        order=np.argsort([rule.priority for rule in rules.rules], kind="stable").astype(np.int64),
        ranges=np.array([rules.range_codes(name) for name in MEASURED_NAMES], dtype=np.int64),
        compensation=rules.compensation_code,
    )


def _row(rule):
    """A rule as numbers: with the sign, each rule takes hold at or above its limit."""
    sign = 1 if rule.side in (ABOVE, TRUE) else -1
    if rule.side in (ABOVE, BELOW):
        limits = [sign * MEASURED[rule.input].code(value) for value in (rule.on_at, rule.off_at)]
    else:
        limits = [1, 0] if rule.side == TRUE else [0, -1]
    delays = [round(1000 * delay) for delay in (rule.on_delay_s, rule.off_delay_s, rule.least_on_s)]
    return [*delays, SIGNAL_PLACES[rule.input], sign, *limits, OUTPUT_NAMES.index(rule.output), rule.action == ON]


def start_state(table):
    """The state of all rules before the first scan: (rule, three timers and whether it holds)."""
    state = np.full((len(table.rows), 4), -1, dtype=np.int64)
    state[:, _HELD] = 0
    return state


def scan(table, state, inputs, elapsed_ms, outputs):
    """Work once through all rules: fills in what is worked out of `inputs`, carries `state` on, writes `outputs`."""
    # Inputs stand in the order of SIGNAL_NAMES, whole code units and 0 or 1; outputs in the order of OUTPUT_NAMES.
    # Filled in are the volts as at 25 °C and what is valid.
    rows, guards, ranges = table.rows, table.guards, table.ranges
    for at in range(_MEASURED):
        inputs[_VALID + at] = ranges[at, 0] <= inputs[at] <= ranges[at, 1]
    inputs[_VALID + _VOLTS_25] = inputs[_VALID + _VOLTS]
    warmer = inputs[_CELL] - _AT_25 if inputs[_VALID + _CELL] else 0
    shift = table.compensation * warmer
    inputs[_VOLTS_25] = inputs[_VOLTS] - (shift // 10 if shift >= 0 else -(-shift // 10))  # cut toward zero, as DINT
    for r in range(len(rows)):
        row, now = rows[r], state[r]
        value = inputs[row[_INPUT]] * row[_SIGN]
        for timer in range(3):
            if timer == _ON_MS:
                counts = value >= row[_ON_AT]
            elif timer == _OFF_MS:
                counts = value <= row[_OFF_AT]
            else:
                counts = now[_HELD] == 1
            now[timer] = -1 if not counts else 0 if now[timer] < 0 else now[timer] + elapsed_ms
        lets_go = now[_OFF_MS] >= row[_OFF_MS] and now[_LEAST_MS] >= row[_LEAST_MS]
        holds = now[_ON_MS] >= row[_ON_MS] or (now[_HELD] == 1 and not lets_go)
        for at in range(guards.shape[1]):
            source, wanted = guards[r, at, 0], guards[r, at, 1]
            if source >= 0:
                says = inputs[source] if source < _SIGNALS else state[source - _SIGNALS, _HELD]
                holds = holds and says == wanted
        now[_HELD] = holds
    outputs[:] = 0
    for r in table.order:
        if state[r, _HELD] == 1:
            outputs[rows[r, _OUTPUT]] = rows[r, _ACTION]


class Controller:
    """A controller with its rules, from the moment it is switched on."""

    def __init__(self, rules):
        self._rules, self._table = rules, rule_table(rules)
        self._state = start_state(self._table)
        self._inputs = np.zeros(_SIGNALS, dtype=np.int64)
        self._outputs = np.zeros(len(OUTPUT_NAMES), dtype=np.int64)

    def scan(self, inputs, elapsed_ms):
        """What is on, by name of `OUTPUTS`, after one more scan with these inputs by name."""
        # Whole code units for `MEASURED`, but for the volts as at 25 °C, and yes or no for `YES_NO`. A name that is
        # left out keeps what it was last: 0 and no at the start.
        for name, value in inputs.items():
            self._inputs[SIGNAL_PLACES[name]] = value
        scan(self._table, self._state, self._inputs, elapsed_ms, self._outputs)
        return self.outputs

    @property
    def outputs(self):
        """What is on, by name of `OUTPUTS`; all off before the first scan."""
        return dict(zip(OUTPUT_NAMES, map(bool, self._outputs), strict=True))

    @property
    def held(self):
        """Which rules hold, by name."""
        return {rule.name: bool(now[_HELD]) for rule, now in zip(self._rules.rules, self._state, strict=True)}

    @property
    def signals(self):
        """What the rules read in the last scan, by name: the volts as at 25 °C and what is valid among it."""
        return dict(zip(SIGNAL_NAMES, map(int, self._inputs), strict=True))
