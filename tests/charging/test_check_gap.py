"""The days that show a gap: source, house, water, room and charge that bring them to its case, by hand."""

from dataclasses import replace
from math import inf

import pytest

from samples import charging_samples
from statorbook.bank import bank_table, rest_volts_of
from statorbook.charging import check_gap
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, HeldCase
from statorbook.charging.check_gap import Gap, fails_from_s, reading_words, shown_plan
from statorbook.charging.control_faults import NOTHING, ControlFault
from statorbook.charging.events import COLD, INPUT_FROZEN, INPUT_HIGH, TRIP, WELDED

PLAN = charging_samples.plan()
SOUND, FROZEN = ControlFault(kind=NOTHING), ControlFault(kind=INPUT_FROZEN, target="bank_volts")
HIGH = ControlFault(kind=INPUT_HIGH, target="bank_volts")
HELD = HeldCase(
    volts=52.0, cell_c=-0.1, water_c=61.0, thermostat_closed=False, room_c=4.5, setting=0.5, tripped=False
)  # fmt: skip


def gap(**changes):
    made = dict(fault=SOUND, side=FORBIDDEN, held=HELD, amps=10.0, is_late=False, readings={}, on=(), shown=PLAN)
    return Gap(**made | {"start_charge": 0.5} | changes)


def test_a_full_bank_stays_so_with_nothing_drawn_and_the_source_as_in_the_case():
    shown, charge = shown_plan(PLAN, FULL, HELD, SOUND)
    assert charge == 1.0 and shown.house == ()
    assert shown.course.by_hour == (0.5,) * len(PLAN.course.by_hour)
    assert (shown.room.outside_c, shown.room.outside_swing_k) == (4.5, 0.0)
    assert shown.course.settings == PLAN.course.settings and shown.points == PLAN.points
    bare = replace(PLAN, cylinder=None, room=None)
    assert shown_plan(bare, FULL, HELD, SOUND)[0].cylinder is shown_plan(bare, FULL, HELD, SOUND)[0].room is None


# Hot water that nobody draws and that loses nothing stays hot; ten times the cylinder a day keeps it cold.
def test_the_water_stays_as_hot_or_cold_as_in_the_case():
    hot = shown_plan(PLAN, FULL, HELD, SOUND)[0].cylinder
    assert (hot.litres_a_day, hot.loss_w_per_k, hot.litres) == (0.0, 0.0, PLAN.cylinder.litres)
    cold = shown_plan(PLAN, FULL, replace(HELD, thermostat_closed=True), SOUND)[0].cylinder
    assert (cold.litres_a_day, cold.loss_w_per_k) == (10.0 * PLAN.cylinder.litres, PLAN.cylinder.loss_w_per_k)


# 90 W of the fridge and 1500 W of the kettle are the most at once. 3 % of charge: a hand rule, assumed.
def test_an_empty_bank_has_all_drawn_from_it_all_day_and_starts_nearly_empty():
    still = replace(HELD, setting=0.0)
    shown, charge = shown_plan(PLAN, EMPTY, still, HIGH)
    (load,) = shown.house
    assert (load.watts, load.surge_watts, load.from_hour, load.to_hour, load.minutes) == (1590.0, 1590.0, 0, 24, 60.0)
    assert charge == 0.03 and set(shown.course.by_hour) == {0.0}
    assert shown_plan(replace(PLAN, house=()), EMPTY, still, HIGH)[0].house == ()


def test_a_reading_that_empties_the_bank_freezes_while_the_source_still_fills_it():
    shown, charge = shown_plan(PLAN, EMPTY, replace(HELD, setting=0.0), FROZEN)
    strongest = max(PLAN.course.settings)
    assert shown.course.by_hour == (strongest, *(0.0,) * (len(PLAN.course.by_hour) - 1))
    assert charge == 1.0 and shown.house == ()


# Between its limits the bank starts with the charge at which it rests at the volts of the case, from 3 % to full.
@pytest.mark.parametrize("charge", [0.3, 0.6])
def test_between_its_limits_the_bank_starts_where_it_rests_at_the_volts(charge):
    volts = rest_volts_of(charge, bank_table(PLAN.bank))
    assert shown_plan(PLAN, FORBIDDEN, replace(HELD, volts=volts), SOUND)[1] == pytest.approx(charge, abs=1e-6)
    assert shown_plan(PLAN, FORBIDDEN, replace(HELD, volts=1.0), SOUND)[1] == 0.03
    assert shown_plan(PLAN, FORBIDDEN, replace(HELD, volts=70.0), SOUND)[1] == 1.0


# A sound reading has to be there before one that freezes: a minute. Where it empties the bank it freezes two seconds
# after the highest volts of a day, which are read in the next second. What is stuck otherwise is so from the start.
def test_when_a_fault_has_to_begin(monkeypatch):
    class Day:
        tallies = {"most_volts_s": 1800.0}

    asked = []
    monkeypatch.setattr(check_gap, "simulate", lambda plan, **given: asked.append((plan, given)) or Day)
    assert [fails_from_s(PLAN, 1.0, fault, FULL) for fault in (FROZEN, SOUND, HIGH)] == [60.0, 0.0, 0.0]
    assert [fails_from_s(PLAN, 1.0, fault, EMPTY) for fault in (SOUND, HIGH)] == [0.0, 0.0]
    assert asked == [] and fails_from_s(PLAN, 0.9, FROZEN, EMPTY) == 1802.0
    assert asked == [(PLAN, {"days": 1, "start_charge": 0.9})]


# The cold comes a minute after a reading that freezes, and half a kelvin colder than the case; in both hand rules.
def test_the_fault_comes_first_then_the_cold_then_the_trip():
    warm = replace(HELD, cell_c=25.0)
    assert gap(held=warm).events == ()
    (frozen,) = gap(held=warm, fault=FROZEN, from_s=60.0).events
    assert (frozen.kind, frozen.target, frozen.from_s, frozen.until_s) == (INPUT_FROZEN, "bank_volts", 60.0, inf)
    welded = ControlFault(kind=WELDED, target="dump_1")
    first, cold, trip = gap(held=replace(HELD, tripped=True), fault=welded).events
    assert (first.kind, first.target, first.from_s) == (WELDED, "dump_1", 0.0)
    assert (cold.kind, cold.from_s, cold.amount) == (COLD, 120.0, pytest.approx(25.1 + 0.5))
    assert (trip.kind, trip.from_s, trip.until_s) == (TRIP, 0.0, inf)
    assert gap(held=replace(HELD, cell_c=25.1)).events == ()


def test_two_days_show_it(monkeypatch):
    asked = []
    monkeypatch.setattr(check_gap, "simulate", lambda *given, **named: asked.append((given, named)))
    shown = gap(start_charge=0.4)
    shown.simulated(print)
    assert asked == [((PLAN, shown.events), {"days": 2, "start_charge": 0.4, "on_progress": print})]
    assert shown.course is PLAN.course


# The most of a whole number of 32 bits is 2 147 483.647 V, A or °C in thousandths: no sensor gives that.
def test_a_reading_beyond_every_limit():
    assert reading_words("bank_amps", 2.0e6) == "2000000 A amps into the bank"
    assert reading_words("bank_amps", -2.01e6) == reading_words("bank_amps", 2.01e6) != reading_words("bank_amps", 2e6)
    assert reading_words("cell_c", (2**31 - 1) / 10) == "cell temperature beyond every limit"
    assert reading_words("control_power", True) == "yes to “control power is there”"
