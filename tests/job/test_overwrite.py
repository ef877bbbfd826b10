"""A job written anew: damaged files are no obstacle, what they held is kept, nothing else is touched."""

import json
import shutil

import pytest

from samples.job_samples import sample, spin_rows
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.overwrite import write_anew

wording = sentences_of("job")

LOGS = {"spin": spin_rows(2), "shorted": [], "ohms": []}
FILES = ("job.json", "spin.csv", "shorted.csv", "ohms.csv")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def contents(folder):
    return {name: (folder / name).read_bytes() for name in FILES}


def test_a_job_that_is_not_there_is_made(tmp_path):
    made = write_anew("mill", parts={"bank": sample("bank")}, logs=LOGS, data_folder=tmp_path)
    assert Job.names(tmp_path) == ["mill"] and made.bank == sample("bank") and made.stator is None
    assert made.read_log("spin") == spin_rows(2) and made.read_log("ohms") == []


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("damage", [b"", b"{", b"\xff\xfe\x00\x01", b'speed_rpm\nrpm\n"open'])
def test_any_damaged_file_is_repaired_and_kept_beside(job, tmp_path, name, damage):
    whole = contents(job.folder)
    (job.folder / name).write_bytes(damage)
    example.write(tmp_path)
    assert contents(job.folder) == whole
    stem, ending = name.split(".")
    assert (job.folder / f"{stem}.previous.{ending}").read_bytes() == damage


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_is_gone_comes_back(job, tmp_path, name):
    whole = contents(job.folder)
    (job.folder / name).unlink()
    example.write(tmp_path)
    assert contents(job.folder) == whole


def test_a_folder_that_is_gone_comes_back(job, tmp_path):
    whole = contents(job.folder)
    shutil.rmtree(job.folder)
    assert contents(example.write(tmp_path).folder) == whole


def test_all_damaged_at_once_is_no_obstacle(job, tmp_path):
    whole = contents(job.folder)
    for name in FILES:
        (job.folder / name).write_bytes(b"\x00")
    with pytest.raises(BadInput, match="spring_pipe/job.json"):
        Job.open("spring_pipe", tmp_path)
    example.write(tmp_path)
    assert contents(job.folder) == whole and Job.open("spring_pipe", tmp_path).stator.slots == 36


def test_the_choice_is_cleared_and_what_the_job_held_is_kept_once(job, tmp_path):
    job.save_part("choice", sample("choice"))
    before = (job.folder / "job.json").read_bytes()
    assert example.write(tmp_path).choice is None
    assert json.loads((job.folder / "job.previous.json").read_bytes())["choice"]["series"] == 3
    assert (job.folder / "job.previous.json").read_bytes() == before
    # Nothing changes the second time, so the version worth keeping is not pushed out.
    example.write(tmp_path)
    assert (job.folder / "job.previous.json").read_bytes() == before


def test_readings_typed_into_the_example_are_kept_beside(job, tmp_path):
    job.save_log("spin", spin_rows(3))
    typed = (job.folder / "spin.csv").read_bytes()
    assert len(example.write(tmp_path).read_log("spin")) == 14
    assert (job.folder / "spin.previous.csv").read_bytes() == typed


def test_other_jobs_and_strange_files_are_not_touched(job, tmp_path):
    other = Job.create("mill", tmp_path)
    before = contents(other.folder)
    (job.folder / "photo.txt").write_text("mine")
    example.write(tmp_path)
    assert contents(other.folder) == before and (job.folder / "photo.txt").read_text() == "mine"


def test_a_job_under_another_name_can_be_written(tmp_path):
    assert example.write(tmp_path, name="second").name == "second" and Job.names(tmp_path) == ["second"]


@pytest.mark.parametrize("name", ["../out", "", "a b", ".hidden", "nul"])
def test_a_name_that_is_not_allowed_is_refused_and_nothing_is_made(tmp_path, name):
    with pytest.raises(BadInput, match=wording("^job name: .* letters a")):
        write_anew(name, parts={}, logs=LOGS, data_folder=tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_link_is_not_followed(tmp_path):
    outside, data = tmp_path / "outside", tmp_path / "data"
    outside.mkdir()
    data.mkdir()
    (data / "mill").symlink_to(outside, target_is_directory=True)
    with pytest.raises(BadInput, match="is a link to another place"):
        write_anew("mill", parts={}, logs=LOGS, data_folder=data)
    assert list(outside.iterdir()) == []


def test_a_file_in_the_place_of_the_folder_is_said(tmp_path):
    (tmp_path / "mill").write_text("not a folder")
    with pytest.raises(BadInput, match=wording("^mill: the folder cannot be made")):
        write_anew("mill", parts={}, logs=LOGS, data_folder=tmp_path)
    assert (tmp_path / "mill").read_text() == "not a folder"


def test_a_folder_in_the_place_of_a_file_is_said(job, tmp_path):
    (job.folder / "job.json").unlink()
    (job.folder / "job.json").mkdir()
    with pytest.raises(BadInput, match=wording("^spring_pipe/job.json: it is a link")):
        example.write(tmp_path)
