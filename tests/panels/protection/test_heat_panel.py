"""Panel of the winding's heat: what is typed counts at once, and what is found reaches page 04 by the button."""

import re

import pytest

from samples.job_samples import sample
from statorbook.assembly.machine import machine_from
from statorbook.examples import jobs as example
from statorbook.job.parts.heat import HeatPart
from statorbook.job.progress import inputs_fingerprint
from statorbook.panels.protection.heat import TAKE_OVER, HeatPanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.heat_at_work import heat_of

RUN = {"cold_ohm": "0.50", "cold_c": "20", "hot_ohm": "0.62", "hot_air_c": "25", "run_dc_amps": "8"}


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("heat", HeatPart())
    return made


@pytest.fixture
def panel(job):
    return HeatPanel(ProtectionPage(job))


def type_in(panel, **texts):
    for name, text in texts.items():
        panel.form.fields[name].control.value = text


def settles_c(panel):
    return heat_of(panel.page.plant(heat=panel.form.part())).at_work.settles_c


def test_an_assumed_rise_is_said_and_a_typed_one_counts_at_once(panel, job):
    assert "(assumed)" in panel.sentence and panel.shown_answer.caution == ""
    before = settles_c(panel)
    type_in(panel, k_per_w="3")
    assert "(as typed)" in panel.sentence and settles_c(panel) > before
    assert "too hot" in panel.sentence and "gets too hot at work" in panel.shown_answer.caution
    type_in(panel, thermal_class="H")
    assert "class H allows 165 °C" in panel.sentence
    assert panel.shown_answer.table.rows[2][0] == "most that can flow" and panel.message.last_fault == ""


def test_the_temperature_found_reaches_page_04_and_puts_its_choice_out_of_date(panel, job):
    job.save_part("choice", sample("choice", worked_out_for=inputs_fingerprint(job)))
    panel.page.tell()
    found = settles_c(panel)
    assert "look at page 04" not in panel.sentence
    panel.buttons[TAKE_OVER].click()
    assert machine_from(job).setting.conditions.copper_c == round(found) != 80.0
    assert "look at page 04" in panel.sentence and f"All pages reckon with {found:.0f} °C" in panel.sentence
    # What page 04 reckons with does not move what is found here: nothing runs after itself.
    assert settles_c(panel) == found
    assert job.heat.copper_assumed  # its rise is still assumed


def test_a_measured_run_counts_before_the_assumed_rise(panel):
    type_in(panel, **RUN)
    assert "(measured)" in panel.sentence
    type_in(panel, run_dc_amps="900")
    assert "makes at most" in panel.sentence and panel.message.last_fault == ""


def test_us_units_take_the_same_temperature_over(panel, job):
    found = settles_c(panel)
    panel.in_units("US")
    assert "°F" in panel.sentence and "°C" not in panel.sentence and not re.search(r"\.\d °F", panel.sentence)
    panel.buttons[TAKE_OVER].click()
    assert machine_from(job).setting.conditions.copper_c == pytest.approx(found, abs=0.4)


@pytest.mark.parametrize(
    "name, text", [("k_per_w", "0"), ("k_per_w", "hot"), ("copper_c", "900"), ("hot_ohm", "-1"), ("cold_c", "1e9")]
)
def test_nonsense_is_one_sentence(panel, name, text):
    type_in(panel, **{name: text})
    assert panel.sentence.startswith("Not usable – ") and "\n" not in panel.sentence and panel.message.last_fault == ""


def test_a_winding_that_does_not_settle_is_said_and_not_taken_over(panel, job):
    type_in(panel, k_per_w="40")
    assert "does not settle" in panel.sentence
    panel.buttons[TAKE_OVER].click()
    assert "does not settle" in panel.message.text and job.heat.copper_c == 80.0
