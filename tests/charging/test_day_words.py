"""Simulated days in words: the sentence says what the numbers say, with no more figures than they are worth."""

from dataclasses import replace
from math import inf, nan

import pytest

from samples.charging_samples import plan
from sentences import sentences_of
from statorbook.charging.day_words import (
    comfort_words,
    event_words,
    flow_words,
    kwh_words,
    moment_words,
    switched_words,
    verdict_words,
)
from statorbook.charging.days import simulate
from statorbook.charging.events import KINDS, NEED_INPUT, NEED_OUTPUT, Event
from statorbook.quantities import reader_units

wording = sentences_of("charging_days")


@pytest.fixture(scope="module")
def made():
    return plan()


@pytest.fixture(scope="module")
def found(made):
    return simulate(made, days=1)


def with_tallies(found, **changes):
    return replace(found, tallies=found.tallies | changes)


def test_a_bank_that_is_held_is_said_to_be(made, found):
    held = with_tallies(found, least_volts=52.04, most_volts=56.78)
    assert verdict_words(made, held).startswith(wording("held"))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"above_all_s": 12.0, "above_longest_s": 12.0, "above_first_s": 50_460.0, "most_volts": 61.2},
            "for 12 s, first on day 1, 14:01, 61.2 V at most",
        ),
        (
            {"below_all_s": 7200.0, "below_longest_s": 7200.0, "below_first_s": 0.0, "least_volts": 39.0},
            "for 2 h, first on day 1, 0:00, 39.0 V at least",
        ),
        (
            {
                "forbidden_all_s": 60.0,
                "forbidden_longest_s": 60.0,
                "forbidden_first_s": 90_000.0,
                "forbidden_amps": 9.13,
            },
            "first on day 2, 1:00, with up to 9.1 A",
        ),
    ],
)
def test_a_limit_that_is_left_is_told_with_its_first_moment(made, found, changes, words):
    said = verdict_words(made, with_tallies(found, **changes))
    assert "leaves its limits" in said and words in said


def test_moments_past_a_limit_are_told_apart(made, found):
    brief = with_tallies(found, above_all_s=9.0, above_longest_s=3.0, above_first_s=60.0)
    said = verdict_words(made, brief)
    assert wording("moments") in said and "(assumed)" in said and "leaves its limits" not in said


def test_where_the_energy_went_is_told_by_size(found):
    wh = dict.fromkeys(found.wh, 0.0) | {"source": 9120.0, "house": 2000.0, "dump_1": 6000.0, "stored": 1120.0}
    told = flow_words(replace(found, wh=wh, start_charge=0.5, end_charge=0.62))
    assert told.startswith(wording("where it went"))
    assert "from 50 to 62 %" in told and "would have come" not in told
    stopped = replace(found, wh=wh | {"spilled": 430.0, "stored": -0.2}, start_charge=0.5, end_charge=0.5)
    assert "ends as it began" in flow_words(stopped) and "430 Wh more would have come" in flow_words(stopped)


def test_hot_water_and_what_the_house_missed(made, found):
    # 3.72 kWh in 80 L: 3720 × 3.6 / 4.182 / 80 K over the inlet's 10 °C.
    wh = found.wh | {"house": 900.0, "unserved": 100.0, "drawn": 3720.0}
    told = replace(with_tallies(found, hot_litres=32.0, litres=80.0), wh=wh)
    assert wording("goes without") in comfort_words(made, told) and wording("hot water") in comfort_words(made, told)
    with reader_units("US"):
        assert "122 °F" in comfort_words(made, told) and "°C" not in comfort_words(made, told)
    dry = replace(with_tallies(found, hot_litres=0.0, litres=0.0), wh=wh)
    assert "drawn" not in comfort_words(made, dry)


def test_what_was_switched_is_counted(found):
    counted = dict.fromkeys(found.operations, 0) | {"dump_1": 1533, "water_heater": 1, "inverter_enable": 9}
    trips = dict.fromkeys(found.trips, 0) | {"low volts": 2}
    told = switched_words(replace(found, days=2, operations=counted, trips=trips))
    assert wording("trips") in told and wording("switched") in told
    assert "inverter on" not in told


def test_every_event_has_words():
    targets = dict.fromkeys(NEED_INPUT, "cell_c") | dict.fromkeys(NEED_OUTPUT, "dump_1")
    said = [event_words(Event(kind=kind, target=targets.get(kind, ""), amount=10.0)) for kind in KINDS]
    assert len(set(said)) == len(KINDS) and all(each.startswith("day 1, 0:00, to the end: ") for each in said)
    brief = Event(kind="input absent", target="inverter_healthy", from_s=86_400.0 + 1800.0, until_s=86_400.0 + 5400.0)
    assert event_words(brief).startswith(wording("absent"))
    assert event_words(replace(brief, until_s=inf)).startswith("day 2, 0:30, to the end")


@pytest.mark.parametrize(
    ("wh", "words"),
    [
        (0.0, "0 Wh"),
        (8.149, "8.1 Wh"),
        (84.9, "85 Wh"),
        (430.4, "430 Wh"),
        (1234.0, "1.2 kWh"),
        (56_400.0, "56 kWh"),
        (123_400.0, "120 kWh"),
    ],
)
def test_watt_hours_have_two_figures(wh, words):
    assert kwh_words(wh) == words and "e+" not in kwh_words(wh)


def test_a_moment_is_told_by_day_and_clock():
    assert moment_words(0.0) == "day 1, 0:00" and moment_words(86_400.0 + 14 * 3600.0 + 65.0) == "day 2, 14:01"


def test_a_limit_never_left_has_no_moment(found):
    calm = with_tallies(found, above_s=0.0, above_first_s=nan)
    assert not calm.above.happened
