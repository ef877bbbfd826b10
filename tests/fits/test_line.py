"""The line through the origin against certified and independent values."""

import numpy as np
import pytest
from scipy import optimize, stats

from statorbook.fits.line import curve_through, line_with_intercept, slope_through_origin, students_t


@pytest.mark.outside(
    "weighted lines with and without intercept, and their errors",
    source="scipy 1.17, optimize.curve_fit(lambda x, b: b * x, x, y, sigma=sigma)",
    number="slope, intercept, covariance of 5 random sets",
    tolerance="1e-5",
    seen="computed by package",
)
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


@pytest.mark.outside(
    "Student's t, 95 % on both sides",
    source="NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, table of t",
    number="12.706, 4.303, 2.228, 1.960",
    tolerance="6e-4",
    seen="from memory",
)
@pytest.mark.parametrize("freedom, quantile", [(1, 12.706), (2, 4.303), (10, 2.228), (10**7, 1.960)])
def test_students_t(freedom, quantile):
    assert students_t(0.975, freedom) == pytest.approx(quantile, abs=6e-4)


def test_a_single_point_has_no_scatter():
    alone = slope_through_origin([2.0], [3.0], [0.1])
    assert (alone.value, alone.scatter, alone.freedom) == (1.5, 0.0, 0)


@pytest.mark.outside(
    "parameters of a curve, their covariance and the squares that are left",
    source="scipy 1.17, optimize.least_squares with weights, and the inverse of J'J",
    number="a line of 8 points with unequal errors",
    tolerance="1e-5",
    seen="computed by package",
)
def test_a_curve_is_fitted_with_its_covariance():
    x, sigma = np.linspace(-3.0, 4.0, 8), np.linspace(0.1, 0.4, 8)
    y = 2.0 - 0.5 * x + sigma * np.array([1, -1, 0.5, -0.5, 1, -1, 1, -1])
    values, covariance, squares = curve_through(lambda at, a, b: a + b * at, x, y, sigma, (1.0, 0.0))
    found = optimize.least_squares(lambda p: (y - p[0] - p[1] * x) / sigma, (1.0, 0.0))
    assert values == pytest.approx(found.x, rel=1e-5) and squares == pytest.approx(2 * found.cost, rel=1e-6)
    assert covariance == pytest.approx(np.linalg.inv(found.jac.T @ found.jac), rel=1e-4)
    held, _, more = curve_through(lambda at, a, b: a + b * at, x, y, sigma, (1.0, 0.0), zero=0)
    assert held[0] == 0.0 and held[1] == pytest.approx(np.sum(x * y / sigma**2) / np.sum((x / sigma) ** 2))
    assert more > squares


def test_agreement_by_luck_is_not_believed():
    lucky = slope_through_origin([1.0, 2.0], [1.0, 2.0], [0.01, 0.02])
    # half of the sigma of the mean of two, times t(1)
    assert lucky.scatter == pytest.approx(0, abs=1e-9)
    assert lucky.half_width_95 == pytest.approx(12.706 * 0.5 * 0.01 / np.sqrt(2), rel=1e-3)
