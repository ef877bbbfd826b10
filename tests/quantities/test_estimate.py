"""An estimate carries its half-width, its unit and its origin."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.estimate import Estimate

wording = sentences_of("quantities")


def estimate(**changes):
    return Estimate(**{"value": 12.0, "plus_minus": 0.5, "unit": "Ω", "how": "ohms log", **changes})


def test_the_band_is_value_plus_and_minus_the_half_width():
    assert (estimate().low, estimate().high) == (11.5, 12.5)


@given(st.floats(-1e6, 1e6), st.floats(0, 1e6), st.floats(-1e3, 1e3))
def test_scaling_moves_both_ends_of_the_band(value, plus_minus, factor):
    scaled = estimate(value=value, plus_minus=plus_minus).times(factor)
    ends = sorted((factor * (value - plus_minus), factor * (value + plus_minus)))
    size = 1e-12 * (1.0 + abs(factor)) * (1.0 + abs(value) + plus_minus)
    assert scaled.low == pytest.approx(ends[0], abs=size)
    assert scaled.high == pytest.approx(ends[1], abs=size)
    assert scaled.plus_minus >= 0.0


# Independent parts add as squares, JCGM 100:2008 5.1.2 (from memory): 5² = 3² + 4², 13² = 12² + 3² + 4².
@pytest.mark.parametrize(
    ("plus_minus", "moved_by", "own"),
    [
        (5.0, {}, 5.0),
        (5.0, {"ohms": -3.0}, 4.0),
        (13.0, {"ohms": 3.0, "EMF": -4.0}, 12.0),
        (5.0, {"ohms": 3.0, "EMF": -4.0}, 0.0),
        (5.0, {"ohms": 6.0}, 0.0),
    ],
)
def test_what_comes_from_other_estimates_is_taken_out_as_squares(plus_minus, moved_by, own):
    found = estimate(plus_minus=plus_minus, moved_by=moved_by)
    assert found.own_plus_minus == pytest.approx(own)
    assert found.times(-2.0).own_plus_minus == pytest.approx(2.0 * own)
    assert found.times(-2.0).moved_by == {name: -2.0 * moved for name, moved in moved_by.items()}


def test_scaling_keeps_or_changes_unit_and_origin():
    kept, changed = estimate(assumed=True).times(1000.0), estimate().times(1000.0, unit="mΩ", how="in milliohms")
    assert (kept.unit, kept.how, kept.assumed) == ("Ω", "ohms log", True)
    assert (changed.value, changed.unit, changed.how, changed.assumed) == (12000.0, "mΩ", "in milliohms", False)


def test_it_reads_as_value_plus_minus_unit_and_says_when_it_is_assumed():
    assert str(estimate()) == "12.00 ± 0.50 Ω"
    assert str(estimate(assumed=True)) == "12.00 ± 0.50 Ω (assumed)"


def test_it_cannot_be_changed_afterwards():
    with pytest.raises(AttributeError):
        estimate().value = 3.0


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"value": math.nan}, wording("ohms log: nan Ω was")),
        ({"value": math.inf, "how": ""}, wording("value: inf Ω was given")),
        ({"plus_minus": -1}, wording("plus or minus: -1 Ω")),
        ({"plus_minus": None}, wording("plus or minus: None is")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        estimate(**changes)


@pytest.mark.parametrize(
    ("value", "plus_minus", "text"),
    [
        (937.24, 13.2, "937 ± 13 V"),
        (30.926, 1.61, "30.9 ± 1.6 V"),
        (0.02, 0.00023, "0.02000 ± 0.00023 V"),
        (12.0, 0.0, "12.00 ± 0.00 V"),
        (5400.0, 260.0, "5400 ± 260 V"),
    ],
)
def test_value_and_half_width_end_at_the_same_decimal(value, plus_minus, text):
    assert str(Estimate(value=value, plus_minus=plus_minus, unit="V", how="read")) == text


def test_a_sigma_is_the_half_width_over_1_96():
    # Two-sided 95 % point of the normal distribution, any statistics table.
    assert estimate(value=10.0, plus_minus=1.96).sigma_share == pytest.approx(0.1)
