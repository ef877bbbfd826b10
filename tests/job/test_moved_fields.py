"""A field that moved to another part is found where it stands now, and nothing that was typed is lost."""

import pytest

from statorbook.job.document import format_document, parse_document


def read(**parts):
    return parse_document(format_document({"schema_version": 1, **parts}), "job.json").parts


def test_the_length_that_stood_beside_the_prices_is_that_of_the_cable():
    parts = read(prices={"cable_length_m": 43.0, "kwh_price": 0.3, "assumed": ["years"]})
    assert parts["cable"].length_m == 43.0 and not parts["cable"].assumes("length_m")
    assert parts["cable"].assumes("area_mm2") and parts["prices"].kwh_price == 0.3


@pytest.mark.parametrize(
    "parts, length_m",
    [
        ({"prices": {"cable_length_m": 43.0, "assumed": []}, "cable": {"length_m": 12.0}}, 12.0),
        ({"prices": {"cable_length_m": 10.0, "assumed": ["cable_length_m", "years"]}}, None),
        ({"prices": {"kwh_price": 0.3}}, None),
    ],
)
def test_what_is_there_already_counts_and_an_assumption_does_not_move(parts, length_m):
    found = read(**parts)
    assert (found["cable"].length_m if "cable" in found else None) == length_m
    assert "cable_length_m" not in found["prices"].assumed
