"""What was changed when, the way back to any version, and that looking back costs a save next to nothing."""

import os

import pytest

from samples.job_samples import sample, spin_rows
from sentences import exactly, in_us, sentences_of
from statorbook.errors import BadInput
from statorbook.job import files as job_files
from statorbook.job import history as job_history
from statorbook.job.document import parse_document
from statorbook.job.files import HISTORY, previous_of
from statorbook.job.history import JobFolder, history, lost_jobs, no_history_words, restore
from statorbook.job.job import Job

wording = sentences_of("job")


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
        "spin log: row 2 taken out",
        wording("spin log: row 2, Volts"),
        wording("spin log: row 1 added; row 2 added"),
        wording("the job: Cable [Ω] “0.01” → “0.05”"),
        "the job: bank added",
    ]
    assert [version.words for version in history(job, most=1)] == ["spin log: row 2 taken out"]


def test_a_change_is_told_in_the_reader_s_units_and_words_as_they_stand(job):
    job.save_part("bank", sample("bank", temperature_c=20.0))
    job.save_part("bank", sample("bank", temperature_c=25.0))
    job.save_part("stator", sample("stator", wire_diameter_mm=None))
    job.save_part("stator", sample("stator", wire_diameter_mm=0.8, magnet="neodymium"))
    # Definition of the Fahrenheit scale: 20 °C are 68 °F, 25 °C are 77 °F; a wire stays in millimetres.
    told = in_us(words, job)
    assert told[2].endswith("[°F] “68” → “77”") and "“20” → “25”" in words(job)[2]
    assert "“ferrite” → “neodymium”" in told[0] and "[mm] nothing → “0.8”" in told[0]


def test_many_changes_at_once_are_counted(job):
    job.save_log("spin", spin_rows(7))
    assert words(job) == [wording("spin log: row 1 added; row 2 added too")]


def test_a_version_comes_back_and_what_was_there_is_not_lost(job):
    job.save_log("spin", spin_rows(3))
    job.save_log("spin", spin_rows(1))
    assert restore(job, history(job)[0]).startswith(wording("spin.csv is again as it"))
    fresh = Job.open("mill", job.folder.parent)
    assert fresh.read_log("spin") == spin_rows(3)
    restore(fresh, history(fresh)[0])
    assert Job.open("mill", job.folder.parent).read_log("spin") == spin_rows(1)


def test_the_way_back_from_damage(job):
    job.save_part("bank", sample("bank"))
    job.save_part("bank", sample("bank", cable_ohm=0.05))
    (job.folder / "job.json").write_bytes(b'{"schema_version": 1, "bank"')
    version = history(job)[0]
    assert version.words == wording("job.json: what came after it")
    said = restore(job, version)
    assert Job.open("mill", job.folder.parent).bank.cable_ohm == 0.01
    (aside,) = job.folder.glob("job.damaged-*.json")
    assert aside.read_bytes() == b'{"schema_version": 1, "bank"'
    assert said.endswith(f" UTC; the damaged file is kept as {aside.name}.")
    # Nothing of the damage got into the versions before: the newest is the last good one.
    assert parse_document(previous_of(job.folder / "job.json").read_bytes(), "job.json").parts["bank"].cable_ohm == 0.01


def test_a_damaged_log_is_named_with_its_line_and_comes_back(job):
    job.save_log("spin", spin_rows(3))
    job.save_log("spin", spin_rows(4))
    path = job.folder / "spin.csv"
    path.write_bytes(path.read_bytes().replace(b"\nrpm,", b"\nkm,"))
    assert list(JobFolder(folder=job.folder).damage) == ["spin.csv"]
    assert JobFolder(folder=job.folder).damage["spin.csv"].startswith(wording("mill/spin.csv, line 2: 'km' stands"))
    restore(job, history(job, files=["spin.csv"])[0])
    assert job.read_log("spin") == spin_rows(3) and JobFolder(folder=job.folder).damage == {}


def test_a_lost_job_json_is_found_again(job):
    job.save_part("bank", sample("bank"))
    job.save_part("bank", sample("bank", cable_ohm=0.05))
    (job.folder / "job.json").unlink()
    assert lost_jobs(job.folder.parent) == ["mill"] and Job.names(job.folder.parent) == []
    lost = JobFolder(folder=job.folder)
    assert lost.damage == {"job.json": wording("mill/job.json: the file is missing; a")}
    said = restore(lost, history(lost)[0])
    assert Job.open("mill", job.folder.parent).bank == sample("bank") and said.endswith(" UTC; it was gone.")
    assert lost_jobs(job.folder.parent) == []


@pytest.mark.parametrize(
    "before, after, said",
    [
        ("abcde", "abde", "row 3 taken out"),
        ("abde", "abcde", "row 3 added"),
        ("abcd", "bcd", "row 1 taken out"),
        ("abcd", "cd", wording("row 1 taken out; row")),
        ("abcd", "aXcd", "row 2, Note “b” → “X”"),
        ("aaaa", "aaa", "row 4 taken out"),
        ("abcd", "abcX", "row 4, Note “d” → “X”"),
        ("abcdef", "acdXf", wording("row 2 taken out; row")),
    ],
)
def test_a_row_in_the_middle_is_one_row_and_not_all_after_it(job, before, after, said):
    for letters in (before, after):
        job.save_log("spin", [spin_rows(1, note=letter)[0] for letter in letters])
    assert words(job)[0] == f"spin log: {said}"


# A cell of 30 letters is shown whole, of a longer one the first 30 and a sign that there is more.
@pytest.mark.parametrize(
    "before, after, said",
    [
        ("", "x" * 29, f"nothing → “{'x' * 29}”"),
        ("x" * 30, "", f"“{'x' * 30}” → nothing"),
        ("b", "x" * 31, f"“b” → “{'x' * 30}…”"),
        ("y" * 40, "x" * 32, f"“{'y' * 30}…” → “{'x' * 30}…”"),
    ],
)
def test_a_long_text_is_cut_and_an_empty_one_is_nothing(job, before, after, said):
    for note in (before, after):
        job.save_log("spin", spin_rows(1, note=note))
    assert words(job)[0] == f"spin log: row 1, Note {said}"


def test_only_the_versions_shown_are_read(job, monkeypatch):
    for count in range(1, 30):
        job.save_log("spin", spin_rows(count))
    read = []
    take = job_history.read_file
    monkeypatch.setattr(job_history, "read_file", lambda path: (read.append(path), take(path))[1])
    assert len(history(job, most=3)) == 3 and len(read) == 4  # three versions and what is there now


def test_the_moment_of_a_version_comes_from_one_clock(monkeypatch):
    # 2026-05-31 10:14:59.999999999 UTC is 1780222499.999999999 s after 1970: 20604 days, 10 h 14 min 59 s.
    monkeypatch.setattr(job_files.time, "time_ns", lambda: 1_780_222_499_999_999_999)
    monkeypatch.setattr(job_files.time, "time", lambda: 0.0)
    assert job_files.now_stamp() == "20260531T101459.999999999"


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
    with pytest.raises(BadInput, match=exactly(wording("mill/spin.csv: that version is no"))):
        restore(job, version)


def test_only_so_many_versions_are_kept_of_each_file(job, monkeypatch):
    monkeypatch.setattr(job_files, "MOST_VERSIONS", 5)
    for count in range(1, 12):
        job.save_log("spin", spin_rows(count))
        job.save_part("bank", sample("bank", cable_ohm=0.001 * count))
    names = os.listdir(job.folder / HISTORY)
    assert sum(name.endswith("spin.csv") for name in names) == sum(name.endswith("job.json") for name in names) == 5
    assert history(job)[0].words == wording("the job: Cable [Ω] “0.01” → “0.011”")


def test_a_disk_without_second_names_still_saves(job, monkeypatch):
    def refuse(*arguments):
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", refuse)
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    assert job.read_log("spin") == spin_rows(2)
    assert words(job) == ["spin log: row 2 added", "spin log: row 1 added"]  # kept as copies
    restore(job, history(job)[0])
    assert Job.open("mill", job.folder.parent).read_log("spin") == spin_rows(1)
    assert not [name for name in os.listdir(job.folder / HISTORY) if name.endswith(".tmp")]


def test_where_no_history_can_be_kept_the_version_before_is_there_and_it_is_said(job, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (job.folder / HISTORY).symlink_to(elsewhere)
    assert no_history_words(job.folder) == wording("Only the version before the")
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    assert words(job) == ["spin log: row 2 added"] and list(elsewhere.iterdir()) == []
    restore(job, history(job)[0])
    assert Job.open("mill", job.folder.parent).read_log("spin") == spin_rows(1)


def test_only_a_link_or_a_file_in_its_place_keeps_a_job_from_a_history(job, tmp_path):
    place = job.folder / HISTORY
    assert no_history_words(job.folder) == ""
    place.mkdir()
    assert no_history_words(job.folder) == ""
    place.rmdir()
    place.write_text("mine")
    assert no_history_words(job.folder) == wording("Only the version before the")
    place.unlink()
    place.symlink_to(tmp_path / "gone")
    assert no_history_words(job.folder) == wording("Only the version before the")


def test_strangers_in_the_history_are_left_alone(job, tmp_path):
    job.save_log("spin", spin_rows(1))
    (job.folder / HISTORY / "notes.txt").write_text("mine")
    (job.folder / HISTORY / "20260101T000000.000000000-job.json").symlink_to(tmp_path / "elsewhere")
    assert words(job) == ["spin log: row 1 added"]
