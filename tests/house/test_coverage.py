"""The judge of every ±: its table on made-up numbers."""

import numpy as np
import pytest
from scipy import stats

from judges.coverage.table import UNLIKE_95, complaints, rows_of, words_of
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
