"""What was changed when, the way back to any version, and that looking back costs a save next to nothing."""

import os

import pytest

from decisions.job_samples import sample, spin_rows
from sentences import exactly
from statorbook import job_files
from statorbook.errors import BadInput
from statorbook.job import Job
from statorbook.job_files import HISTORY
from statorbook.job_history import history, restore


@pytest.fixture
def job(tmp_path):
    return Job.create("mill", tmp_path)


def words(job):
    return [version.words for version in history(job)]


def test_a_new_job_has_no_history(job):
    assert history(job) == () and not (job.folder / HISTORY).exists()


def test_every_change_is_told_in_plain_words_newest_first(job):
    job.save_part("bank", sample("bank"))
    job.save_part("bank", sample("bank", cable_ohm=0.05))
    rows = spin_rows(2)
    job.save_log("spin", rows)
    job.save_log("spin", [rows[0], rows[1] | {"volts": "99"}])
    job.save_log("spin", rows[:1])
    assert words(job) == [
        "spin log: row 2 taken out", "spin log: row 2, Volts [V] “13,5” → “99”",
        "spin log: row 1 added; row 2 added",
        "the job: Cable [Ω] “0.01” → “0.05”", "the job: bank added"]
    assert [version.words for version in history(job, most=1)] == ["spin log: row 2 taken out"]


def test_many_changes_at_once_are_counted(job):
    job.save_log("spin", spin_rows(7))
    assert words(job) == ["spin log: row 1 added; row 2 added; row 3 added and 4 more"]


def test_a_version_comes_back_and_what_was_there_is_not_lost(job):
    job.save_log("spin", spin_rows(3))
    job.save_log("spin", spin_rows(1))
    assert restore(job, history(job)[0]).startswith("spin.csv is again as it was until ")
    fresh = Job.open("mill", job.folder.parent)
    assert fresh.read_log("spin") == spin_rows(3)
    restore(fresh, history(fresh)[0])
    assert Job.open("mill", job.folder.parent).read_log("spin") == spin_rows(1)


def test_the_way_back_from_damage(job):
    job.save_part("bank", sample("bank"))
    job.save_part("bank", sample("bank", cable_ohm=0.05))
    (job.folder / "job.json").write_bytes(b'{"schema_version": 1, "bank"')
    version = history(job)[0]
    assert version.words == "job.json: the next version was damaged"
    restore(job, version)
    assert Job.open("mill", job.folder.parent).bank.cable_ohm == 0.01


def test_a_damaged_version_is_not_put_in_place(job):
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    version = history(job)[0]
    version.path.write_bytes(b"volts\n")
    assert history(job)[0].words == "spin.csv: this version is damaged"
    with pytest.raises(BadInput):
        restore(job, version)
    assert Job.open("mill", job.folder.parent).read_log("spin") == spin_rows(2)


def test_a_version_that_is_gone_is_told(job):
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    version = history(job)[0]
    version.path.unlink()
    with pytest.raises(BadInput, match=exactly(
            "mill/spin.csv: that version is no longer kept; the versions of the list are allowed; run the page again "
            "and choose another.")):
        restore(job, version)


def test_only_so_many_versions_are_kept_of_each_file(job, monkeypatch):
    monkeypatch.setattr(job_files, "MOST_VERSIONS", 5)
    for count in range(1, 12):
        job.save_log("spin", spin_rows(count))
        job.save_part("bank", sample("bank", cable_ohm=0.001 * count))
    names = os.listdir(job.folder / HISTORY)
    assert sum(name.endswith("spin.csv") for name in names) == sum(name.endswith("job.json") for name in names) == 5
    assert history(job)[0].words == "the job: Cable [Ω] “0.01” → “0.011”"


def test_a_disk_without_second_names_still_saves(job, monkeypatch):
    def refuse(*arguments):
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", refuse)
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    assert job.read_log("spin") == spin_rows(2) and history(job) == ()


def test_strangers_in_the_history_are_left_alone(job, tmp_path):
    job.save_log("spin", spin_rows(1))
    (job.folder / HISTORY / "notes.txt").write_text("mine")
    (job.folder / HISTORY / "20260101T000000.000000000-job.json").symlink_to(tmp_path / "elsewhere")
    assert words(job) == ["spin log: row 1 added"]
