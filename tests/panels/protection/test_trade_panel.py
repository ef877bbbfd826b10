"""Panel of the trade: the slider of the accepted volts changes what there is, and nothing is written."""

import pytest

from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.protection.page import ProtectionPage
from statorbook.panels.protection.trade import TradePanel


@pytest.fixture
def panel(tmp_path):
    return TradePanel(ProtectionPage(example.write(tmp_path)))


def test_it_opens_on_the_volts_that_the_reader_accepts(panel):
    # 64 V is what the example's inverter stands.
    assert panel.accepted.value == 64.0 and panel.sentence.startswith("Within 64 V DC")
    assert panel.shown_answer.headline["unguarded"] == "nothing"


def test_more_accepted_volts_change_the_numbers_and_say_what_was_before(panel):
    panel.accepted.value = 200.0
    assert panel.shown_answer.headline["unguarded"].endswith(" W")
    assert "Before: unguarded nothing" in panel.sentence_box.value
    axes = panel.figure.axes[0]
    assert "accepted 200 V" in [text.get_text() for text in axes.texts if text.get_visible()]
    lines = {drawn.get_gid(): drawn for drawn in axes.lines}
    assert len(lines["nothing guards"].get_xdata()) == 11  # twelve groupings, one of which never charges
    assert len(lines["own"].get_xdata()) == 2 and len(lines["the drive's own guard works"].get_xdata()) == 0


def test_every_grouping_is_a_row_and_the_own_one_is_marked(panel):
    table = panel.shown_answer.table
    assert len(table.rows) == 12 and table.marks.count("chosen") == 1


def test_nothing_is_written(panel):
    panel.accepted.value = 300.0
    assert panel.page.job.read().choice is None and panel.page.job.read().bank.accepted_volts is None


def test_the_example_is_named_while_the_own_job_is_empty(tmp_path):
    example.write(tmp_path)
    panel = TradePanel(ProtectionPage(Job.create("mine", tmp_path)))
    assert panel.sentence.startswith("Job spring_pipe, not your own")
