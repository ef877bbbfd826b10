"""The line through the origin against certified and independent values, and the points that do not belong."""

import numpy as np
import pytest
from scipy import optimize, stats

from statorbook.fits.line import line_with_intercept, points_that_do_not_belong, slope_through_origin, students_t


# NIST StRD, linear regression, NoInt1: certified values (from memory of the page).
def test_nist_noint1():
    line = slope_through_origin(np.arange(60, 71), np.arange(130, 141))
    assert line.value == pytest.approx(2.07438016528926, rel=1e-14)
    assert line.standard_error == pytest.approx(0.0165289256198347, rel=1e-12)
    assert line.scatter == pytest.approx(3.56753034006338, rel=1e-12) and line.freedom == 10


# NIST StRD, linear regression, NoInt2: certified values (from memory of the page).
def test_nist_noint2():
    line = slope_through_origin([4, 5, 6], [3, 4, 4])
    assert line.value == pytest.approx(0.727272727272727, rel=1e-14)
    assert line.standard_error == pytest.approx(0.0420827318078432, rel=1e-12)
    assert line.scatter == pytest.approx(0.369274472937998, rel=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_weighted_lines_against_scipy(seed):
    rng = np.random.default_rng(seed)
    x, sigma = rng.uniform(50, 500, 12), rng.uniform(0.2, 3, 12)
    y = 1.5 + 0.2 * x + sigma * rng.standard_normal(12)
    line = slope_through_origin(x, y, sigma)
    (slope,), covariance = optimize.curve_fit(lambda x, b: b * x, x, y, sigma=sigma)
    assert line.value == pytest.approx(slope, rel=1e-6)
    assert line.standard_error == pytest.approx(np.sqrt(covariance[0, 0]), rel=1e-5)
    assert line.half_width_95 == pytest.approx(stats.t.ppf(0.975, 11) * line.standard_error, rel=1e-9)
    (free, _), covariance = optimize.curve_fit(lambda x, a, b: a + b * x, x, y, sigma=sigma)
    intercept, plus_minus = line_with_intercept(x, y, sigma)
    assert intercept == pytest.approx(free, rel=1e-5)
    assert plus_minus == pytest.approx(stats.t.ppf(0.975, 10) * np.sqrt(covariance[0, 0]), rel=1e-5)


# NIST/SEMATECH e-Handbook, table of Student's t (from memory): 12.706, 4.303, 2.228, 1.960 for 95 % two-sided.
@pytest.mark.parametrize("freedom, quantile", [(1, 12.706), (2, 4.303), (10, 2.228), (10**7, 1.960)])
def test_students_t(freedom, quantile):
    assert students_t(0.975, freedom) == pytest.approx(quantile, abs=6e-4)


def test_agreement_by_luck_is_not_believed():
    lucky = slope_through_origin([1.0, 2.0], [1.0, 2.0], [0.01, 0.02])
    # half of the sigma of the mean of two, times t(1)
    assert lucky.scatter == pytest.approx(0, abs=1e-9)
    assert lucky.half_width_95 == pytest.approx(12.706 * 0.5 * 0.01 / np.sqrt(2), rel=1e-3)


def noisy_points(count, seed, factors=()):
    """Points on y = 0.2 x with 0.8 % noise, some of them multiplied."""
    x = np.linspace(60, 480, count)
    y = 0.2 * x * (1 + 0.008 * np.random.default_rng(seed).standard_normal(count))
    for index, factor in dict(factors).items():
        y[index] *= factor
    return x, y, 0.01 * y


def odd_among(x, y, sigma):
    return sorted(points_that_do_not_belong(x, y, sigma, lambda slope: y / (slope * x) - 1))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize(
    "count, factors",
    [
        (14, {8: 0.85}),
        (8, {0: 1.1}),
        (8, {7: 10}),
        (5, {2: 0.7}),
        (4, {0: 0.7}),
        (14, {3: 0.85, 9: 0.85}),
        (14, {12: 0.85, 13: 0.85}),
        (8, {1: 0.8, 6: 1.2}),
        (6, {4: 1.3, 5: 1.3}),
        (6, {0: 0.5, 1: 0.5}),
        (14, {2: 0.1, 7: 0.85, 13: 1.15}),
    ],
)
def test_bad_points_are_found_and_no_others(count, factors, seed):
    assert odd_among(*noisy_points(count, seed, factors)) == sorted(factors)


def test_clean_points_are_left_alone():
    named = [len(odd_among(*noisy_points(12, seed))) for seed in range(200)]
    # The risk is set to 5 % of logs; the 3 % rule makes it far less.
    assert sum(map(bool, named)) <= stats.binom.ppf(0.999, 200, 0.05)


def test_less_than_three_percent_is_never_named():
    x, y = np.linspace(60, 480, 12), 0.2 * np.linspace(60, 480, 12)
    y[5] *= 1.028
    assert odd_among(x, y, 0.001 * y) == []
    y[5] *= 1.01
    assert odd_among(x, y, 0.001 * y) == [5]


def test_too_few_points_name_none():
    assert odd_among(*noisy_points(3, 1, {1: 0.5})) == []
    assert odd_among(*noisy_points(1, 1)) == []


def test_two_halves_that_disagree_name_none():
    assert odd_among(*noisy_points(10, 1, dict.fromkeys(range(0, 10, 2), 0.85))) == []
