"""The service panel: what is saved, what is due, and that the start page says it too."""

from datetime import date

import pytest

from samples.pages import cells, press, shown
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.cautions import Exposure
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.registry import ServicePart
from statorbook.panels.first_run.service import NO_PART, ServicePanel, due_words
from statorbook.panels.start.start import StartPanel

wording = sentences_of("panels_first_run")

TODAY = date(2026, 3, 2)


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def test_before_anything_is_saved_it_says_what_to_do(job):
    panel = ServicePanel(job, TODAY)
    assert panel.sentence == NO_PART and "tie the rotor" in shown(panel)[0]


def test_saved_facts_give_dates_and_life(job):
    panel = ServicePanel(job, TODAY)
    for name, typed in (("installed_on", "2026-01-01"), ("hours_per_day", "10"), ("turning_kg", "12")):
        panel.form.fields[name].control.value = typed
    panel.form.fields["bearing_size"].control.value = "6205"
    press(panel.form, "Save the service")
    assert Job.open(job.name, job.folder.parent).service.hours_per_day == 10.0
    # 500 h at 10 h a day: 50 days after 1 January.
    assert panel.sentence.startswith(wording("Overdue: Look at the bearings"))
    assert "A 6205 that carries" in panel.sentence and "Water kills salvaged bearings" in panel.sentence
    look = f"Look at the bearings: play, noise, warmth, water. ⚠ {Exposure.TURNING.tag}"
    assert cells(shown(panel)[2])[0] == ["2026-02-20", look, "10 days late"]


def test_each_look_is_kept_and_judged(job):
    job.save_part("service", ServicePart(installed_on="2026-01-01"))
    panel = ServicePanel(job, TODAY)
    first = panel.grid.row(1)
    first.cells["taken_on"].value = "2026-02-28"
    first.cells["noise"].value = "grind"
    assert Job.open(job.name, job.folder.parent).read_log("service")[0]["noise"] == "grind"
    assert "It grinds: stop" in first.sentence.value and "It grinds: stop" in panel.sentence


def test_a_bad_date_is_refused_at_its_field_and_nothing_is_saved(job):
    panel = ServicePanel(job, TODAY)
    panel.form.fields["installed_on"].control.value = "soon"
    press(panel.form, "Save the service")
    assert "year-month-day" in panel.form.message.text and Job.open(job.name, job.folder.parent).service is None


def test_the_start_page_says_what_is_overdue_or_next(job):
    assert "bearings" not in shown(StartPanel(job))[0]
    job.save_part("service", ServicePart(installed_on="2020-01-01"))
    assert "Overdue: Look at the bearings" in shown(StartPanel(job))[0]
    job.save_part("service", ServicePart(installed_on=date.today().isoformat()))
    assert "Next, on " in shown(StartPanel(job))[0]
    job.save_part("service", ServicePart())
    assert "type the day it first ran" in shown(StartPanel(job))[0]


def test_nothing_due_says_nothing():
    assert due_words(()) == ""


def test_a_machine_without_a_choice_still_gets_its_dates(tmp_path):
    example.write(tmp_path)
    empty = Job.create("mill", tmp_path)
    empty.save_part("service", ServicePart(installed_on="2026-01-01"))
    empty.save_log("service", [blank_row("service") | {"taken_on": "2026-03-01", "play": "none"}])
    words = ServicePanel(empty, TODAY).sentence
    assert words.startswith("Next, on 2026-03-22: ") and wording("follows once chapters 01 to") in words
