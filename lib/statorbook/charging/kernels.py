"""All that is compiled here, made ready before somebody waits for it."""

import numpy as np

from statorbook.charging import day_arrays as arrays
from statorbook.charging.control import MEASURED, OUTPUT_NAMES, RuleSet
from statorbook.charging.day_result import FLOWS
from statorbook.charging.days import empty_record, faults_at
from statorbook.charging.scan import SIGNAL_NAMES, rule_table, start_state


def compile_kernels():
    """Compile what simulates days and what checks a plan, or take it from where numba kept it."""
    # Called for no second and no case, on arrays that hold nothing and have the types of a plan's.
    from statorbook.charging.day_kernel import advance
    from statorbook.charging.rest_kernel import AtRest, Cases, Starts, rest

    plan, state, record = _plan(), _state(), empty_record(1)
    advance(plan, faults_at((), 0), state, record, 0, 0)
    none = np.zeros(0, np.int64)
    cases = Cases(held=np.zeros((0, 5)), closed=none, tripped=none, start=none)
    starts = Starts(*(np.zeros((0, *each.shape), np.int64) for each in (state.mode, state.latches, *state[4:7])))
    found = AtRest(*np.zeros((len(AtRest._fields), 0)))
    rest(plan, faults_at((), 0), state, record, cases, starts, found, starts, none, none, 0)


def _plan():
    empty, table = np.zeros(0), np.zeros((2, 2))
    volts = np.zeros(2)
    for kept in (volts, table):
        kept.setflags(write=False)  # as those of a supply
    return arrays.DayPlan(
        bank=empty,
        capacity_ah=1.0,
        bank_air_c=0.0,
        limits=empty,
        rules=rule_table(RuleSet(rules=(), relays=())),
        per_unit=empty,
        missing=np.zeros(len(MEASURED), dtype=bool),
        closed_at_rest=np.zeros(len(OUTPUT_NAMES), dtype=bool),
        volts=volts,
        settings=volts,
        amps=table,
        rpm=table,
        by_hour=empty,
        stops_source=False,
        **dict.fromkeys(("siemens", "guard", "inverter", "house", "surge", "cylinder", "draws", "room"), empty),
    )


def _state():
    return arrays.DayState(
        now=np.zeros(12),
        mode=np.zeros(8, np.int64),
        watts=np.zeros(len(FLOWS)),
        latches=start_state(rule_table(RuleSet(rules=(), relays=()))),
        inputs=np.zeros(len(SIGNAL_NAMES), np.int64),
        coils=np.zeros(len(OUTPUT_NAMES), np.int64),
        on=np.zeros(len(OUTPUT_NAMES), np.int64),
        amps_row=np.zeros(2),
        rpm_row=np.zeros(2),
    )
