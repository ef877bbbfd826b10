"""Density of the air, wind at the hub, power in the wind, and the shape of a rotor's curve."""

from math import exp, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.drives import air
from statorbook.drives.air import (
    BETZ_SHARE,
    air_kg_per_m3,
    heier_marks,
    heier_power_coefficient,
    heier_torque_coefficient,
    wind_at_height,
    wind_watts,
)
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")


# ISO 2533, standard atmosphere, table of densities (from memory): altitude, temperature, kg/m³. Such tables count
# height either by tape or by potential, which at 5 km differ by 4 m, 0.04 % of the density.
@pytest.mark.parametrize(
    ("altitude_m", "celsius", "density"),
    [(0, 15.0, 1.2250), (1000, 8.5, 1.1117), (2000, 2.0, 1.0066), (3000, -4.5, 0.9093), (5000, -17.5, 0.7364)],
)
def test_published_standard_atmosphere(altitude_m, celsius, density):
    assert air_kg_per_m3(altitude_m, celsius) == pytest.approx(density, rel=5e-4)


# Ideal gas: at one pressure the density goes as 1/T; 303.15 K against 288.15 K by hand.
def test_warm_air_is_thinner():
    assert air_kg_per_m3(0, 30) / air_kg_per_m3() == pytest.approx(288.15 / 303.15, rel=1e-12)


# Rai, Non-conventional Energy Sources, Ex. 6.2.1: 15 m/s, 15 °C, 1 atm: 2068.7 W/m², at most 1225.9 W/m².
def test_published_watts_of_a_square_metre():
    metre_wide_watts = wind_watts(1.0, 15.0, air_kg_per_m3())
    assert metre_wide_watts / (np.pi / 4) == pytest.approx(2068.7, rel=1e-3)
    assert BETZ_SHARE.value * metre_wide_watts / (np.pi / 4) == pytest.approx(1225.9, rel=1e-3)


# B. R. Gupta, Generation of Electrical Energy, Ex. 15.7: D 10 m, 20 m/s, 1.293 kg/m³: 406.2 kW, 240.9 kW at 0.593.
def test_published_watts_of_a_storm():
    assert wind_watts(10.0, 20.0, 1.293) == pytest.approx(406.2e3, rel=1e-3)
    assert BETZ_SHARE.value * wind_watts(10.0, 20.0, 1.293) == pytest.approx(240.9e3, rel=1e-3)


# Betz: the most of 4 a (1 − a)² is 16/27 = 0.592593, at a = 1/3 (any text).
def test_published_betz():
    slowed = np.linspace(0.0, 1.0, 300_001)
    share = 4 * slowed * (1 - slowed) ** 2
    assert BETZ_SHARE.value == pytest.approx(share.max(), abs=1e-6)
    assert BETZ_SHARE.value == pytest.approx(0.592593, abs=1e-6)
    assert slowed[share.argmax()] == pytest.approx(1 / 3, abs=1e-5)


@given(numbers(0.5, 10.0), numbers(1.0, 30.0), numbers(1.1, 3.0))
def test_power_goes_as_the_cube_of_wind_and_the_square_of_the_rotor(rotor_diameter_m, wind_m_s, times):
    one = wind_watts(rotor_diameter_m, wind_m_s, 1.2)
    assert wind_watts(rotor_diameter_m, times * wind_m_s, 1.2) == pytest.approx(times**3 * one, rel=1e-12)
    assert wind_watts(times * rotor_diameter_m, wind_m_s, 1.2) == pytest.approx(times**2 * one, rel=1e-12)


# Doubling the height at 1/7 gives 2^(1/7) = 1.104 times the wind, a third more power (by hand).
def test_wind_grows_with_height():
    assert wind_at_height(6.0, 10.0, 20.0, 1 / 7) == pytest.approx(6.0 * 1.10409, rel=1e-5)
    assert (wind_at_height(1.0, 10.0, 20.0, 1 / 7)) ** 3 == pytest.approx(1.346, rel=1e-3)
    assert wind_at_height(6.0, 10.0, 20.0, 0.0) == 6.0


@given(numbers(1.0, 30.0), st.floats(1.0, 200.0), st.floats(1.0, 200.0), st.floats(0.0, 0.5))
def test_wind_up_and_down_again_is_the_same(wind_m_s, low_m, high_m, exponent):
    there = wind_at_height(wind_m_s, low_m, high_m, exponent)
    assert wind_at_height(there, high_m, low_m, exponent) == pytest.approx(wind_m_s, rel=1e-12)
    assert (there >= wind_m_s) or high_m < low_m


# Heier, Grid Integration of Wind Energy (constants from memory): top 0.480 at 8.10, Cp(5) 0.2629, Cp(10) 0.4037.
def test_published_curve():
    ratios = np.linspace(0.5, 13.0, 125_001)
    curve = heier_power_coefficient(ratios)
    assert curve.max() == pytest.approx(0.480, abs=1e-4)
    assert ratios[curve.argmax()] == pytest.approx(8.10, abs=5e-3)
    assert heier_power_coefficient(5.0) == pytest.approx(0.2629, abs=1e-4)
    assert heier_power_coefficient(10.0) == pytest.approx(0.4037, abs=1e-4)
    best, top, free = heier_marks()
    assert best == pytest.approx(ratios[curve.argmax()], abs=1e-4) and top == pytest.approx(curve.max(), abs=1e-9)
    assert heier_power_coefficient(free) == pytest.approx(0.0, abs=1e-12) and free > 10.0


# The same formula written out again with its own 1/λi.
@given(st.floats(0.05, 30.0))
def test_torque_and_power_coefficient_are_one_curve(ratio):
    k = 1 / ratio - 0.035
    written_out = 0.5176 * (116 * k - 5) * exp(-21 * k) + 0.0068 * ratio
    assert heier_power_coefficient(ratio) == pytest.approx(written_out, abs=1e-12)
    assert heier_torque_coefficient(ratio) * ratio == pytest.approx(written_out, abs=1e-12)


def test_numbers_and_arrays_give_the_same():
    ratios = np.array([0.0, 1e-9, 4.0, 8.1, 40.0, 1e6])
    assert heier_torque_coefficient(ratios).tolist() == [heier_torque_coefficient(ratio) for ratio in ratios]
    assert isinstance(heier_torque_coefficient(3), float)
    assert heier_torque_coefficient(0.0) == pytest.approx(0.0068, abs=1e-12)  # what the last term leaves at rest
    winds = np.array([3.0, 6.0])
    assert wind_at_height(winds, 10, 20).tolist() == [wind_at_height(wind, 10, 20) for wind in (3.0, 6.0)]


@pytest.mark.parametrize("name", [name for name, fact in vars(air).items() if isinstance(fact, air.Fact)])
def test_facts_stand_within_their_range(name):
    fact = getattr(air, name)
    assert fact.low <= fact.value <= fact.high and fact.unit and fact.source


HEIGHT = wording("a number from 1 to 200")


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: air_kg_per_m3(9000), wording("altitude: 9000 m was given")),
        (lambda: air_kg_per_m3(0, 288.15), wording("air temperature: 288.15 °C was")),
        (lambda: wind_at_height(5.0, 0, 10), f"height of the wind reading: 0 m was given; {HEIGHT}"),
        (lambda: wind_at_height(5.0, 10, nan), f"hub height: nan m was given; {HEIGHT}"),
        (lambda: wind_at_height(5.0, 10, 20, 1.4), wording("wind shear exponent: 1.4 was")),
    ],
)
def test_nonsense_is_refused(call, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        call()
