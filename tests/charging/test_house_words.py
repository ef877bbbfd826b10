"""What is said of house, inverter, source and bank, with numbers given, so that each sentence can be read by hand."""

from dataclasses import replace
from math import inf
from types import SimpleNamespace

import pytest

from samples.charging_samples import HOUSE, inverter, plan
from sentences import sentences_of
from statorbook.charging.house import house_day
from statorbook.charging.house_words import balance_words, beyond_words, days_words, peak_words

wording = sentences_of("charging_house")
PLAN = plan()


# Two hundredths of the need are not told apart: 50 of 2500 Wh.
@pytest.mark.parametrize(
    ("comes_wh", "said"),
    [
        (2549.0, wording("even")),
        (2451.0, wording("even")),
        (2551.0, wording("too much")),
        (900.0, wording("too little")),
    ],
)
def test_what_comes_against_what_is_taken(comes_wh, said):
    course = SimpleNamespace(words="Invented.")
    found = SimpleNamespace(
        bank_wh_a_day=2500.0,
        source_mean_watts=comes_wh / 24.0,
        day=SimpleNamespace(kwh=2.0),
        charging_plan=SimpleNamespace(course=course),
    )
    assert balance_words(found) == said


# The kettle's 1500 W beside the fridge's 90 W, whose start takes 500 W: 1590 and 2000 W, with a heater 2390 W.
def test_what_runs_at_once():
    def said(house=HOUSE, **changes):
        return peak_words(SimpleNamespace(day=house_day(house), charging_plan=replace(PLAN, **changes)))

    assert said() == wording("both run")
    weak = inverter(PLAN.bank, rated_watts=1000.0, surge_watts=1500.0, trips_below_volts=60.0, trips_above_volts=50.0)
    assert said(inverter=weak) == wording("all trips")
    assert said(HOUSE[2:], inverter=None) == wording("no inverter")
    assert said(()) == ""


def test_what_the_inverter_carries_beyond_the_source():
    def said(beside, alone, **changes):
        hours = {True: beside, False: alone}
        found = SimpleNamespace(
            charging_plan=SimpleNamespace(inverter=inverter(PLAN.bank, **changes)),
            hours_at=lambda watts, with_source: hours[with_source] if watts == 2000.0 else 0.0,
            source_ac_watts=350.0,
            beyond_watts=1650.0,
            most_bank_amps=42.4,
        )
        return beyond_words(found)

    assert said(inf, 1.0) == wording("the source carries all")
    assert said(12.3, 0.94) == wording("the bank carries more")
    assert said(0.96, 9.96) == wording("nine tenths of an hour")
    # A DC house: nothing is lost on the way to it.
    assert wording("a feed") in said(1.0, 1.0, efficiency=1.0, idle_watts=0.0)
    assert wording("a feed") not in said(1.0, 1.0, efficiency=1.0, idle_watts=1.0)


# 10.5 kWh, 200 Ah at 52.5 V; 15 kWh are 1.43 times that, 286 Ah.
def test_how_long_the_bank_carries_the_house_alone():
    def said(days_alone, kwh):
        around = SimpleNamespace(bank=PLAN.bank)
        found = SimpleNamespace(
            days_alone=days_alone, charging_plan=around, usable_share=0.8, fitting_kwh=lambda days: kwh * days / 2.0
        )
        return days_words(found, 2.0)

    assert said(3.21, PLAN.bank.capacity_kwh) == wording("enough")
    assert said(12.3, 15.0) == wording("not enough")
    assert said(inf, 15.0) == ""
