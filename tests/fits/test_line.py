"""The line through the origin against certified and independent values."""

import numpy as np
import pytest
from scipy import optimize, stats

from statorbook.fits.line import line_with_intercept, slope_through_origin, students_t


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
