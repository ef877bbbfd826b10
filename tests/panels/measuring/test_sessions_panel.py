"""Sessions in the grid and in the panels of the bench logs."""

from datetime import date

import pytest

from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.spin_log import ShortedPanel, SpinPanel

wording = sentences_of("panels_measuring")

TODAY = date.today().isoformat()


@pytest.fixture
def shipped(tmp_path):
    return example.write(tmp_path)


def press(panel, words):
    panel.grid.buttons[words].click()


def cells(panel, number):
    return panel.grid.row(number).cells


def days(panel):
    return [row["taken_on"] for row in Job.open(panel.job.name, panel.job.folder.parent).read_log(panel.log)]


def test_rows_typed_after_a_new_session_are_dated_today_and_those_above_are_not(shipped):
    panel = SpinPanel(shipped)
    before = days(panel)
    press(panel, "Start a new session")
    assert panel.grid.message.text == f"Rows typed from now on are dated {TODAY}; rows above keep what they say."
    cells(panel, 1)["note"].value = "looked at again"
    cells(panel, 15)["volts"].value = "50"
    assert days(panel) == [*before, TODAY] and cells(panel, 15)["taken_on"].value == TODAY
    assert f"3 sessions: 2025-04-12 (5 rows), 2025-04-19 (9 rows), {TODAY} (1 row)." in panel.sentence


def test_a_day_taken_out_again_stays_out_and_one_typed_stays(shipped):
    panel = OhmsPanel(shipped)
    press(panel, "Start a new session")
    cells(panel, 4)["ohms"].value = "13.6"
    cells(panel, 4)["taken_on"].value = ""
    cells(panel, 4)["terminals"].value = "AB"
    cells(panel, 5)["taken_on"].value = "2026-01-31"
    cells(panel, 5)["ohms"].value = "13.5"
    assert days(panel)[3:] == ["", "2026-01-31"]


def test_without_a_session_nothing_is_dated(shipped):
    panel = SpinPanel(shipped)
    cells(panel, 15)["volts"].value = "50"
    assert days(panel)[14] == ""


def test_a_session_can_be_left_out_and_the_job_remembers(shipped):
    panel = SpinPanel(shipped)
    assert [words for words, _ in panel.sessions.options] == ["all", "2025-04-12", "2025-04-19"]
    panel.sessions.value = "2025-04-12"
    assert "5 of 14 rows are used." in panel.sentence and len(days(panel)) == 14
    row = panel.grid.row(14)
    assert wording("Not used: the session 2025-04-19") in row.sentence.value and row.sign.value.count("✓") == 0
    again = SpinPanel(Job.open(shipped.name, shipped.folder.parent))
    assert again.sessions.value == "2025-04-12" and "5 of 14 rows are used." in again.sentence
    again.sessions.value = "all"
    assert "13 of 14 rows are used." in again.sentence


def test_the_choice_of_the_volts_counts_for_the_amps_too(shipped):
    spin = SpinPanel(shipped)
    shorted = ShortedPanel(shipped, follows=[spin])
    before = shorted.sentence
    spin.sessions.value = "2025-04-12"
    assert shorted.sentence != before


def test_one_session_offers_no_choice(shipped):
    panel = OhmsPanel(shipped)
    assert panel.sessions.layout.display == "none"
    cells(panel, 3)["taken_on"].value = ""
    assert panel.sessions.layout.display is None


def test_a_chosen_day_that_is_gone_is_still_shown(shipped):
    panel = OhmsPanel(shipped)
    cells(panel, 3)["taken_on"].value = "2026-01-31"
    panel.sessions.value = "2026-01-31"
    cells(panel, 3)["taken_on"].value = "2025-04-12"
    assert panel.sessions.value == "2026-01-31" and wording("None of the 3 rows") in panel.sentence
