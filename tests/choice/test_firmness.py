"""A recommendation that a plausible step turns over says so, and names the step and the other grouping."""

from dataclasses import replace

import pytest

from sentences import sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.choice.assumed_ranges import MAGNET_STEP_K, variations
from statorbook.choice.comparison import compare
from statorbook.choice.firmness import (
    at_settings,
    firmness_words,
    nearby_settings,
    other_choices,
    settings_words,
    source_warning,
)
from statorbook.drives.wind_words import year_words
from statorbook.examples import jobs as example

wording = sentences_of("choice")


def compared(machine):
    return compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)


@pytest.fixture(scope="module")
def water(tmp_path_factory):
    return machine_from(example.write(tmp_path_factory.mktemp("data")))


@pytest.fixture(scope="module")
def wind(tmp_path_factory):
    return machine_from(example.write(tmp_path_factory.mktemp("data"), name="ridge_rotor"))


def with_limit(machine, volts):
    return replace(machine, setting=replace(machine.setting, accepted_dc_volts=volts))


def test_a_limit_just_above_the_chosen_one_s_volts_is_turned_over_by_colder_magnets(water):
    free = compared(with_limit(water, 2000.0))
    edge = with_limit(water, 1.001 * free.chosen.runaway.dc_volts_peak)
    found = compared(edge)
    assert found.chosen.grouping == free.chosen.grouping
    choices = other_choices(edge, found)
    assert choices and all(each.grouping != found.chosen.grouping for each in choices)
    assert any("coldest magnets -10 °C" in each.when for each in choices)
    said = firmness_words(found, choices)
    assert said.startswith(wording("Not settled: another grouping would"))
    assert choices[0].grouping.label in said and "coldest magnets -10 °C" in said


def test_every_step_named_really_turns_the_choice_over(water):
    free = compared(with_limit(water, 2000.0))
    edge = with_limit(water, 1.001 * free.chosen.runaway.dc_volts_peak)
    ends = dict(end for each in variations(edge) for end in each.ends) | dict(nearby_settings(edge)[1:])
    for choice in other_choices(edge, compared(edge)):
        for words in choice.when:
            assert compared(ends[words]).recommended.grouping == choice.grouping, words


def test_a_choice_that_nothing_turns_over_says_so(water):
    # Nothing that charges comes near 2 V, and the least volts for four fifths of the watts are far from the next.
    found = compared(water)
    choices = other_choices(water, found)
    if choices:
        assert firmness_words(found, choices).startswith("Not settled")
    else:
        for words, now in nearby_settings(water)[1:]:
            assert compared(now).recommended.grouping == found.recommended.grouping, words
    assert firmness_words(found, ()).startswith("No plausible step of anything assumed")


def test_magnets_are_stepped_by_twenty_kelvin(water):
    step = next(each for each in variations(water) if each.words == "magnets at work")
    apart = [end.setting.conditions.magnet_c - water.setting.conditions.magnet_c for _, end in step.ends]
    assert apart == [-MAGNET_STEP_K.value, MAGNET_STEP_K.value] == [-20.0, 20.0]


def test_wind_is_shown_at_its_mean_and_at_1_3_and_1_6_times(wind):
    settings = at_settings(wind)
    winds = [found.drive.wind_m_s for _, found in settings]
    assert winds == pytest.approx([factor * wind.drive.wind_m_s for factor in (1.0, 1.3, 1.6)])
    for (words, found), said in zip(settings, settings_words(settings), strict=True):
        assert said[1:].startswith(words[1:])
        row = found.recommended
        assert f"{row.grouping.label}, {row.point.bank_watts:.0f} W" in said
    assert source_warning(wind) == year_words()


def test_other_sources_are_shown_weaker_and_stronger(water):
    heads = [found.drive.head_m for _, found in at_settings(water)]
    assert heads == pytest.approx([factor * water.drive.head_m for factor in (1.0, 0.8, 1.25)])
    assert "not a year" in source_warning(water) and source_warning(water) != year_words()


def test_nothing_recommended_is_nothing_to_turn_over(water):
    stuck = replace(water, setting=replace(water.setting, conditions=replace(water.setting.conditions, drag_nm=900.0)))
    found = compared(stuck)
    assert other_choices(stuck, found) == ()
    assert firmness_words(found, ()).startswith("No grouping is recommended")
