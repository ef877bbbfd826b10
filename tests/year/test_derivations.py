"""The energy of a windy year as a formula: against printed constants, a wind library, and the year of a rotor."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.wind_samples import ROTOR
from statorbook.quantities import number
from statorbook.year.derivations import windy_year
from statorbook.year.shaft import shaft_kwh_by_month
from statorbook.year.wind import year_of_mean_wind


@pytest.mark.outside(
    "mean wind cubed over the cube of the mean, shapes 1.5 to 3",
    source="windkit 2.2.0, weibull.weibull_moment(A, k, 3) / weibull_moment(A, k, 1) cubed",
    number="2.718531, 2.139383, 1.909859, 1.746906, 1.577413, 1.404350",
    tolerance="1e-6",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("shape", "factor"),
    [(1.5, 2.718531), (1.8, 2.139383), (2.0, 1.909859), (2.2, 1.746906), (2.5, 1.577413), (3.0, 1.404350)],
)
def test_the_pattern_is_that_of_a_wind_library(shape, factor):
    assert number(windy_year().pattern, k=shape) == pytest.approx(factor, abs=1e-6)


@pytest.mark.outside(
    "most hours and most energy of Rayleigh's winds, over the mean",
    source="exact mathematics of the Rayleigh distribution: √(2/π) and √(8/π)",
    number="0.797885, 1.595769",
    tolerance="0.001",
    seen="derived",
)
@pytest.mark.parametrize(("power", "best"), [(0, 0.797885), (3, 1.595769)])
def test_the_winds_of_most_hours_and_of_most_energy(power, best):
    below, at, above = (
        number(windy_year().density, v=wind, M=1.0, k=2.0) * wind**power for wind in (best - 0.01, best, best + 0.01)
    )
    # A parabola through the three has its top where they say.
    assert 0.005 * (above - below) / (2.0 * at - below - above) == pytest.approx(0.0, abs=1e-3)
    assert at > max(below, above)


def test_a_rotor_that_never_furls_gets_the_whole_cube_and_one_that_furls_at_once_a_steady_wind():
    windy = windy_year()
    assert number(windy.cube, M=5.0, k=2.0, F=60.0) == pytest.approx(125.0 * number(windy.pattern, k=2.0))
    # Nearly every hour has more wind than 0.05 m/s, so nearly every hour counts as that.
    assert number(windy.cube, M=5.0, k=2.0, F=0.05) == pytest.approx(0.05**3, rel=1e-3)


@settings(max_examples=6)
@given(st.floats(3.0, 8.0), st.floats(1.5, 3.0), st.floats(1.0, 2.5))
def test_formula_and_library_agree_on_the_year_of_a_rotor(mean, shape, furls):
    steady = replace(ROTOR, wind_m_s=mean)
    furling = replace(steady, furls_from_m_s=furls * steady.hub_wind_m_s)
    windy, steady_kwh = windy_year(), 8.76 * steady.best_shaft_watts
    share = number(windy.cube, M=1.0, k=shape, F=furls)
    for rotor, wanted in ((steady, number(windy.pattern, k=shape)), (furling, share)):
        found = shaft_kwh_by_month(year_of_mean_wind(rotor, mean, shape)).sum()
        assert found == pytest.approx(wanted * steady_kwh, rel=3e-3)  # the library's winds are 0.2 m/s apart and more
