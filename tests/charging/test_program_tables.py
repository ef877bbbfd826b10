"""What is wired to the controller, and the same rules without a processor."""

from dataclasses import replace

import pytest

from samples import charging_samples
from samples.control_samples import EVERYTHING
from sentences import sentences_of
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


@pytest.mark.parametrize("changes", [{}, {"bank": charging_samples.LEAD_BANK}], ids=["LiFePO4", "lead"])
def test_the_input_reads_every_volt_that_a_rule_waits_for_also_with_cold_cells(changes):
    plan = charging_samples.plan(**changes)
    limits = [rule.on_at for rule in plan.rules.rules if rule.input.startswith("bank_volts") and rule.on_at]
    cold = -45.0 * plan.rules.compensation_mv_per_k / 1000.0  # cells of −20 °C
    assert most_read_volts(plan) >= max(limits) + cold and most_read_volts(plan) >= plan.points.most_volts


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
