"""The panel that holds the logs against the model."""

import pytest

from samples.pages import cells, shown
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.fits.model_checks import Check
from statorbook.job.job import Job
from statorbook.panels.measuring.model_checks import ModelChecksPanel, checks_words
from statorbook.panels.measuring.spin_log import ShortedPanel, SpinPanel

wording = sentences_of("panels_measuring")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def test_each_check_has_a_line_with_its_verdict_in_words(job):
    panel = ModelChecksPanel(job)
    table = cells(shown(panel)[2])
    assert panel.sentence == wording("7 of 9 checks are")
    assert [row[2].split(":")[0] for row in table].count("as it should be") == 7 and len(table) == 9
    assert table[6] == ["Inductance: the days agree", "–", wording("cannot tell yet: log some")]


def test_a_day_that_is_off_is_said_here_and_beside_its_log(job):
    rows = job.read_log("spin")
    for row in rows[5:]:
        row["volts"] = f"{1.07 * float(row['volts']):.1f}"
    job.save_log("spin", rows)
    spin = SpinPanel(job)
    panel = ModelChecksPanel(job, follows=[spin])
    assert wording("Not as it should be") in panel.sentence
    assert wording("off the other days: the") in shown(spin)[0]
    spin.sessions.value = "2025-04-19"
    assert "EMF: the days agree" not in panel.sentence and "log some rows on another day" in shown(panel)[2]


def test_a_change_of_the_volts_comes_down_the_page_once(job):
    spin = SpinPanel(job)
    shorted = ShortedPanel(job, follows=[spin])
    panel, told = ModelChecksPanel(job, follows=[shorted]), []
    shorted.follow(lambda: told.append(panel.sentence))
    spin.sessions.value = "2025-04-19"
    assert told == [panel.sentence] and panel.sentence.startswith("6 of 9 ")


def test_what_holds_is_said_in_one_short_sentence():
    checks = [Check(name=f"number {n}", found="1", holds=True, words="look") for n in range(3)]
    assert checks_words(checks) == wording("All 3 checks are")
    faulty = Check(name="the zero", found="2 V", holds=False, words="look")
    assert checks_words([*checks, faulty, Check(name="days", words="log more")]) == wording("the zero: 2 V")


def test_without_logs_it_says_what_is_missing(tmp_path):
    panel = ModelChecksPanel(Job.create("mill", tmp_path))
    assert panel.sentence == wording("Nothing to check yet: the")
