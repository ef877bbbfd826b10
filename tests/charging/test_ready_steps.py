"""The steps of ready rules in volts, by hand from set-points in round numbers."""

from dataclasses import replace

import pytest

from statorbook.charging.control import ABOVE, Rule
from statorbook.charging.plan import SetPoints
from statorbook.charging.ready_steps import steps_of

# Invented, of twelve lead-acid cells.
POINTS = SetPoints(
    absorption_volts=28.8, float_volts=27.0, equalise_volts=None, alarm_high_volts=30.0, alarm_low_volts=23.6,
    cut_off_volts=23.0, return_volts=25.0, most_volts=31.0, least_volts=22.0, compensation_v_per_k=-0.06,
    least_charging_c=-10.0, most_charging_c=45.0,
)  # fmt: skip
RULE = Rule(name="load", output="dump_1", input="bank_volts_25", side=ABOVE, on_at=29.0, off_at=27.5)


# Two dump loads make four steps: heaters, each load, the stop. The volts relay lies half-way between the alarm and the
# most volts of cells 10 K warmer: (30.0 + 30.4) / 2 = 30.2 V; five widths are between absorption and the alarm, and
# five between absorption and the relay.
def test_steps_share_what_lies_between_absorption_and_alarm_or_relay():
    steps = steps_of(POINTS, 2, 25.0)
    assert (steps.count, steps.relay_volts) == (4, 30.2)
    assert steps.width_volts == pytest.approx(1.2 / 5)
    assert steps.top_width_volts == pytest.approx(1.4 / 5)
    assert [steps.at(step) for step in range(4)] == [28.8, 29.04, 29.28, 29.52]
    assert [steps.between(share) for share in (-0.25, 0.0, 0.5, 1.0)] == [26.55, 27.0, 27.9, 28.8]
    rule, top = steps.with_tops([RULE], 1)
    assert rule is RULE
    assert (top.name, top.input, top.on_at, top.off_at) == ("load_top", "bank_volts", 29.36, 27.5)


# 10 K colder the bank is charged to 29.4 V and the alarm is at 30.6 V; the relay, 30.8 V, is as 30.2 V at 25 °C.
def test_cold_cells_shift_the_relay_against_the_steps():
    steps = steps_of(replace(POINTS, alarm_high_volts=30.4), 2, 15.0)
    # The alarm is 31.0 V there, no less than the most of warmer cells: the relay goes between 29.4 and 31.0 V.
    assert steps.relay_volts == pytest.approx(30.2)
    assert steps.width_volts == pytest.approx((29.6 - 28.8) / 5)
    assert steps.top_width_volts == pytest.approx((30.2 - 29.4) / 5)


# Between 29.2 V and 28.7 V, the most of warmer cells, there is no room: the relay is at 28.7 V, below absorption. Then
# the steps below it share half of what is left down to float, four of them, or nothing.
@pytest.mark.parametrize(("float_volts", "top_width"), [(28.3, 0.5 * 0.4 / 4), (28.75, 0.0)])
def test_where_heat_closes_the_band_the_steps_below_the_relay_come_first(float_volts, top_width):
    points = replace(POINTS, float_volts=float_volts, alarm_high_volts=29.2, most_volts=29.3)
    steps = steps_of(points, 2, 25.0)
    assert steps.relay_volts == pytest.approx(28.7)
    assert steps.width_volts == pytest.approx(0.4 / 5)
    assert steps.top_width_volts == pytest.approx(top_width)


# One percent of the absorption volts at most: a hand rule, assumed.
def test_steps_are_no_wider_than_a_hundredth_of_absorption():
    steps = steps_of(replace(POINTS, alarm_high_volts=34.0, most_volts=36.0), 2, 25.0)
    assert steps.width_volts == steps.top_width_volts == pytest.approx(0.288)


def test_without_compensation_there_is_one_rule_a_step():
    steps = steps_of(replace(POINTS, compensation_v_per_k=0.0), 1, 25.0)
    assert steps.with_tops([RULE], 1) == (RULE,)
