"""The judge of every ±: its table on made-up numbers, and a hundred machines planted, measured and compared."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from judges.coverage.table import UNLIKE_95, complaints, rows_of, words_of
from judges.coverage.trial import tried_of
from judges.coverage.tried import Tried


def drawn(width, count=100, name="ohms"):
    """Truths that lie normally about 5, said with so many times the right ±."""
    off = stats.norm.ppf((np.arange(count) + 0.5) / count)
    return [Tried(quantity=name, value=5.0, plus_minus=1.96 * width, truth=5.0 + each) for each in off]


def test_the_table_counts_what_lies_inside():
    (row,) = rows_of(drawn(1.0))
    # Of a hundred evenly spread quantiles of a normal distribution 95 lie within 1.96 sigma, or the one beside it.
    assert (row.machines, row.inside) in {(100, 95), (100, 96), (100, 94)} and "ohms" in words_of([row])
    assert row.median_share == pytest.approx(1.96 / 5.0)


@pytest.mark.parametrize("width, right", [(0.5, False), (1.0, True), (2.0, False)])
def test_a_plus_minus_of_half_or_twice_the_width_is_seen(width, right):
    assert (complaints(rows_of(drawn(width))) == []) == right


def test_a_reason_must_name_a_quantity_of_the_table():
    assert all(len(reason.split()) > 3 for reason in UNLIKE_95.values())


@pytest.mark.slow
def test_each_plus_minus_holds_the_truth_nineteen_times_in_twenty():
    tries = tried_of(100, seed=19)
    assert complaints(rows_of(tries)) == []
    assert set(UNLIKE_95) <= {each.quantity for each in tries}
    # The same machines with every ± halved or doubled: nearly each quantity that was tried often enough is to be seen.
    often = [row for row in rows_of(tries) if row.machines >= 50 and row.quantity not in UNLIKE_95]
    for factor in (0.5, 2.0):
        changed = [replace(each, plus_minus=factor * each.plus_minus) for each in tries]
        assert len(complaints(rows_of(changed))) >= 0.9 * len(often)
