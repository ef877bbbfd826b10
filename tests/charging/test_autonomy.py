"""How long a bank carries a house, against worked examples."""

from dataclasses import replace

import pytest

from samples.charging_samples import LEAD_BANK, inverter, plan
from statorbook.bank.battery import Bank
from statorbook.charging.autonomy import PEUKERT, autonomy_of, peukert_share
from statorbook.charging.house_words import balance_words, beyond_words, days_words, peak_words
from statorbook.charging.plan import Course, HouseLoad

LEAD_48 = Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=500.0)


def house(kwh):
    watts = 1000.0 * kwh / 24.0
    return (HouseLoad(name="all", watts=watts, surge_watts=watts, from_hour=0, to_hour=24, minutes=60.0),)


def still(made):
    course = Course(
        settings=(1.0,), drives=(made.plant.drive,), by_hour=(0.0,) * 48, name="", unit="", words="At rest."
    )
    return replace(made, course=course)


DIRECT = plan(bank=LEAD_48, house=house(9.0), inverter=inverter(LEAD_48, efficiency=1.0, idle_watts=0.0))


def test_days_of_autonomy_of_a_worked_example():
    # By hand: 9 kWh a day for 2 days, half of the bank, 15 % on top: 18, 36, 41.4 kWh.
    assert autonomy_of(DIRECT, 0.5).fitting_kwh(2.0) == pytest.approx(41.4)
    # By hand: 10 kWh for 3 days: lead at 50 % 60 kWh, lithium at 90 % 33.3 kWh.
    ten = replace(DIRECT, house=house(10.0))
    assert autonomy_of(ten, 0.5).fitting_kwh(3.0, spare_share=0.0) == pytest.approx(60.0)
    assert autonomy_of(ten, 0.9).fitting_kwh(3.0, spare_share=0.0) == pytest.approx(33.3, abs=0.05)


def test_an_inverter_divides_the_need_and_takes_its_own():
    # By hand: AC need over 90 %; the idle watts all day beside it.
    made = replace(DIRECT, inverter=inverter(LEAD_48, efficiency=0.9, idle_watts=10.0))
    assert autonomy_of(made).bank_wh_a_day == pytest.approx(9000.0 / 0.9 + 240.0)


def test_days_alone_are_usable_over_need():
    found = autonomy_of(DIRECT, 0.5)
    assert found.days_alone == pytest.approx(0.5 * LEAD_48.capacity_kwh / 9.0)
    assert autonomy_of(replace(DIRECT, house=())).days_alone == float("inf")


@pytest.mark.outside(
    "share of 100 Ah left at 10 to 100 A",
    source="Peukert, 1897, with the 20 h rate: (I20 / I)^(n − 1), n 1.25",
    number="84, 67, 56, 47 %",
    tolerance="0.6 %",
    seen="derived",
)
@pytest.mark.parametrize("amps, percent", [(10.0, 84), (25.0, 67), (50.0, 56), (100.0, 47)])
def test_peukert_by_its_law(amps, percent):
    assert 100.0 * peukert_share(amps, 100.0, 1.25) == pytest.approx(percent, abs=0.6)


def test_peukert_of_the_flooded_bank_and_not_more_than_the_label():
    # By hand: 200 × (10 / 50)^0.25 = 134 Ah at 50 A.
    assert 200.0 * peukert_share(50.0, 200.0, PEUKERT["flooded lead-acid"].value) == pytest.approx(134.0, abs=0.5)
    assert peukert_share(1.0, 100.0, 1.25) == 1.0
    # t = C / I^n without the rate would give 14.5 h for 100 Ah at 5 A; its 20 h are what the label means.
    assert peukert_share(5.0, 100.0, 1.2) * 100.0 / 5.0 == pytest.approx(20.0)


def test_hours_beyond_the_source_by_hand():
    made = still(
        plan(bank=LEAD_BANK, inverter=inverter(LEAD_BANK, rated_watts=1000.0, efficiency=0.8, idle_watts=20.0))
    )
    found = autonomy_of(made, 0.5)
    amps = (1000.0 / 0.8 + 20.0) / LEAD_BANK.half_volts
    hours = 0.5 * 400.0 * (20.0 / amps) ** 0.25 / amps
    assert found.hours_at(1000.0) == found.hours_at(1000.0, with_source=False) == pytest.approx(hours)
    assert found.source_ac_watts == 0.0 and found.beyond_watts == 1000.0
    assert found.most_bank_amps == pytest.approx(amps)


def test_the_source_carries_its_own_share():
    found = autonomy_of(plan(inverter=inverter(LEAD_48, efficiency=0.9, idle_watts=15.0)))
    watts = found.charging_plan.plant.working.bank_watts  # of one operating point, sought by itself
    assert found.source_mean_watts == pytest.approx(watts, rel=0.01)
    assert found.source_ac_watts == pytest.approx(0.9 * (watts - 15.0), rel=0.01)
    assert found.hours_at(100.0) == float("inf")
    assert found.beyond_watts == pytest.approx(2000.0 - found.source_ac_watts) and found.source_ac_watts > 100.0
    bare = autonomy_of(plan(inverter=None))
    assert bare.source_ac_watts == bare.source_mean_watts and bare.beyond_watts == bare.most_bank_amps == 0.0
    small = autonomy_of(plan(inverter=inverter(LEAD_48, rated_watts=100.0)))
    assert small.source_ac_watts == 100.0 and small.beyond_watts == 0.0
    assert found.hours_at(2000.0) > found.hours_at(2000.0, with_source=False)


def test_sentences_say_surplus_want_trips_and_days():
    rich, poor = autonomy_of(plan()), autonomy_of(replace(still(DIRECT), house=house(3.0)), 0.5)
    assert "somewhere" in balance_words(rich) and "less than the house takes" in balance_words(poor)
    small = autonomy_of(plan(inverter=inverter(rich.charging_plan.bank, rated_watts=500.0, surge_watts=700.0)))
    assert "it trips then" in peak_words(small) and "may trip at that start" in peak_words(small)
    # 1500 W of the kettle, 90 W of the fridge, 800 W of the heater: 2390 W.
    assert "it trips when both run" in peak_words(rich)
    large = autonomy_of(plan(inverter=inverter(rich.charging_plan.bank, rated_watts=2400.0)))
    assert "The inverter stands that." in peak_words(large)
    assert "days take" in days_words(poor, 2.0)
    assert (
        days_words(autonomy_of(replace(DIRECT, house=())), 3.0) == "" == beyond_words(autonomy_of(plan(inverter=None)))
    )


def test_trip_volts_that_do_not_suit_are_said():
    bank = plan().bank
    late = plan(inverter=inverter(bank, trips_below_volts=plan().points.cut_off_volts))
    assert "before the cut-off" in peak_words(autonomy_of(late))
    early = plan(inverter=inverter(bank, trips_above_volts=plan().points.absorption_volts))
    assert "below the" in peak_words(autonomy_of(early)) and "absorption" in peak_words(autonomy_of(early))
