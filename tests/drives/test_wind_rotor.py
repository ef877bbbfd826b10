"""A wind rotor against worked examples in textbooks, and against the laws of the wind."""

from dataclasses import replace
from math import inf, nan, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives import shaft_watts, wind_rotor
from statorbook.drives.air import heier_power_coefficient
from statorbook.drives.quantity import with_quantities
from statorbook.drives.wind_rotor import POWER_COEFFICIENT, TIP_SPEED_RATIO, WindRotor
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")

BETZ = 16 / 27


def rotor(**changes):
    return WindRotor(**{"rotor_diameter_m": 2.0, "wind_m_s": 6.0, **changes})


def rotors():
    """Rotors of every usual kind, many-bladed and slim."""
    return st.builds(
        WindRotor,
        rotor_diameter_m=numbers(0.5, 20.0),
        wind_m_s=st.floats(1.0, 40.0),
        hub_height_m=st.floats(1.0, 60.0),
        air_kg_m3=st.floats(0.7, 1.4),
        power_coefficient=st.floats(0.02, BETZ),
        tip_speed_ratio=st.floats(0.8, 12.0),
        storm_m_s=st.floats(10.0, 90.0),
        gear_ratio=numbers(0.2, 20.0),
    )


# --- textbook examples ------------------------------------------------------------------------------------------------


# D 30 m, 1.2 kg/m³, a = 1/3.
@pytest.mark.outside(
    "power of an ideal rotor at two winds",
    source="Dixon, Fluid Mechanics and Thermodynamics of Turbomachinery, example 10.3, p. 335",
    number="106.03 kW, 251.33 kW",
    tolerance="0.05 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("wind_m_s", "kilowatts"), [(7.5, 106.03), (10.0, 251.33)])
def test_published_ideal_rotor(wind_m_s, kilowatts):
    drive = rotor(rotor_diameter_m=30.0, wind_m_s=wind_m_s, air_kg_m3=1.2, power_coefficient=BETZ)
    assert drive.best_shaft_watts == pytest.approx(1000 * kilowatts, rel=5e-4)
    assert shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(1000 * kilowatts, rel=5e-4)


# 7.5 m/s, 1.2 kg/m³, Cp 0.35, efficiencies 0.75 and 0.85.
@pytest.mark.outside(
    "rotor for 20 kW",
    source="Dixon, Fluid Mechanics and Thermodynamics of Turbomachinery, example 10.4, p. 337",
    number="21.23 m",
    tolerance="0.1 % of the diameter",
    seen="in a reproduction",
)
def test_published_rotor_for_a_power():
    drive = rotor(rotor_diameter_m=21.23, wind_m_s=7.5, air_kg_m3=1.2, power_coefficient=0.35)
    # 0.1 % of the diameter are 0.2 % of the power.
    assert 0.75 * 0.85 * shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(20e3, rel=2e-3)


# D 26 m, 20 rpm, 36 km/h, 41 kW, 1.23 kg/m³.
@pytest.mark.outside(
    "tip speed ratio and efficiency of a mill",
    source="Fox and McDonald, Introduction to Fluid Mechanics, example 10.16, p. 569",
    number="2.72, 0.126",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_tip_speed_and_efficiency():
    drive = rotor(rotor_diameter_m=26.0, wind_m_s=10.0, air_kg_m3=1.23)
    assert drive.tip_ratio(20.0) == pytest.approx(2.72, rel=5e-3)
    assert 41e3 / drive.source_watts == pytest.approx(0.126, rel=5e-3)
    geared = replace(drive, gear_ratio=30.0)
    assert geared.tip_ratio(600.0) == pytest.approx(2.72, rel=5e-3)


@pytest.mark.outside(
    "best tip speed ratio and power coefficient of small rotors",
    source="Khan and Pillay, Design of a PM wind generator",
    number="5 to 7, 0.35 to 0.45",
    tolerance="none",
    seen="read",
)
def test_published_bounds_hold_for_the_defaults():
    assert 5.0 <= rotor().tip_speed_ratio <= 7.0 and 0.35 <= rotor().power_coefficient <= 0.45
    assert (TIP_SPEED_RATIO.low, TIP_SPEED_RATIO.high) == (5.0, 7.0)
    assert (POWER_COEFFICIENT.low, POWER_COEFFICIENT.high) == (0.35, 0.45)


@pytest.mark.outside(
    "torque coefficient at rest",
    source="Lysen, Introduction to Wind Energy",
    number="0.5 / λ²",
    tolerance="1e-9",
    seen="from memory",
)
@pytest.mark.parametrize("best_ratio", [1.5, 3.0, 6.0, 8.0])
def test_published_pull_at_rest(best_ratio):
    by_hand_nm = 0.5 / best_ratio**2 * 0.5 * 1.225 * pi * 1.0**2 * 1.0 * 6.0**2
    assert rotor(tip_speed_ratio=best_ratio).torque_nm(0.0) == pytest.approx(by_hand_nm, rel=1e-9)


# With the top at the place of Heier's own (0.480 at 8.10, both rounded) the running part is Heier's own curve.
def test_running_part_is_heiers_curve():
    drive = rotor(power_coefficient=0.480, tip_speed_ratio=8.10)
    ratios = np.linspace(8.1, 13.0, 50)
    assert drive.power_share(ratios) == pytest.approx(heier_power_coefficient(ratios), abs=3e-4)
    slower = np.linspace(1.0, 8.0, 50)
    added = drive.power_share(slower) - heier_power_coefficient(slower)
    # 0.5/8.1² less the 0.0068 that Heier's curve leaves at rest, faded out by (1 − λ/8.1)².
    assert added == pytest.approx((0.5 / 8.1**2 - 0.0068) * slower * (1 - slower / 8.1) ** 2, abs=3e-4)


# --- laws -------------------------------------------------------------------------------------------------------------


@given(rotors())
def test_most_power_is_what_was_asked_for_and_none_is_left_at_the_free_speed(drive):
    speeds = np.linspace(0.0, drive.free_speed_rpm, 6001)
    watts = shaft_watts(drive, speeds)
    assert shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(drive.best_shaft_watts, rel=1e-9)
    assert watts.max() <= drive.best_shaft_watts * (1 + 1e-9)
    assert speeds[watts.argmax()] == pytest.approx(drive.best_speed_rpm, rel=2e-3)
    assert drive.torque_nm(drive.free_speed_rpm) == pytest.approx(0.0, abs=1e-9 * drive.torque_nm(drive.best_speed_rpm))
    assert drive.torque_nm(speeds[:-1]).min() > 0.0


@given(rotors(), st.floats(1.0001, 1e6))
def test_above_the_free_speed_it_is_held_back(drive, times):
    torque = drive.torque_nm(times * drive.free_speed_rpm)
    assert torque < 0.0 and np.isfinite(torque)
    assert drive.torque_nm(2 * times * drive.free_speed_rpm) <= torque


@given(rotors(), st.floats(0.0, 5.0))
def test_no_more_comes_out_than_the_steps_leave(drive, share):
    left = sum(watts for _, watts in drive.source_steps)
    assert shaft_watts(drive, share * drive.best_speed_rpm) <= left * (1 + 1e-9)
    assert left == pytest.approx(drive.best_shaft_watts, rel=1e-9)
    assert drive.source_steps[0][1] == drive.source_watts
    assert all(watts <= 1e-9 * drive.source_watts for _, watts in drive.source_steps[1:])
    assert left <= BETZ * drive.source_watts * (1 + 1e-9)


@given(rotors())
def test_torque_and_power_meet_the_best_speed_without_a_kink(drive):
    best = drive.best_speed_rpm
    below, at, above = shaft_watts(drive, best * np.array([1 - 1e-4, 1.0, 1 + 1e-4]))
    # A flat top: a ten-thousandth beside it less than a millionth is lost, on either side.
    assert 0.0 <= at - below < 1e-6 * at and 0.0 <= at - above < 1e-6 * at


def test_twice_the_wind_is_twice_the_speed_four_times_the_torque_eight_times_the_power():
    one, two = rotor(wind_m_s=5.0), rotor(wind_m_s=10.0)
    shares = np.linspace(0.0, 1.2, 13)
    assert two.best_speed_rpm == pytest.approx(2 * one.best_speed_rpm, rel=1e-12)
    assert two.torque_nm(2 * shares * one.free_speed_rpm) == pytest.approx(
        4 * one.torque_nm(shares * one.free_speed_rpm), rel=1e-9, abs=1e-9
    )
    assert two.best_shaft_watts == pytest.approx(8 * one.best_shaft_watts, rel=1e-12)


# λ = Ω R / v: at 6 and 6 m/s a rotor of 1 m radius turns with 36 rad/s = 343.8 rpm.
def test_best_speed_by_hand():
    assert rotor().best_speed_rpm == pytest.approx(36 * 60 / (2 * pi), rel=1e-12)


def test_a_gear_changes_speed_against_torque_and_keeps_the_power():
    plain, geared = rotor(), rotor(gear_ratio=4.0)
    speeds = np.linspace(0.0, 1.2, 13) * plain.free_speed_rpm
    assert geared.torque_nm(4 * speeds) == pytest.approx(plain.torque_nm(speeds) / 4, rel=1e-9, abs=1e-12)
    assert geared.best_speed_rpm == pytest.approx(4 * plain.best_speed_rpm, rel=1e-12)
    assert geared.runaway_speed_rpm == pytest.approx(4 * plain.runaway_speed_rpm, rel=1e-12)


# Power law by hand: from 10 m to 20 m at 0.2 the wind grows by 2^0.2 = 1.1487, its power by 1.5157; the storm as well.
def test_hub_height_counts_for_wind_and_storm():
    low, high = rotor(), rotor(hub_height_m=20.0, shear_exponent=0.2)
    assert high.hub_wind_m_s / low.hub_wind_m_s == pytest.approx(1.1487, rel=1e-4)
    assert high.source_watts / low.source_watts == pytest.approx(1.5157, rel=1e-4)
    assert high.hub_storm_m_s / low.hub_storm_m_s == pytest.approx(1.1487, rel=1e-4)
    assert high.runaway_speed_rpm / low.runaway_speed_rpm == pytest.approx(1.1487, rel=1e-4)


def test_the_storm_sets_the_runaway_speed_and_is_never_less_than_the_wind():
    drive = rotor(storm_m_s=24.0)
    assert drive.runaway_speed_rpm == pytest.approx(4 * drive.free_speed_rpm, rel=1e-12)
    assert drive.strongest().best_shaft_watts == pytest.approx(64 * drive.best_shaft_watts, rel=1e-12)
    windy = rotor(wind_m_s=30.0, storm_m_s=24.0)
    assert windy.runaway_speed_rpm == windy.free_speed_rpm
    assert windy.strongest().best_shaft_watts == windy.best_shaft_watts


# Heier's curve comes back to 0 at a good one and a half times its best ratio: 13.4 / 8.1 (recomputed by bisection).
def test_unloaded_it_turns_by_two_thirds_faster_than_at_its_best():
    low, high = 10.0, 20.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if heier_power_coefficient(middle) > 0 else (low, middle)
    assert rotor().free_speed_rpm / rotor().best_speed_rpm == pytest.approx(low / 8.10, rel=1e-4)


def test_numbers_and_arrays_give_the_same():
    drive, speeds = rotor(), np.array([0.0, 100.0, 343.0, 500.0, 2000.0])
    assert drive.torque_nm(speeds).tolist() == [drive.torque_nm(speed) for speed in speeds]
    assert isinstance(drive.torque_nm(300), float)
    assert drive.torque_nm(speeds[:4].reshape(2, 2)).shape == (2, 2)


# --- what the reader is told ------------------------------------------------------------------------------------------


def test_what_it_does_is_said_in_both_systems():
    # By hand: ½ 1.225 π 6³ = 415.6 W, of which 0.35 are 145.5 W; 6 m/s = 13.4 mph, 25 m/s = 55.9 mph.
    described = rotor(storm_m_s=25.0).describe
    metric, us = described(), in_us(described)
    assert metric.startswith(wording("A wind of 6 m/s"))
    assert metric.endswith(" in gusts of 25 m/s.")
    assert us.startswith(wording("A wind of 13.4 mph")) and us.endswith(" in gusts of 55.9 mph.")


def test_wind_and_rotor_can_be_turned():
    wind, size = rotor().quantities
    assert "wind" in wind.label.lower() and (wind.unit, size.unit) == ("m/s", "m")
    assert (wind.value, size.value) == (6.0, 2.0)
    changed = with_quantities(rotor(), {"wind_m_s": 12.0, "rotor_diameter_m": 4.0})
    assert changed.source_watts == pytest.approx(32 * rotor().source_watts, rel=1e-12)


@pytest.mark.parametrize("name", [name for name, fact in vars(wind_rotor).items() if isinstance(fact, wind_rotor.Fact)])
def test_facts_stand_within_their_range(name):
    fact = getattr(wind_rotor, name)
    assert fact.low <= fact.value <= fact.high and fact.unit and fact.source


# --- refusals ---------------------------------------------------------------------------------------------------------

WIND = wording("a number above 0 and at most 100 m/s")
GEAR = wording("a number above 0 and at most 100 is allowed; divide the turns of the generator by those of the rotor")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"wind_m_s": 0}, f"wind speed: 0 m/s was given; {WIND}"),
        ({"wind_m_s": -3.0}, f"wind speed: -3.0 m/s was given; {WIND}"),
        ({"wind_m_s": "20 mph"}, f"wind speed: '20 mph' is not a number; {WIND}"),
        ({"wind_m_s": inf}, f"wind speed: inf m/s was given; {WIND}"),
        ({"gear_ratio": 0}, f"gear ratio: 0 was given; {GEAR}"),
        ({"gear_ratio": -2.5}, f"gear ratio: -2.5 was given; {GEAR}"),
        ({"rotor_diameter_m": 0.0}, wording("rotor diameter: 0.0 m was")),
        ({"storm_m_s": nan}, wording("strongest gust of wind: nan")),
        ({"air_kg_m3": 1225.0}, wording("density of the air: 1225.0")),
        ({"tip_speed_ratio": 0.0}, wording("best tip speed ratio: 0.0")),
        ({"power_coefficient": 0}, wording("power coefficient: 0 was given")),
        ({"power_coefficient": 0.6}, wording("power coefficient: 0.6 was given")),
        ({"hub_height_m": 0}, wording("hub height: 0 m was")),
        ({"shear_exponent": -0.1}, wording("wind shear exponent: -0.1 was")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        rotor(**changes)
