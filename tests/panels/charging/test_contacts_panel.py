"""Panel of the contacts: labels of the log are judged, the slider moves the curve, a bad cell is one sentence."""

import pytest

from samples.pages import by_gid, refused
from statorbook.charging.rule_rows import rows_of_relays
from statorbook.examples import jobs as example
from statorbook.panels.charging.contacts import COUNT, ContactsPanel
from statorbook.panels.charging.page import ChargingPage


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def save_labelled(panel, job, **cells):
    """Save the relays of the ready rules as the reader's own, with a label on that of the first dump load."""
    rows = rows_of_relays(panel.page.plan().rules)
    job.save_log("control_relays", [row | (cells if row["output"] == "dump_1" else {}) for row in rows])
    panel.page.tell()


def verdicts(panel):
    return {row[1]: row[5] for row in panel.shown_answer.table.rows}


def test_a_label_is_judged(job):
    panel = ContactsPanel(ChargingPage(job))
    first = panel.shown_answer.table.rows[0]
    assert first[4] == "not typed" and first[5].startswith("not known")
    save_labelled(panel, job, contact_volts="250", contact_amps="16", contact_current="AC")
    assert verdicts(panel)["first dump load"].startswith("does not fit")
    assert "chosen" in panel.shown_answer.table.marks
    save_labelled(panel, job, contact_volts="100", contact_amps="900", contact_current="DC")
    assert verdicts(panel)["first dump load"] == "fits"
    assert panel.shown_answer.headline["contacts that fit"].startswith("1 of")


def test_the_slider_moves_the_curve(job):
    panel = ContactsPanel(ChargingPage(job))
    curve = by_gid(panel.figure.axes[0].lines, "guide")
    before = max(curve.get_ydata())
    panel.ac_amps.value = 10.0**1.5
    # By hand: as many times the amps as the label has.
    assert max(curve.get_ydata()) == pytest.approx(10.0**0.5 * before)
    assert "labelled for 32 A" in panel.sentence


def test_a_cell_that_is_no_number_is_one_sentence(job):
    panel = ContactsPanel(ChargingPage(job))
    save_labelled(panel, job, contact_volts="plenty")
    assert "control relays log, row" in refused(panel)


@pytest.mark.slow  # the simulation has to be compiled
def test_a_simulated_week_counts_until_the_plan_changes(job):
    panel = ContactsPanel(ChargingPage(job))
    panel.buttons[COUNT].click()
    rows = panel.shown_answer.table.rows
    assert all(row[-1].replace(",", "").isdigit() for row in rows if row[0] != "guard")
    assert "In a simulated week" in panel.sentence
    save_labelled(panel, job, contact_volts="100")
    assert "In a simulated week" not in panel.sentence
