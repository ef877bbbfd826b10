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


# Such tables count height by tape or by potential, which at 5 km differ by 4 m, 0.04 % of the density.
@pytest.mark.outside(
    "density of the standard atmosphere at five heights",
    source="ISO 2533, table of densities",
    number="1.2250, 1.1117, 1.0066, 0.9093, 0.7364 kg/m³",
    tolerance="0.05 %",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("altitude_m", "celsius", "density"),
    [(0, 15.0, 1.2250), (1000, 8.5, 1.1117), (2000, 2.0, 1.0066), (3000, -4.5, 0.9093), (5000, -17.5, 0.7364)],
)
def test_published_standard_atmosphere(altitude_m, celsius, density):
    assert air_kg_per_m3(altitude_m, celsius) == pytest.approx(density, rel=5e-4)


# It lets the air below be 6.5 K/km warmer than there; a standard pressure is up to 0.7 % off that in cold or heat.
@pytest.mark.outside(
    "density by height and local temperature",
    source="Air density table, 1013.25 hPa and 6.5 K/km, uploaded without author",
    number="1.316, 1.174, 1.155, 1.124, 1.106, 1.089, 1.075, 1.026 kg/m³",
    tolerance="0.8 %",
    seen="read",
)
@pytest.mark.parametrize(
    ("altitude_m", "celsius", "density"),
    [
        *[(0, -5, 1.316), (500, 10, 1.174), (500, 15, 1.155), (1000, 5, 1.124), (1000, 10, 1.106), (1000, 15, 1.089)],
        *[(1500, 0, 1.075), (2000, -5, 1.026)],
    ],
)
def test_published_table_of_height_and_local_temperature(altitude_m, celsius, density):
    assert air_kg_per_m3(altitude_m, celsius) == pytest.approx(density, rel=8e-3)


# Height by tape there, which differs by 0.03 % at 3 km.
@pytest.mark.outside(
    "density of the standard atmosphere",
    source="fluids 1.3.1, ATMOSPHERE_1976(z).rho",
    number="1.16727, 1.11166, 1.05810, 1.00655, 0.95695, 0.90925 kg/m³",
    tolerance="0.05 %",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("altitude_m", "density"),
    [(500, 1.16727), (1000, 1.11166), (1500, 1.05810), (2000, 1.00655), (2500, 0.95695), (3000, 0.90925)],
)
def test_the_atmosphere_of_another_library(altitude_m, density):
    assert air_kg_per_m3(altitude_m, 15.0 - 0.0065 * altitude_m) == pytest.approx(density, rel=5e-4)


# 10 m/s, 12 m radius; its form takes all the air below as warm as it is there: 0.3 % more. Digits recomputed.
@pytest.mark.outside(
    "density and wind power at 320 m and 30 °C",
    source="Rashid, Power Electronics, 4th ed., example 16.5",
    number="1.124 kg/m³, 254.2 kW",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_watts_at_a_height():
    density = air_kg_per_m3(320, 30)
    assert density == pytest.approx(1.124, rel=5e-3)
    assert wind_watts(24.0, 10.0, density) == pytest.approx(254.2e3, rel=5e-3)


# Ideal gas: at one pressure the density goes as 1/T; 303.15 K against 288.15 K by hand.
def test_warm_air_is_thinner():
    assert air_kg_per_m3(0, 30) / air_kg_per_m3() == pytest.approx(288.15 / 303.15, rel=1e-12)


# 15 m/s, 15 °C, 1 atm.
@pytest.mark.outside(
    "wind power of a square metre, and the most of it",
    source="Rai, Non-conventional Energy Sources, example 6.2.1, p. 244",
    number="2068.7 W/m², 1225.9 W/m²",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_watts_of_a_square_metre():
    metre_wide_watts = wind_watts(1.0, 15.0, air_kg_per_m3())
    assert metre_wide_watts / (np.pi / 4) == pytest.approx(2068.7, rel=1e-3)
    assert BETZ_SHARE.value * metre_wide_watts / (np.pi / 4) == pytest.approx(1225.9, rel=1e-3)


# D 10 m, 20 m/s, 1.293 kg/m³.
@pytest.mark.outside(
    "wind power of a storm, and the most of it",
    source="B. R. Gupta, Generation of Electrical Energy, example 15.7, p. 373",
    number="406.2 kW, 240.9 kW",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_watts_of_a_storm():
    assert wind_watts(10.0, 20.0, 1.293) == pytest.approx(406.2e3, rel=1e-3)
    assert BETZ_SHARE.value * wind_watts(10.0, 20.0, 1.293) == pytest.approx(240.9e3, rel=1e-3)


@pytest.mark.outside(
    "most that a rotor takes of the wind",
    source="Betz, maximum of 4 a (1 − a)²",
    number="16/27 = 0.592593 at a = 1/3",
    tolerance="1e-6",
    seen="derived",
)
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


@pytest.mark.outside(
    "wind at the hub by the power law",
    source="windpowerlib 0.2.2, wind_speed.hellman(v, 10, h, hellman_exponent=α)",
    number="7.550994, 5.061358 m/s",
    tolerance="1e-6",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("wind_m_s", "hub_height_m", "exponent", "at_hub_m_s"), [(6.0, 50.0, 1 / 7, 7.550994), (4.5, 18.0, 0.2, 5.061358)]
)
def test_the_power_law_of_another_library(wind_m_s, hub_height_m, exponent, at_hub_m_s):
    assert wind_at_height(wind_m_s, 10.0, hub_height_m, exponent) == pytest.approx(at_hub_m_s, rel=1e-6)


# 12 m/s at 10 m, α 0.14, D 80 m, 1.226 kg/m³.
@pytest.mark.outside(
    "wind at 100 m and its power",
    source="Khan, Renewable Energy, example 7.1, p. 216",
    number="16.565 m/s, 14.0 MW",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_wind_of_a_large_rotor():
    wind_m_s = wind_at_height(12.0, 10.0, 100.0, 0.14)
    assert wind_m_s == pytest.approx(16.565, abs=1e-3)
    assert wind_watts(80.0, wind_m_s, 1.226) == pytest.approx(14.0e6, rel=5e-3)


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


# The constants are from memory, the values follow from them.
@pytest.mark.outside(
    "power coefficient of a large rotor",
    source="Heier, Grid Integration of Wind Energy",
    number="0.480 at 8.10, 0.2629 at 5, 0.4037 at 10",
    tolerance="1e-4",
    seen="from memory",
)
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
