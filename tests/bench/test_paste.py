"""Rows from other hands: headings or none, units or none, any separator, and every cell found again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.bench.logs import ALL_LOGS, HEADINGS, columns_of
from statorbook.bench.paste import MOST_ROWS, decoded, pasted_rows
from statorbook.errors import BadInput
from statorbook.quantities.cells import cell_text

wording = sentences_of("bench")

CELL = st.text(
    st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters='"\t;,\u2028\u2029\x85'), max_size=8
)


@pytest.mark.parametrize(
    "text",
    [
        "speed_rpm,volts\n100,13.2\n",
        "speed_rpm;volts\n100;13.2\n",
        "Speed [rpm]\tVolts [V]\n100\t13.2\n",
        "\ufeffSPEED_RPM;Volts\r\nrpm;V\r\n100;13.2\r\n",
        "\n\nVolts,Speed [rpm]\n13.2,100\n",
        "speed_rpm;volts\r100;13.2",
    ],
)
def test_headings_in_any_spelling_and_order(text):
    (row,) = pasted_rows("spin", text).rows
    assert (row["speed_rpm"], row["volts"]) == ("100", "13.2") and list(row) == list(columns_of("spin"))


USUAL = [
    ("spin", "rpm\tV\tcomment\tDay", ("speed_rpm", "volts", "note", "taken_on")),
    ("spin", "Speed\tHz\tvolts\tdate", ("speed_rpm", "electrical_hz", "volts", "taken_on")),
    ("spin", "RPM\tVoltage (V)\tpair\tNotes", ("speed_rpm", "volts", "terminals", "note")),
    ("spin", "speed / rpm\tvolts in V\tDate (d.m.y)", ("speed_rpm", "volts", "taken_on")),
    ("shorted", "rpm\tA\tlead\tremarks", ("speed_rpm", "amps", "lead", "note")),
    ("shorted", "1/min\tAmps\tdate", ("speed_rpm", "amps", "taken_on")),
    ("ohms", "leads\tohm\ttemp\tnote", ("terminals", "ohms", "copper_c", "note")),
    ("ohms", "Leads\t\u2126\tprobes\t°C", ("terminals", "ohms", "lead_zero_ohm", "copper_c")),
    ("ohms", "Leads\tR [Ohm]\tTemp °C\tdate", ("terminals", "ohms", "copper_c", "taken_on")),
    ("coast", "Seconds\tRPM", ("time_s", "speed_rpm")),
    ("drill", "rpm\twith rotor\twithout rotor\tnote", ("speed_rpm", "watts_coupled", "watts_alone", "note")),
    ("coils", "coil\tvolts\trpm\tΩ", ("tooth", "volts", "speed_rpm", "ohms")),
    ("checks", "ends\tohm\tV\tspeed", ("between", "ohms", "volts", "speed_rpm")),
    (
        "run",
        "date\trpm\tV DC\tA\ttemp\tV AC",
        ("taken_on", "speed_rpm", "dc_volts", "dc_amps", "copper_c", "line_volts"),
    ),
    ("service", "Date\thours\tbearing temp\troom\tcomments", ("taken_on", "hours_run", "bearing_c", "room_c", "note")),
]


@pytest.mark.parametrize("log, headings, columns", USUAL)
def test_headings_in_usual_words_land_in_their_columns(log, headings, columns):
    typed = [f"{10 + place}" for place in range(len(columns))]
    found = pasted_rows(log, f"{headings}\n" + "\t".join(typed))
    (row,) = found.rows
    assert {name: text for name, text in row.items() if text} == dict(zip(columns, typed, strict=True))
    assert found.notes == ()


@pytest.mark.parametrize(
    "log, heading, may_be",
    [
        ("drill", "W", "Watts, rotor coupled [W] or Watts, drill alone [W]"),
        ("run", "V", "Line volts, AC rms [V] or Bank volts, DC [V]"),
        ("service", "°C", "Bearing [°C] or Air around [°C]"),
    ],
)
def test_a_heading_that_fits_two_columns_is_not_guessed(log, heading, may_be):
    found = pasted_rows(log, f"date\t{heading}\n2026-05-02\t7\n")
    assert found.rows[0]["note"] == f"{heading}: 7"
    assert f"“{heading}” may be {may_be}: write one of these above it and paste again." in found.notes


@pytest.mark.parametrize("heading", ["Volts [mV]", "kV", "Temp (°F)"])
def test_a_heading_in_another_unit_stays_in_the_note(heading):
    found = pasted_rows("spin", f"rpm\t{heading}\n100\t7\n")
    assert found.rows[0]["note"] == f"{heading}: 7" and found.rows[0]["volts"] == ""
    assert found.notes[0].endswith(f"kept in the note of their row: “{heading}”.")


def test_a_second_column_of_the_same_kind_stays_in_the_note():
    (row,) = pasted_rows("spin", "speed_rpm\trpm\tspeed_rpm\tvolts\n100\t101\t102\t7\n").rows
    assert (row["speed_rpm"], row["volts"]) == ("100", "7")
    assert row["note"] == "rpm: 101; speed_rpm, again: 102"


def test_decimal_commas_stay_whole_beside_other_separators():
    assert pasted_rows("spin", "speed_rpm;volts\n100,5;13,2\n").rows[0]["volts"] == "13,2"


def test_without_headings_the_order_is_said_to_be_assumed():
    found = pasted_rows("ohms", "AB\t12.5\t0.2\t20\t2026-05-02\tfine\n")
    assert list(found.rows[0].values()) == ["AB", "12.5", "0.2", "20", "2026-05-02", "fine"]
    assert list(found.rows[0]) == list(columns_of("ohms"))
    assert found.notes == (
        "No row of headings was found, so the cells are taken in this order (assumed): "
        f"{', '.join(HEADINGS[name] for name in columns_of('ohms'))}.",
    )


def test_without_headings_rows_of_before_there_were_days_keep_their_note():
    found = pasted_rows("ohms", "AB\t12.5\t0.2\t20\tfine\nBC\t12.6\t0.2\t20\t\n")
    assert found.rows[0] == {
        "terminals": "AB",
        "ohms": "12.5",
        "lead_zero_ohm": "0.2",
        "copper_c": "20",
        "taken_on": "",
        "note": "fine",
    }
    assert found.notes[0].endswith(wording("Probes touching [Ω], Winding temperature"))


@pytest.mark.parametrize(
    "added",
    [{}, {"speed_by": "measured", "volts_by": "Lamps"}, {"speed_by": "", "volts_by": "", "taken_on": "2026-05-02"}],
)
def test_spin_rows_of_every_age_keep_their_note(added):
    typed = ["95", "", "38.8", "BC", "star", "AC line rms", "averaging", *added.values(), "cordless drill"]
    (row,) = pasted_rows("spin", "\t".join(typed)).rows
    assert row["note"] == "cordless drill" and {name: row[name] for name in added} == added
    assert all(row[name] == "" for name in ("speed_by", "volts_by", "taken_on") if name not in added)


@pytest.mark.parametrize("unit", ["kV", "mV", "A"])
def test_other_units_would_change_the_numbers_and_are_refused(unit):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"spin log: '{unit}' stands as the unit of Volts [V]; V is allowed; turn that column into V first."
        ),
    ):
        pasted_rows("spin", f"speed_rpm,volts\nrpm,{unit}\n100,13\n")


@pytest.mark.parametrize("text", ["speed_rpm,volts\n", "speed_rpm;volts\nrpm;V\n;\n"])
def test_headings_alone_are_told(text):
    with pytest.raises(BadInput, match=exactly(wording("spin log: there are headings"))):
        pasted_rows("spin", text)


@pytest.mark.outside(
    "bytes of ° and ü in the code page of older spreadsheets",
    source="Windows code page 1252, as registered with IANA",
    number="0xB0, 0xFC",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(
    "data, text, assumed",
    [
        (b"20 \xb0C gr\xfcn", "20 °C grün", wording("theirs.csv is not in UTF-8")),
        ("20 °C grün".encode(), "20 °C grün", ""),
        ("20 °C grün".encode("utf-8-sig"), "20 °C grün", ""),
        ("20 °C grün".encode("utf-16"), "20 °C grün", ""),
        (b"plain", "plain", ""),
    ],
)
def test_letters_that_were_guessed_are_said_to_be(data, text, assumed):
    assert decoded(data, "theirs.csv") == (text, assumed)


def test_other_spellings_of_a_unit_are_the_same():
    assert pasted_rows("spin", "speed_rpm,volts\n1/min,volt\n100,13\n").rows[0]["volts"] == "13"


def test_a_row_of_units_may_be_short_and_holds_no_long_words():
    assert len(pasted_rows("spin", "speed_rpm,volts,note\nrpm,V\n100,13\n").rows) == 1
    rows = {
        word: pasted_rows("spin", f"speed_rpm,volts,note\nrpm,V,{word}\n100,13\n").rows for word in (10 * "a", 11 * "a")
    }
    assert [len(found) for found in rows.values()] == [1, 2]


def test_a_long_name_of_a_file_is_cut():
    assert decoded(b"\xb0", 61 * "m")[1].startswith(60 * "m" + " is not in UTF-8")
    with pytest.raises(BadInput, match=f"^{60 * 'm'}: this is no text"):
        decoded(b"\x00", 61 * "m")


def test_too_many_rows_are_refused():
    with pytest.raises(
        BadInput,
        match=exactly(
            f"spin log: {MOST_ROWS + 1} rows were pasted; at most {MOST_ROWS} at a time are allowed; paste them in "
            "pieces."
        ),
    ):
        pasted_rows("spin", "speed_rpm,volts\n" + "1,2\n" * (MOST_ROWS + 1))


@given(st.sampled_from(list(ALL_LOGS)), st.sampled_from("\t;"), st.lists(st.lists(CELL, max_size=12), max_size=6))
def test_every_cell_that_was_pasted_is_found_again(log, mark, table):
    text = "\n".join(mark.join(cells) for cells in table)
    try:
        found = pasted_rows(log, text)
    except BadInput as refusal:
        assert str(refusal).endswith(".")
        return
    everything = "\n".join(" ".join(row.values()) for row in found.rows)
    body = [cells for cells in table if any(map(cell_text, cells))]
    for cells in body[len(body) - len(found.rows) :]:
        for cell in cells:
            assert all(part in everything for part in cell.split() if cell_text(part))


@given(st.binary(max_size=200))
def test_any_bytes_are_text_or_a_sentence(data):
    try:
        text, assumed = decoded(data, "x.csv")
        assert isinstance(text, str) and assumed.startswith("x.csv is not in UTF-8") == bool(assumed)
    except BadInput as refusal:
        assert str(refusal).startswith("x.csv: this is no text")
