"""History, copy and import on the start page."""

from base64 import b64decode
from datetime import UTC, datetime

import pytest

from decisions.job_samples import sample, spin_rows
from reader.pages import cells, shown
from statorbook import example
from statorbook.job import Job, open_current
from statorbook.job_zip import export_job
from statorbook.panels.job_care import JobCare
from statorbook.panels.start import StartPanel


@pytest.fixture
def care(tmp_path):
    return JobCare(StartPanel(example.write(tmp_path)))


def job(care):
    return Job.open(care.at_hand().name, care._start.job_folder)


def test_an_untouched_job_says_so(care):
    assert care.sentence == (
        "Nothing was changed yet in the job spring_pipe; each change from now on can be undone.")


def test_a_change_is_told_and_taken_back(care):
    before = job(care).bank
    job(care).save_part("bank", sample("bank"))
    care.redraw()
    assert "Last change in the job spring_pipe" in care.sentence and "the job: " in care.sentence
    assert len(cells(shown(care)[2])) == 1 and care.version.value.file == "job.json"
    care.back()
    assert job(care).bank == before and "is again as it was until" in care.message.text


def _harmed(tmp_path, harm):
    """The panels of a page opened after a job with two versions was harmed."""
    mill = Job.create("mill", tmp_path)
    mill.save_part("bank", sample("bank"))
    mill.save_part("bank", sample("bank", cable_ohm=0.05))
    for count in range(1, 26):  # more versions of a log than are shown
        mill.save_log("spin", spin_rows(count))
    mill.make_current()
    harm(mill.folder)
    return JobCare(StartPanel())


_BROKEN = b'{\n"schema_version": 1,\n"bank": 48\n}'


def _break(folder):
    (folder / "job.json").write_bytes(_BROKEN)


def _lose(folder):
    (folder / "job.json").unlink()


@pytest.fixture
def at_home(tmp_path, monkeypatch):
    monkeypatch.setenv("STATORBOOK_DATA", str(tmp_path))
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)
    return tmp_path


@pytest.mark.parametrize("harm, words", [
    (_break, "mill/job.json, line 3: bank: 48 was given; "), (_lose, "mill/job.json: the file is missing; ")])
@pytest.mark.parametrize("with_example", [True, False])
def test_a_damaged_job_is_restored_from_the_page(at_home, harm, words, with_example):
    if with_example:
        example.write(at_home)
    care = _harmed(at_home, harm)
    assert care.sentence == ("In the job mill job.json cannot be used: choose a version and press “Restore this "
                             "version”. The damaged file is never deleted.")
    assert words in care._answer.caution and care.message.last_fault == ""
    assert {version.file for _, version in care.version.options} == {"job.json"}
    press(care, "Restore this version")
    assert care._start.job.name == "mill" == open_current().name and care._start.jobs.value == "mill"
    assert job(care).bank == sample("bank") and care.at_hand().damage == {}
    assert care._start.sentence.startswith("Open job: mill; ")
    kept = [path.read_bytes() for path in (at_home / "mill").glob("job.damaged-*.json")]
    assert kept == ([_BROKEN] if harm is _break else [])
    assert care.sentence.startswith("Last change in the job mill, ")


def test_a_damaged_job_that_is_picked_is_offered_and_the_open_one_stays_open(at_home):
    example.write(at_home)
    care = _harmed(at_home, lambda folder: None)
    care._start.jobs.value = "spring_pipe"
    _break(at_home / "mill")
    care._start.jobs.value = "mill"
    assert care._start.job.name == "spring_pipe" and care.sentence.startswith("In the job mill job.json cannot be used")
    press(care, "Make a copy to keep")
    assert care.message.text == (
        "The link saves a copy of the job mill as it is, its damage included, so that nothing gets lost; it can be "
        "brought in only once it is restored or mended.")
    care._start.jobs.value = "spring_pipe"
    assert care.sentence.startswith("Nothing was changed yet in the job spring_pipe")


def test_with_no_job_at_all_nothing_is_raised(at_home):
    care = JobCare(StartPanel())
    assert care.sentence == "No job is open, so there is none to look back on: open, create or bring in one."
    press(care, "Make a copy to keep")
    assert care.message.text == "Not usable – job: no job is open; an open job is needed; open or create one above."


def test_without_a_version_the_button_says_what_is_missing(care):
    press(care, "Restore this version")
    assert care.message.text == (
        "Not usable – history: no version was chosen; a version from the list is needed; choose one.")


def press(care, words):
    """Press a button in one of the panel's rows."""
    rows = [child for row in care.widget.children for child in getattr(row, "children", ())]
    next(child for child in rows if getattr(child, "description", "") == words).click()


def test_a_copy_is_the_job_and_comes_in_under_another_name(care):
    press(care, "Make a copy to keep")
    data = b64decode(care.link.value.split("base64,")[1].split('"')[0])
    assert data == export_job(care.at_hand())
    made = _bring(care, data, "copied")
    assert made.bank == job(care).bank and care._start.job.name == "copied"
    assert "The job copied is here and open." in care.message.text


def _bring(care, data, name):
    care.upload.value = ({"name": "x.zip", "type": "application/zip", "size": len(data), "content": memoryview(data),
                          "last_modified": datetime(2026, 1, 1, tzinfo=UTC)},)
    care.name.value = name
    press(care, "Bring this job in")
    return Job.open(name, care._start.job_folder) if name in Job.names(care._start.job_folder) else None


@pytest.mark.parametrize("data, name, words", [
    (b"rubbish", "copied", "this is no zip, or it is damaged"),
    (None, "spring_pipe", "there is already a job spring_pipe"),
    (None, "../out", "name"),
])
def test_what_may_not_come_in_is_refused_in_a_sentence(care, data, name, words):
    known = Job.names(care._start.job_folder)
    _bring(care, data or export_job(care.at_hand()), name)
    assert words in care.message.text and care.message.last_fault == ""
    assert Job.names(care._start.job_folder) == known


def test_no_zip_chosen_is_told(care):
    press(care, "Bring this job in")
    assert care.message.text.startswith("Not usable – zip of a job: no zip was chosen")
