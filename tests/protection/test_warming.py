"""How fast a winding warms: textbook ratings, the adiabatic equation, and ohms that rise with the heat."""

from dataclasses import replace
from math import inf, isnan, log, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.protection.warming import Warming, copper_joule_per_k
from statorbook.winding.temperature import resistance_factor
from statorbook.winding.wire import wire_area_mm2
from strategies import numbers


def steady(rise_k, tau_min, air_c=0.0):
    """A body with the same loss at every temperature, which ends at a rise, with a time constant in minutes."""
    return Warming(
        temperatures_c=(-50.0, 500.0), watts=(rise_k, rise_k), k_per_w=1.0, air_c=air_c, joule_per_k=60.0 * tau_min
    )


def in_wire(amps_per_mm2, k_per_w=inf, air_c=20.0):
    """A cubic millimetre of copper, by its resistivity 17.241 nΩ·m (IEC 60028) and 3.45 mJ/(K·mm³) (IEC 60364-5-54)."""
    grid = np.linspace(-40.0, 200.0, 13)
    watts = 17.241e-6 * amps_per_mm2**2 * resistance_factor(grid)
    return Warming(temperatures_c=tuple(grid), watts=tuple(watts), k_per_w=k_per_w, air_c=air_c, joule_per_k=3.45e-3)


# Read in open companions of the books: Theraja, Electrical Technology III, Ex. 45.9 p. 1807 (40 kW, 75.13 kW for half
# an hour at 90 min) and 45.10 (15 hp, 23.91 hp for an hour at 2 h); Chakrabarti, Ex. 4.1.24 p. 706 (losses 2 to 5 at
# 100 min, 51.08 min); Theraja 45.15 p. 1809 (45 K and 2.466 h: 15 K after 1 h, 25 K after 2 h).
@pytest.mark.parametrize(
    "loss_ratio, tau_min, share, minutes",
    [
        ((75.13 / 40.0) ** 2, 90.0, 1.0, 30.0),
        ((23.91 / 15.0) ** 2, 120.0, 1.0, 60.0),
        (2.5, 100.0, 1.0, 51.08),
        (1.0, 2.466 * 60.0, 15.0 / 45.0, 60.0),
        (1.0, 2.466 * 60.0, 25.0 / 45.0, 120.0),
    ],
)
def test_ratings_of_textbooks(loss_ratio, tau_min, share, minutes):
    body = steady(100.0 * loss_ratio, tau_min)
    assert body.seconds(0.0, 100.0 * share) / 60.0 == pytest.approx(minutes, rel=2e-3)
    assert body.settles_c == pytest.approx(100.0 * loss_ratio)


# Exact: ρ J² / c at 20 °C, with the values of IEC 60364-5-54.
@pytest.mark.parametrize("amps_per_mm2, kelvin_per_s", [(5.0, 0.125), (10.0, 0.500), (20.0, 1.999), (30.0, 4.498)])
def test_copper_at_20_degrees_with_no_cooling(amps_per_mm2, kelvin_per_s):
    body = in_wire(amps_per_mm2)
    assert body.spare_watts(20.0) / body.joule_per_k == pytest.approx(kelvin_per_s, rel=2e-3)


# The adiabatic equation of IEC 60364-5-54 with k of copper 226, β 234.5: t = 226² ln((β + θf) / (β + θi)) / J²;
# its 226 is 225.67 rounded up, 0.3 % in the seconds.
@pytest.mark.parametrize("start_c, end_c, amps_per_mm2, seconds", [(40, 130, 20, 36.2), (20, 155, 30, 24.2)])
def test_seconds_of_the_adiabatic_equation(start_c, end_c, amps_per_mm2, seconds):
    assert in_wire(amps_per_mm2).seconds(start_c, end_c) == pytest.approx(seconds, rel=5e-3)


# With dP/dθ = a and cooling 1/K: θ∞ = (a β + θair / K) / (1/K − a), and t = C / (1/K − a) ln(start to end). By hand.
def test_ohms_that_rise_with_the_heat_in_closed_form():
    a, k, c = 17.241e-6 * 25.0 / 255.0, 2.0e5, 3.45e-3
    ends = (a * 235.0 + 30.0 / k) / (1.0 / k - a)
    body = in_wire(5.0, k_per_w=k, air_c=30.0)
    assert body.settles_c == pytest.approx(ends) and ends > 30.0 + k * 17.241e-6 * 25.0
    wanted = c / (1.0 / k - a) * log((ends - 30.0) / (ends - 100.0))
    assert body.seconds(30.0, 100.0) == pytest.approx(wanted, rel=1e-6)
    times, degrees = body.course(30.0, 4.0 * wanted)
    assert np.interp(wanted, times, degrees) == pytest.approx(100.0, abs=0.5)


def test_copper_that_gets_more_from_each_kelvin_than_the_air_takes_never_settles():
    a = 17.241e-6 * 100.0 / 255.0
    assert in_wire(10.0, k_per_w=1.01 / a).settles_c == inf
    assert in_wire(1.0, k_per_w=1e4).seconds(20.0, 190.0) == inf


@settings(max_examples=25)
@given(numbers(1.0, 30.0), st.floats(-20.0, 60.0), numbers(1e2, 1e5))
def test_more_amps_hotter_air_and_less_cooling_are_never_slower_nor_cooler(amps, air_c, k_per_w):
    now = in_wire(amps, k_per_w, air_c)
    for worse in (
        in_wire(1.1 * amps, k_per_w, air_c),
        replace(now, air_c=air_c + 5.0),
        replace(now, k_per_w=2 * k_per_w),
    ):
        assert worse.settles_c >= now.settles_c
        assert worse.seconds(60.0, 120.0) <= now.seconds(60.0, 120.0) * (1.0 + 1e-9)
    assert now.seconds(100.0, 100.0) == 0.0


# By hand: a coil of 0.56 Ω in 0.8 mm wire is 0.56 × 0.50265 / 0.017241 = 16.33 m, 8.207 cm³; 36 coils take
# 36 × 8207 mm³ × 3.45 mJ/(K·mm³) = 1019 J/K; two wires in hand are twice as long and four times the copper.
def test_the_heat_that_the_wire_takes_by_hand():
    assert copper_joule_per_k(plant()) == pytest.approx(1019.0, rel=2e-3)
    assert copper_joule_per_k(plant(wires_in_hand=2)) == pytest.approx(4.0 * 1019.0, rel=2e-3)
    assert isnan(copper_joule_per_k(plant(wire_diameter_mm=None)))
    assert wire_area_mm2(0.8) == pytest.approx(0.50265, rel=1e-4) and sqrt(0.64) == 0.8
