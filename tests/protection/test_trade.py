"""Power against the volts with the bank gone: what there is within a limit, and what a guard buys."""

from math import inf, nextafter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import GROUPING, plant
from samples.year_samples import ROTOR
from sentences import sentences_of
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.trade import BARE, DRIVES, LOAD, Trade, TradePoint, trade

wording = sentences_of("protection_trade")

MADE = plant()
FOUND = trade(MADE)


def point(watts, bare, held, drives=None, fault=""):
    drives = bare if drives is None else drives
    return TradePoint(
        grouping=GROUPING,
        watts=watts,
        bare_dc_volts=bare,
        drives_guard_dc_volts=drives,
        held_dc_volts=held,
        fault=fault,
    )


# Made up by hand: 400 W need 200 V bare, 300 W need 100 V, the best of all burns its coils.
BURNS, HIGH, LOW = point(500, 90, 60, fault="burns"), point(400, 200, 60, 150), point(300, 100, 60)
BY_HAND = Trade(points=(BURNS, HIGH, LOW), own=LOW, guard_words="furling", has_load=False)


def test_every_legal_grouping_is_a_point_with_the_volts_of_the_worst_runaway():
    groupings = dict.fromkeys(MADE.machine.stator.groupings())
    assert {each.grouping for each in FOUND.points} == groupings.keys()
    assert FOUND.own.grouping == GROUPING
    assert FOUND.own.bare_dc_volts == pytest.approx(MADE.open_volts(MADE.runaway_rpm)[1])
    assert FOUND.own.watts == pytest.approx(MADE.working.bank_watts, rel=1e-6)


def test_a_load_holds_its_set_point_and_never_more_than_there_is():
    held = trade(plant(guard=OverVoltageLoad(set_dc_volts=100.0, ohm=5.0, watts=2000.0)))
    assert {each.held_dc_volts for each in held.points if each.bare_dc_volts > 100.0} == {100.0}
    assert all(each.held_dc_volts <= each.bare_dc_volts for each in held.points)
    assert held.has_load and not FOUND.has_load


def test_the_most_within_a_limit_includes_the_limit_and_leaves_out_what_is_not_built():
    assert BY_HAND.most(200.0, BARE) is HIGH
    assert BY_HAND.most(nextafter(200.0, 0.0), BARE) is LOW
    assert BY_HAND.most(99.0, BARE) is None and BY_HAND.most(59.0, LOAD) is None
    assert BY_HAND.most(150.0, DRIVES) is HIGH and BY_HAND.most(60.0, LOAD) is HIGH
    assert BY_HAND.steps(BARE) == ([100, 200], [300, 400])


def test_what_a_guard_buys_is_the_difference_within_the_same_limit():
    for limit, guard, watts in ((150.0, LOAD, 100), (150.0, DRIVES, 100), (120.0, DRIVES, 0), (250.0, LOAD, 0)):
        assert BY_HAND.bought_watts(limit, guard) == watts
    assert BY_HAND.bought_watts(70.0, LOAD) == 400  # nothing at all without it


def test_the_sentence_says_the_volts_when_the_guard_fails():
    said = BY_HAND.sentence(150.0)
    assert wording("With furling at work") in said and wording("With an over-voltage load") in said
    assert wording("A guard fails one day") in said


def test_a_load_that_has_to_let_the_bank_charge_cannot_hold_less():
    assert wording("let the bank's own volts pass") in BY_HAND.sentence(50.0)


def test_a_drive_that_guards_itself_stands_between_the_two():
    found = trade(plant(drive=ROTOR))
    assert found.guard_words
    assert all(each.drives_guard_dc_volts < each.bare_dc_volts for each in found.points)


volts = st.floats(1.0, 3000.0)


@given(volts, volts)
def test_more_volts_never_give_less_and_a_guard_never_costs_anything(one, other):
    few, many = sorted((one, other))
    for guard in (BARE, DRIVES, LOAD):
        less, more = FOUND.most(few, guard), FOUND.most(many, guard)
        # Of groupings that no meter tells apart, within 1 %, the one with fewer volts is taken.
        assert less is None or more.watts >= 0.99 * less.watts
        assert FOUND.bought_watts(few, guard) >= -0.01 * (less.watts if less else 0.0)


@settings(max_examples=6)
@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_colder_never_makes_fewer_volts(one, other):
    mild, hard = (trade(plant(cold_c=30.0 - 70.0 * cold)) for cold in sorted((one, other)))
    bare = {each.grouping: each.bare_dc_volts for each in hard.points}
    assert all(each.bare_dc_volts <= bare[each.grouping] for each in mild.points)
    assert hard.most(inf, BARE).watts == mild.most(inf, BARE).watts
