"""The controller's text does what the rules do, scan by scan, as a parser and an executor of others have it."""

from dataclasses import replace
from functools import cache
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judges.structured_text import Run, bridged
from judges.structured_text_lint import complaints
from judges.text_mutants import mutants_of
from samples import charging_samples
from samples.control_samples import EVERYTHING, cell_run, limit_runs, random_rows
from statorbook.charging.control import CLOSED_AT_REST, MEASURED, YES_NO, Relay
from statorbook.charging.events import INPUT_ABSENT, INPUT_FROZEN, INPUT_HIGH, INPUT_LOW
from statorbook.charging.program import relay_variable, write_program
from statorbook.charging.program_readings import input_variable
from statorbook.charging.program_words import ascii_words, comment
from statorbook.charging.scan import Controller
from statorbook.charging.volts_input import VoltsInput

SCAN_MS = 100
COUNTED = VoltsInput(upper_ohm=12_000.0, lower_ohm=3_000.0, input_ohm=1e12, input_volts=10.0, full_counts=4095)
# What these begin with is put right in the first scan, whatever it reads: the same program.
SAME = ("hold_second", "hold_water", "hold_dark")
NEVER_ONE = replace(
    EVERYTHING,
    rules=EVERYTHING.rules[:1],
    relays=(Relay(number=1, output="dump_3"), Relay(number=2, output="source_stop")),
)


def coils(rules, outputs):
    """Which coils have current for these outputs, by the program's variable."""
    return {relay_variable(r): outputs[r.output] != (r.contact == CLOSED_AT_REST) for r in rules.relays}


def answers(rules, rows, scan_ms=SCAN_MS):
    """What the coils have to be before the first scan and after each of them, by the rules in Python."""
    controller = Controller(rules)
    assert not any(controller.outputs.values())
    dead = dict.fromkeys(coils(rules, controller.outputs), False)
    return [dead, *(coils(rules, controller.scan(row, scan_ms)) for row in rows)]


def first_difference(pou, rows, wanted, scan_ms=SCAN_MS, counts=False):
    """The number of the first scan after which a program says other than wanted, 0 before any; None: it never does."""
    run = Run(pou, scan_ms)
    if run.outputs != wanted[0]:
        return 0
    for number, row in enumerate(rows, start=1):
        given_in = {input_variable(name, counts=counts): bool(code) if name in YES_NO else code
                    for name, code in row.items()}  # fmt: skip
        if run.scan(given_in) != wanted[number]:
            return number
    return None


def agree(rules, rows, scan_ms=SCAN_MS):
    pou, _ = bridged(write_program(rules).text)
    return first_difference(pou, rows, answers(rules, rows, scan_ms), scan_ms) is None


def faulted(rows, rules, kind, name):
    """Rows in which one input lies, from a third of them on."""
    begin = len(rows) // 3
    least, most = rules.range_codes(name) if name in MEASURED else (0, 1)
    absent = least - 1 if name in MEASURED else 0
    lie = {INPUT_HIGH: most, INPUT_LOW: least, INPUT_ABSENT: absent, INPUT_FROZEN: rows[begin][name]}[kind]
    return [row if at < begin else {**row, name: lie} for at, row in enumerate(rows)]


def test_it_does_what_the_rules_do_over_random_readings():
    for seed, scan_ms in ((1, 100), (2, 70)):
        assert agree(EVERYTHING, list(random_rows(EVERYTHING, Random(seed), 150)), scan_ms)


def test_it_does_what_the_rules_do_at_each_limit_and_a_step_to_either_side():
    for rows in limit_runs(EVERYTHING, SCAN_MS).values():
        assert agree(EVERYTHING, rows[:150])
    assert agree(EVERYTHING, cell_run(EVERYTHING, SCAN_MS)[:200])


def test_it_does_what_the_rules_do_while_an_input_lies():
    for seed, name in enumerate(EVERYTHING.inputs_used):
        for kind in (INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN):
            rows = list(random_rows(EVERYTHING, Random(seed), 15))
            if EVERYTHING.said_range(name) or name in YES_NO:
                assert agree(EVERYTHING, faulted(rows, EVERYTHING, kind, name)), (name, kind)


def test_nothing_is_in_it_that_a_small_controller_refuses():
    program = write_program(EVERYTHING)
    assert complaints(program.text, bridged(program.text)[0]) == []
    assert program.text.count(": TON;") == program.timers == 12  # counted by hand in the rules
    assert (program.rules, program.relays) == (13, 8)


def test_it_makes_millivolts_of_counts_itself():
    rules = replace(EVERYTHING, rules=tuple(r for r in EVERYTHING.rules if r.name in ("high", "inverter_low")))
    rules = replace(rules, relays=(Relay(number=1, output="dump_1"), Relay(number=2, output="inverter_enable")))
    text = write_program(rules, COUNTED).text
    pou, _ = bridged(text)
    assert complaints(text, pou) == []
    # By hand, with 50 V at 4095 counts: 30 V is 2457.0 counts, 27 V 2211.3, 22.5 V 1842.75, 25 V 2047.5.
    told = (4095, 0, 2457, 2456, 2211, 2212, 2458, 1842, 1843, 2047, 2048, 0)
    counts = [each for each in told for _ in range(8)]
    wanted = answers(rules, [{"bank_volts": COUNTED.millivolts(each)} for each in counts])
    assert first_difference(pou, [{"bank_volts": each} for each in counts], wanted, counts=True) is None
    assert len({tuple(each.values()) for each in wanted}) > 1


def test_an_output_without_a_rule_stays_off_and_a_closed_contact_begins_with_a_dead_coil():
    text = write_program(NEVER_ONE).text
    assert complaints(text, bridged(text)[0]) == []
    assert agree(NEVER_ONE, [{"cell_c": code} for code in (250, 10, 10, 10, 10, 250)])
    closed = replace(NEVER_ONE, relays=tuple(replace(r, contact=CLOSED_AT_REST) for r in NEVER_ONE.relays))
    run = Run(bridged(write_program(closed).text)[0], SCAN_MS)
    assert run.outputs == {"out_relay_1": False, "out_relay_2": False}
    assert run.scan({"in_cell_dc": 250}) == {"out_relay_1": True, "out_relay_2": True}


def test_a_sensor_of_which_no_range_was_said_counts_as_sound():
    rules = replace(NEVER_ONE, rules=(EVERYTHING.rules[2],), relays=EVERYTHING.relays[:1])
    rules = replace(rules, valid={"bank_volts": (10.0, 40.0)})
    text = write_program(rules).text
    assert complaints(text, bridged(text)[0]) == []
    assert "ok_cell_dc := TRUE;" in text and "cell_dc : DINT" in text and "cfg_least_cell_dc" not in text
    # 28.4 V at 25 °C; -36 mV/K: 28.8 V and more at 13 °C, and cells of 3000 °C are believed as well.
    told = ((28_400, 250), (28_400, 130), (28_900, 130), (28_000, 30_000))
    rows = [{"bank_volts": volts, "cell_c": cell, "control_power": 1} for volts, cell in told for _ in range(15)]
    assert agree(rules, rows)
    assert agree(rules, [{"bank_volts": 0, "cell_c": 30_000, "control_power": 1}] * 15)


@cache
def telling_runs():
    runs = {**limit_runs(EVERYTHING, SCAN_MS), "cell": cell_run(EVERYTHING, SCAN_MS)}
    runs["random"] = list(random_rows(EVERYTHING, Random(1), 300))
    return {name: (rows, answers(EVERYTHING, rows)) for name, rows in runs.items()}


def found(words, make):
    """Whether a wrong program is found out by one of the runs, that of the rule which it is about before the others."""
    pou = make()
    for name in sorted(telling_runs(), key=lambda name: name not in words):
        try:
            if first_difference(pou, *telling_runs()[name]) is not None:
                return True
        except ZeroDivisionError:
            return True
    return False


def wrong_programs():
    text = write_program(EVERYTHING).text
    return [each for each in mutants_of(text) if not each[0].startswith(tuple(f"{name} : BOOL" for name in SAME))]


def test_wrong_programs_are_found():
    assert [words for words, make in wrong_programs()[40::80] if not found(words, make)] == []


@pytest.mark.slow
def test_more_than_fifty_wrong_programs_are_found():
    programs = wrong_programs()[3::6]
    assert len(programs) >= 50
    assert [words for words, make in programs if not found(words, make)] == []


@pytest.mark.slow
def test_the_ready_rules_do_the_same_as_text():
    rules = charging_samples.plan(bank=charging_samples.LEAD_BANK, stops_source=True).rules
    text = write_program(rules).text
    assert complaints(text, bridged(text)[0]) == []
    rows = list(random_rows(rules, Random(5), 150))
    assert agree(rules, rows, rules.scan_ms)
    assert agree(rules, [row for row in rows for _ in range(2)], 1000)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
def test_no_note_ends_its_comment(words):
    for line in comment(words):
        assert line.isascii() and line.isprintable() and len(line) <= 96
        assert line.startswith("(* ") and line.endswith(" *)") and "*)" not in line[3:-3] and "(*" not in line[3:-3]
    assert ascii_words("5 °C (* x *)") == "5 deg C x"


WRONG = """PROGRAM p (* 20 °C *)
VAR_INPUT
in_a : DINT := 0;
in_unused : DINT := 0;
END_VAR
VAR_OUTPUT
out_relay_1 : BOOL := FALSE;
END_VAR
VAR CONSTANT
cfg_a : INT := 5;
cfg_b : DINT := 3000000000;
END_VAR
VAR
hold_a : BOOL := FALSE;
HOLD_A : BOOL := FALSE;
hold_c : BOOL := TRUE;
hold_d : BOOL;
on : BOOL := FALSE;
tmr_on_a : TON;
tmr_on_b : TON;
END_VAR
hold_a := tmr_on_a.Q OR (hold_a AND in_a); // never
tmr_on_a(IN := (in_a >= cfg_b), PT := T#100ms);
IF hold_c THEN
tmr_on_a(IN := hold_a, PT := T#100ms);
END_IF;
in_a := 3; (* one *) (* two *)
out_relay_1 := hold_z;
out_relay_1 := cfg_b;
END_PROGRAM
"""


def test_the_lint_sees_what_a_reader_would_stumble_over():
    said = " / ".join(complaints(WRONG, bridged(WRONG.replace("// never", ""))[0]))
    for words in (
        *(
            "line 1 is too long",
            "line 22 has a comment",
            "line 27 has a comment",
            "in_unused is declared and never used",
        ),
        *(
            "cfg_a is of the type INT",
            "cfg_b begins with 3000000000",
            "HOLD_A is declared twice",
            "hold_d begins with None",
        ),
        *(
            "hold_c does not begin with nothing",
            "on is no name",
            "tmr_on_b is never called",
            "tmr_on_a is called inside",
        ),
        *(
            "tmr_on_a.Q is asked for before",
            "AND is used on what is no BOOL",
            "in_a is written",
            "hold_z is not declared",
        ),
        *("out_relay_1 gets a DINT", "out_relay_1 is not written exactly once"),
    ):
        assert words in said, words
