"""Logs from other hands: what is tolerated with a note, what is refused with its line, and that every cell is kept."""

import pytest

from sentences import sentences_of
from statorbook.bench.csv_text import format_log, parse_log
from statorbook.bench.logs import ALL_LOGS, LOGS, blank_row, columns_of
from statorbook.errors import BadInput
from statorbook.job.job import Job

wording = sentences_of("job")

OHMS = (
    "terminals,ohms,lead_zero_ohm,copper_c,taken_on,note\npair,Ω,Ω,°C,date,text\nAB,1.2,0.2,16,2026-05-02,damp\n"
    "BC,1.3,0.2,,,\n"
).encode("utf-8")
ROWS = [
    dict(terminals="AB", ohms="1.2", lead_zero_ohm="0.2", copper_c="16", taken_on="2026-05-02", note="damp"),
    dict(terminals="BC", ohms="1.3", lead_zero_ohm="0.2", copper_c="", taken_on="", note=""),
]
COLUMNS = "the first row names the columns terminals, ohms, lead_zero_ohm, copper_c, taken_on, note"


def parsed(data):
    return parse_log("ohms", data, "mill/ohms.csv")


def refusal(data):
    with pytest.raises(BadInput) as caught:
        parsed(data)
    return str(caught.value)


@pytest.mark.parametrize("log", ALL_LOGS)
def test_columns_and_a_blank_row(log):
    assert list(blank_row(log)) == list(columns_of(log)) and set(blank_row(log).values()) == {""}
    assert parse_log(log, format_log(log, [], "x"), "x").rows == []


def test_a_new_job_begins_with_the_three_logs_of_the_coil(tmp_path):
    made = Job.create("mill", tmp_path)
    assert sorted(path.stem for path in made.folder.glob("*.csv")) == sorted(LOGS)


def test_a_coast_down_from_another_hand():
    data = "Time_s;electrical_hz\nseconds;hertz\n0;120,5\n3;108\n".encode()
    found = parse_log("coast", data, "mill/coast.csv")
    assert [(row["time_s"], row["electrical_hz"], row["speed_rpm"]) for row in found.rows] == [
        ("0", "120,5", ""),
        ("3", "108", ""),
    ]
    assert found.notes == (
        wording("mill/coast.csv has no column speed_rpm"),
        wording("mill/coast.csv has no column note"),
    )


def test_a_log_as_the_workbook_writes_it():
    assert (parsed(OHMS).rows, parsed(OHMS).notes) == (ROWS, ())
    assert format_log("ohms", ROWS, "mill/ohms.csv") == OHMS


@pytest.mark.parametrize(
    "change",
    [
        lambda data: b"\xef\xbb\xbf" + data,
        lambda data: data.replace(b"\n", b"\r\n"),
        lambda data: data.replace(b"\n", b"\r"),
        lambda data: data.replace(b",", b";"),
        lambda data: data.replace(b",", b"\t"),
        lambda data: data.replace(b"\n", b",,\n"),
        lambda data: data.replace(b"\n", b"\n\n"),
        lambda data: data.replace(b"terminals,ohms", b'"Terminals", Ohms '),
        lambda data: data.replace(b"\xce\xa9", b"ohm"),
        lambda data: data.replace(b"\xce\xa9", "\u2126".encode()),
        lambda data: b"\xef\xbb\xbf" + data.replace(b",", b";").replace(b"\n", b"\r\n"),
    ],
)
def test_other_programs_ways_are_tolerated(change):
    assert (parsed(change(OHMS)).rows, parsed(change(OHMS)).notes) == (ROWS, ())


def test_a_semicolon_log_may_hold_decimal_commas():
    data = OHMS.replace(b",", b";").replace(b"1.2", b"1,2")
    assert parsed(data).rows[0]["ohms"] == "1,2" and parsed(data).notes == ()


def test_missing_units_are_noted():
    found = parsed(OHMS.replace("pair,Ω,Ω,°C,date,text\n".encode(), b""))
    assert found.rows == ROWS
    assert found.notes == (wording("mill/ohms.csv has no units row"),)


def test_a_column_that_may_be_missing_is_noted():
    data = b"terminals,ohms,lead_zero_ohm\npair,ohm,ohm\nAB,1.2,0.2\n"
    assert parsed(data).rows == [ROWS[0] | {"copper_c": "", "taken_on": "", "note": ""}]
    assert parsed(data).notes == (
        wording("mill/ohms.csv has no column copper_c"),
        wording("mill/ohms.csv has no column note"),
    )


def test_rows_with_the_wrong_number_of_cells_are_kept_and_named():
    data = OHMS + b'CA,1,25,0,2,3,16,damp\nAB,1.4\n"CA",1.3,0.2,16,,"two\nlines"\nAB,1'
    found = parsed(data)
    assert found.rows[2:] == [
        dict(terminals="CA", ohms="1", lead_zero_ohm="25", copper_c="0", taken_on="2", note="3")
        | {None: ["16", "damp"]},
        dict(terminals="AB", ohms="1.4", lead_zero_ohm="", copper_c="", taken_on="", note=""),
        dict(terminals="CA", ohms="1.3", lead_zero_ohm="0.2", copper_c="16", taken_on="", note="two\nlines"),
        dict(terminals="AB", ohms="1", lead_zero_ohm="", copper_c="", taken_on="", note=""),
    ]
    assert found.notes == (
        wording("mill/ohms.csv, line 5 has 8"),
        wording("mill/ohms.csv, line 6 has 2"),
        wording("mill/ohms.csv, line 9 has 2"),
        wording("mill/ohms.csv ends in the middle"),
    )
    assert parsed(format_log("ohms", found.rows, "mill/ohms.csv")).rows == found.rows


def test_a_log_from_before_there_were_days_is_not_odd_and_gets_them():
    old = OHMS.replace(b",taken_on", b"").replace(b",date", b"").replace(b",2026-05-02", b"").replace(b",,,", b",,")
    assert parsed(old).rows == [row | {"taken_on": ""} for row in ROWS] and parsed(old).notes == ()
    assert list(parsed(old).rows[0]) == list(columns_of("ohms"))
    undated = [{name: cell for name, cell in row.items() if name != "taken_on"} for row in ROWS]
    assert format_log("ohms", undated, "x") == OHMS.replace(b"2026-05-02", b"")


def test_columns_that_changed_places_stay_so():
    data = OHMS.replace(b"terminals,ohms", b"ohms,terminals").replace("pair,Ω".encode(), "Ω,pair".encode())
    assert list(parsed(data).rows[0])[:2] == ["ohms", "terminals"]
    assert format_log("ohms", parsed(data).rows, "mill/ohms.csv") == data


@pytest.mark.parametrize(
    "data, words",
    [
        (
            b"",
            f"mill/ohms.csv, line 1: the file is empty; {COLUMNS}; put the previous version back, or delete the file "
            f"to start "
            "an empty log.",
        ),
        (
            b"\n\n",
            f"mill/ohms.csv, line 1: the file is empty; {COLUMNS}; put the previous version back, or delete the "
            f"file to "
            "start an empty log.",
        ),
        (
            b"\n" + OHMS[OHMS.index(b"AB") :],
            f"mill/ohms.csv, line 2: the column terminals is missing; {COLUMNS}; correct "
            f"the first "
            "row in a text editor, or put the previous version back.",
        ),
        (
            OHMS.replace(b"terminals,ohms", b"terminals,amps"),
            f"mill/ohms.csv, line 1: the column ohms is missing; "
            f"{COLUMNS}; "
            "correct the first row in a text editor, or put the previous version back.",
        ),
        (
            OHMS.replace(b"copper_c", b"note"),
            f"mill/ohms.csv, line 1: the column 'note' stands there twice; {COLUMNS}; give each column its own name.",
        ),
        (
            OHMS.replace(b"terminals,", b"terminals,,"),
            f"mill/ohms.csv, line 1: a column has no name; {COLUMNS}; give each column its own name.",
        ),
        (OHMS.replace("pair,Ω".encode(), "pair,mΩ".encode()), wording("mill/ohms.csv, line 2: 'mΩ' stands")),
        (OHMS.replace("°C".encode(), b""), wording("mill/ohms.csv, line 2: nothing stands")),
        (OHMS.replace(b"damp", b'"damp'), wording("mill/ohms.csv, line 3: a quotation")),
        (OHMS.replace(b"damp", b'"da"mp'), wording("mill/ohms.csv, line 3: a quotation")),
        (OHMS.replace(b"damp", b"16 \xb0C"), wording("mill/ohms.csv, line 3: a letter")),
        (OHMS.decode().encode("utf-16"), wording("mill/ohms.csv, line 1: a letter")),
        (
            b'{"schema_version": 1}\n',
            f"mill/ohms.csv, line 1: the column terminals is missing; {COLUMNS}; correct the "
            f"first row in a "
            "text editor, or put the previous version back.",
        ),
    ],
)
def test_what_would_have_to_be_guessed_is_refused_with_its_line(data, words):
    assert refusal(data) == words


def test_a_cell_too_long_to_be_typed_is_told():
    # csv refuses cells of more than 131,072 letters: Python library reference, csv.field_size_limit (from memory).
    assert refusal(OHMS.replace(b"damp", b"x" * 140_000)).startswith("mill/ohms.csv, line 3: ")


def test_a_damaged_log_is_left_alone_by_saving(tmp_path):
    job = Job.create("mill", tmp_path)
    path, data = job.folder / "ohms.csv", OHMS.replace(b"damp", b'"damp')
    path.write_bytes(data)
    with pytest.raises(BadInput, match=wording("^mill/ohms.csv, line 3: a quotation")):
        job.save_log("ohms", ROWS)
    assert path.read_bytes() == data and not (job.folder / "ohms.previous.csv").exists()
