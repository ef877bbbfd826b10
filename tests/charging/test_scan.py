"""One scan of the controller: timers, latches, guards and priorities by hand and by the record of all scans."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.charging.control import (
    ABOVE,
    BELOW,
    FALSE,
    MEASURED,
    MEASURED_NAMES,
    OFF,
    OUTPUT_NAMES,
    TRUE,
    YES_NO,
    Rule,
    RuleSet,
)
from statorbook.charging.scan import SIGNAL_NAMES, SIGNAL_PLACES, Controller, rule_table, scan, start_state


def rule(name="full", **changes):
    """A dump load at 28.8 V until 27.6 V."""
    kept = {"output": "dump_1", "input": "bank_volts", "side": ABOVE, "on_at": 28.8, "off_at": 27.6}
    return Rule(name=name, **(kept | changes))


def controller(*rules, **changes):
    """A controller with these rules."""
    return Controller(RuleSet(rules=rules, relays=(), **changes))


def ons(made, name, key, values, *, elapsed_ms=100):
    """Whether an output is on in each scan."""
    return [made.scan({key: value}, elapsed_ms)[name] for value in values]


def test_all_outputs_are_off_before_the_first_scan():
    made = controller(rule(input="inverter_healthy", side=FALSE, on_at=None, off_at=None))
    assert set(made.outputs) == set(OUTPUT_NAMES)
    assert not any(made.outputs.values())
    assert made.scan({}, 100)["dump_1"]


def test_the_limits_count_and_between_them_it_stays_as_it_was():
    volts = [28799, 28800, 27601, 27600, 28799, 28800]
    assert ons(controller(rule()), "dump_1", "bank_volts", volts) == [False, True, True, False, False, True]
    low = rule(side=BELOW, on_at=22.0, off_at=23.0)
    assert ons(controller(low), "dump_1", "bank_volts", [22001, 22000, 22999, 23000]) == [False, True, True, False]


@pytest.mark.parametrize(("side", "expected"), [(TRUE, [True, False, True]), (FALSE, [False, True, False])])
def test_a_yes_or_no_lets_go_when_it_says_the_other(side, expected):
    made = controller(rule(input="control_power", side=side, on_at=None, off_at=None))
    assert ons(made, "dump_1", "control_power", [True, False, True]) == expected


# Time counts from the first call with its input true; an input that is false clears it in the same call.
@pytest.mark.outside(
    "on-delay of 100 ms in calls of 20 ms",
    source="IEC 61131-3, TON, as timing diagram and library of matiec (lib/timer.txt) have it",
    number="off after 80 ms, on after 100 ms",
    tolerance="none",
    seen="in a reproduction",
)
def test_a_delay_is_over_at_the_scan_that_reaches_it_and_starts_anew_after_a_gap():
    made = controller(rule(on_delay_s=0.25))
    volts = [28800, 28800, 28799, 28800, 28800, 28800, 28800]
    assert ons(made, "dump_1", "bank_volts", volts) == [False] * 6 + [True]
    fine = controller(rule(on_delay_s=0.1))
    assert ons(fine, "dump_1", "bank_volts", [28800] * 6, elapsed_ms=20) == [False] * 5 + [True]
    slow = controller(rule(off_delay_s=0.2))
    volts = [28800, 27600, 27600, 27601, 27600, 27600, 27600]
    assert ons(slow, "dump_1", "bank_volts", volts) == [True] * 6 + [False]


def test_the_least_time_counts_from_the_scan_after_it_took_hold():
    made = controller(rule(least_on_s=0.3))
    # Held in scan 0; the timer's input is what was held before, so it starts in scan 1 and is over in scan 4.
    assert ons(made, "dump_1", "bank_volts", [28800] + [20000] * 4) == [True, True, True, True, False]


def test_what_only_if_names_acts_at_once_and_by_the_rules_above_as_of_this_scan():
    above = rule("hot", output="alarm_high", on_at=29.0, off_at=28.9)
    made = controller(above, rule(only_if=("not hot", "control_power"), least_on_s=60.0))
    assert ons(made, "dump_1", "bank_volts", [28800, 28800]) == [False, False]
    assert made.scan({"control_power": True}, 100)["dump_1"]
    assert made.scan({"bank_volts": 29000}, 100) == {name: name == "alarm_high" for name in OUTPUT_NAMES}
    assert made.held == {"hot": True, "full": False}


def test_the_highest_priority_that_holds_decides_and_none_means_off():
    keep_off = rule("cold", action=OFF, input="cell_c", side=BELOW, on_at=0.0, off_at=2.0, priority=5)
    for order in ((keep_off, rule()), (rule(), keep_off)):
        made = controller(*order)
        assert not made.scan({"bank_volts": 30000, "cell_c": 0}, 100)["dump_1"]
        assert made.scan({"cell_c": 20}, 100)["dump_1"]
        assert not made.scan({"bank_volts": 20000}, 100)["dump_1"]


# Six lead-acid cells at -5 mV/K each, a usual compensation (common practice, no source): 20 K colder, 0.6 V
# more needed.
def test_volts_as_at_25_are_lower_in_the_cold_and_plain_without_a_cell_temperature():
    made = controller(compensation_mv_per_k=-30.0, valid={"cell_c": (-20.0, 60.0), "bank_volts": (1.0, 20.0)})
    for cell, volts_25 in [(50, 13800), (250, 14400), (450, 15000), (600, 15450), (601, 14400), (-201, 14400)]:
        made.scan({"bank_volts": 14400, "cell_c": cell}, 100)
        assert made.signals["bank_volts_25"] == volts_25
        assert made.signals["bank_volts_25_valid"] == 1
    made.scan({"bank_volts": 999}, 100)
    assert made.signals["bank_volts_valid"] == made.signals["bank_volts_25_valid"] == 0


@pytest.mark.outside(
    "whole numbers divided, cut toward zero",
    source="IEC 61131-3, DIV of whole numbers",
    number="7 / 10 and −7 / 10 are 0",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize("cell", [251, 249])
def test_the_shift_is_cut_toward_zero(cell):
    made = controller(compensation_mv_per_k=-7.0)
    made.scan({"bank_volts": 14400, "cell_c": cell}, 100)
    assert made.signals["bank_volts_25"] == 14400


def record_says(rules, record):
    """What the docstring of `Rule` says, found anew in every scan by looking back over the record of all scans."""
    times, held, outputs = np.cumsum([ms for _, ms in record]), [], []

    def lasting(is_so, delay_s):
        start = next((at + 1 for at in range(len(is_so) - 1, -1, -1) if not is_so[at]), 0)
        return start < len(is_so) and times[len(is_so) - 1] - times[start] >= 1000 * delay_s

    for now in range(len(record)):
        holds = {}
        for each in rules:
            seen = [inputs[each.input] for inputs, _ in record[: now + 1]]
            limits = [None if at is None else MEASURED[each.input].code(at) for at in (each.on_at, each.off_at)]
            met, past = {
                ABOVE: lambda limits: ([v >= limits[0] for v in seen], [v <= limits[1] for v in seen]),
                BELOW: lambda limits: ([v <= limits[0] for v in seen], [v >= limits[1] for v in seen]),
                TRUE: lambda _: ([bool(v) for v in seen], [not v for v in seen]),
                FALSE: lambda _: ([not v for v in seen], [bool(v) for v in seen]),
            }[each.side](limits)
            earlier = [False] + [then[each.name] for then in held]
            lets_go = lasting(past, each.off_delay_s) and lasting(earlier, each.least_on_s)
            free = all(
                (record[now][0] | holds)[word.removeprefix("not ")] != word.startswith("not ") for word in each.only_if
            )
            holds[each.name] = free and (lasting(met, each.on_delay_s) or (earlier[-1] and not lets_go))
        held.append(holds)
        last = sorted((each for each in rules if holds[each.name]), key=lambda each: each.priority)
        outputs.append(dict.fromkeys(OUTPUT_NAMES, False) | {each.output: each.action == "on" for each in last})
    return outputs


@st.composite
def rule_sets(draw):
    """Rules with everything in them, over three inputs."""
    made, names = [], []
    for at in range(draw(st.integers(1, 5))):
        source = draw(st.sampled_from(("bank_volts", "control_power")))
        numbers = source in MEASURED
        side = draw(st.sampled_from((ABOVE, BELOW) if numbers else (TRUE, FALSE)))
        on_at, off_at = sorted((draw(st.integers(0, 2)), draw(st.integers(3, 5))), reverse=side == ABOVE)
        delays = [draw(st.sampled_from((0.0, 0.1, 0.25, 0.4))) for _ in range(3)]
        guards = draw(st.sets(st.sampled_from((*YES_NO, *names)), max_size=2))
        made.append(
            Rule(name=f"r{at}", output=draw(st.sampled_from(("dump_1", "alarm_high"))), input=source, side=side,
                 action=draw(st.sampled_from(("on", "off"))), priority=at + 1,
                 on_at=on_at / 1000 if numbers else None, off_at=off_at / 1000 if numbers else None,
                 on_delay_s=delays[0], off_delay_s=delays[1], least_on_s=delays[2],
                 only_if=tuple(draw(st.sampled_from(("", "not "))) + name for name in sorted(guards)))
        )  # fmt: skip
        names.append(f"r{at}")
    return made


records = st.lists(
    st.tuples(
        st.fixed_dictionaries(
            {"bank_volts": st.integers(0, 5), "control_power": st.booleans(), "inverter_healthy": st.booleans()}
        ),
        st.sampled_from((50, 100, 150)),
    ),
    min_size=1,
    max_size=25,
)


@settings(max_examples=60)
@given(rule_sets(), records)
def test_scan_by_scan_it_does_what_the_record_of_all_scans_says(rules, record):
    made = controller(*rules)
    assert [made.scan(inputs, ms) for inputs, ms in record] == record_says(rules, record)


@pytest.mark.slow
def test_compiled_it_does_the_same():
    from numba import njit

    table = rule_table(
        RuleSet(
            rules=(rule("hot", on_delay_s=0.2), rule(output="dump_2", only_if=("hot",), least_on_s=0.3)),
            relays=(),
            compensation_mv_per_k=-37.0,
            valid={"cell_c": (-20.0, 60.0)},
        )
    )
    rng = np.random.default_rng(5)
    rows = np.zeros((200, len(SIGNAL_NAMES)), dtype=np.int64)
    rows[:, SIGNAL_PLACES["bank_volts"]] = rng.choice([27599, 27600, 27601, 28799, 28800, 28801], 200)
    rows[:, SIGNAL_PLACES["cell_c"]] = rng.integers(-400, 800, 200)
    seen = []
    for work in (scan, njit(scan)):
        state, inputs, outputs = start_state(table), rows.copy(), np.zeros((200, len(OUTPUT_NAMES)), dtype=np.int64)
        for readings, written in zip(inputs, outputs, strict=True):
            work(table, state, readings, 100, written)
        seen.append((state, inputs, outputs))
    assert all(np.array_equal(one, other) for one, other in zip(*seen, strict=True))
    assert 0 < seen[0][2].sum() < seen[0][2].size


def test_without_a_word_about_it_nothing_is_compensated_and_a_scan_takes_a_tenth_of_a_second():
    plain = RuleSet(rules=(), relays=())
    assert (plain.compensation_code, plain.scan_ms, plain.valid, plain.inputs_used) == (0, 100, {}, ())
    assert RuleSet(rules=(), relays=(), compensation_mv_per_k=-59.6).compensation_code == -60


def test_a_sensor_gives_what_was_said_and_volts_as_at_25_those_of_the_bank():
    rules = RuleSet(rules=(), relays=(), valid={"bank_volts": (8.0, 33.0), "cell_c": (-30.0, 80.0)})
    found = {name: rules.range_codes(name) for name in MEASURED_NAMES}
    assert found["bank_volts"] == found["bank_volts_25"] == (8000, 33000)
    assert found["cell_c"] == (-300, 800)
    assert found["water_c"] == (-(2**31), 2**31 - 1)


@pytest.mark.parametrize("mv_per_k", [0.0, -60.0])
def test_inputs_used_are_those_that_a_wire_brings(mv_per_k):
    named = (rule(input="bank_volts_25", only_if=("water_c_valid", "not control_power")),)
    rules = RuleSet(rules=named, relays=(), compensation_mv_per_k=mv_per_k)
    wires = ("bank_volts", "cell_c", "water_c", "control_power")
    assert rules.inputs_used == tuple(name for name in wires if mv_per_k or name != "cell_c")
