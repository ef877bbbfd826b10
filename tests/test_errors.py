"""A complaint is one plain sentence."""

import pytest

from sentences import exactly, sentences_of
from statorbook.errors import BadInput, count_of

wording = sentences_of("errors")


def test_complaint_says_what_was_given_what_is_allowed_and_what_to_do():
    complaint = BadInput("−3 m was given", "a head above 0 m is allowed", "read the gauge again", where="net head")
    assert str(complaint) == wording("net head: −3 m was")
    assert (complaint.given, complaint.allowed, complaint.next_step, complaint.where) == (
        "−3 m was given",
        wording("a head above 0 m"),
        "read the gauge again",
        "net head",
    )


def test_complaint_without_a_place_starts_with_what_was_given():
    assert str(BadInput("nothing was given", "a number is allowed", "type one")) == wording(
        "nothing was given; a number"
    )


def test_complaint_is_a_value_error_so_that_plain_code_catches_it():
    with pytest.raises(ValueError, match=exactly("a; b; c.")):
        raise BadInput("a", "b", "c")


@pytest.mark.parametrize(("count", "words"), [(0, "0 paths"), (1, "1 path"), (2, "2 paths")])
def test_one_is_told_without_an_s(count, words):
    assert count_of(count, "path") == words


def test_a_notebook_shows_the_sentence_alone():
    shown = BadInput("0 Ω was given", "above 0 Ω is allowed", "measure again", where="ohms")._render_traceback_()
    assert shown == [wording("Not usable – ohms: 0")]
