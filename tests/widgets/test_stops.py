"""The slider over named stops: only what is a stop can be chosen, and its files come with the library."""

import pytest
from traitlets import TraitError

from sentences import sentences_of
from statorbook.widgets.stops import Stops

wording = sentences_of("widgets")


def stops(*names):
    return Stops("Way", names or ("slow", "middle", "fast"), ("least", "most"))


def test_it_starts_at_the_left_end_with_nothing_marked():
    made = stops()
    assert (made.value, made.marked, made.beyond, made.crossed) == (0, -1, 0, [])
    assert (made.label, made.stops, made.ends) == ("Way", ["slow", "middle", "fast"], ["least", "most"])


@pytest.mark.parametrize("value", [-1, 3])
def test_what_is_no_stop_is_refused_and_it_stays_where_it_was(value):
    made = stops()
    made.value = 2
    with pytest.raises(TraitError, match=wording("a stop from 0 to 2")):
        made.value = value
    assert made.value == 2


def test_one_stop_alone_is_a_slider_too():
    made = stops("only")
    assert made.value == 0
    with pytest.raises(TraitError, match="from 0 to 0"):
        made.value = 1
