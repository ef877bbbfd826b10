"""Constants that nobody wrote follow the logs once those are whole; constants of the reader's wait for a press."""

import pytest

from statorbook.examples import jobs as example
from statorbook.examples import raw_rows
from statorbook.job.job import Job
from statorbook.panels.measuring.coil_constants import CoilPanel
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.spin_log import ShortedPanel, SpinPanel

LOGS = ("ohms", "spin", "shorted")


@pytest.fixture
def job(tmp_path):
    """The example's machine and logs without the odd rows as a job of one's own, without constants."""
    shipped = example.write(tmp_path)
    odd = [row.row for row in SpinPanel(shipped).found.fit.odd_rows]
    made = Job.create("mill", tmp_path)
    made.save_part("stator", shipped.stator)
    for log in LOGS:
        made.read_log(log)
        rows = enumerate(raw_rows()[log], start=1)
        made.save_log(log, [row for number, row in rows if log != "spin" or number not in odd])
    return made


def cut(job, log, count):
    """Leave only some rows in a log."""
    job.save_log(log, job.read_log(log)[:count])


def test_whole_logs_write_the_constants_of_a_job_that_has_none(job):
    panel = CoilPanel(job)
    coil, _ = panel.estimates()
    assert {name: getattr(job.coil, name) for name in coil.fields} == coil.fields
    assert panel.message.text.startswith("Written to the job mill")
    assert panel.sentence.endswith("The job holds these constants.")


@pytest.mark.parametrize("log", LOGS)
def test_two_rows_are_not_whole(job, log):
    cut(job, log, 2)
    CoilPanel(job)
    assert job.coil is None


def test_they_follow_the_logs_while_the_page_is_open(job):
    spin = SpinPanel(job)
    panel = CoilPanel(job, follows=[spin, ShortedPanel(job), OhmsPanel(job)])
    before = job.coil.emf_v_per_rpm
    spin.grid.row(1).cells["note"].value = "a windy day"
    assert job.coil.emf_v_per_rpm == before
    spin.grid.remove_row(len(spin.grid.rows()))
    assert job.coil.emf_v_per_rpm != before
    panel.write()
    kept = job.coil.emf_v_per_rpm
    spin.grid.remove_row(len(spin.grid.rows()))
    assert job.coil.emf_v_per_rpm == kept  # a press makes them the reader's


def test_constants_that_are_there_are_never_written_over(job):
    CoilPanel(job)
    kept = job.coil.model_copy(update={"emf_v_per_rpm": 1.0})
    job.save_part("coil", kept)
    assert CoilPanel(job).message.text == "" and job.coil == kept


def test_constants_written_on_another_page_meanwhile_stay(job):
    spin = SpinPanel(job)
    CoilPanel(job, follows=[spin])
    kept = job.coil.model_copy(update={"emf_v_per_rpm": 1.0})
    job.save_part("coil", kept)
    spin.grid.remove_row(len(spin.grid.rows()))
    assert job.coil == kept


@pytest.mark.parametrize("volts", [lambda read: 1.3 * read, lambda read: 10 * read], ids=["odd", "refused"])
def test_a_row_that_has_to_be_looked_at_comes_first(job, volts):
    rows = job.read_log("spin")
    rows[3]["volts"] = str(volts(float(rows[3]["volts"])))
    job.save_log("spin", rows)
    CoilPanel(job)
    assert job.coil is None
