"""Checks of lines and groups of rows against general packages: zero, bend, days, level, and the balance of pairs."""

import numpy as np
import pytest
from scipy import optimize, stats

from sentences import sentences_of
from statorbook.fits.line_groups import bend, levelled, scatter_about, session_gaps, zero_offset
from statorbook.fits.pair_balance import balance_warnings, pair_balance
from statorbook.quantities.estimate import Estimate

wording = sentences_of("fits")

RPM = np.linspace(100.0, 450.0, 8)
NOISE = np.array([1, -2, 1, 2, -1, -2, 2, -1.0])


@pytest.mark.outside(
    "offset and bend of weighted rows with their 99 % half-widths",
    source="scipy 1.17, optimize.curve_fit(…, sigma=sigma) and stats.t.ppf(0.995, 6)",
    number="of 8 rows with a bend of 2e-5",
    tolerance="1e-5",
    seen="computed by package",
)
@pytest.mark.parametrize("curve", [0.0, -2e-5])
def test_offset_and_bend_with_unequal_errors(curve):
    sigma = 0.3 + 0.002 * RPM
    y = 0.1 * RPM + curve * RPM**2 + sigma * NOISE
    (offset, _), spread = optimize.curve_fit(lambda x, a, b: a + b * x, RPM, y, sigma=sigma)
    wanted = offset, stats.t.ppf(0.995, 6) * np.sqrt(spread[0, 0])
    assert zero_offset(RPM, y, sigma) == pytest.approx(wanted, rel=1e-5)
    (_, bent), spread = optimize.curve_fit(lambda x, b, c: b * x + c * x**2, RPM, y, sigma=sigma)
    (slope,), _ = optimize.curve_fit(lambda x, b: b * x, RPM, y, sigma=sigma)
    wanted = np.array([bent, stats.t.ppf(0.995, 6) * np.sqrt(spread[1, 1])]) * 350 / slope
    assert bend(RPM, y, sigma) == pytest.approx(wanted, rel=1e-4)


def test_scatter_about_shapes_is_what_least_squares_leaves():
    sigma = 0.3 + 0.002 * RPM
    y = 0.1 * RPM + sigma * NOISE
    left = np.linalg.lstsq(np.column_stack([RPM, RPM**2]) / sigma[:, None], y / sigma, rcond=None)[1][0]
    assert scatter_about((RPM, RPM**2), y, sigma) == pytest.approx(np.sqrt(left / 6))


def test_scatter_about_as_many_shapes_as_rows_is_none():
    assert scatter_about((RPM[:2], RPM[:2] ** 2), RPM[:2], np.ones(2)) == pytest.approx(0.0, abs=1e-9)
    x, y = np.array([1.0, 2.0]), np.array([2.0, 2.0])
    # b = (2 + 4) / 5 = 1.2: misses 0.8 and −0.4, squares 0.8.
    assert scatter_about((x,), y, np.ones(2)) == pytest.approx(np.sqrt(0.8))


def test_levelled_rows_keep_their_share_of_error():
    y = RPM * np.repeat([0.1, 0.2], 4)
    x, level, sigma = levelled(["a"] * 4 + ["b"] * 4, RPM, y, 0.01 * y)
    assert sigma / level == pytest.approx(np.full(8, 0.01)) and list(x) == list(RPM)
    assert np.ptp(level / x) == pytest.approx(0.0, abs=1e-12)


def days(slopes, noise=0.0, *, share=0.01):
    """Four rows a day at each slope, off by some sigmas, up and down by turns."""
    names = np.repeat([f"day {k}" for k in range(len(slopes))], 4)
    x = np.tile([100.0, 200.0, 300.0, 400.0], len(slopes))
    y = x * np.repeat(slopes, 4) * (1 + noise * share * np.tile([1, -1, -1, 1], len(slopes)))
    return list(names), x, y, share * x * np.repeat(slopes, 4)


@pytest.mark.outside(
    "chance shared by three comparisons",
    source="Bonferroni; t by scipy 1.17, stats.t.ppf(1 - 0.01 / 6, 9)",
    number="1 % over three",
    tolerance="1e-4",
    seen="computed by package",
)
def test_the_plus_minus_of_three_days_counts_three_comparisons():
    found = session_gaps(*days([0.1, 0.1, 0.1], noise=1.0))
    # Misses of ±1 sigma a day of four rows: √(4/3) of scatter, 9 rows to spare in all; an error of 1 %/√4 a day, of
    # 1 %/√8 the others; t of nine rows, or of a thousand when that gives less.
    pooled = np.sqrt(4 / 3)
    reach = pooled * min(stats.t.ppf(1 - 0.01 / 6, 9), stats.t.ppf(1 - 0.01 / 6, 1000))
    wanted = reach * np.hypot(0.01 / 2, 0.01 / np.sqrt(8))
    assert found["day 0"].plus_minus == pytest.approx(wanted, rel=1e-3)


def test_rows_that_agree_better_than_the_meter_narrow_the_gap_when_they_are_many():
    # Twelve days without scatter: half a sigma times t(36) is less than one sigma times t(1000).
    found = session_gaps(*days([0.1] * 12))
    reach = 0.5 * stats.t.ppf(1 - 0.01 / 24, 36)
    wanted = reach * np.hypot(0.01 / 2, 0.01 / np.sqrt(44))
    assert found["day 3"].plus_minus == pytest.approx(wanted, rel=1e-3)


@pytest.mark.parametrize("slope", [-0.02, 0.0])
def test_a_day_without_a_slope_is_left_out_and_the_others_stay(slope):
    names, x, y, _ = days([slope, 0.1, 0.104])
    found = session_gaps(names, x, y, 0.001 * x)
    assert set(found) == {"day 1", "day 2"}
    assert found["day 1"].value == pytest.approx(0.1 / ((0.104 + slope) / 2) - 1)


def test_a_slip_of_one_day_is_judged_within_its_own_day():
    names, x, y, sigma = days([0.1, 0.2, 0.1])
    y[5] *= 1.5
    found = session_gaps(names, x, y, sigma)
    # Without the slip the middle day has twice the slope of the others; each row weighs by 1 / slope².
    rest = (4 * 0.1 / 0.1**2 + 3 * 0.2 / 0.2**2) / (4 / 0.1**2 + 3 / 0.2**2)
    assert found["day 1"].value == pytest.approx(1.0)
    assert found["day 0"].value == pytest.approx(0.1 / rest - 1)


@pytest.mark.parametrize("share, off, kept", [(0.01, 1.028, True), (0.01, 1.05, False), (0.03, 1.045, True)])
def test_a_row_off_by_less_than_chance_or_three_percent_stays_in_its_day(share, off, kept):
    names, x, y, sigma = days([0.1, 0.1], share=share)
    x[4:], y[4:], sigma[4:] = 3 * x[4:], 3 * y[4:], 3 * sigma[4:]
    y[6] *= off
    found = session_gaps(names, x, y, sigma)
    # One of four rows of the day, each with the same share of error.
    assert found["day 1"].value == pytest.approx((off - 1) / 4 if kept else 0.0, abs=1e-9)


def test_exact_rows_count_as_scattered_by_half_a_sigma():
    x, sigma = np.array([1.0, 2.0, 3.0, 4.0]), np.array([0.1, 0.1, 0.1, 0.1])
    _, half = zero_offset(x, 2 * x + 1, sigma)
    # σ of the intercept √(1/4 + 2.5²/5) = √1.5; t(0.995, 2).
    assert half == pytest.approx(stats.t.ppf(0.995, 2) * 0.5 * 0.1 * np.sqrt(1.5))


def test_a_shift_that_rows_share_counts_by_what_it_changes_with_its_power():
    names, x, y, sigma = days([0.1, 0.121])
    shifted = y * np.repeat([1.0, 1.1], 4)
    plain, wide = (session_gaps(names, x, y, sigma, power=0.5, shifted=each)["day 1"] for each in ((), (shifted,)))
    assert plain.value == wide.value == pytest.approx(0.1)
    # √1.21 = 1.1; with 1.1 times as much √1.331 = 1.1537.
    moved = (np.sqrt(1.331) - 1.1) * 2.576 / 1.96
    assert wide.plus_minus == pytest.approx(np.hypot(plain.plus_minus, moved), rel=1e-3)


@pytest.mark.outside(
    "± of one of three means over the mean of all",
    source="JCGM 100:2008 (GUM), 5.1.2, law of propagation",
    number="(1 − 1/3)² u² + 2 (u / 3)²",
    tolerance="1e-6",
    seen="from memory",
)
def test_the_balance_of_three_pairs():
    names = ["AB", "BC", "CA"] * 2
    x, y = np.ones(6), np.array([1.0, 1.0, 1.06, 1.02, 1.02, 1.08])
    found = pair_balance(names, x, y, np.full(6, 0.01))
    # Two rows a pair ±0.01 about their mean: one sigma of scatter √2, three to spare; mean of all 1.03.
    u = np.sqrt(2) * stats.t.ppf(0.975, 3) * 0.01 / np.sqrt(2)
    assert found["CA"].value == pytest.approx(1.07 / 1.03)
    assert found["CA"].plus_minus == pytest.approx(np.sqrt((4 / 9 + 2 / 9) * u**2) / 1.03)
    single = pair_balance(["AB", "BC"], np.ones(2), np.array([1.0, 1.04]), np.full(2, 0.01))
    # With one row a pair the meter's sigma counts, as if known from a thousand rows: half of each of two.
    assert single["BC"].plus_minus == pytest.approx(stats.t.ppf(0.975, 1000) * 0.01 / np.sqrt(2) / 1.02)
    assert pair_balance(["AB", "AB"], np.ones(2), np.ones(2), np.ones(2)) == {}


def test_a_pair_that_is_off_is_said_in_percent():
    made = {pair: Estimate(value=1 + off, plus_minus=0.012, unit="of the mean", how="") for pair, off in OFF.items()}
    (sentence,) = balance_warnings(made, "EMF", "look")
    assert sentence == wording("EMF of pair BC is")


OFF = {"AB": 0.029, "BC": -0.045, "CA": 0.016}
