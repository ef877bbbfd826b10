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


@pytest.mark.parametrize(
    "loss_ratio, tau_min, share, minutes",
    [
        pytest.param(
            (75.13 / 40.0) ** 2,
            90.0,
            1.0,
            30.0,
            marks=pytest.mark.outside(
                "half-hour rating of a 40 kW motor, 90 min",
                source="Theraja, A Textbook of Electrical Technology III, example 45.9",
                number="75.13 kW",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            (23.91 / 15.0) ** 2,
            120.0,
            1.0,
            60.0,
            marks=pytest.mark.outside(
                "one-hour rating of a 15 hp motor, 2 h",
                source="Theraja, A Textbook of Electrical Technology III, example 45.10",
                number="24 hp, recomputed 23.91",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            2.5,
            100.0,
            1.0,
            51.08,
            marks=pytest.mark.outside(
                "time at twice the load, half the loss constant",
                source="Chakrabarti and others, example 4.1.24",
                number="51 min, recomputed 51.08",
                tolerance="0.2 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            1.0,
            2.466 * 60.0,
            15.0 / 45.0,
            60.0,
            marks=pytest.mark.outside(
                "time constant from two readings, first hour",
                source="Theraja, A Textbook of Electrical Technology III, example 45.15",
                number="15 K after 1 h, end 45.0 K, 2.47 h",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            1.0,
            2.466 * 60.0,
            25.0 / 45.0,
            120.0,
            marks=pytest.mark.outside(
                "time constant from two readings, second hour",
                source="Theraja, A Textbook of Electrical Technology III, example 45.15",
                number="25 K after 2 h",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            2.0,
            2.466 * 60.0,
            30.0 / 45.0,
            60.0,
            marks=pytest.mark.outside(
                "rise after an hour where the end is 90 K",
                source="Theraja, A Textbook of Electrical Technology III, example 45.15",
                number="30.0 K",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            1.0,
            2.8 * 60.0,
            34.0 / 66.67,
            120.0,
            marks=pytest.mark.outside(
                "time constant from 20 and 34 °C",
                source="J. B. Gupta, Elements of Electric Drives, example 47",
                number="66.67 °C, 2.8 h",
                tolerance="0.2 % of the time",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_ratings_of_textbooks(loss_ratio, tau_min, share, minutes):
    body = steady(100.0 * loss_ratio, tau_min)
    assert body.seconds(0.0, 100.0 * share) / 60.0 == pytest.approx(minutes, rel=2e-3)
    assert body.settles_c == pytest.approx(100.0 * loss_ratio)


@pytest.mark.outside(
    "how fast copper at 20 °C warms with no cooling",
    source="exact, ρ J² / c with the constants of IEC 60364-5-54, annex A",
    number="0.125, 0.500, 1.999, 4.498 K/s at 5, 10, 20, 30 A/mm²",
    tolerance="0.2 %",
    seen="derived",
)
@pytest.mark.parametrize("amps_per_mm2, kelvin_per_s", [(5.0, 0.125), (10.0, 0.500), (20.0, 1.999), (30.0, 4.498)])
def test_copper_at_20_degrees_with_no_cooling(amps_per_mm2, kelvin_per_s):
    body = in_wire(amps_per_mm2)
    assert body.spare_watts(20.0) / body.joule_per_k == pytest.approx(kelvin_per_s, rel=2e-3)


# Its 226 is 225.67 rounded up, 0.3 % in the seconds.
@pytest.mark.outside(
    "seconds from 40 to 130 °C and 20 to 155 °C",
    source="IEC 60364-5-54, annex A, k of copper 226, β 234.5",
    number="36.2 s at 20 A/mm², 24.2 s at 30",
    tolerance="0.5 %",
    seen="derived",
)
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


def test_the_course_of_a_steady_loss_is_an_exponential():
    # θ = 100 K (1 − e^(−t/τ)), so t = τ ln(100 / (100 − θ)), τ ten minutes; any text on heating of machines.
    times, degrees = steady(100.0, 10.0).course(0.0, 3000.0)
    assert times[:-1] == pytest.approx(600.0 * np.log(100.0 / (100.0 - degrees[:-1])), rel=1e-9)
    # With nothing that cools, 100 W warm 600 J/K by a kelvin in 6 s all the way.
    times, degrees = replace(steady(100.0, 10.0), k_per_w=inf).course(0.0, 2000.0)
    assert times == pytest.approx(6.0 * degrees, rel=1e-9) and degrees[-1] == pytest.approx(2000.0 / 6.0)


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
