"""History, copy and import on the start page."""

import json
from base64 import b64decode
from datetime import UTC, datetime
from itertools import product

import pytest

from samples.job_samples import sample, spin_rows
from samples.pages import cells, shown
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job import history as job_history
from statorbook.job.archive import export_job
from statorbook.job.job import Job, open_current
from statorbook.panels.start.job_care import JobCare
from statorbook.panels.start.start import StartPanel

wording = sentences_of("panels_start")


@pytest.fixture
def care(tmp_path):
    return JobCare(StartPanel(example.write(tmp_path)))


def job(care):
    return Job.open(care.current().name, care.start.job_folder)


def test_an_untouched_job_says_so(care):
    assert care.sentence == wording("Nothing was changed yet in the job spring_pipe")


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


@pytest.mark.parametrize(
    "harm, words",
    [(_break, wording("mill/job.json, line 3: bank: 48")), (_lose, "mill/job.json: the file is missing; ")],
)
@pytest.mark.parametrize("with_example", [True, False])
def test_a_damaged_job_is_restored_from_the_page(at_home, harm, words, with_example):
    if with_example:
        example.write(at_home)
    care = _harmed(at_home, harm)
    assert care.sentence == wording("In the job mill job.json cannot be used")
    assert words in care.shown_answer.caution and care.message.last_fault == ""
    assert {version.file for _, version in care.version.version.options} == {"job.json"}
    press(care, "Restore this version")
    assert care.start.job.name == "mill" == open_current().name and care.start.jobs.value == "mill"
    assert job(care).bank == sample("bank") and care.current().damage == {}
    assert care.start.sentence.startswith("Open job: mill; ")
    kept = [path.read_bytes() for path in (at_home / "mill").glob("job.damaged-*.json")]
    assert kept == ([_BROKEN] if harm is _break else [])
    assert care.sentence.startswith("Last change in the job mill, ")


def test_a_damaged_job_that_is_picked_is_offered_and_the_open_one_stays_open(at_home):
    example.write(at_home)
    care = _harmed(at_home, lambda folder: None)
    care.start.jobs.value = "spring_pipe"
    _break(at_home / "mill")
    care.start.jobs.value = "mill"
    assert care.start.job.name == "spring_pipe" and care.sentence.startswith(
        wording("In the job mill job.json cannot be used too")
    )
    press(care, "Make a copy to keep")
    assert care.message.text == wording("The link saves a copy")
    care.start.jobs.value = "spring_pipe"
    assert care.sentence.startswith(wording("Nothing was changed yet in the job spring_pipe too"))


def test_with_no_job_at_all_nothing_is_raised(at_home):
    care = JobCare(StartPanel())
    assert care.sentence == wording("No job is open, so")
    press(care, "Make a copy to keep")
    assert care.message.text == wording("Not usable – job: no")


def _fill(folder, days, each):
    """Versions of job.json as many savings leave them, and six of the spin log on the last day."""
    place = folder / ".history"
    place.mkdir(exist_ok=True)
    parts = json.loads((folder / "job.json").read_text())
    for day, number in product(range(days), range(each)):
        parts["bank"]["cable_ohm"] = 0.001 + day / 100 + number / 100_000
        stamp = f"202601{day + 1:02d}T{number // 60:02d}{number % 60:02d}00.000000000"
        (place / f"{stamp}-job.json").write_text(json.dumps(parts))
    for number in range(6):
        (place / f"20260131T2300{number:02d}.000000000-spin.csv").write_bytes((folder / "spin.csv").read_bytes())


def test_every_version_is_offered_by_what_by_day_and_each_can_be_put_back(care):
    _fill(job(care).folder, days=20, each=7)
    care.redraw()
    asked = care.version
    assert [words for words, _ in asked.file.options] == ["spin log: 6 versions", "job.json: 140 versions"]
    asked.file.value = "job.json"
    assert len(asked.day.options) == 20 and asked.day.options[0][0] == "2026-01-20: 7 versions"
    offered = set()
    for _, day in asked.day.options:
        asked.day.value = day
        offered |= {version.path for _, version in asked.version.options}
    assert len(offered) == 140
    asked.day.value = "2026-01-03"
    words, third = asked.version.options[2]
    assert words.startswith(wording("before 00:04:00: the job: Cable"))
    asked.version.value = third
    assert asked.value is third  # it stays chosen
    press(care, "Restore this version")
    # Day 3, number 4 of the invented versions: 0.001 + 2/100 + 4/100000.
    assert job(care).bank.cable_ohm == pytest.approx(0.02104, abs=1e-9)
    assert "146 versions" not in care.sentence and "147 versions before are kept" in care.sentence


def test_damaged_versions_are_not_offered_and_the_others_of_their_day_are(care):
    _fill(job(care).folder, days=1, each=3)
    (job(care).folder / ".history" / "20260101T000100.000000000-job.json").write_text("{")
    care.redraw()
    care.version.file.value = "job.json"
    assert [words[:15] for words, _ in care.version.version.options] == ["before 00:02:00", "before 00:00:00"]


def test_looking_back_reads_only_what_it_shows_however_many_versions_there_are(care, monkeypatch):
    _fill(job(care).folder, days=20, each=100)
    read = []
    take = job_history.read_file
    monkeypatch.setattr(job_history, "read_file", lambda path: (read.append(path), take(path))[1])
    care.redraw()
    # The 20 newest with what came after them, twice for the day shown, and the files of the job for their damage.
    assert sum(path.parent.name == ".history" for path in read) <= 60
    del read[:]
    care.version.file.value = "job.json"
    care.version.day.value = "2026-01-07"
    assert len(read) <= 2 * 101 + 2 and len(care.version.day.options) == 20


def test_without_a_version_the_button_says_what_is_missing(care):
    press(care, "Restore this version")
    assert care.message.text == wording("Not usable – history: no")


def press(care, words):
    """Press a button in one of the panel's rows."""
    rows = [child for row in care.widget.children for child in getattr(row, "children", ())]
    next(child for child in rows if getattr(child, "description", "") == words).click()


def test_a_copy_is_the_job_and_comes_in_under_another_name(care):
    press(care, "Make a copy to keep")
    data = b64decode(care.link.value.split("base64,")[1].split('"')[0])
    assert data == export_job(care.current())
    made = _bring(care, data, "copied")
    assert made.bank == job(care).bank and care.start.job.name == "copied"
    assert wording("The job copied is here") in care.message.text


def _bring(care, data, name):
    care.upload.value = (
        {
            "name": "x.zip",
            "type": "application/zip",
            "size": len(data),
            "content": memoryview(data),
            "last_modified": datetime(2026, 1, 1, tzinfo=UTC),
        },
    )
    care.name.value = name
    press(care, "Bring this job in")
    return Job.open(name, care.start.job_folder) if name in Job.names(care.start.job_folder) else None


@pytest.mark.parametrize(
    "data, name, words",
    [
        (b"rubbish", "copied", "this is no zip, or it is damaged"),
        (None, "spring_pipe", "there is already a job spring_pipe"),
        (None, "../out", "name"),
    ],
)
def test_what_may_not_come_in_is_refused_in_a_sentence(care, data, name, words):
    known = Job.names(care.start.job_folder)
    _bring(care, data or export_job(care.current()), name)
    assert words in care.message.text and care.message.last_fault == ""
    assert Job.names(care.start.job_folder) == known


def test_no_zip_chosen_is_told(care):
    press(care, "Bring this job in")
    assert care.message.text.startswith(wording("Not usable – zip of"))
