"""Two groupings and a contactor over a year, against loops of their own over the exact search."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.machine_samples import BANK, COIL, JET, STATOR
from samples.year_samples import ROTOR, machine, windy, year_of
from statorbook.choice.machine import ends
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import crossings, operating_points
from statorbook.quantities.estimate import Estimate
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from statorbook.year.energy import grouping_years
from statorbook.year.switch_contacts import switch_contacts
from statorbook.year.switch_pairs import Pair, pairs_of
from statorbook.year.switch_words import building_words, is_worth_it, switch_words, verdict_words
from statorbook.year.switching import gain_plus_minus_kwh, switchings
from strategies import coils, stators

WINDS = np.linspace(0.8, 20.0, 25)
# Rayleigh, mean 5 m/s, in hours a year; the shape does not matter to the tests.
HOURS = 8760.0 * 0.8 * pi / 2.0 * WINDS / 25.0 * np.exp(-pi / 4.0 * (WINDS / 5.0) ** 2)
SMALL = replace(ROTOR, rotor_diameter_m=2.2, furls_from_m_s=10.0)


@pytest.fixture(scope="module")
def windy_job():
    """A rotor whose year asks for star below and delta above, machine and year."""
    return machine(drive=SMALL), windy(WINDS, HOURS, SMALL)


@pytest.fixture(scope="module")
def found(windy_job):
    return switchings(*windy_job)


def exact_points(now, drives, groupings):
    """Speed, watts and lead amps of each grouping at each drive, by the exact search and nothing else."""
    windings = [Winding(stator=now.stator, coil=now.coil, grouping=grouping) for grouping in groupings]
    around = now.bank.states[1], now.setting.conditions
    points = [operating_points(drive, windings, *around) for drive in drives]
    columns = ("speed_rpm", "bank_watts", "phase_amps_rms")
    return (np.array([getattr(point, name)[:, 0] for point in points]).T for name in columns)


def test_a_stator_of_36_coils_has_its_pairs():
    pairs = pairs_of(STATOR)
    told = {(p.low.connection[0] + str(p.low.parallel), p.high.connection[0] + str(p.high.parallel)) for p in pairs}
    # Paths of 12 coils a phase: 1, 2, 3, 4, 6, 12; each in star and delta, and twice or three times the paths.
    steps = [(1, 2), (1, 3), (2, 4), (2, 6), (3, 6), (4, 12), (6, 12)]
    wanted = {(f"s{a}", f"d{a}") for a in (1, 2, 3, 4, 6, 12)}
    wanted |= {(f"{c}{a}", f"{c}{b}") for c in "sd" for a, b in steps}
    assert told == wanted and len(pairs) == 20
    assert pairs_of(Stator(slots=3, poles=2)) == (
        Pair(low=Grouping(series=1, parallel=1), high=Grouping(series=1, parallel=1, connection="delta")),
    )


@pytest.mark.outside(
    "leads out for two voltages",
    source="NEMA MG 1, terminal markings",
    number="9 leads",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.outside(
    "leads out for star and delta", source="IEC 60034-8", number="6 leads", tolerance="exact", seen="from memory"
)
@pytest.mark.parametrize(
    "low, high, leads, poles",
    [
        ((1, "star"), (1, "delta"), 6, (3, 3)),
        ((1, "star"), (2, "star"), 9, (3, 6)),
        ((2, "delta"), (4, "delta"), 9, (3, 6)),
        ((1, "star"), (3, "star"), 15, (6, 12)),
    ],
)
def test_leads_and_contacts(low, high, leads, poles):
    pair = next(
        p
        for p in pairs_of(STATOR)
        if (p.low.parallel, p.low.connection) == low and (p.high.parallel, p.high.connection) == high
    )
    assert (pair.leads, (pair.low_poles, pair.high_poles)) == (leads, poles)


def test_amps_of_a_contact_are_those_of_the_coils_it_feeds():
    for pair in pairs_of(STATOR):
        low, high = (Winding(stator=STATOR, coil=COIL, grouping=g) for g in (pair.low, pair.high))
        # Kirchhoff: a link below carries all paths of its phase; above, the paths of one block.
        assert pair.low_contact_amps(10.0) == pytest.approx(low.coil_amps(10.0) * pair.low.parallel)
        assert pair.high_contact_amps(10.0) == pytest.approx(high.coil_amps(10.0) * pair.low.parallel)


def test_the_gain_is_that_of_a_loop_over_the_exact_search(windy_job, found):
    now, source = windy_job
    best = found[0]
    assert best.is_stable and best.gain_share > 0.05 and is_worth_it(best)
    every = now.stator.groupings()
    speeds, watts, _ = exact_points(now, source.drives, every)
    low, high = (every.index(grouping) for grouping in (best.pair.low, best.pair.high))
    switched = 0.0
    for wind, hours in enumerate(HOURS):
        stays = [watts[low, wind]] if speeds[low, wind] < best.up_rpm else []
        stays += [watts[high, wind]] if speeds[high, wind] > best.down_rpm else []
        switched += hours * min(stays) / 1000.0
    single = max(watts @ HOURS) / 1000.0
    assert best.kwh == pytest.approx(switched, rel=0.003)
    assert best.gain_kwh == pytest.approx(switched - single, abs=0.004 * single)


def test_never_above_the_better_of_both_nor_below_the_worse(found):
    for each in found:
        higher, lower = (f(each.low.bank_watts, each.high.bank_watts) for f in (np.maximum, np.minimum))
        assert np.all(each.bank_watts <= higher) and np.all(each.bank_watts >= lower)
        assert each.kwh == pytest.approx(each.kwh_by_month.sum())
        rests = [each.low.hours_where(each.rests == place) for place in (-1, 0, 1)]
        assert sum(rests) == pytest.approx(HOURS.sum())
        assert [each.either_h, each.high_h] == pytest.approx(rests[1:])


def stays_put(now, drive, each):
    """Follow the control at one setting of the source, from rest and from full speed, until it no longer changes.

    The rotor's own dynamics: it goes to the next stable crossing of drive and generator, up or down.
    """
    windings = [Winding(stator=now.stator, coil=now.coil, grouping=g) for g in (each.pair.low, each.pair.high)]
    around = now.bank.states[1], now.setting.conditions
    places = [crossings(drive, winding, *around) for winding in windings]
    for grouping, speed in ((0, 0.0), (1, drive.free_speed_rpm)):
        changes = 0
        while changes < 4:
            speed = settle(places[grouping], speed)
            if grouping == 0 and speed >= each.up_rpm or grouping == 1 and speed <= each.down_rpm:
                if not each.waits:  # a speed switch looks at once, too, while the rotor still has its speed
                    assert (speed > each.down_rpm) if grouping == 0 else (speed < each.up_rpm)
                grouping, changes = 1 - grouping, changes + 1
            else:
                break
        assert changes <= 1, (each.pair.label, drive)


def settle(found, speed):
    """The stable crossing that a rotor at some speed goes to; it stands where there is none."""
    below = [c for c in found if c.speed_rpm <= speed]
    if not found:
        return 0.0
    if below and below[-1].stable:
        return below[-1].speed_rpm
    above = [c.speed_rpm for c in found if c.speed_rpm > speed and c.stable]
    return above[0] if above else 0.0


@pytest.mark.parametrize(
    "stator, coil, cells",
    [
        (STATOR, COIL, 16),
        # A stiff one: after going up it turns half as fast again, so that a speed switch alone will not do.
        (Stator(slots=42, poles=56), replace(COIL, emf_v_per_rpm=0.025, ohm=0.15, henry=0.0012), 8),
    ],
)
def test_no_wind_makes_it_chatter(stator, coil, cells):
    now = machine(stator=stator, coil=coil, drive=SMALL, bank=replace(BANK, cells=cells))
    source = windy(WINDS, HOURS, SMALL)
    stable = [each for each in switchings(now, source) if each.is_stable]
    assert stable
    for each in stable[:2]:
        for drive in source.drives[2:16:2]:
            stays_put(now, drive, each)


def never_chatters(stator, coil, metres, mean, cells):
    rotor = replace(SMALL, rotor_diameter_m=metres, furls_from_m_s=2.0 * mean)
    now = machine(stator=stator, coil=coil, drive=rotor, bank=replace(BANK, cells=cells))
    source = windy(mean * np.linspace(0.1, 3.5, 30), np.full(30, 100.0), rotor)
    for each in switchings(now, source):
        if each.is_stable:
            for drive in source.drives[5::6]:
                stays_put(now, drive, each)


MACHINES = (stators().filter(lambda s: s.max_parallel_paths <= 6), coils(), st.floats(1.0, 5.0), st.floats(3.0, 8.0))


@settings(max_examples=2, deadline=None)
@given(*MACHINES, st.sampled_from([4, 8, 16]))
def test_no_machine_is_made_to_chatter(stator, coil, metres, mean, cells):
    never_chatters(stator, coil, metres, mean, cells)


@pytest.mark.slow
@settings(max_examples=5, deadline=None)
@given(*MACHINES, st.sampled_from([4, 8, 16]))
def test_no_machine_is_made_to_chatter_at_length(stator, coil, metres, mean, cells):
    never_chatters(stator, coil, metres, mean, cells)


@pytest.mark.parametrize("drive", [JET, KnownSpeed(working_rpm=600.0)])
def test_a_source_that_never_changes_gains_nothing(drive):
    now = machine(drive=drive)
    for each in switchings(now, year_of([drive], [8760.0])):
        assert not each.is_stable and each.gain_kwh <= 0.0
        assert not is_worth_it(each)
        assert each.kwh == max(each.low.kwh, each.high.kwh)
        at = switch_contacts(now, year_of([drive], [8760.0]), each)
        assert "AC-3" not in f"{switch_words(each, at)} {building_words(each, at)}"


def test_speeds_that_are_held_by_an_engine_or_a_belt():
    drives = [KnownSpeed(working_rpm=speed) for speed in (150.0, 250.0, 900.0)]
    now, source = machine(drive=drives[-1]), year_of(drives, [3000.0, 1000.0, 3000.0])
    best = switchings(now, source)[0]
    # No settling: a held speed is the same before and after, so it rests in one of the two at each of three speeds.
    assert best.is_stable and best.either_h == 0.0 and not best.waits
    watts = [max(w) for w in zip(best.low.bank_watts, best.high.bank_watts, strict=True)]
    assert best.kwh == pytest.approx(np.dot([3.0, 1.0, 3.0], watts))


def test_stuck_it_is_one_of_the_fixed_groupings(windy_job, found):
    now, source = windy_job
    fixed = {year.grouping: year for year in grouping_years(now, source)}
    for each in found:
        at = switch_contacts(now, source, each)
        assert (each.low.kwh, each.high.kwh) == (fixed[each.pair.low].kwh, fixed[each.pair.high].kwh)
        assert each.high.idle_h == fixed[each.pair.high].idle_h
        low, high = each.low.winding, each.high.winding
        # Bank gone: √2 × line volts rms at the runaway speed, magnets cold, of the one with more volts.
        volts = [sqrt(2.0) * w.line_volts_rms(now.drive.runaway_speed_rpm, now.setting.cold_c) for w in (low, high)]
        assert at.runaway.dc_volts_peak == pytest.approx(max(volts)) == pytest.approx(volts[0])
        assert at.unguarded.dc_volts_peak > at.runaway.dc_volts_peak
        assert at.rated_volts_rms == at.unguarded.line_volts_rms


def test_amps_at_the_change_are_those_of_the_exact_search(windy_job, found):
    now, source = windy_job
    best = found[0]
    at = switch_contacts(now, source, best)
    # The wind that turns the rotor just at the set speed, found by halving; exact search each time.
    for grouping, speed, broken in (
        (best.pair.low, best.up_rpm, at.up_breaks_amps_rms),
        (best.pair.high, best.down_rpm, at.down_breaks_amps_rms * sqrt(3.0)),
    ):
        low, high = 1.0, 12.0
        for _ in range(14):
            wind = 0.5 * (low + high)
            rpm, _, amps = (each[0, 0] for each in exact_points(now, [replace(SMALL, wind_m_s=wind)], [grouping]))
            low, high = (wind, high) if rpm < speed else (low, wind)
        assert rpm == pytest.approx(speed, rel=2e-3)
        assert broken == pytest.approx(amps, rel=0.01)
    assert best.pair.is_star_delta
    assert at.open_line_volts_rms == pytest.approx(best.low.winding.line_volts_rms(best.up_rpm, now.setting.cold_c))


def test_an_unloaded_rotor_gains_speed_as_torque_over_inertia(windy_job, found):
    now, source = windy_job
    best = found[0]
    assert np.isnan(switch_contacts(now, source, best).gains_rpm_per_s)
    gains = switch_contacts(now, source, best, inertia_kgm2=2.0).gains_rpm_per_s
    assert gains == pytest.approx(0.5 * switch_contacts(now, source, best, inertia_kgm2=1.0).gains_rpm_per_s)
    # T = P / Ω, and the source has at least what reaches the bank at that speed.
    least = best.low.bank_watts[best.low.speed_rpm < best.up_rpm].max() / (best.up_rpm * pi / 30.0)
    assert gains > least / 2.0 * 30.0 / pi


def test_a_gain_within_its_plus_minus_is_not_worth_a_contactor(windy_job, found):
    now, source = windy_job
    best = found[0]
    assert gain_plus_minus_kwh(now, source, best) == 0.0
    band = (
        Estimate(value=v, plus_minus=0.03 * v, unit=u, how="invented")
        for v, u in ((COIL.emf_v_per_rpm, "V/rpm"), (COIL.ohm, "Ω"), (COIL.henry, "H"))
    )
    width = gain_plus_minus_kwh(replace(now, ends=ends(*band)), source, best)
    assert 0.0 < width < best.kwh
    assert not is_worth_it(best, best.gain_kwh + 1.0)
    assert "within its ±" in verdict_words(best, best.gain_kwh + 1.0)
    assert "May be worth" in verdict_words(best, 0.5 * best.gain_kwh)
    weak = next(each for each in found if each.is_stable and each.gain_share < 0.05)
    assert not is_worth_it(weak) and "Not worth" in verdict_words(weak)
    assert [building_words(each, switch_contacts(now, source, each)).text[:2] for each in (best, weak)] == ["At", "If"]


def test_dangers_come_first_and_building_it_brings_its_caution(windy_job, found):
    now, source = windy_job
    best = found[0]
    at = switch_contacts(now, source, best)
    first = switch_words(best, at).splitlines()[0]
    assert best.pair.low.label in first and f"{at.runaway.dc_volts_peak:.0f} V DC peak" in first
    assert at.runaway.limit in first
    said = building_words(best, at)
    assert {exposure.name for exposure in said.exposures} == {"STANDING", "VOLTS", "BANK"}
    assert "open corner" in said.text
    assert "open corner" not in building_words(best, at, corner_measured=True).text
    assert not at.is_accepted and "120 V DC that you accept" in first
    held = switch_contacts(replace(now, setting=replace(now.setting, device_max_volts=60.0)), source, best)
    assert "A device that stands 60 V" in switch_words(best, held).splitlines()[0]
    between = Converter(low_volts=60.0, high_volts=150.0, survives_dc_volts=200.0)
    through = machine(drive=SMALL, conditions=replace(now.setting.conditions, converter=between))
    pair = next(each for each in switchings(through, source) if each.pair == best.pair)
    held = switch_contacts(through, source, pair)
    assert "A converter that survives 200 V" in switch_words(pair, held).splitlines()[0]


def test_coils_that_run_too_hot_are_told_with_their_hours(found):
    best = found[0]
    low, high = (replace(each, amps_per_mm2=np.full(len(WINDS), 9.0)) for each in (best.low, best.high))
    assert "A/mm²" not in verdict_words(replace(best, low=low, high=high))
    hot = replace(best, low=replace(low, amps_per_mm2=np.full(len(WINDS), 11.0)), high=high)
    # 10 A/mm² for hours at most, common practice, no source; where it may rest in either, either counts.
    hours = HOURS[best.rests != 1].sum()
    assert verdict_words(hot).endswith(f"Its coils carry more than 10 A/mm² for {hours:.0f} h a year.")
