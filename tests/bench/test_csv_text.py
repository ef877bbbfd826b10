"""A log's file as text: what is refused is named by its line, what is kept comes back as it was, older rows fit in."""

import pytest

from sentences import sentences_of
from statorbook.bench.csv_text import format_log, parse_log
from statorbook.bench.logs import blank_row
from statorbook.errors import BadInput

wording = sentences_of("bench")

HEAD, UNITS = b"terminals,ohms,lead_zero_ohm,copper_c,taken_on,note", "pair,Ω,Ω,°C,date,text".encode()
ROW = b"AB,13.4,0.2,16,2026-05-01,cold"


def ohms(*lines, end=b"\n"):
    return parse_log("ohms", end.join(lines) + end, "mill/ohms.csv")


def refused(call, *values, **options):
    with pytest.raises(BadInput) as complaint:
        call(*values, **options)
    return str(complaint.value)


def test_a_file_of_three_lines_is_a_header_units_and_one_row():
    found = ohms(HEAD, UNITS, ROW)
    assert found.notes == () and len(found.rows) == 1 and found.rows[0]["ohms"] == "13.4"
    assert found.units == dict(zip(found.rows[0], UNITS.decode().split(",")))


@pytest.mark.parametrize("lines, rows", [((HEAD,), 0), ((HEAD, UNITS), 0), ((HEAD, ROW), 1), ((HEAD, ROW, ROW), 2)])
def test_a_file_without_units_keeps_its_first_row_and_says_so(lines, rows):
    found = ohms(*lines)
    assert len(found.rows) == rows
    assert found.notes == (() if UNITS in lines else (wording("mill/ohms.csv has no units row"),))
    assert found.units == ({} if UNITS not in lines else dict(zip(HEAD.decode().split(","), UNITS.decode().split(","))))


@pytest.mark.parametrize(
    "lines, place",
    [
        ((HEAD, UNITS, b"AB,\xff13"), "line 3"),
        ((b"\xff" + HEAD,), "line 1"),
        ((HEAD, UNITS, ROW, ROW, b'AB,"13'), "line 5"),
        ((HEAD, UNITS, b'AB,"1"3,0'), "line 3"),
        ((HEAD, UNITS, b"", b'AB,"two\nlines",0.2,,,', b'AB,"13'), "line 6"),
    ],
)
def test_what_is_no_table_is_named_by_its_line(lines, place):
    assert refused(ohms, *lines).startswith(f"mill/ohms.csv, {place}: ")


def test_too_many_and_too_few_cells_are_said_by_line_and_kept():
    found = ohms(HEAD, UNITS, b"AB,13.4,0.2", b"", ROW + b",more")
    assert found.notes == (wording("mill/ohms.csv, line 3 has 3"), wording("mill/ohms.csv, line 5 has 7"))
    assert [row.get(None) for row in found.rows] == [None, ["more"]] and found.rows[0]["note"] == ""
    assert ohms(HEAD, UNITS, ROW + b",,").notes == ()


def test_cells_may_stand_apart_by_commas_semicolons_or_tabs():
    # The first line decides: in the second semicolons are more.
    for sign in (b",", b";", b"\t"):
        found = ohms(HEAD.replace(b",", sign), UNITS.replace(b",", sign), ROW.replace(b",", sign))
        assert found.rows == ohms(HEAD, UNITS, ROW).rows
    mixed = ohms(HEAD, UNITS, b"AB,13.4,0.2,16,2026-05-01,a;b;c;d;e;f;g;h")
    assert mixed.rows[0]["note"] == "a;b;c;d;e;f;g;h"


@pytest.mark.parametrize(
    "header, words",
    [
        (b"terminals,lead_zero_ohm,note", "the column ohms is missing"),
        (b"terminals,note", "the column ohms is missing"),
        (b"terminals,ohms,lead_zero_ohm,note,note,note,mark,mark", "the column 'note' stands there twice"),
        (b"terminals,ohms,lead_zero_ohm,,note", "a column has no name"),
        (b"terminals,ohms,lead_zero_ohm,mark,mark", "the column 'mark' stands there twice"),
        (
            b"terminals,ohms,lead_zero_ohm," + 2 * (b"," + 60 * b"m").lstrip(b",") + b"," + 120 * b"m",
            f"{'m' * 40!r} stands",
        ),
    ],
)
def test_a_header_that_has_to_be_guessed_at_is_refused(header, words):
    assert words in refused(ohms, header, ROW)


def test_empty_names_at_the_end_are_no_columns_and_letters_may_be_large():
    found = ohms(HEAD.upper() + b",,", UNITS + b",,", ROW)
    assert list(found.rows[0]) == HEAD.decode().split(",") and found.rows[0]["taken_on"] == "2026-05-01"


def test_a_unit_that_is_missing_or_other_is_refused():
    assert wording("'mΩ' stands as the unit") in refused(ohms, HEAD, "pair,Ω,mΩ,°C,date,text".encode(), ROW)
    assert wording("nothing stands as the unit") in refused(ohms, HEAD, "pair,Ω,,°C,date,text".encode(), ROW)
    # No unit at all is no units row: its empty cells are a row without readings.
    assert len(ohms(HEAD, b"pair,,,,date,text", ROW).rows) == 2
    long = "pair,Ω," + "m" * 60 + ",°C,date,text"
    assert f"{'m' * 40!r} stands" in refused(ohms, HEAD, long.encode(), ROW)


def test_rows_come_back_as_they_were_with_what_stands_beyond_the_last_column():
    rows = [blank_row("ohms") | {"ohms": "13.4", "note": 'said "cold"; and\nmore', None: ["17", ""]}, blank_row("ohms")]
    data = format_log("ohms", rows, "mill/ohms.csv")
    assert data.startswith(HEAD + b"\n" + UNITS + b"\n")
    back = parse_log("ohms", data, "mill/ohms.csv").rows
    assert back[0] == rows[0] and format_log("ohms", back, "mill/ohms.csv") == data
    assert format_log("ohms", [], "mill/ohms.csv") == HEAD + b"\n" + UNITS + b"\n"


@pytest.mark.parametrize("name", ["speed_by", "volts_by", "taken_on"])
def test_a_row_that_knows_no_later_column_gets_an_empty_cell_in_its_place(name):
    older = {column: "1" for column in blank_row("spin") if column != name}
    data = format_log("spin", [older], "mill/spin.csv").decode().splitlines()
    if name == "taken_on":
        assert data[0].split(",") == list(blank_row("spin")) and data[2].split(",")[-2:] == ["", "1"]
    assert parse_log("spin", "\n".join([*data, ""]).encode(), "mill/spin.csv").rows[0][name] == ""


def test_a_row_of_before_there_were_such_columns_is_taken_and_one_in_disorder_is_refused():
    first = "speed_rpm electrical_hz volts terminals connection quantity meter note".split()
    data = format_log("spin", [dict.fromkeys(first, "1")], "mill/spin.csv").decode().splitlines()
    assert data[0].split(",") == list(blank_row("spin")) and data[2] == "1,1,1,1,1,1,1,,,,1"
    assert "the column speed_by is missing" in refused(
        format_log, "spin", [dict.fromkeys(reversed(first), "1")], "mill/spin.csv"
    )


@pytest.mark.parametrize(
    "rows, words",
    [
        ("AB", "something else than rows was given"),
        ({"ohms": "1"}, "something else than rows was given"),
        (["AB"], "something else than rows was given"),
        ([blank_row("ohms"), blank_row("ohms") | {"ohms": 13.4}], "mill/ohms.csv, row 2, 'ohms': '13.4' is not text"),
        ([blank_row("ohms") | {5: "1"}], "mill/ohms.csv, row 1, '5': '1' is not text"),
        ([blank_row("ohms") | {"note": "\ud800"}], "row 1, 'note': "),
        ([blank_row("ohms") | {"note": None}], "row 1, 'note': 'None' is not text"),
        ([blank_row("ohms") | {None: ["1", 2]}], "row 1, 'beyond the last column': '2' is not text"),
        ([blank_row("ohms") | {None: "17"}], "row 1, 'beyond the last column': 'None' is not text"),
        ([{"terminals": "AB"}], "row 1: the column ohms is missing"),
        ([blank_row("ohms") | {"n" * 60: 5}], f"row 1, {'n' * 40!r}: '5' is not text"),
    ],
)
def test_what_is_no_row_of_text_is_refused_by_its_number(rows, words):
    assert words in refused(format_log, "ohms", rows, "mill/ohms.csv")
