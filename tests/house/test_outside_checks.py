"""Every check against something outside stands on one list, with its source and how it was seen."""

import ast

import pytest

from house.outside_checks import (
    END,
    NO_SOURCE,
    PAGE,
    START,
    OutsideCheck,
    checks_in,
    complaints_about_check,
    listed,
    outside_checks,
    twice,
    with_list,
)

LEAST = 120
GOOD = OutsideCheck(
    what="heat of water",
    number="4.18 kJ",
    tolerance="0.5 %",
    source="A Handbook, 3rd ed., table 2",
    seen="read",
    test="tests/bank/test_heat.py::test_heat_of_water",
)
MARKED = """
@pytest.mark.outside(
    "heat of water", source="A Handbook, 3rd ed., table 2", number="4.18 kJ", tolerance="0.5 %", seen="read"
)
@pytest.mark.parametrize("mass", [1.0, 2.0])
def test_heat_of_water(mass):
    assert heat(mass) == mass * 4.18
"""


def test_the_list_is_what_the_markers_say():
    page = PAGE.read_text(encoding="utf-8")
    assert page == with_list(page, listed(outside_checks())), "write it again: .ci/list-outside-checks"


def test_every_check_says_what_it_has_to():
    found = {check.test: words for check in outside_checks() if (words := complaints_about_check(check))}
    assert found == {} and twice(outside_checks()) == []


def test_there_are_enough_of_them():
    assert sum(check.has_source for check in outside_checks()) >= LEAST


def test_a_marker_is_read_with_its_test():
    assert list(checks_in("tests/bank/test_heat.py", ast.parse(MARKED))) == [GOOD]


def test_a_marker_of_one_row_belongs_to_its_test():
    marker = MARKED[MARKED.index("@") + 1 : MARKED.index("@pytest.mark.par")]
    text = MARKED.replace(f"@{marker}", "").replace("2.0]", f"pytest.param(2.0, marks={marker})]")
    assert list(checks_in("tests/bank/test_heat.py", ast.parse(text))) == [GOOD]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"seen": "somewhere"}, "seen is"),
        ({"source": "a trade page on heat"}, "names nothing"),
        ({"source": ""}, "source is empty"),
        ({"number": "as usual"}, "no number"),
        ({"source": NO_SOURCE}, "was not seen"),
    ],
)
def test_a_bad_marker_is_named(change, words):
    assert complaints_about_check(GOOD) == []
    (said,) = complaints_about_check(OutsideCheck(**{**vars(GOOD), **change}))
    assert words in said


def test_a_check_that_stands_twice_is_named():
    assert twice([GOOD, GOOD]) == [tuple(vars(GOOD).values())]


def test_the_list_counts_by_floor_and_by_how_it_was_seen():
    told = OutsideCheck(**{**vars(GOOD), "source": NO_SOURCE, "seen": "from memory"})
    text = with_list(f"before\n{START}old\n{END}after", listed([GOOD, told]))
    assert text.startswith("before\n") and text.endswith("after") and "old" not in text
    assert "| bank | 1 | 0 | 0 | 0 | 0 | 1 |" in text and "| together | 1 | 0 | 0 | 0 | 0 | 1 |" in text
    assert (
        "| heat of water | 4.18 kJ | 0.5 % | A Handbook, 3rd ed., table 2 | read | `bank/test_heat.py` heat of water |"
        in text
    )
