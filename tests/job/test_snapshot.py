"""A job read once: its parts belong together, a save in between changes nothing of it, and nothing counts as read."""

import pytest

from samples.job_samples import PARTS, sample, spin_rows
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.job.job import Job

wording = sentences_of("job")


@pytest.fixture
def job(tmp_path):
    made = Job.create("mill", tmp_path)
    for name in PARTS:
        made.save_part(name, sample(name))
    made.save_log("spin", spin_rows(2))
    return made


def test_what_was_read_is_the_job_part_by_part(job):
    now = job.read()
    assert (now.name, now.folder, now.notice, now.read()) == (job.name, job.folder, job.notice, now)
    assert {name: getattr(now, name) for name in PARTS} == {name: getattr(job, name) for name in PARTS} == job.parts
    assert now.states() == job.states() and now.read_log("spin") == job.read_log("spin")


def test_what_was_read_stays_as_it_was_when_the_job_is_saved(job):
    before = job.read()
    Job.open("mill", job.folder.parent).save_part("bank", sample("bank", cable_ohm=0.05))
    assert before.bank == sample("bank") and job.bank == job.read().bank == sample("bank", cable_ohm=0.05)


def test_a_log_looked_at_is_not_taken_for_one_whose_rows_may_be_replaced(job):
    other = Job.open("mill", job.folder.parent)
    other.read_log("spin")
    other.save_log("spin", spin_rows(3))
    assert job.read().read_log("spin") == spin_rows(3)
    with pytest.raises(BadInput, match=wording("^mill/spin.csv: the file was changed")):
        job.save_log("spin", spin_rows(1))
    assert other.read_log("spin") == spin_rows(3)
