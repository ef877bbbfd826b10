"""The cases in which a plan is checked, counted and reckoned by hand from a plan in round numbers."""

from dataclasses import replace
from itertools import product
from math import isnan

import pytest

from samples import charging_samples
from statorbook.bank.battery import Bank
from statorbook.charging.check_cases import (
    EMPTY,
    FORBIDDEN,
    FULL,
    PASSING_S,
    cases_of,
    cells_c,
    coldest_c,
    house_watts,
    most_volts,
)
from statorbook.charging.control import ABOVE, Rule
from statorbook.charging.supply import supply_of

THERMOSTAT_K = 5.0
PLAN = charging_samples.plan(most_volts=58.4, least_volts=40.0)
BARE = charging_samples.plan(cylinder=None, room=None, inverter=None)


def at_temperature(temperature_c, **points):
    return charging_samples.plan(bank=Bank(chemistry="LiFePO4", cells=16, temperature_c=temperature_c), **points)


def only(plan, *rules):
    return replace(plan, rules=replace(plan.rules, rules=rules))


def rule(name, **limits):
    return Rule(name=name, output="alarm_high", input=name, side=ABOVE, **limits)


def values(cases, name):
    return sorted({getattr(case, name) for case in cases})


# 15 K below the usual air of the bank, or the −5 °C of a shed, the colder of the two (common practice, no source);
# LiFePO4 is charged from 0 to 45 °C, and a tenth of a kelvin outside it is not.
@pytest.mark.parametrize(
    ("usual_c", "cells"),
    [
        (25.0, (-5.0, -0.1, 25.0)),
        (10.0, (-5.0, -0.1, 10.0)),
        (5.0, (-10.0, -0.1, 5.0)),
        (-8.0, (-23.0, -8.0)),
        (45.0, (-5.0, -0.1, 45.0)),
        (50.0, (-5.0, -0.1, 45.1, 50.0)),
    ],
)
def test_cells_are_checked_as_cold_as_they_come_as_usual_and_just_outside_the_window(usual_c, cells):
    made = at_temperature(usual_c)
    assert cells_c(made) == pytest.approx(cells) and coldest_c(made) == cells[0]


# Six pairs of lead-acid cells at −5 mV/K each (common practice, no source) want 1.5 V more at 0 °C.
def test_the_limit_of_the_bank_follows_its_cells():
    lead = charging_samples.plan(bank=charging_samples.LEAD_BANK, most_volts=32.0, compensation_v_per_k=-0.06)
    assert most_volts(lead, 25.0) == 32.0 and most_volts(lead, 0.0) == pytest.approx(33.5)
    # The fridge runs for 20 minutes of each hour and the kettle for six of the eighth: 90 W and 1500 W.
    assert house_watts(lead) == 1590.0 and house_watts(replace(lead, house=())) == 0.0
    assert PASSING_S.value >= 1.0


# Rules wait for 54 and 62 °C of the water between its inlet of 10 °C and its thermostat at 65 °C, which closes 5 K
# lower; and for 21 and 24 °C of the room: 8 ± 5 °C outside, a cold spell of 15 K and 600 W over 60 W/K are
# −12 to 23 °C.
def test_each_stretch_between_the_limits_of_rules_is_tried_once():
    cases = cases_of(PLAN, FULL, THERMOSTAT_K)
    waters = {(case.water_c, case.thermostat_closed) for case in cases}
    assert waters == {(32.0, True), (58.0, True), (63.5, True), (61.0, False), (63.5, False)}
    assert values(cases, "room_c") == pytest.approx([4.5, 22.0])
    # Cells of three temperatures, two settings, five waters, two rooms, the inverter in or out.
    assert len(cases) == 3 * 2 * 5 * 2 * 2 == len(set(cases))
    tight = replace(PLAN, room=replace(PLAN.room, loss_w_per_k=0.0))  # 15 K warmer at the most, 8 + 5 + 15 = 28 °C
    assert values(cases_of(tight, FULL, THERMOSTAT_K), "room_c") == pytest.approx([4.5, 22.5, 26.0])


def test_of_stretches_only_the_ends_where_that_is_enough():
    waters, rooms = {(32.0, True), (63.5, False)}, (4.5, 22.0)
    for cases in (cases_of(PLAN, FULL, THERMOSTAT_K, ends_only=True), cases_of(PLAN, FORBIDDEN, THERMOSTAT_K)):
        found = {(case.water_c, case.thermostat_closed, case.room_c, case.tripped) for case in cases}
        assert found == {(*water, room, out) for water, room, out in product(waters, rooms, (False, True))}


def test_without_heaters_and_inverter_there_is_one_case_for_each_cell_temperature_and_setting():
    cases = cases_of(BARE, FULL, THERMOSTAT_K)
    assert len(cases) == 3 * 2 == len(cases_of(BARE, FULL, THERMOSTAT_K, ends_only=True))
    assert all(isnan(case.water_c) and not case.thermostat_closed and not case.tripped for case in cases)
    assert values(cases, "room_c") == [15.0]


# A thousandth of the volts past a limit: 58.4584 V and 39.96 V. An empty bank has no source.
def test_a_full_bank_is_held_just_above_its_limit_and_an_empty_one_just_below():
    full, empty = (cases_of(PLAN, side, THERMOSTAT_K) for side in (FULL, EMPTY))
    assert values(full, "volts") == pytest.approx([58.4584])
    assert values(empty, "volts") == pytest.approx([39.96]) and values(empty, "setting") == [0.0]
    assert len(empty) == 3 * 5 * 2 * 2 and values(empty, "cell_c") == values(full, "cell_c") == [-5.0, -0.1, 25.0]


# From 40.04 to 58.3416 V in four equal steps of 4.5754 V, and 0.1 % on either side of where the guard takes loads off.
def test_a_bank_that_may_not_be_charged_is_tried_at_volts_between_its_limits():
    guarded = replace(PLAN, guard=replace(PLAN.guard, low_off_volts=43.0))
    spread = [40.04, 44.6154, 49.1908, 53.7662, 58.3416]
    cases = cases_of(guarded, FORBIDDEN, THERMOSTAT_K)
    assert values(cases, "volts") == pytest.approx(sorted([*spread, 42.957, 43.043]))
    assert values(cases, "cell_c") == [-5.0, -0.1]
    assert values(cases_of(replace(PLAN, guard=None), FORBIDDEN, THERMOSTAT_K), "volts") == pytest.approx(spread)
    below = replace(PLAN, guard=replace(PLAN.guard, low_off_volts=39.0))
    assert values(cases_of(below, FORBIDDEN, THERMOSTAT_K), "volts") == pytest.approx(spread)
    # Cells at an end of what may be charged are charged: 45 °C is no such case, nor are −5 °C where they may be.
    hardy = at_temperature(45.0, least_charging_c=-5.0)
    assert values(cases_of(hardy, FORBIDDEN, THERMOSTAT_K), "cell_c") == []


# The volts at which the source is judged are the bank's own, so the strongest setting need not be the last one.
def test_the_source_is_at_the_setting_that_gives_most_and_at_half_where_a_rule_looks_at_it():
    strong, weak = PLAN.plant.drive, replace(PLAN.plant.drive, nozzle_mm=9.0)
    course = replace(BARE.course, settings=(2.0, 4.0), drives=(strong, weak), by_hour=(2.0,) * 24)
    volts = BARE.points.most_volts * 1.001
    made = only(replace(BARE, course=course), rule("bank_volts", on_at=50.0, off_at=49.0))
    amps = [supply_of(made).amps_at(setting, volts) for setting in (2.0, 4.0)]
    assert amps[0] > amps[1] > 0.0
    assert values(cases_of(made, FULL, THERMOSTAT_K), "setting") == [2.0]
    for name in ("bank_amps", "speed_rpm"):
        looked_at = only(made, rule(name, on_at=50.0, off_at=40.0))
        assert values(cases_of(looked_at, FULL, THERMOSTAT_K), "setting") == [1.0, 2.0]
