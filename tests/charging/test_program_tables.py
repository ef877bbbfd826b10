"""What is wired to the controller, and the same rules without a processor."""

from dataclasses import replace

import pytest

from samples import charging_samples
from samples.control_samples import EVERYTHING
from sentences import sentences_of
from statorbook.charging.control import ABOVE, BELOW, FALSE, OFF, TRUE, Rule, RuleSet
from statorbook.charging.program_tables import (
    control_inputs,
    control_outputs,
    most_read_volts,
    scaling_rows,
    scaling_words,
    without_processor,
)
from statorbook.charging.volts_input import MILLIVOLTS, VoltsInput

wording = sentences_of("charging_program")

INPUT = VoltsInput(upper_ohm=12_000.0, lower_ohm=3_000.0, input_ohm=1e12, input_volts=10.0, full_counts=4000)


def test_every_input_that_a_rule_reads_stands_there_once_under_its_name_in_the_program():
    rows = control_inputs(EVERYTHING, INPUT)
    assert [row.variable for row in rows] == [
        *("in_bank_counts", "in_bank_ma", "in_cell_dc", "in_water_dc", "in_air_dc", "in_speed_rpm"),
        *("in_inverter_healthy", "in_control_power"),
    ]
    # By hand: 10 V × 15 / 3 = 50 V at 4000 counts.
    assert rows[0].number == wording("counts to mv counts")
    assert rows[2].range_words == "-30 to 80 °C" and all(row.sensor for row in rows)
    scaled = control_inputs(EVERYTHING, replace(INPUT, gives=MILLIVOLTS))
    assert scaled[0].variable == "in_bank_mv" and wording("v at the input") in scaled[0].number


def test_relays_stand_in_their_order_with_what_a_dead_coil_does():
    rows = control_outputs(EVERYTHING)
    assert [row.number for row in rows] == list(range(1, 9))
    assert {row.output for row in rows if row.dead_words == "on"} == {"dump_1", "source_stop"}


def test_scaling_is_told_with_how_far_off_it_may_be():
    # By hand: 12.5 mV for a count, told as 13; 2 × 1 % × 12 / 15 = 1.6 %, 0.8 V of 50 V; 50² / 15 kΩ = 167 mW,
    # told as 170.
    words = scaling_words(INPUT)
    for said in ("12 kΩ over 3 kΩ", "50.0 V", "13 mV", "170 mW", "2 %", "0.8 V", "Not checked"):
        assert said in words, said
    assert "Checked by the multimeter" in scaling_words(replace(INPUT, checked=(25.0, 2000)))
    rows = scaling_rows(INPUT)
    assert rows[0] == ("0.0 V", "0.00 V", "0", "0") and rows[-1] == ("50.0 V", "10.00 V", "4000", "50000")
    assert rows[2] == ("25.0 V", "5.00 V", "2000", "25000")
    assert [row[0] for row in rows] == [f"{volts} V" for volts in (0.0, 12.5, 25.0, 35.0, 40.0, 45.0, 50.0)]
    # A controller that scales by itself shows millivolts.
    assert scaling_rows(replace(INPUT, gives=MILLIVOLTS))[1] == ("12.5 V", "2.50 V", "12500", "12500")


@pytest.mark.parametrize("changes", [{}, {"bank": charging_samples.LEAD_BANK}], ids=["LiFePO4", "lead"])
def test_the_input_reads_every_volt_that_a_rule_waits_for_also_with_cold_cells(changes):
    plan = charging_samples.plan(**changes)
    limits = [rule.on_at for rule in plan.rules.rules if rule.input.startswith("bank_volts") and rule.on_at]
    cold = -45.0 * plan.rules.compensation_mv_per_k / 1000.0  # cells of −20 °C
    assert most_read_volts(plan) >= max(limits) + cold and most_read_volts(plan) >= plan.points.most_volts


# By hand: cells of −20 °C are 45 K colder than 25 °C (assumed); at −60 mV/K that is 2.7 V. A limit that lies highest
# counts, whether the rule takes hold there or lets go.
@pytest.mark.parametrize(
    ("mv_per_k", "input_name", "most"),
    [
        (0.0, "bank_volts", 90.0),
        (-60.0, "bank_volts_25", 92.7),
        (60.0, "bank_volts", 90.0),
        (0.0, "cell_c", 58.4),
        (-60.0, "cell_c", 61.1),
    ],
)
def test_the_highest_volts_that_are_read(mv_per_k, input_name, most):
    low = Rule(name="low", output="alarm_low", input=input_name, side=BELOW, on_at=20.0, off_at=90.0)
    rules = RuleSet(rules=(low,), relays=(), compensation_mv_per_k=mv_per_k)
    assert most_read_volts(charging_samples.plan(rules=rules, most_volts=58.4)) == pytest.approx(most)


PLAIN = Rule(name="plain", output="dump_1", input="bank_volts_25", side=ABOVE, on_at=28.0, off_at=27.0)


@pytest.mark.parametrize(
    ("changes", "mv_per_k", "more"),
    [
        ({}, 0.0, []),
        ({}, -36.0, ["temperature of the cells"]),
        ({"input": "bank_volts"}, -36.0, []),
        ({"on_delay_s": 1.0}, 0.0, []),
        ({"least_on_s": 1.0}, 0.0, ["holds itself"]),
        ({"action": OFF}, 0.0, ["the last word"]),
        ({"only_if": ("cell_c_valid",)}, 0.0, ["sensor's wire"]),
        ({"only_if": ("control_power",)}, 0.0, []),
    ],
)
def test_only_what_is_lost_is_said(changes, mv_per_k, more):
    made = replace(PLAIN, **changes)
    ((step,), lost) = without_processor(RuleSet(rules=(made,), relays=(), compensation_mv_per_k=mv_per_k))
    timers = bool(made.on_delay_s) + bool(made.least_on_s)
    # Timers, contacts and tenths of a volt are said of every panel.
    assert len(lost) == 3 + len(more) and any(f"{timers} here" in said for said in lost)
    assert all(any(word in said for said in lost) for word in more)
    late = "closes 1 s late" if made.on_delay_s else "stays 1 s at least" if made.least_on_s else "at once"
    assert step.times == late


def test_a_device_for_each_rule_says_when_it_closes_and_opens():
    def step(**changes):
        return without_processor(RuleSet(rules=(replace(PLAIN, **changes),), relays=()))[0][0]

    assert (step().closes, step().opens) == ("at or above 28 V", "at or below 27 V")
    low = step(side=BELOW, on_at=20.0, off_at=21.5)
    assert (low.closes, low.opens) == ("at or below 20 V", "at or above 21.5 V")
    word = {"input": "control_power", "on_at": None, "off_at": None}
    assert [(step(side=side, **word).closes, step(side=side, **word).opens) for side in (TRUE, FALSE)] == [
        ("signal there", "signal gone"), ("signal gone", "signal there")
    ]  # fmt: skip
    assert step(only_if=("not control_power", "cell_c_valid")).in_series == "control power is there, normally closed"
    assert step().in_series == step(only_if=("cell_c_valid",)).in_series == "nothing"


def test_without_a_processor_each_rule_is_a_device_and_what_is_lost_is_said():
    steps, lost = without_processor(EVERYTHING)
    named = {step.rule: step for step in steps}
    assert set(named) == {rule.name for rule in EVERYTHING.rules} - {"blind"}
    assert named["first"].device == "volts relay" and named["first"].closes == "at or above 28.4 V"
    assert named["first"].times == wording("closes s late opens")
    assert named["water"].in_series.split("; ")[0] == "relay of first, normally open"
    assert named["water"].in_series.endswith("relay of hot, normally closed")
    assert named["hot"].switches.startswith("opens") and named["inverter"].closes == "signal there"
    assert named["dark"].closes == "signal gone" and named["dark"].opens == "signal there"
    # By hand: 36 mV for each K over 25 K is 0.9 V.
    assert any(wording("v too low at") in words for words in lost)
    assert any("left out: blind" in words for words in lost)
    # By hand, from the samples: 12 timers, without that of “blind” 11.
    assert any("11 here" in words for words in lost)
