"""Undo and redo of any change, rows pasted, a file brought in, the log taken out: nothing typed is ever lost."""

import csv
import io
import random
from base64 import b64decode
from datetime import UTC, datetime

import pytest

from sentences import sentences_of
from statorbook.bench.csv_text import parse_log
from statorbook.bench.logs import HEADINGS, blank_row, columns_of
from statorbook.widgets.grid import LogGrid

wording = sentences_of("widgets")

LOG = "ohms"
HEADS = {name: HEADINGS[name] for name in columns_of(LOG)}


class Desk:
    """A grid with everything it saved."""

    def __init__(self, rows=()):
        self.saved = []
        self.grid = LogGrid(HEADS, rows, {}, None, save=self.saved.append, log=LOG)
        self.exchange = self.grid.widget.children[4].children[1]

    def press(self, words):
        found = [
            child
            for row in (*self.grid.widget.children, *self.exchange.children)
            for child in (row, *getattr(row, "children", ()))
            if getattr(child, "description", "") == words
        ]
        found[0].click()

    def type(self, row, name, text):
        self.grid.row(row).cells[name].value = text

    def paste(self, text):
        self.exchange.children[0].value = text
        self.press("Add these rows")

    def choose(self, data, replace=False):
        upload, how = self.exchange.children[2].children[:2]
        upload.value = (
            {
                "name": "theirs.csv",
                "type": "text/csv",
                "size": len(data),
                "content": memoryview(data),
                "last_modified": datetime(2026, 1, 1, tzinfo=UTC),
            },
        )
        how.value = replace

    @property
    def said(self):
        return self.grid.message.text


def test_a_cell_and_a_paste_are_undone_and_done_again_in_turn():
    desk = Desk([blank_row(LOG) | {"terminals": "AB", "ohms": "1.2"}])
    desk.type(1, "ohms", "1.3")
    desk.paste("BC\t1.25\t0.1\t20\t\n")
    assert [row["ohms"] for row in desk.grid.rows()] == ["1.3", "1.25"]
    for left in (["1.3"], ["1.2"]):
        desk.press("Undo")
        assert [row["ohms"] for row in desk.grid.rows()] == left == [row["ohms"] for row in desk.saved[-1]]
    assert not desk.grid.can_undo and desk.grid.can_redo
    for _ in range(2):
        desk.press("Redo")
    assert [row["ohms"] for row in desk.grid.rows()] == ["1.3", "1.25"] and not desk.grid.can_redo
    desk.press("Undo")
    desk.type(2, "note", "anew")
    assert not desk.grid.can_redo  # another way was taken


def test_any_sequence_of_changes_can_be_taken_back_step_by_step():
    draw, desk, seen = random.Random(4), Desk(), []
    for n in range(80):
        seen.append(desk.grid.rows())
        kind = draw.randrange(4)
        if kind == 0:
            desk.grid.remove_row(draw.randrange(1, desk.grid.rows_shown + 1))
        elif kind == 1:
            desk.paste(f"AB;{n};0,1;20;pasted\n")
        elif kind == 2:
            desk.type(draw.randrange(1, desk.grid.rows_shown + 1), "terminals", f"A{n}")
        else:
            desk.type(draw.randrange(1, desk.grid.rows_shown + 1), "ohms", f"1.{n}")
    end = desk.grid.rows()
    for before in reversed(seen):
        desk.grid.undo()
        assert desk.grid.rows() == before
    for _ in seen:
        desk.grid.redo()
    assert desk.grid.rows() == end


def test_there_is_always_an_empty_row_to_type_into():
    desk = Desk()
    for row in range(1, 30):
        desk.type(row, "ohms", "1")
        assert desk.grid.rows_shown > row
    assert len(desk.grid.rows()) == 29


def test_pasted_rows_are_kept_as_typed_and_judged():
    desk = Desk()
    desk.paste("Leads;Reading [Ω];Probes touching [Ω];weather\npair;Ω;Ω;\nAB;12,5;0,2;rain\nBC;twelve;0,2;\n")
    assert desk.grid.rows() == [
        {
            "terminals": "AB",
            "ohms": "12,5",
            "lead_zero_ohm": "0,2",
            "copper_c": "",
            "taken_on": "",
            "note": "weather: rain",
        },
        {"terminals": "BC", "ohms": "twelve", "lead_zero_ohm": "0,2", "copper_c": "", "taken_on": "", "note": ""},
    ]
    assert desk.said == wording("2 rows were pasted; the")
    assert desk.exchange.children[0].value == "" and desk.saved[-1] == desk.grid.rows()


def test_what_cannot_be_pasted_stays_in_the_field():
    desk = Desk()
    desk.paste("terminals,ohms\npair,mΩ\nAB,12\n")
    assert desk.said.endswith(wording("'mΩ' stands as the unit"))
    assert desk.exchange.children[0].value.startswith("terminals") and desk.grid.rows() == []


GUESSED = wording("theirs.csv is not in UTF-8")


@pytest.mark.parametrize("coding, guessed", [("utf-8-sig", ""), ("cp1252", GUESSED), ("utf-16", "")])
def test_a_file_from_another_hand_comes_in(coding, guessed):
    desk = Desk()
    desk.choose("terminals;ohms;note\r\nAB;12,5;grün\r\n".encode(coding))
    desk.press("Bring it in")
    assert [(row["ohms"], row["note"]) for row in desk.grid.rows()] == [("12,5", "grün")]
    assert desk.said == (
        f"1 row was brought in; the words below it say whether it can be used. “Undo” takes it out again.{guessed}"
    )
    assert desk.exchange.children[2].children[0].value == ()


def test_a_file_may_take_the_place_of_all_rows_and_undo_brings_them_back():
    before = [blank_row(LOG) | {"terminals": "AB", "ohms": f"1.{n}", "weather": "rain"} for n in range(3)]
    desk = Desk(before)
    desk.choose(b"terminals,ohms\nBC,2.5\nCA,2.6\n", replace=True)
    desk.press("Bring it in")
    assert [row["ohms"] for row in desk.saved[-1]] == ["2.5", "2.6"] and "weather" not in desk.saved[-1][0]
    assert desk.said == wording("2 rows were brought in")
    assert desk.exchange.children[2].children[1].value is False  # the next file is added again unless asked otherwise
    desk.press("Undo")
    assert desk.saved[-1] == before
    desk.press("Redo")
    assert [row["ohms"] for row in desk.saved[-1]] == ["2.5", "2.6"]


@pytest.mark.parametrize("data", [b"", b"terminals,ohms\n", b"terminals,ohms\npair,kV\nAB,1\n", b"\x00\x00"])
def test_a_file_that_cannot_be_used_takes_no_ones_place(data):
    desk = Desk([blank_row(LOG) | {"terminals": "AB", "ohms": "1.2"}])
    desk.choose(data, replace=True)
    desk.press("Bring it in")
    assert [row["ohms"] for row in desk.grid.rows()] == ["1.2"] and desk.saved == []
    assert desk.said.startswith("Not usable – ") and desk.grid.message.last_fault == ""


def test_no_file_and_no_text_are_told():
    desk = Desk()
    desk.press("Bring it in")
    assert desk.said == wording("Not usable – ohms log: no")
    desk.paste("  \n")
    assert desk.said == wording("Not usable – ohms log: nothing")


def test_the_log_goes_out_as_a_file_that_the_workbook_reads_again():
    desk = Desk([blank_row(LOG) | {"terminals": "AB", "ohms": "1,2", "note": 'a "b"; c'}])
    desk.press("Take the log out as CSV")
    link = desk.exchange.children[3].children[1].value
    data = b64decode(link.split("base64,")[1].split('"')[0])
    assert parse_log(LOG, data, "ohms.csv").rows == desk.grid.rows()
    assert list(csv.reader(io.StringIO(data.decode())))[2][1] == "1,2"
