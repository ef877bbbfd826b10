"""Rounding to two figures to the safe side."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from statorbook.quantities.rounding import rounded_down, rounded_up


@given(st.floats(1e-3, 1e6))
def test_rounding_stays_on_the_safe_side(value):
    assert value <= rounded_up(value) * (1 + 1e-9) and rounded_up(value) <= 1.11 * value
    assert value >= rounded_down(value) * (1 - 1e-9) and rounded_down(value) >= 0.9 * value


@pytest.mark.parametrize(
    "value, up, down",
    [
        (10.0, 10.0, 10.0),
        (0.3, 0.3, 0.3),
        (101.0, 110.0, 100.0),
        (0.119, 0.12, 0.11),
        (9.99, 10.0, 9.9),
        (-1.5, -1.0, -2.0),
    ],
)
def test_two_figures_by_hand(value, up, down):
    assert (rounded_up(value), rounded_down(value)) == (up, down)
