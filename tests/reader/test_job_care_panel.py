"""History, copy and import on the start page."""

from base64 import b64decode
from datetime import UTC, datetime

import pytest

from decisions.job_samples import sample
from reader.pages import cells, shown
from statorbook import example
from statorbook.job import Job
from statorbook.job_zip import export_job
from statorbook.panels.job_care import JobCare
from statorbook.panels.start import StartPanel


@pytest.fixture
def care(tmp_path):
    return JobCare(StartPanel(example.write(tmp_path)))


def test_an_untouched_job_says_so(care):
    assert care.sentence == (
        "Nothing was changed yet in the job spring_pipe; each change from now on can be undone.")


def test_a_change_is_told_and_taken_back(care):
    before = care.at_hand().bank
    care.at_hand().save_part("bank", sample("bank"))
    care.redraw()
    assert "Last change in the job spring_pipe" in care.sentence and "the job: " in care.sentence
    assert len(cells(shown(care)[2])) == 1 and care.version.value.file == "job.json"
    care.back()
    assert care.at_hand().bank == before and "is again as it was until" in care.message.text


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
    assert made.bank == care.at_hand().bank and care._start.job.name == "copied"
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
