"""How many more readings halve a ±: against the textbook's scatter, and where no number of them would."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from statorbook.estimate import Estimate
from statorbook.fit_rows import Fit
from statorbook.more_readings import more_rows_words, rows_to_halve


@pytest.mark.parametrize("rows", [3, 5, 10, 30])
def test_without_a_shared_part_the_mean_of_that_many_rows_is_twice_as_sure(rows):
    # JCGM 100, G.3: half-width of a mean is t(0.975, n − 1) s / √n; t by scipy. The least n that halves it is counted.
    def width(n):
        return stats.t.ppf(0.975, n - 1) / np.sqrt(n)

    wanted = next(n for n in range(rows, 1000) if width(n) <= width(rows) / 2) - rows
    assert rows_to_halve(rows, 0.04, 0.0) == wanted


def test_what_all_rows_share_cannot_be_averaged_away():
    assert rows_to_halve(10, 0.02, 0.01) is None and rows_to_halve(10, 0.02, 0.015) is None
    assert rows_to_halve(10, 0.03, 0.01) > rows_to_halve(10, 0.03, 0.0)
    assert rows_to_halve(1, 0.05, 0.0) is None


@given(st.integers(2, 40), st.floats(0.005, 0.2), st.floats(0.0, 0.49))
def test_the_rows_it_asks_for_do_halve_it_and_one_less_does_not(rows, share, part):
    fixed = part * share
    more = rows_to_halve(rows, share, fixed)

    def total(n):
        had, has = (stats.t.ppf(0.975, count - 1) / np.sqrt(count) for count in (rows, n))
        return np.hypot(np.sqrt(share**2 - fixed**2) * has / had, fixed)

    if more is None:
        assert total(rows + 200) > share / 2 * (1 - 1e-9)
    else:
        assert total(rows + more) <= share / 2 * (1 + 1e-6) and total(rows + more - 1) > share / 2 * (1 - 1e-6)


def fit(rows, share):
    best = Estimate(value=2.0, plus_minus=2.0 * share, unit="Ω", how="made up")
    return Fit(estimate=best, estimate_all_rows=best, used_rows=tuple(range(rows)))


@pytest.mark.parametrize("log, rows, share, class_share, words", [
    ("spin", 1, 0.05, 0.01, "One more row, near the highest speed that is safe with the meter clipped on, where its "
                            "last digit counts least, tells how far the readings scatter."),
    ("ohms", 6, 0.02, 0.015, "More rows would not halve the ±: what all rows share sets it. Instead of a plain ohm "
                             "range take a known current of about 1 A and the volts across the leads."),
])
def test_the_words(log, rows, share, class_share, words):
    assert more_rows_words(log, fit(rows, share), class_share) == words


def test_the_count_is_in_the_words():
    more = rows_to_halve(8, 0.03, 0.01)
    assert more_rows_words("spin", fit(8, 0.03), 0.01).startswith(f"About {more} more rows, near the highest speed")
