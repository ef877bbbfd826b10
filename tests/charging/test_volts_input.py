"""The divider before the controller's volts input, and what a count stands for."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.charging.heater_elements import E24
from statorbook.charging.volts_input import MILLIVOLTS, VoltsInput, usual_divider
from statorbook.errors import BadInput
from statorbook.job.parts.control import ControlPart

wording = sentences_of("charging_program")


def made(**changes):
    fields = dict(upper_ohm=12_000.0, lower_ohm=3_000.0, input_ohm=1e12, input_volts=10.0, full_counts=4095)
    return VoltsInput(**fields | changes)


def test_a_divider_of_four_to_one_reads_fifty_volts_at_ten():
    # By hand: 10 V × (12 + 3) / 3 = 50 V at 4095 counts, so 1 count is 12.21 mV; 50² / 15 kΩ = 167 mW.
    volts = made()
    assert volts.full_volts == pytest.approx(50.0, rel=1e-6)
    assert volts.step_volts == pytest.approx(50.0 / 4095)
    assert volts.scale == (50_000, 4095)
    # By hand: 2048 × 50000 / 4095 = 25006.1, cut to 25006.
    assert [volts.millivolts(counts) for counts in (0, 1, 2048, 4095)] == [0, 12, 25006, 50000]
    assert volts.watts == pytest.approx(0.1667, rel=1e-3)


def test_the_inputs_own_ohms_lie_beside_the_lower_resistor():
    # By hand: 3 kΩ beside 3 kΩ is 1.5 kΩ, so 10 V × 13.5 / 1.5 = 90 V.
    assert made(input_ohm=3_000.0).full_volts == pytest.approx(90.0)


def test_one_reading_of_the_multimeter_takes_the_place_of_the_resistors():
    # By hand: 26 V at 2000 of 4000 counts is 52 V at the end.
    checked = made(full_counts=4000, checked=(26.0, 2000))
    assert checked.full_volts == pytest.approx(52.0) and checked.error_share < made().error_share
    assert checked.millivolts(2000) == 26_000


def test_two_resistors_of_one_percent_at_their_wrong_ends():
    # By hand: 12 kΩ × 1.01 over 3 kΩ × 0.99 reads 10 × (12.12 + 2.97) / 2.97 = 50.81 V, 1.62 % more.
    assert made().error_share == pytest.approx(0.016, abs=0.0003)


@settings(max_examples=60, deadline=None)
@given(
    most=st.floats(8.0, 150.0),
    input_volts=st.floats(1.0, 30.0),
    input_ohm=st.floats(1e3, 1e8),
    counts=st.integers(100, 65_535),
)
def test_a_usual_divider_reads_a_fifth_more_in_32_bits(most, input_volts, input_ohm, counts):
    upper, lower = usual_divider(most, input_volts, input_ohm)
    volts = VoltsInput(
        upper_ohm=upper, lower_ohm=lower, input_ohm=input_ohm, input_volts=input_volts, full_counts=counts
    )
    assert volts.full_volts >= min(1.2 * most, volts.full_volts) and volts.full_volts > most
    assert any(abs(upper / 10.0**decade - step) < 1e-6 * step for step in E24 for decade in range(-2, 9))
    top, bottom = volts.scale
    assert 0 < bottom and top * counts < 2**31
    assert volts.millivolts(counts) == pytest.approx(1000 * volts.full_volts, rel=2e-4)
    shown = volts.counts_at(most)
    assert 1000 * most - 1000 * volts.step_volts - 0.0003 * 1000 * most - 2 <= volts.millivolts(shown) <= 1000.4 * most


# By hand: 2.2 kΩ × (1.2 × 50 / 10 − 1) = 11 kΩ, a value of E24; beside 2.2 kΩ of the input half of that, 5.6 kΩ next;
# 2.2 kΩ × (1.2 × 44 / 10 − 1) = 9.416 kΩ, past 9.1 kΩ the next is 10 kΩ; an input of 100 V needs none, 10 Ω are least.
@pytest.mark.parametrize(
    ("most", "input_volts", "input_ohm", "upper"),
    [(50.0, 10.0, 1e15, 11e3), (50.0, 10.0, 2200.0, 5600.0), (44.0, 10.0, 1e15, 10e3), (50.0, 100.0, 1e15, 10.0)],
)
def test_a_usual_divider_by_hand(most, input_volts, input_ohm, upper):
    assert usual_divider(most, input_volts, input_ohm) == (pytest.approx(upper), 2200.0)


# By hand, with 50 V at 4095 counts: 25 V are 2047.5 counts, cut.
def test_what_the_input_shows_is_cut_and_ends():
    shown = {-1.0: 0, 0.0: 0, 25.0: 2047, 49.999: 4094, 50.0: 4095, 60.0: 4095}
    assert {volts: made(input_ohm=1e30).counts_at(volts) for volts in shown} == shown


def test_an_input_that_ends_below_a_limit_is_refused():
    made().require_room(49.0)
    with pytest.raises(BadInput) as refused:
        made().require_room(57.6)
    assert str(refused.value).startswith(wording("controller volts input the"))


@pytest.mark.parametrize(
    "fields, words",
    [
        (dict(upper_ohm=12_000.0), "Lower resistor of the divider [Ω]: nothing was given"),
        (dict(upper_ohm=0.0, lower_ohm=1000.0), "Upper resistor of the divider [Ω]: 0.0 was given"),
        (dict(check_volts=26.0), "Shown by the controller then [count]: nothing was given"),
        (dict(check_volts=26.0, check_shown=5000), "Shown by the controller then [count]: 5000 was given"),
        (dict(scan_ms=0), "Scan [count]: 0 was given"),
    ],
)
def test_a_controller_that_cannot_be_is_refused_in_a_sentence(fields, words):
    with pytest.raises(BadInput) as refused:
        ControlPart(**fields)
    assert words in str(refused.value)


def test_a_job_without_a_controller_has_one_that_is_assumed():
    part = ControlPart()
    assert {"scan_ms", "volts_as", "input_volts", "full_counts", "volts_relay"} <= set(part.assumed)
    volts = part.to_volts_input(57.6)
    assert volts.full_volts > 57.6 and volts.gives_counts
    scaled = ControlPart(volts_as=MILLIVOLTS, check_volts=26.0, check_shown=26_100).to_volts_input(57.6)
    assert not scaled.gives_counts and scaled.checked == (26.0, 26_100)
