"""Weibull's distribution on a grid of winds, against closed forms and an open wind library."""

from math import exp, gamma, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from statorbook.year.hats import bin_hours, reading_hours
from statorbook.year.weibull import (
    pattern_factor,
    share_below,
    weibull_scale_m_s,
    weibull_shares,
    wind_with_share_above,
)

FINE = np.concatenate([[0.01], np.arange(0.05, 60.0, 0.05)])


@pytest.mark.outside(
    "mean wind cubed over the cube of the mean, shapes 1.5 to 3",
    source="windkit 2.2.0, weibull.weibull_moment(A, k, 3) / weibull_moment(A, k, 1)**3",
    number="2.718531, 2.139383, 1.909859, 1.746906, 1.577413, 1.404350",
    tolerance="1e-6",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("shape", "factor"),
    [(1.5, 2.718531), (1.8, 2.139383), (2.0, 1.909859), (2.2, 1.746906), (2.5, 1.577413), (3.0, 1.404350)],
)
def test_the_pattern_factor(shape, factor):
    assert pattern_factor(shape) == pytest.approx(factor, abs=1e-6)


@pytest.mark.outside(
    "mean, mean cube and hours below 3 m/s of Weibull's winds",
    source="windkit 2.2.0, weibull.weibull_moment(A, k, n) and weibull_cdf(A, k, 3)",
    number="5.31736, 287.1375, 0.221199; 6.22501, 516.0694, 0.195546; 4.87253, 194.6198, 0.219682",
    tolerance="1e-5; the cube on a grid 0.02 %",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("scale", "shape", "mean", "cube", "below_3"),
    [
        (6.0, 2.0, 5.31736, 287.1375, 0.221199),
        (7.0, 1.8, 6.22501, 516.0694, 0.195546),
        (5.5, 2.3, 4.87253, 194.6198, 0.219682),
    ],
)
def test_moments_and_hours_below(scale, shape, mean, cube, below_3):
    assert weibull_scale_m_s(mean, shape) == pytest.approx(scale, rel=1e-5)
    assert pattern_factor(shape) * mean**3 == pytest.approx(cube, rel=1e-5)
    assert share_below(3.0, mean, shape) == pytest.approx(below_3, rel=1e-5)
    shares = weibull_shares(FINE, mean, shape)
    assert shares @ FINE == pytest.approx(mean, rel=1e-5)
    assert shares @ FINE**3 == pytest.approx(cube, rel=2e-4)  # a cube is not straight between winds


@pytest.mark.outside(
    "median, hours above the mean and below 3.5 m/s, spread, most energy",
    source="exact integrals of the Rayleigh distribution",
    number="0.939437, exp(−π/4), 2798.3 h, 0.522723, 1.595769",
    tolerance="1e-6; on a grid 0.1 %",
    seen="derived",
)
def test_rayleigh_identities():
    assert wind_with_share_above(0.5, 1.0, 2.0) == pytest.approx(0.939437, abs=1e-6)
    assert 1.0 - share_below(1.0, 1.0, 2.0) == pytest.approx(exp(-pi / 4.0), abs=1e-12)
    assert 8760.0 * share_below(3.5, 5.0, 2.0) == pytest.approx(2798.3, abs=0.1)
    # Standard deviation √(4/π − 1) of the mean, most energy at 2 / √π × √2 = 1.595769 of it.
    shares = weibull_shares(FINE, 5.0, 2.0)
    assert np.sqrt(shares @ FINE**2 - (shares @ FINE) ** 2) == pytest.approx(0.522723 * 5.0, rel=1e-3)
    assert FINE[np.argmax(shares * FINE**3)] == pytest.approx(1.595769 * 5.0, abs=0.06)


# An invented power curve, 3 to 14 m/s, straight between; nothing outside.
WINDS = np.arange(3.0, 15.0)
WATTS = np.array([0, 30, 85, 165, 275, 420, 600, 800, 950, 1000, 1000, 1000.0])


@pytest.mark.outside(
    "year's energy of a power curve, mean winds 4 to 6 m/s",
    source="wind-stats 0.3.1, WindTurbine.get_mean_power(Site(0, 0, WindDistribution.weibull(A, k))) × 8.76",
    number="762.01, 1479.36, 2225.83, 1540.62 kWh",
    tolerance="1e-5",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("mean", "shape", "kwh"), [(4.0, 2.0, 762.01), (5.0, 2.0, 1479.36), (6.0, 2.0, 2225.83), (5.0, 1.8, 1540.62)]
)
def test_a_power_curve_that_is_straight_between_winds_is_exact(mean, shape, kwh):
    grid = np.concatenate([[0.05], WINDS, [14.0 + 1e-7, 40.0]])
    watts = np.concatenate([[0.0], WATTS, [0.0, 0.0]])
    assert 8.76 * weibull_shares(grid, mean, shape) @ watts == pytest.approx(kwh, rel=1e-5)
    finer = np.union1d(grid, np.arange(0.1, 40.0, 0.25))
    finer_watts = np.interp(finer, grid, watts)
    assert 8.76 * weibull_shares(finer, mean, shape) @ finer_watts == pytest.approx(kwh, rel=1e-5)


def test_watts_that_do_not_change_above_a_wind():
    # P(v > v1) = exp(−(v1 / A)^k), closed form.
    grid = np.array([0.05, 4.0, 4.0 + 1e-7, 30.0])
    above = weibull_shares(grid, 5.0, 2.5) @ np.array([0.0, 0.0, 1.0, 1.0])
    assert above == pytest.approx(exp(-((4.0 * gamma(1.4) / 5.0) ** 2.5)), abs=1e-6)


@given(st.floats(1.0, 12.0), st.floats(1.0, 5.0), st.integers(0, 2**32 - 1))
def test_a_year_of_steps_is_the_distribution_that_it_was_drawn_from(mean, shape, seed):
    grid = np.concatenate([[0.05], np.arange(0.5, 60.0, 0.5)])
    drawn = weibull_scale_m_s(mean, shape) * np.random.default_rng(seed).weibull(shape, 8760)
    months = np.arange(8760) % 12
    found = reading_hours(grid, drawn, 1.0, months)
    assert found.sum() == pytest.approx(8760.0)
    assert found.sum(axis=1) == pytest.approx(np.full(12, 730.0))
    shares = weibull_shares(grid, mean, shape)
    # Six times the sampling error of a mean of 8760 independent readings, for any straight-between curve: the wind
    # itself held to the grid, and a ramp.
    for curve in (grid, np.clip((grid - 3.0) / 6.0, 0.0, 1.0)):
        each = np.interp(drawn, grid, curve)
        assert found.sum(axis=0) @ curve == pytest.approx(each.sum())
        assert abs(each.mean() - shares @ curve) < 6.0 * max(each.std(), 1e-3) / np.sqrt(8760) + 1e-4


def test_hours_of_a_bin_are_spread_over_its_width():
    grid = np.array([0.05, 1.0, 2.0, 4.0, 8.0])
    found = bin_hours(grid, np.array([0.0, 3.0]), np.array([3.0, 5.0]), np.array([3000.0, 1000.0]))
    assert found.sum() == pytest.approx(4000.0)
    # The mean of an even spread is its middle: 1.5 m/s for 3000 h, 4 m/s for 1000 h; below 0.05 m/s it is held there.
    assert found @ grid == pytest.approx(3000 * 1.5 + 1000 * 4.0, rel=1e-3)
    ramp = np.array([0.0, 0.0, 0.0, 2.0, 6.0])  # v − 2 above 2: 1000 h of 0.5 in the first bin, 1000 h of 2
    assert found @ ramp == pytest.approx(1000 * 0.5 + 1000 * 2.0)


def test_many_means_at_once_are_each_alone():
    means = np.array([3.0, 6.0])
    together = weibull_shares(FINE, means, 2.0)
    assert np.array_equal(together, [weibull_shares(FINE, mean, 2.0) for mean in means])
