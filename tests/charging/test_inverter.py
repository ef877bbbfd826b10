"""The inverter that a house would be given, and what it does not stand."""

from dataclasses import replace

import pytest

from samples.charging_samples import CYLINDER, HOUSE, ROOM, inverter, plan
from statorbook.charging.house import house_day, usual_house
from statorbook.charging.inverter import (
    at_once_words,
    feed_noun,
    heater_watts_of,
    inverter_bank_watts,
    trip_volts_words,
    trips_words,
    usual_inverter,
)
from statorbook.charging.plan import HouseLoad

POINTS = plan().points


def load(watts, surge_watts, name="x", hours=(7, 8)):
    first, last = hours
    return HouseLoad(name=name, watts=watts, surge_watts=surge_watts, from_hour=first, to_hour=last, minutes=60.0)


# A quarter above what runs, and half of what starts, since it gives twice its watts for seconds; at least 100 W: common
# practice, no source.
@pytest.mark.parametrize(
    ("watts", "surge_watts", "heater_watts", "rated"),
    [
        (800.0, 800.0, 0.0, 1000.0),
        (800.0, 2400.0, 0.0, 1200.0),
        (800.0, 800.0, 800.0, 2000.0),
        (10.0, 10.0, 0.0, 100.0),
    ],
)
def test_a_usual_inverter_has_room_for_what_runs_and_for_what_starts(watts, surge_watts, heater_watts, rated):
    made = usual_inverter(POINTS, house_day((load(watts, surge_watts),)), heater_watts=heater_watts)
    assert (made.rated_watts, made.surge_watts) == (rated, 2.0 * rated)
    assert POINTS.least_volts < made.trips_below_volts < POINTS.cut_off_volts
    assert made.trips_below_volts == pytest.approx(0.5 * (POINTS.least_volts + POINTS.cut_off_volts))
    assert (made.back_above_volts, made.trips_above_volts) == (POINTS.return_volts, POINTS.most_volts)


def test_what_it_draws_and_what_heats_on_it():
    # By hand: 900 W at 90 % and 15 W of its own.
    assert inverter_bank_watts(inverter(plan().bank, efficiency=0.9, idle_watts=15.0), 900.0) == pytest.approx(1015.0)
    assert heater_watts_of(CYLINDER, ROOM) == 800.0 == heater_watts_of(CYLINDER, None)
    assert heater_watts_of(None, ROOM) == 600.0 and heater_watts_of(None, None) == 0.0


def test_three_and_others_are_named_but_four_are_all_named():
    names = [load(100.0 - at, 100.0 - at, name) for at, name in enumerate("abcde")]
    said = [at_once_words(house_day(names[:count]), 430) for count in (1, 2, 4, 5)]
    assert said == ["a", "a and b", "a, b, c and d", "a, b, c and others"]


def test_what_it_just_stands_it_stands():
    made = inverter(plan().bank, rated_watts=1000.0, surge_watts=2000.0)
    just, more = (house_day((load(watts, 2.0 * watts),)) for watts in (1000.0, 1000.1))
    assert trips_words(made, just) == "The inverter stands that."
    assert "it trips then" in trips_words(made, more) and "trip at that start" in trips_words(made, more)
    small = house_day((load(400.0, 400.0),))
    assert trips_words(made, small, 600.0) == "The inverter stands that."
    assert "when both run" in trips_words(made, small, 600.1)
    fits = replace(
        made, trips_below_volts=POINTS.cut_off_volts - 0.01, trips_above_volts=POINTS.absorption_volts + 0.01
    )
    assert trip_volts_words(fits, POINTS) == ""
    late = replace(fits, trips_below_volts=POINTS.cut_off_volts)
    assert "before the cut-off" in trip_volts_words(late, POINTS)
    early = replace(fits, trips_above_volts=POINTS.absorption_volts)
    assert "of absorption" in trip_volts_words(early, POINTS)


def test_a_feed_is_none_of_its_losses():
    bank = plan().bank
    assert feed_noun(inverter(bank, efficiency=1.0, idle_watts=0.0)) == "feed"
    for changes in ({"efficiency": 0.99, "idle_watts": 0.0}, {"efficiency": 1.0, "idle_watts": 0.5}):
        assert feed_noun(inverter(bank, **changes)) == "inverter"


def test_the_hours_of_a_usual_house_lie_within_a_day():
    for house in (HOUSE, usual_house(4.0), usual_house(0.2)):
        assert all(0 <= each.from_hour < each.to_hour <= 24 and 0.0 <= each.minutes <= 60.0 for each in house)
        assert all(each.surge_watts >= each.watts >= 0.0 for each in house)
