"""Least squares against the certified values of NIST's statistical reference datasets, and against scipy."""

from math import sqrt

import numpy as np
import pytest
from scipy import stats

from published.tables import rows
from statorbook.fits.line import line_with_intercept, slope_through_origin

TABLE = rows("nist_strd")
# Certified: slope, its standard deviation, residual standard deviation.
NO_INTERCEPT = {
    "NoInt1": (2.07438016528926, 0.165289256198347e-01, 3.56753034006338),
    "NoInt2": (0.727272727272727, 0.420827318078432e-01, 0.369274472937998),
}
# Norris: intercept, its standard deviation, slope, residual standard deviation.
NORRIS = (-0.262323073774029, 0.232818234301152, 1.00211681802045, 0.884796396144373)


def data(name):
    found = [row for row in TABLE if row["set"] == name]
    return (np.array([row[axis] for row in found]) for axis in ("x", "y"))


@pytest.mark.outside(
    "line through the origin: slope, its deviation, residual deviation",
    source="NIST StRD, linear regression, data sets NoInt1 and NoInt2, certified values",
    number="2.07438016528926, 0.727272727272727 and four more",
    tolerance="1e-12",
    seen="from memory",
)
@pytest.mark.parametrize("name", NO_INTERCEPT)
def test_a_slope_through_the_origin_has_the_certified_digits(name):
    slope, error, scatter = NO_INTERCEPT[name]
    found = slope_through_origin(*data(name))
    assert found.value == pytest.approx(slope, rel=1e-13)
    assert found.scatter == pytest.approx(scatter, rel=1e-12)
    assert found.scatter * found.meter_error == pytest.approx(error, rel=1e-12)


@pytest.mark.outside(
    "intercept of a straight line and its deviation",
    source="NIST StRD, linear regression, data set Norris, certified values",
    number="-0.262323073774029, 0.232818234301152",
    tolerance="1e-10",
    seen="from memory",
)
def test_an_intercept_has_the_certified_digits():
    x, y = data("Norris")
    intercept, error, _, scatter = NORRIS
    found, half_width = line_with_intercept(x, y, np.full(len(x), scatter))
    # Student's t for 34 degrees of freedom by scipy; the set's own standard deviation beside it.
    assert found == pytest.approx(intercept, rel=1e-10)
    assert half_width == pytest.approx(stats.t.ppf(0.975, 34) * error, rel=1e-10)


def test_the_copy_of_norris_is_right():
    x, y = data("Norris")
    found = stats.linregress(x, y)
    assert (found.intercept, found.slope) == pytest.approx((NORRIS[0], NORRIS[2]), rel=1e-11)
    off = y - found.intercept - found.slope * x
    assert sqrt(off @ off / 34) == pytest.approx(NORRIS[3], rel=1e-11)


@pytest.mark.outside(
    "error of a slope when the sigmas are known",
    source="scipy 1.17, optimize.curve_fit(…, sigma=sigma, absolute_sigma=True)",
    number="slope and deviation of 20 random points",
    tolerance="1e-6",
    seen="computed by package",
)
def test_weights_agree_with_scipy():
    draw = np.random.default_rng(3)
    x, sigma = draw.uniform(1, 50, 20), draw.uniform(0.1, 3.0, 20)
    y = 2.0 * x + sigma * draw.standard_normal(20)
    from scipy.optimize import curve_fit

    best, spread = curve_fit(lambda at, slope: slope * at, x, y, sigma=sigma, absolute_sigma=True)
    found = slope_through_origin(x, y, sigma)
    assert found.value == pytest.approx(best[0], rel=1e-7)
    assert found.meter_error == pytest.approx(sqrt(spread[0, 0]), rel=1e-6)
