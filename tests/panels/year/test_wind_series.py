"""Thousands of readings of the wind: looked at, taken into the job, put back, never lost."""

import pytest

from samples.wind_samples import HOURLY, WINDS, wind_text
from sentences import sentences_of
from statorbook.assembly.year import source_year_from
from statorbook.job.job import Job
from statorbook.job.parts import DrivePart
from statorbook.panels.year.year_source import YearSourcePanel

wording = sentences_of("panels_year")
TEXT = wind_text(head="Time;Wind [km/h]", mark=";", comma=",")
SHORT = wind_text(HOURLY[:60], WINDS[:60])


@pytest.fixture
def panel(tmp_path):
    job = Job.create("wind", tmp_path)
    job.save_part("drive", DrivePart(kind="wind rotor", rotor_diameter_m=2.2, wind_m_s=6.0))
    made = YearSourcePanel(job)
    made.form.fields["wind_year_from"].control.value = "log of a year"
    return made


def pasted(panel, text):
    panel.grid.text.value = text
    return panel.grid


def test_a_log_is_shown_as_understood_before_it_is_taken(panel):
    grid = pasted(panel, TEXT)
    assert wording("8,760 readings from") in grid.found.value
    assert grid.found.value.count("<tr") == 6  # headings and the first five rows, never all
    assert panel.job.read_log("wind_series") == [] and not grid.take.disabled
    grid.take.click()
    assert grid.message.text == wording("8,760 rows are in the job")
    assert len(panel.job.read_log("wind_series")) == 8760 and grid.text.value == ""
    assert source_year_from(panel.job).months_known and "one every 1 h" in panel.sentence


def test_the_log_before_is_kept_and_comes_back(panel):
    grid = pasted(panel, TEXT)
    grid.take.click()
    first = source_year_from(panel.job)
    pasted(panel, TEXT.replace("km/h", "mph")).take.click()
    assert grid.message.text == wording("8,760 rows are in the job. The 8,760 rows before")
    assert source_year_from(panel.job).words != first.words
    grid.back.click()
    assert source_year_from(panel.job).words == first.words and "In the job" in grid.kept.value


def test_a_log_that_cannot_be_used_is_one_sentence_and_nothing_is_lost(panel):
    grid = pasted(panel, TEXT.replace("[km/h]", ""))
    assert grid.message.text == wording("Not usable – wind log: no unit") and grid.take.disabled
    grid.unit.value = "km/h"
    assert wording("8,760 readings from") in grid.found.value and not grid.take.disabled
    assert pasted(panel, SHORT).message.text == wording("Not usable – wind log: the heading")
    grid.unit.index = 0
    assert wording("wind log: 60 readings can be used") in grid.found.value


def test_us_readers_are_told_miles_an_hour(panel):
    grid = pasted(panel, TEXT)
    grid.take.click()
    panel.in_units("US")
    assert "mph" in grid.kept.value.split("<table")[0] and "m/s" not in grid.kept.value.split("<table")[0]
