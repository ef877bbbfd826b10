"""A house's appliances as typed, their day, and what cannot be."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.charging.house import house_day, house_from_rows, house_watts_by_minute, read_house_loads, usual_house
from statorbook.charging.plan import HouseLoad
from statorbook.errors import BadInput

_COLUMNS = ("appliance", "watts", "surge_watts", "from_hour", "to_hour", "minutes", "note")


def row(*cells):
    return dict(zip(_COLUMNS, (*cells, ""), strict=True))


KETTLE = row("kettle", "1800", "", "7", "8", "6")


def load(watts, from_hour, to_hour, minutes=60.0, surge=0.0):
    return HouseLoad(
        name="x", watts=watts, surge_watts=max(surge, watts), from_hour=from_hour, to_hour=to_hour, minutes=minutes
    )


loads = st.builds(
    lambda watts, start, first, length, minutes: load(watts, first, min(first + length, 24), minutes, start * watts),
    st.floats(0.0, 5000.0),
    st.floats(1.0, 6.0),
    st.integers(0, 23),
    st.integers(1, 24),
    st.floats(0.0, 60.0),
)


def test_a_row_becomes_an_appliance():
    made = house_from_rows([KETTLE, row("pump", "400 W", "1200", "6", "22", "4.5")])
    assert made[0] == load(1800.0, 7, 8, 6.0).__class__(
        name="kettle", watts=1800.0, surge_watts=1800.0, from_hour=7, to_hour=8, minutes=6.0
    )
    assert (made[1].surge_watts, made[1].from_hour, made[1].to_hour, made[1].minutes) == (1200.0, 6, 22, 4.5)
    assert house_from_rows([]) == ()


@pytest.mark.parametrize(
    "cells, words",
    [
        (("", "60", "", "0", "24", "60"), "no name"),
        (("lamp", "60", "", "0", "25", "60"), "25"),
        (("lamp", "60", "", "24", "24", "60"), "24"),
        (("lamp", "60", "", "22", "6", "60"), "two rows, such as 22 to 24 and 0 to 6"),
        (("lamp", "60", "", "6", "6", "60"), "later"),
        (("lamp", "60", "", "6.5", "8", "60"), "whole hour"),
        (("lamp", "60", "", "6", "8", "61"), "61"),
        (("lamp", "-1", "", "6", "8", "60"), "-1"),
        (("fridge", "90", "80", "0", "24", "20"), "start takes no less"),
        (("fridge", "ninety", "", "0", "24", "20"), "ninety"),
    ],
)
def test_a_row_that_cannot_be_is_refused_in_one_sentence(cells, words):
    (reading,) = read_house_loads([row(*cells)])
    assert words in reading.refusal and "house loads log, row 1" in reading.refusal and "\n" not in reading.refusal
    with pytest.raises(BadInput, match="house loads log, row 2"):
        house_from_rows([KETTLE, row(*cells)])


@pytest.mark.outside(
    "energy of a day, 8 lamps and 2 heaters",
    source="Theraja, A Textbook of Electrical Technology III, example 50.4",
    number="8.4 kWh",
    tolerance="none",
    seen="in a reproduction",
)
def test_energy_of_a_day_from_a_textbook():
    made = (load(8 * 60.0, 18, 23), load(1000.0, 6, 9), load(1000.0, 15, 18))
    assert house_day(made).kwh == pytest.approx(8.4)


@pytest.mark.outside(
    "load factor of 260, 200, 160 and 100 MW",
    source="Theraja, A Textbook of Electrical Technology III, example 50.21",
    number="0.71, recomputed 0.7051",
    tolerance="half of the last figure",
    seen="in a reproduction",
)
def test_mean_over_most_of_a_load_cycle():
    made = (load(260.0, 0, 6), load(200.0, 6, 14), load(160.0, 14, 18), load(100.0, 18, 24))
    day = house_day(made)
    assert day.watts.mean() / day.most_watts == pytest.approx(0.7051, abs=5e-5)


@settings(max_examples=30)
@given(house=st.lists(loads, max_size=4))
def test_a_day_holds_what_its_appliances_take(house):
    day = house_day(house)
    # Watts times hours, term by term.
    wh = sum(one.watts * one.minutes / 60.0 * (one.to_hour - one.from_hour) for one in house)
    assert 1000.0 * day.kwh == pytest.approx(wh, abs=1e-6)
    assert (day.watts <= day.running_watts + 1e-9).all() and (day.running_watts <= day.start_watts).all()
    assert day.most_watts <= sum(one.watts for one in house) + 1e-9
    assert house_watts_by_minute(house) == pytest.approx(day.watts)


def test_what_runs_on_starts_once_and_all_of_an_hour_at_once():
    day = house_day([load(100.0, 6, 8, 60.0, 500.0), load(50.0, 6, 7, 10.0, 300.0)])
    begins = np.flatnonzero(day.start_watts > day.running_watts)
    assert begins.tolist() == [360] and day.start_watts[360] == 800.0
    assert day.names_at(361) == ("x", "x") and day.names_at(0) == ()


# By hand: 90 W for 8 h, 1500 W for 6 and 400 W for 15 minutes, 60 W for 5 h are 720, 150, 100 and 300 Wh.
def test_a_usual_house_by_hand():
    made = usual_house()
    assert house_day(made).kwh == pytest.approx(1.27)
    assert [round(load.watts * load.minutes / 60.0 * (load.to_hour - load.from_hour)) for load in made] == [
        720, 150, 100, 300
    ]  # fmt: skip
    day = house_day(made)
    assert (day.most_watts, day.most_start_watts) == (1590.0, 2000.0)
    # 2.47 kWh are 1.2 kWh more, 50 W all day; 0.6 kWh are less than that, 120 W of an evening.
    assert usual_house(2.47)[:-1] == made and usual_house(2.47)[-1].watts == pytest.approx(50.0)
    (lamps,) = usual_house(0.6)
    assert (lamps.watts, lamps.surge_watts, lamps.from_hour, lamps.to_hour) == (120.0, 120.0, 18, 23)


@pytest.mark.parametrize("kwh", [0.0, 0.03, 1.0, 8.0])
def test_a_usual_house_takes_the_need(kwh):
    assert house_day(usual_house(kwh)).kwh == pytest.approx(kwh)
