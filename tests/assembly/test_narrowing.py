"""Which measurement narrows an answer most, on inputs made up by hand: its ± then, and every sentence."""

from math import sqrt

import pytest

from sentences import sentences_of
from statorbook.assembly.narrowing import (
    answers_words,
    best_measurement,
    deciding_words,
    narrowed_words,
    narrowing_words,
)
from statorbook.assembly.stands_on import HowSure, Input
from statorbook.cautions import text_of
from statorbook.choice.uncertainty import Spread
from statorbook.winding.grouping import Grouping

wording = sentences_of("assembly")

WATTS = "bank_watts"


def one(name, share, known="assumed", words=None, **ends):
    numbers = {"value": 0.7, "low": 0.6, "high": 0.8} | ends
    said = {"words": words or name, "unit": "-", "how": "by hand", "known": known}
    return Input(name=name, **said, **numbers, shares={WATTS: share})


def sure_of(*inputs, missing=()):
    spread = Spread(value=500.0, constants=30.0, assumed=40.0, unit="W")
    return HowSure(
        grouping=Grouping(series=4, parallel=3), answers={WATTS: spread}, inputs=inputs, given=(), missing=missing
    )


# More rows leave half of a ± (common practice, no source), so three quarters of its square go; a typed value leaves
# nothing. 50 W are the square root of 30² + 40².
@pytest.mark.parametrize(
    "shares, best, left",
    [
        ({"emf_v_per_rpm": 0.8, "efficiency": 0.2}, "emf_v_per_rpm", 1.0 - 0.75 * 0.8),
        ({"emf_v_per_rpm": 0.5, "efficiency": 0.4}, "efficiency", 1.0 - 0.4),
        ({"source": 0.7, "efficiency": 0.03}, "efficiency", 0.97),
    ],
)
def test_the_measurement_that_takes_most_of_the_square_is_the_best(shares, best, left):
    sure = sure_of(*(one(name, share) for name, share in shares.items()))
    found = best_measurement(sure, WATTS)
    assert found.of.name == best and found.plus_minus == pytest.approx(50.0 * sqrt(left))
    assert found.narrowed(sure.answers[WATTS]) == f"± {50.0 * sqrt(left):.0f} W"


def test_what_takes_less_than_a_fiftieth_is_no_measurement():
    sure = sure_of(one("source", 0.981, words="source as read"), one("efficiency", 0.019))
    assert best_measurement(sure, WATTS) is None
    assert best_measurement(sure_of(one("source", 0.9), one("efficiency", 0.02)), WATTS) is not None
    assert narrowing_words(sure, WATTS) == wording("Nothing narrows the source as read")
    assert narrowed_words(sure, WATTS) == wording("Watts into the half-full bank: 500")
    with_way = sure_of(one("efficiency", 0.019), one("emf_v_per_rpm", 0.01))
    assert narrowing_words(with_way, WATTS) == wording("Nothing that can be measured makes")


def test_temperatures_that_were_measured_are_not_measured_again():
    sure = sure_of(one("copper_c", 0.6, "measured"), one("magnet_c", 0.3, "measured"), one("efficiency", 0.1))
    assert best_measurement(sure, WATTS).of.name == "efficiency"
    again = sure_of(one("copper_c", 0.6, "typed"), one("emf_v_per_rpm", 0.1, "measured"))
    assert best_measurement(again, WATTS).of.name == "copper_c"
    assert best_measurement(sure_of(one("emf_v_per_rpm", 0.9, "measured")), WATTS).of.name == "emf_v_per_rpm"


def test_the_best_measurement_is_told_with_the_plus_minus_before_and_after():
    sure = sure_of(one("efficiency", 0.64, words="runner efficiency"), one("source", 0.36))
    said = text_of(narrowing_words(sure, WATTS))
    assert said.startswith(wording("One measurement would narrow it most"))
    assert narrowed_words(sure, WATTS) == wording("Watts into the half-full bank: best")
    hidden = sure_of(one("source", 0.64, words="source as read"), one("efficiency", 0.36))
    assert text_of(narrowing_words(hidden, WATTS)).startswith(wording("Nothing narrows the source as read: that"))


def test_three_that_are_assumed_are_named_first_and_three_others_after():
    assumed = [one(f"a{n}", share) for n, share in enumerate((0.1, 0.2, 0.15, 0.05))]
    others = [one(f"m{n}", share, "measured") for n, share in enumerate((0.2, 0.1, 0.12, 0.06))]
    assert deciding_words(sure_of(*assumed, *others), WATTS) == wording("Assumed and decisive: a1")
    assert deciding_words(sure_of(*others[:1]), WATTS) == wording("Nothing that is assumed decides")
    assert deciding_words(sure_of(*assumed[:1]), WATTS) == wording("Assumed and decisive: a0")
    assert deciding_words(sure_of(one("a", 0.019)), WATTS) == wording("Nothing here moves it")
    assert deciding_words(sure_of(one("a", 0.02)), WATTS).endswith("a 0.70 ± 0.10 (2%).")


def test_all_answers_are_told_in_one_sentence_and_what_is_missing_after_it():
    assert answers_words(sure_of(one("a", 1.0))) == wording("With 4 in series, 3")
    assert answers_words(sure_of(missing=("no year yet",))) == wording("With 4 in series, 3: missing")


# Ends that are as far off as a fiftieth of the ± count as even.
@pytest.mark.parametrize(
    "ends, said",
    [
        (dict(value=10.0, low=9.0, high=11.0), "10.0 ± 1.0"),
        (dict(value=10.0, low=9.0, high=11.03), "10.0 ± 1.0"),
        (dict(value=10.0, low=9.0, high=11.06), "10, from 9 to 11.1"),
        (dict(value=10.0, low=8.0, high=11.0), "10, from 8 to 11"),
    ],
)
def test_a_value_is_said_with_its_plus_minus_where_both_ends_are_even(ends, said):
    assert one("a", 1.0, **ends).said == said


def test_inputs_are_ranked_and_summed_by_how_they_are_known():
    sure = sure_of(one("a", 0.2), one("b", 0.5, "measured"), one("c", 0.3))
    assert [each.name for each in sure.ranked(WATTS)] == ["b", "c", "a"]
    assert sure.share_of("assumed", WATTS) == pytest.approx(0.5)
