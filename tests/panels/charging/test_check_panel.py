"""Panel of the check: every fault in the table, the gap in words with its readings, and days that show it."""

import pytest

from statorbook.charging.check import SIDES
from statorbook.examples import jobs as example
from statorbook.panels.charging.check import SHOW, CheckPanel
from statorbook.panels.charging.page import ChargingPage


@pytest.fixture(scope="module")
def panel(tmp_path_factory):
    return CheckPanel(ChargingPage(example.write(tmp_path_factory.mktemp("data"))))


def test_the_table_has_a_row_for_each_fault_and_marks_the_one_that_is_told(panel):
    table = panel.shown_answer.table
    assert len(table.rows) == len(panel.fault.options) > 20
    assert all(len(row) == 1 + len(SIDES) for row in table.rows)
    panel.fault.value = 5
    assert panel.shown_answer.table.marks.index("chosen") == 5
    assert panel.shown_answer.table.rows[5][0] in panel.fault.options[5][0]
    assert panel.shown_answer.table.rows[5][0] in panel.sentence


def test_what_was_told_at_rest_stays_while_other_faults_are_chosen(panel, monkeypatch):
    told = panel.sentence.splitlines()[-1]
    monkeypatch.delattr("statorbook.panels.charging.check.busiest_day")
    panel.fault.value = (panel.fault.value + 1) % len(panel.fault.options)
    assert told.startswith("Switched most") and panel.sentence.endswith(told) and not panel.message.text


def test_codes_and_an_electrician_decide(panel):
    assert "electrician" in panel.shown_answer.caution


def test_a_gap_is_drawn_only_once_its_days_were_asked_for(panel):
    gaps = [at for words, at in panel.fault.options if words.startswith("gap: ")]
    panel.fault.value = gaps[0] if gaps else 0
    assert not panel.shown_answer.pictures
    panel.buttons[SHOW].click()
    assert len(panel.shown_answer.pictures) == bool(gaps)
    assert not panel.message.text
