"""A number is checked by name and limit, and refused in the reader's units."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.limits import limits_in_words, require_number
from statorbook.quantities.unit_systems import reader_units

wording = sentences_of("quantities")


@pytest.mark.parametrize("value", [3, 3.0, np.float64(3.0), np.int64(3), np.array(3.0)])
def test_a_good_number_comes_back_as_float(value):
    number = require_number(value, "head", "m", above=0, at_most=10)
    assert number == 3.0
    assert type(number) is float


@pytest.mark.parametrize(
    ("limits", "value", "sentence"),
    [
        ({"above": 0}, 0, wording("head: 0 m was given")),
        ({"above": 0, "at_most": 9}, 9.5, wording("head: 9.5 m was given")),
        ({"at_least": -40, "at_most": 80}, -41, wording("head: -41 m was given")),
        ({}, math.nan, wording("head: nan m was given")),
        ({}, math.inf, wording("head: inf m was given")),
        ({}, -math.inf, wording("head: -inf m was given")),
        ({"above": 0}, True, wording("head: True m was given")),
        ({"above": 0}, None, wording("head: None is not a")),
        ({"above": 0}, "tall", wording("head: 'tall' is not a")),
        ({"above": 0}, [1, 2], wording("head: [1, 2] is not")),
        ({"above": 0}, 1 + 2j, wording("head: (1+2j) is not a")),
    ],
)
def test_a_bad_number_is_refused_by_name_and_limit(limits, value, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        require_number(value, "head", "m", **limits)


def test_a_number_without_unit_reads_well():
    with pytest.raises(BadInput, match=exactly(wording("ratio: 7 was given; a"))):
        require_number(7, "ratio", "", at_most=5, next_step="take 1.8")


def test_a_number_as_text_is_refused_because_callers_keep_what_they_were_given():
    with pytest.raises(BadInput, match=r"^head: '3' "):
        require_number("3", "head", "m", above=0)


@pytest.mark.parametrize(
    ("unit", "limits", "words"),
    [
        ("", {"at_least": 3, "at_most": 144, "noun": "a whole number"}, "a whole number from 3 to 144 is allowed"),
        ("-", {"at_most": 0.95, "above": 0}, "a number above 0 and at most 0.95 is allowed"),
        ("MΩ", {"at_least": 0, "at_most": 1_000_000}, "a number from 0 to 1000000 MΩ is allowed"),
        ("V", {"at_least": 0}, "a number at least 0 V is allowed"),
        ("", {}, "a number is allowed"),
    ],
)
def test_limits_are_said_in_one_way(unit, limits, words):
    assert limits_in_words(unit, **limits) == words


@given(st.floats(allow_nan=True, allow_infinity=True))
def test_limits_hold_for_every_float(value):
    allowed = 0.0 < value <= 10.0
    try:
        assert require_number(value, "head", "m", above=0, at_most=10) == value
        assert allowed
    except BadInput:
        assert not allowed


@pytest.mark.outside(
    "limits told to a US reader",
    source="NIST SP 811, appendix B.8",
    number="−40 °C is −40 °F, 80 °C 176 °F, 300 °C 572 °F, 25.4 mm 1 in, 4.4704 m/s 10 mph",
    tolerance="as printed",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("name", "unit", "limits", "value", "given", "allowed"),
    [
        ("air", "°C", {"at_least": -40, "at_most": 80}, 300, "572 °F", "a number from −40 to 176 °F"),
        ("bore", "mm", {"above": 2.54, "at_most": 25.4}, 0, "0 in", "a number above 0.1 and at most 1 in"),
        ("wind", "m/s", {"at_most": 4.4704}, 44.704, "100 mph", "a number at most 10 mph"),
        ("wire diameter", "mm", {"above": 0}, 0, "0 mm", "a number above 0 mm"),
        ("drag", "N·m", {}, math.nan, "nan ft·lb", "a number in ft·lb"),
    ],
)
def test_a_us_reader_is_refused_in_us_units(name, unit, limits, value, given, allowed):
    with reader_units("US"), pytest.raises(BadInput) as refusal:
        require_number(value, name, unit, **limits)
    assert (refusal.value.given, refusal.value.allowed) == (f"{given} was given", f"{allowed} is allowed")
