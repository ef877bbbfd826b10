"""Panel of how sure an answer is: each answer has its bars, an empty job shows the example, and units follow."""

import pytest

from statorbook.cautions import Exposure
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.sure.answer_panel import SurePanel


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return example.write(tmp_path_factory.mktemp("data"), "ridge_rotor")


def test_each_answer_has_its_own_sentence_bars_and_table(job):
    panel = SurePanel(job)
    seen = set()
    for words, name in panel.answered.options:
        panel.answered.value = name
        answer = panel.shown_answer
        assert panel.sentence.startswith(words) and answer.headline["answer"] in panel.sentence
        shares = [row[3] for row in answer.table.rows]
        of_widths = [float(share.rstrip("%")) for share in shares if share.endswith("%")]
        assert of_widths == sorted(of_widths, reverse=True) and sum(of_widths) == pytest.approx(100.0, abs=5.0)
        assert all(
            (row[2] == "assumed") == (mark == "chosen")
            for row, mark in zip(answer.table.rows, answer.table.marks, strict=True)
            if row[3].endswith("%")
        )
        seen.add(answer.pictures[0])
    assert len(seen) == len(panel.answered.options) == 6 and panel.message.text == panel.message.last_fault == ""


def test_the_measurement_stands_with_its_caution(job):
    panel = SurePanel(job)
    panel.answered.value = "bank_watts"
    assert Exposure.TURNING.sentence in panel.shown_answer.caution.splitlines()
    assert "at best instead of" in panel.sentence


def test_us_units_are_said_and_kept(job):
    panel = SurePanel(job)
    panel.units.control.value = "US"
    assert panel.paper.value == "Letter" and job.reader.units == "US"
    said = {row[0]: row[1] for row in panel.shown_answer.table.rows}
    assert said["magnets at work"] == "122 ± 36 °F" and said["wind speed as read"].endswith(" mph")
    assert not any(" m/s" in value or "°C" in value for value in said.values() if "+ °C" not in value)
    panel.units.control.value = "metric"
    assert {row[0]: row[1] for row in panel.shown_answer.table.rows}["magnets at work"] == "50 ± 20 °C"


def test_an_empty_job_shows_the_example_and_says_so(tmp_path):
    example.write(tmp_path, "spring_pipe")
    panel = SurePanel(Job.create("mine", tmp_path))
    assert "mine" in panel.sentence and "example" in panel.sentence and panel.message.last_fault == ""


def test_the_sheet_is_written_and_offered(job):
    panel = SurePanel(job)
    panel.buttons["Print it"].click()
    assert (job.folder / f"how_sure_{panel.paper.value}.pdf").exists() and "how_sure_" in panel.link.value
    panel.paper.value = "Letter"
    assert panel.link.value == ""
