"""Rounding to two figures to the safe side."""

from hypothesis import given
from hypothesis import strategies as st

from statorbook.quantities.rounding import rounded_down, rounded_up


@given(st.floats(1e-3, 1e6))
def test_rounding_stays_on_the_safe_side(value):
    assert value <= rounded_up(value) * (1 + 1e-9) and rounded_up(value) <= 1.11 * value
    assert value >= rounded_down(value) * (1 - 1e-9) and rounded_down(value) >= 0.9 * value
