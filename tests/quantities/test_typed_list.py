"""Several numbers in one field: what parts them, a unit behind the last, and a comma that can mean two things."""

import pytest

from statorbook.errors import BadInput
from statorbook.quantities.typed_list import parse_quantities


# 3/8 in = 9.525 mm, 1/2 in = 12.7 mm.
@pytest.mark.parametrize(
    "text, found",
    [
        ("", ()),
        ("12", (12.0,)),
        ("14, 10, 12", (10.0, 12.0, 14.0)),
        ("10 and 12", (10.0, 12.0)),
        ("10\n12\n10", (10.0, 12.0)),
        ("10,5; 12,5", (10.5, 12.5)),
        ("10 mm; 12,5 mm", (10.0, 12.5)),
        ("3/8 in, 1/2 in", (9.525, 12.7)),
        ("1, 2 in", (25.4, 50.8)),
        ("10 mm, 1 in", (10.0, 25.4)),
        ("1, 10 mm, 2 in", (1.0, 10.0, 50.8)),  # a unit further up, too: then the one behind is its own
    ],
)
def test_each_number_once_in_rising_order(text, found):
    assert parse_quantities(text, "mm", "Nozzles") == pytest.approx(found)


@pytest.mark.parametrize("text, entry", [("10,12", 1), ("8, 10,12", 2)])
def test_a_comma_without_a_blank_is_asked(text, entry):
    with pytest.raises(BadInput, match=f"Nozzles, entry {entry}: .*can mean one number or several"):
        parse_quantities(text, "mm", "Nozzles")


@pytest.mark.parametrize("text, limits", [("10, 0", {"above": 0}), ("10, 31", {"at_most": 30}), ("10, x", {})])
def test_the_entry_that_cannot_be_is_named(text, limits):
    with pytest.raises(BadInput, match="^Nozzles, entry 2: "):
        parse_quantities(text, "mm", "Nozzles", **limits)
    assert parse_quantities("30, 10", "mm", "Nozzles", **({} if "x" in text else limits)) == (10.0, 30.0)
