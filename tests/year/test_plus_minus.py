"""The ± of a year's kilowatt-hours: against sums with the exact search, sampling, and the one setting."""

import re
from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import JET
from samples.wind_case import BANDS, ROTOR, doubtful_machine, rayleigh_year, wind_machine
from samples.year_samples import windy, year_of
from sentences import sentences_of
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.comparison import compare
from statorbook.choice.firmness import firmness_words
from statorbook.choice.uncertainty import Spread, with_plus_minus
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.operating_point import operating_points
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.winding import Winding
from statorbook.year.carried import carried, misread, thinned
from statorbook.year.energy import grouping_years
from statorbook.year.plus_minus import firm_over_year, kwh_spread, largest_steps, single_years_words, spread_words
from statorbook.year.source import HOURS_A_YEAR
from statorbook.year.verdict import year_verdict
from statorbook.year.wind import year_of_mean_wind

wording = sentences_of("year")

STAR = Grouping(series=2, parallel=7, connection="star")
WINDS = np.array([3.0, 4.5, 6.0, 8.0, 12.0])
HOURS = np.array([2000.0, 1800.0, 1500.0, 900.0, 200.0])
# Two-sided 95 % point of the normal distribution, any statistics table.
NORMAL_95 = 1.959964


def judged(machine, source):
    found = compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)
    return year_verdict(found, grouping_years(machine, source)).by_year


def turned(drive, before, after):
    """A setting of the year with a changed rotor, its wind off by as much as the one that was read."""
    return replace(after, wind_m_s=drive.wind_m_s * after.wind_m_s / before.wind_m_s)


def told_ends(machine):
    """Words and machine of every end; all winds of a year are off when the one that was read is."""
    *rest, read = variations(machine)
    ends = dict(end for each in rest for end in each.ends)
    return ends | {"wind speed 5% less all year": read.low, "wind speed 5% more all year": read.high}


def test_what_is_assumed_moves_every_wind_of_the_year():
    now, source = doubtful_machine(), windy(WINDS, HOURS, ROTOR)
    winding = Winding(stator=now.stator, coil=now.coil, grouping=STAR)

    def summed(ends):
        """Independent sums for machines of one drive: the exact search, wind by wind."""
        drives = [turned(drive, now.drive, ends[0].drive) for drive in source.drives]
        around = [winding] * len(ends), [end.bank.states[1] for end in ends], [end.setting.conditions for end in ends]
        watts = [operating_points(drive, *around).bank_watts[:, 0] for drive in drives]
        return HOURS @ np.array(watts) / 1000.0

    best, said = summed([now])[0], kwh_spread(now, source, STAR)
    asked = variations(now)
    rest = [end for each in asked if each.low.drive == each.high.drive for _, end in each.ends]
    turned_ends = [end for each in asked if each.low.drive != each.high.drive for _, end in each.ends]
    kwh = np.concatenate([summed(rest), *(summed([end]) for end in turned_ends)])
    steps = np.abs(kwh - best).reshape(-1, 2).max(axis=1)
    assert len(steps) == 10 and sum(step > 0.005 * best for step in steps) >= 4
    assert said.value == pytest.approx(best, rel=0.002)
    # Independent steps add as squares, JCGM 100:2008 5.1.2 (from memory).
    assert said.assumed == pytest.approx(np.sqrt(np.sum(np.square(steps))), rel=0.02)


def test_the_constants_leave_what_sampling_leaves():
    now, source, chance = doubtful_machine(), rayleigh_year(), np.random.default_rng(4)
    emf, ohm, henry = (chance.normal(band.value, band.plus_minus / NORMAL_95, 300) for band in BANDS)
    coils = [CoilConstants(emf_v_per_rpm=e, ohm=r, henry=h) for e, r, h in zip(emf, ohm, henry, strict=True)]
    windings = [Winding(stator=now.stator, coil=coil, grouping=STAR) for coil in coils]
    kwh = np.array([year.kwh for year in grouping_years(now, source, windings)])
    stated = kwh_spread(now, source, STAR)
    assert stated.constants == pytest.approx((np.quantile(kwh, 0.975) - np.quantile(kwh, 0.025)) / 2.0, rel=0.15)
    within = np.abs(kwh - stated.value) <= stated.constants
    assert 0.91 <= within.mean() <= 0.99


@pytest.mark.parametrize("drive", [JET, KnownSpeed(working_rpm=300.0), ROTOR])
def test_a_year_at_one_setting_has_the_plus_minus_of_that_setting(drive):
    now = replace(doubtful_machine(), drive=drive)
    watts = with_plus_minus(now, STAR)["bank_watts"]
    kwh = kwh_spread(now, year_of([drive], [HOURS_A_YEAR]), STAR)
    for name in ("value", "constants", "assumed"):
        assert getattr(kwh, name) == pytest.approx(8.76 * getattr(watts, name), rel=0.03), name
    assert watts.assumed > 0.0


def test_hours_that_are_assumed_are_one_more_assumption():
    now, source = doubtful_machine(), windy(WINDS, HOURS, ROTOR)
    watts = grouping_years(now, source, [Winding(stator=now.stator, coil=now.coil, grouping=STAR)])[0].bank_watts
    gale = np.zeros((12, len(WINDS)))
    gale[0, -1] = 8760.0
    less = 0.9 * source.hours
    doubted = replace(source, other_hours=(("less wind", less), ("a gale all year", gale)))
    without, spread = kwh_spread(now, source, STAR), kwh_spread(now, doubted, STAR)
    # The larger step of the two: 8,760 h of the strongest wind, watts times hours.
    step = 8.76 * watts[-1] - without.value
    assert step > 0.2 * without.value and spread.value == pytest.approx(without.value)
    assert spread.assumed == pytest.approx(np.hypot(without.assumed, step), rel=0.01)
    assert spread.constants == pytest.approx(without.constants)
    ranked = judged(now, replace(source, hours=gale)).recommended.grouping
    told = {words: each.grouping for each in firm_over_year(now, doubted, judged(now, doubted)) for words in each.when}
    assert "less wind" not in told and told.get("a gale all year", STAR) == ranked


def test_a_shape_of_the_wind_that_nobody_measured_is_in_the_plus_minus():
    now = doubtful_machine()
    known, assumed = (year_of_mean_wind(ROTOR, 5.5, shape_assumed=yes) for yes in (False, True))
    assert known.other_hours == () and len(assumed.other_hours) == 2
    for _, hours in assumed.other_hours:
        assert hours.sum(axis=1) == pytest.approx(known.hours.sum(axis=1))
        # The mean of the year is known whatever the shape.
        assert hours.sum(axis=0) @ known.setting == pytest.approx(5.5 * 8760.0, rel=0.01)
    assert kwh_spread(now, assumed, STAR).assumed > kwh_spread(now, known, STAR).assumed


def test_the_one_point_is_far_surer_of_itself_than_the_year():
    # A wind job once said ± 0.4 %: a rotor whose wind, coefficient and tip ratio nobody measured is not that sure.
    spread = kwh_spread(doubtful_machine(), rayleigh_year(), STAR)
    assert spread.plus_minus > 0.05 * spread.value and spread.plus_minus > spread.constants > 0.0


def test_nothing_is_nothing_give_or_take_nothing():
    now, source = doubtful_machine(), windy([1.0, 2.0], [4000.0, 4000.0], ROTOR)
    assert kwh_spread(now, source, STAR).plus_minus == 0.0


@pytest.mark.parametrize("above, sure", [(0.99, True), (1.01, False)])
def test_a_speed_at_which_only_some_of_the_constants_charge(above, sure):
    # The EMF is known within 3 %: at 1 % above the speed at which the best one cuts in, the lowest gives nothing.
    now = replace(doubtful_machine(), drive=KnownSpeed(working_rpm=300.0))
    winding = Winding(stator=now.stator, coil=now.coil, grouping=STAR)
    around = now.bank.states[1], now.setting.conditions
    low, high = 1.0, 3000.0
    for _ in range(20):
        speed = 0.5 * (low + high)
        charges = operating_points(KnownSpeed(working_rpm=speed), [winding], *around).bank_watts[0, 0] > 0.0
        low, high = (low, speed) if charges else (speed, high)
    drive = KnownSpeed(working_rpm=above * speed)
    spread = kwh_spread(replace(now, drive=drive), year_of([drive], [HOURS_A_YEAR]), STAR)
    assert (spread.value == spread.constants == spread.assumed == 0.0) is sure
    assert (spread.constants > 0.5 * spread.value > 0.0) is not sure


def test_the_years_are_told_apart_from_the_rest():
    spread = Spread(value=869.0, constants=40.0, assumed=80.0, unit="kWh a year")
    source = replace(windy(WINDS, HOURS, ROTOR), year_share=0.15)
    assert spread_words(spread, source) == wording("± 40 kWh a year from")
    assert spread_words(spread, replace(source, year_share=0.0)) == spread.in_parts


def test_a_change_of_the_drive_goes_into_every_setting_that_had_it_from_the_drive():
    source = windy(WINDS, HOURS, ROTOR)
    wide = carried(source, ROTOR, replace(ROTOR, rotor_diameter_m=2.0, furls_from_m_s=7.0, wind_m_s=12.0))
    assert {(drive.rotor_diameter_m, drive.furls_from_m_s) for drive in wide.drives} == {(2.0, 7.0)}
    assert [drive.wind_m_s for drive in wide.drives] == list(WINDS)
    assert carried(source, ROTOR, replace(ROTOR, wind_m_s=12.0)) is source
    jets = year_of([replace(JET, nozzle_mm=bore) for bore in (10.0, 14.0)], [5000.0, 3000.0])
    moved = carried(jets, JET, replace(JET, head_m=20.0, nozzle_mm=18.0))
    assert [(drive.head_m, drive.nozzle_mm) for drive in moved.drives] == [(20.0, 10.0), (20.0, 14.0)]


def test_fewer_settings_keep_the_hours_and_their_mean():
    source = rayleigh_year()
    few = thinned(source)
    assert len(few.drives) <= 18 < len(source.drives)
    assert few.hours.sum(axis=1) == pytest.approx(source.hours.sum(axis=1))
    # Shared by distance, so the mean stays.
    assert few.hours_by_setting @ few.setting == pytest.approx(source.hours_by_setting @ source.setting)
    # One of two is kept of 17 to 32, and the last; sixteen are few.
    for settings, kept in ((16, 16), (17, 9), (20, 11)):
        assert len(thinned(windy(np.arange(1.0, settings + 1.0), np.ones(settings), ROTOR)).drives) == kept
    year_of_jets = year_of([JET] * 30, [1.0] * 30, np.zeros(30))
    assert thinned(year_of_jets) is year_of_jets


def test_what_moves_the_year_most_is_named_first_with_both_ends():
    now, source = doubtful_machine(), rayleigh_year()
    said = largest_steps(now, source, STAR, most=3)
    shares = [[float(share) for share in re.findall(r": ([+-]\d+)%", each)] for each in said]
    assert len(said) == 3 and shares == sorted(shares, key=lambda pair: -max(map(abs, pair)))
    ends = told_ends(now)
    best = grouping_years(now, source, [Winding(stator=now.stator, coil=now.coil, grouping=STAR)])[0]
    for each, pair in zip(said, shares, strict=True):
        for part, share in zip(each.split("; "), pair, strict=True):
            end = ends[part.rsplit(": ", 1)[0]]
            year = replace(source, drives=tuple(turned(drive, now.drive, end.drive) for drive in source.drives))
            there = grouping_years(end, year, [best.winding])[0].kwh
            assert 100.0 * (there / best.kwh - 1.0) == pytest.approx(share, abs=1.5), part


def test_what_moves_a_speed_that_is_held_is_what_the_machine_at_that_end_gives():
    drive = KnownSpeed(working_rpm=300.0)
    now, source = replace(doubtful_machine(), drive=drive), year_of([drive], [HOURS_A_YEAR])
    winding = Winding(stator=now.stator, coil=now.coil, grouping=STAR)
    best, ends = (
        grouping_years(now, source, [winding])[0].kwh,
        dict(end for each in variations(now) for end in each.ends),
    )
    said = next(each for each in largest_steps(now, source, STAR, most=9) if each.startswith("winding at 55 °C"))
    for part in said.split("; "):
        words, share = part.rsplit(": ", 1)
        # Told in whole percents.
        there = grouping_years(ends[words], source, [winding])[0].kwh
        assert float(share.rstrip("%")) == pytest.approx(100.0 * (there / best - 1.0), abs=0.6) != 0.0


def test_what_moves_a_year_of_little_energy_is_told_alike_and_of_none_not_at_all():
    now, source = doubtful_machine(), rayleigh_year()
    little, none = (replace(source, hours=share * source.hours) for share in (1e-4, 0.0))
    assert largest_steps(now, little, STAR, most=3) == largest_steps(now, source, STAR, most=3)
    assert largest_steps(now, none, STAR) == ()


def test_every_step_named_really_turns_the_year_s_choice_over():
    source = rayleigh_year()
    free = judged(doubtful_machine(), source)
    edge = doubtful_machine(accepted_dc_volts=1.001 * free.chosen.runaway.dc_volts_peak)
    found = judged(edge, source)
    assert found.chosen.grouping == free.chosen.grouping == STAR
    choices = firm_over_year(edge, source, found)
    assert any("coldest magnets -10 °C" in each.when for each in choices)
    assert firmness_words(found, choices).startswith(wording("Not settled: another grouping would"))
    ends = told_ends(edge)
    for choice in choices:
        for words in choice.when:
            end = ends[words]
            drives = tuple(turned(drive, edge.drive, end.drive) for drive in source.drives)
            assert judged(end, replace(source, drives=drives)).recommended.grouping == choice.grouping, words
    named = {words for choice in choices for words in choice.when}
    for words in ("wind speed 5% less all year", "wind speed 5% more all year"):
        end = ends[words]
        drives = tuple(turned(drive, edge.drive, end.drive) for drive in source.drives)
        same = judged(end, replace(source, drives=drives)).recommended.grouping == STAR
        assert same is (words not in named)


def test_a_firm_choice_of_the_year_says_so():
    found = judged(wind_machine(), rayleigh_year())
    assert firmness_words(found, ()) == wording("No plausible step of anything")


def test_a_misread_wind_moves_every_setting_and_the_rest_is_carried():
    source = windy(WINDS, HOURS, ROTOR)
    off = misread(source, ROTOR, replace(ROTOR, wind_m_s=1.1 * ROTOR.wind_m_s, rotor_diameter_m=2.0))
    assert [drive.wind_m_s for drive in off.drives] == pytest.approx(1.1 * WINDS)
    assert {drive.rotor_diameter_m for drive in off.drives} == {2.0}
    assert misread(source, ROTOR, ROTOR) is source


def test_fewer_settings_keep_the_other_hours_too():
    source = rayleigh_year()
    few = thinned(replace(source, other_hours=(("gustier", 0.5 * source.hours),)))
    ((words, hours),) = few.other_hours
    assert words == "gustier" and hours == pytest.approx(0.5 * few.hours) and few.setting[-1] == source.setting[-1]


def test_the_words_of_single_years():
    source = windy(WINDS, HOURS, ROTOR)
    assert single_years_words(source) == ""
    assert single_years_words(replace(source, year_share=0.15)).startswith("single years differ from this")
