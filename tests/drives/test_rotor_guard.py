"""Furling and brake of a wind rotor, the speed of its tips, and why one wind is not a year."""

from dataclasses import replace
from math import inf, nan, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives import shaft_watts
from statorbook.drives.air import RAYLEIGH_CUBES
from statorbook.drives.quantity import with_quantities
from statorbook.drives.wind_rotor import WindRotor
from statorbook.drives.wind_words import tip_caution, year_words
from statorbook.errors import BadInput
from statorbook.quantities.facts import BRAKE_OVERSHOOT, FURLING_OVERSHOOT, TIP_M_S
from strategies import numbers

wording = sentences_of("drives")


def rotor(**changes):
    return WindRotor(**{"rotor_diameter_m": 2.2, "wind_m_s": 6.0, **changes})


def guarded():
    """Rotors with furling, a brake, both or neither."""
    return st.builds(
        WindRotor,
        rotor_diameter_m=numbers(0.5, 20.0),
        wind_m_s=st.floats(1.0, 40.0),
        hub_height_m=st.floats(2.0, 40.0),
        power_coefficient=st.floats(0.02, 0.59),
        tip_speed_ratio=st.floats(0.8, 12.0),
        storm_m_s=st.floats(10.0, 90.0),
        gear_ratio=numbers(0.2, 20.0),
        furls_from_m_s=st.none() | st.floats(3.0, 40.0),
        brake_from_rpm=st.none() | numbers(5.0, 5000.0),
    )


# --- the tips ---------------------------------------------------------------------------------------------------------


# Hand example: 2.4 m across at 3242 rpm of the rotor is π 2.4 3242/60 = 407.4 m/s; on a gear of 4 a quarter of it.
def test_the_speed_of_the_tips_by_hand():
    assert rotor(rotor_diameter_m=2.4).tip_m_s(3242.0) == pytest.approx(407.4, abs=0.05)
    assert rotor(rotor_diameter_m=2.4, gear_ratio=4.0).tip_m_s(3242.0) == pytest.approx(407.4 / 4, abs=0.05)


@given(guarded())
def test_tip_speed_over_wind_is_the_tip_speed_ratio(drive):
    speed = 0.7 * drive.free_speed_rpm
    assert drive.tip_m_s(speed) == pytest.approx(drive.tip_ratio(speed) * drive.driving_m_s, rel=1e-9)


@given(guarded())
def test_a_guard_as_early_as_was_told_keeps_the_tips_slow(drive):
    bare = drive.unguarded()
    furls = replace(bare, furls_from_m_s=bare.latest_furling_m_s)
    holds = replace(bare, brake_from_rpm=bare.latest_brake_rpm)
    for held in (furls, holds):
        tips = held.tip_m_s(held.runaway_speed_rpm)
        assert tips <= TIP_M_S.value * (1 + 1e-9) or tips == pytest.approx(held.tip_m_s(held.free_speed_rpm))


# A storm of 40 m/s on a free ratio of 6 × 13.4/8.1 = 9.9 is a tip at 397 m/s, of 2.2 m or of any size.
@pytest.mark.parametrize(
    ("changes", "told", "not_told"),
    [
        (
            {},
            ("Without a guard", "397 m/s", "blades burst long before", "Fit furling or a brake", "80 to 100 m/s"),
            ("Even with",),
        ),
        (
            {"furls_from_m_s": 14.0},
            ("Even with its guard", "174 m/s", "too fast", "8 m/s", "720 rpm"),
            ("Fit furling",),
        ),
        ({"furls_from_m_s": 8.0}, ("Should its guard fail", "397 m/s"), ("Even with", "Fit furling")),
        ({"brake_from_rpm": 500.0}, ("Should its guard fail",), ("Even with", "Fit furling")),
    ],
)
def test_tips_above_100_m_s_are_cautioned_with_guard_and_without(changes, told, not_told):
    words = tip_caution(rotor(**changes))
    assert all(each in words for each in told) and not any(each in words for each in not_told)


def test_slow_tips_are_no_caution():
    # Wide blades at a ratio of 1: in 40 m/s the tips run at 1 × 13.4/8.1 × 40 = 66 m/s.
    assert tip_caution(rotor(tip_speed_ratio=1.0)) == ""


def test_the_caution_is_told_in_us_units():
    # 100 m/s is 328 ft/s, 8 m/s of wind 17.9 mph, 80 m/s 262 ft/s (NIST SP 811).
    words = in_us(tip_caution, rotor())
    assert "262 to 328 ft/s" in words and "17.9 mph" in words and "m/s" not in words


# --- the guard --------------------------------------------------------------------------------------------------------


@given(guarded())
def test_a_guard_never_raises_the_runaway(drive):
    bare = drive.unguarded()
    assert bare.guard_words == "" and bare.runaway_speed_rpm == bare.unguarded_runaway_speed_rpm
    assert drive.runaway_speed_rpm <= drive.unguarded_runaway_speed_rpm == bare.runaway_speed_rpm
    assert 0.0 < drive.best_speed_rpm <= drive.free_speed_rpm <= drive.runaway_speed_rpm * (1 + 1e-12)
    assert (drive.guard_words != "") == (drive.furls_from_m_s is not None or drive.brake_from_rpm is not None)


@given(guarded())
def test_most_power_is_at_the_best_speed_with_a_guard_too(drive):
    speeds = np.linspace(0.0, drive.free_speed_rpm, 4001)
    watts = shaft_watts(drive, speeds)
    assert watts.max() <= drive.best_shaft_watts * (1 + 1e-9)
    assert shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(drive.best_shaft_watts, rel=1e-9)
    assert drive.torque_nm(drive.free_speed_rpm) == pytest.approx(0.0, abs=1e-9 * drive.torque_nm(drive.best_speed_rpm))
    assert drive.best_shaft_watts <= drive.unguarded().best_shaft_watts * (1 + 1e-12)


# Furling from 8 m/s: the gust that passes is 1.25 × 8 = 10 m/s, so as fast as a bare rotor in 10 m/s.
def test_furling_lets_the_gust_of_the_margin_pass_and_no_more():
    assert FURLING_OVERSHOOT.value >= 1.25 and FURLING_OVERSHOOT.source.endswith("common practice, no source")
    drive = rotor(furls_from_m_s=8.0)
    assert drive.runaway_speed_rpm == pytest.approx(
        rotor(wind_m_s=FURLING_OVERSHOOT.value * 8.0).free_speed_rpm, rel=1e-12
    )
    assert drive.unguarded_runaway_speed_rpm == rotor().runaway_speed_rpm
    assert replace(drive, storm_m_s=9.0).runaway_speed_rpm == rotor(storm_m_s=9.0).runaway_speed_rpm


def test_above_the_wind_that_it_furls_from_the_power_stays():
    at, above = (rotor(wind_m_s=wind, furls_from_m_s=8.0) for wind in (8.0, 14.0))
    speeds = np.linspace(0.0, at.runaway_speed_rpm, 30)
    assert above.source_watts == at.source_watts and above.torque_nm(speeds).tolist() == at.torque_nm(speeds).tolist()
    assert rotor(wind_m_s=7.9, furls_from_m_s=8.0).source_watts == rotor(wind_m_s=7.9).source_watts
    assert wording("14 m/s at the hub") in above.describe()


# The wind of the guard counts at the hub: 8 m/s there, whatever a reading lower down says (power law by hand 1.1487).
def test_the_furling_wind_is_the_one_at_the_hub():
    high = rotor(wind_m_s=20.0, hub_height_m=20.0, shear_exponent=0.2, furls_from_m_s=8.0)
    assert high.driving_m_s == 8.0 and high.hub_wind_m_s == pytest.approx(20 * 1.1487, rel=1e-4)


@given(guarded(), st.floats(0.0, 1.5))
def test_a_brake_takes_nothing_below_its_speed_and_leaves_nothing_where_it_holds(drive, share):
    drive = replace(drive, brake_from_rpm=0.5 * drive.unguarded().free_speed_rpm / drive.gear_ratio)
    grips = drive.brake_from_rpm * drive.gear_ratio
    speed = share * grips
    free_nm = replace(drive, brake_from_rpm=None).torque_nm(speed)
    if speed <= grips:
        assert drive.torque_nm(speed) == pytest.approx(free_nm, rel=1e-12)
    assert drive.torque_nm(speed) <= max(free_nm, 0.0)
    assert drive.torque_nm(BRAKE_OVERSHOOT.value * grips * 1.0001) <= 0.0
    assert drive.runaway_speed_rpm <= BRAKE_OVERSHOOT.value * grips * (1 + 1e-12)


def test_the_brake_counts_turns_of_the_rotor_not_of_the_generator():
    plain, geared = rotor(brake_from_rpm=400.0), rotor(brake_from_rpm=400.0, gear_ratio=5.0)
    assert plain.runaway_speed_rpm == pytest.approx(BRAKE_OVERSHOOT.value * 400.0, rel=1e-12)
    assert geared.runaway_speed_rpm == pytest.approx(5 * plain.runaway_speed_rpm, rel=1e-12)
    assert geared.tip_m_s(geared.runaway_speed_rpm) == pytest.approx(pi * 2.2 * BRAKE_OVERSHOOT.value * 400 / 60)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, ""),
        ({"furls_from_m_s": 11.0}, "furling from a wind of 11 m/s at the hub"),
        ({"brake_from_rpm": 400.0}, "a brake that grips from 400 rpm of the rotor"),
        (
            {"furls_from_m_s": 11.0, "brake_from_rpm": 400.0},
            "furling from a wind of 11 m/s at the hub and a brake that grips from 400 rpm of the rotor",
        ),
    ],
)
def test_the_guard_in_words(changes, words):
    drive = rotor(**changes)
    assert drive.guard_words == words and (words in drive.describe())
    assert (wording("Nothing is given that turns") in drive.describe()) == (not words)
    for speed in (drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm):
        assert f"{speed:.0f} rpm, with its tips at {drive.tip_m_s(speed):.3g} m/s" in drive.describe()


def test_the_wind_that_it_furls_from_can_be_turned():
    furls = rotor(furls_from_m_s=8.0).quantities[-1]
    assert (furls.field, furls.value, furls.unit) == ("furls_from_m_s", 8.0, "m/s") and len(rotor().quantities) == 2
    assert with_quantities(rotor(furls_from_m_s=8.0), {"furls_from_m_s": 10.0}) == rotor(furls_from_m_s=10.0)


def test_the_guard_is_told_in_us_units():
    # 11 m/s is 24.6 mph (NIST SP 811).
    told = in_us(rotor(furls_from_m_s=11.0).describe)
    assert wording("furling from a wind of") in told and "m/s" not in told


# --- the strongest wind -----------------------------------------------------------------------------------------------


@given(guarded())
def test_the_strongest_wind_never_pulls_less_at_any_speed(drive):
    strong = drive.strongest()
    speeds = np.linspace(0.0, drive.runaway_speed_rpm, 301)
    weaker = drive.torque_nm(speeds) - strong.torque_nm(speeds)
    assert weaker.max() <= 1e-4 * strong.torque_nm(strong.best_speed_rpm)
    assert strong.runaway_speed_rpm == pytest.approx(drive.runaway_speed_rpm, rel=1e-12)
    assert strong.free_speed_rpm == pytest.approx(strong.runaway_speed_rpm, rel=1e-12)
    assert strong.guard_words == drive.guard_words
    assert strong.best_shaft_watts >= drive.best_shaft_watts * (1 - 1e-12)


@given(guarded(), st.floats(0.05, 1.0))
def test_the_strongest_wind_pulls_no_less_than_any_lighter_one(drive, share):
    strong = drive.strongest()
    lighter = replace(strong, gusty=False, wind_m_s=share * strong.wind_m_s)
    speeds = np.linspace(0.0, lighter.free_speed_rpm, 101)
    slack = 1e-4 * lighter.torque_nm(lighter.best_speed_rpm)
    assert (lighter.torque_nm(speeds) - strong.torque_nm(speeds)).max() <= slack


def test_the_strongest_wind_is_said():
    assert rotor().strongest_words == wording("gusts of wind of up to 40")
    assert rotor(furls_from_m_s=8.0).strongest_words == wording("gusts of wind of up to 10")


# --- a year -----------------------------------------------------------------------------------------------------------


@pytest.mark.outside(
    "mean of the wind cubed over its mean cubed",
    source="scipy 1.17.1, stats.rayleigh.moment(3) over mean() cubed",
    number="6/π = 1.909859",
    tolerance="1e-9",
    seen="computed by package",
)
def test_the_mean_of_the_cubes_is_rayleighs():
    from scipy.stats import rayleigh

    assert RAYLEIGH_CUBES.value == pytest.approx(rayleigh.moment(3) / rayleigh.mean() ** 3, rel=1e-9)
    assert f"{RAYLEIGH_CUBES.value:.2f}" == "1.91" and RAYLEIGH_CUBES.low <= 6 / pi <= RAYLEIGH_CUBES.high


def test_one_wind_is_said_to_be_no_year():
    assert year_words().startswith(wording("One wind speed is not")) and "1.91 times" in year_words()
    assert year_words() in rotor().limits and "Furling is taken" not in rotor().limits
    assert wording("Furling is taken to hold") in rotor(furls_from_m_s=8.0).limits


# --- refusals ---------------------------------------------------------------------------------------------------------

FURLS = wording("watch it beside an anemometer")
BRAKE = wording("take it from the brake's")


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        (
            "furls_from_m_s",
            0,
            f"furling wind: 0 m/s was given; a number above 0 and at most 100 m/s is allowed; {FURLS}",
        ),
        (
            "furls_from_m_s",
            nan,
            f"furling wind: nan m/s was given; a number above 0 and at most 100 m/s is allowed; {FURLS}",
        ),
        (
            "brake_from_rpm",
            -5,
            f"brake speed: -5 rpm was given; a number above 0 and at most 20000 rpm is allowed; {BRAKE}",
        ),
        (
            "brake_from_rpm",
            inf,
            f"brake speed: inf rpm was given; a number above 0 and at most 20000 rpm is allowed; {BRAKE}",
        ),
    ],
)
def test_a_guard_that_cannot_be_is_refused(field, value, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        rotor(**{field: value})
