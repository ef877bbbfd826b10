"""The panel of the parts list: what is shown, saved and printed, and when a saved list is out of date."""

import re

import pytest

from samples.job_samples import sample
from samples.plant_samples import plant
from statorbook.assembly.plan import choice_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.protection.page import ProtectionPage
from statorbook.panels.protection.parts import DIAGRAM, PartsPanel, list_words
from statorbook.protection.parts_list import parts_to_buy


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("choice", choice_of(made))
    return made


def test_every_part_stands_in_the_table_with_its_rating_and_the_diagram_is_drawn_when_it_is_opened(job):
    panel = PartsPanel(ProtectionPage(job))
    listed = parts_to_buy(panel.page.plant())
    assert [row[1:3] for row in panel.shown_answer.table.rows] == [(part.name, part.rating) for part in listed]
    assert panel.folds[DIAGRAM].value == ""
    panel.folds[DIAGRAM].is_open = True
    assert panel.folds[DIAGRAM].value.count("<svg") == 1


def test_the_list_is_saved_with_what_it_was_worked_out_for_and_goes_out_of_date_with_it(job):
    page = ProtectionPage(job)
    panel = PartsPanel(page)
    panel.buttons["Save the list"].click()
    kept = job.read().protection
    made = page.plant()
    assert len(kept.items.splitlines()) == len(parts_to_buy(made))
    assert kept.most_dc_amps == made.most.dc_amps
    assert (kept.runaway_line_volts_rms, kept.runaway_dc_volts_peak) == made.open_volts(made.runaway_rpm)
    assert kept.date in panel.sentence
    saved = panel.sentence
    page.save("bank", job.bank.model_copy(update={"capacity_ah": 90.0}))
    panel.redraw()
    assert panel.sentence != saved and "out of date" in panel.sentence


def test_the_sheets_are_written_into_the_folder_and_offered(job):
    panel = PartsPanel(ProtectionPage(job))
    panel.paper.value = "Letter"
    panel.buttons["Print it"].click()
    assert (job.folder / "protect_Letter.pdf").read_bytes().startswith(b"%PDF")
    assert "protect_Letter.pdf" in panel.link.value
    panel.redraw()
    assert panel.link.value == ""  # what was printed is not what is shown any more


def test_a_list_of_the_example_or_of_no_grouping_is_not_saved(tmp_path):
    example.write(tmp_path)
    own = Job.create("mine", tmp_path)
    panel = PartsPanel(ProtectionPage(own))
    panel.buttons["Save the list"].click()
    assert own.read().protection is None and "not your own" in panel.message.text
    for part in ("stator", "coil", "drive", "bank"):
        own.save_part(part, sample(part))
    panel = PartsPanel(ProtectionPage(own))
    panel.buttons["Save the list"].click()
    assert own.read().protection is None and "no grouping yet" in panel.message.text


@pytest.mark.outside(
    "end of low voltage",
    source="IEC glossary, low voltage, std.iec.ch/terms",
    number="1000 V AC",
    tolerance="1250 V lie beyond it",
    seen="read",
)
@pytest.mark.parametrize("rpm, said", [(20.0, "never charges"), (5000.0, "beyond low voltage"), (600.0, None)])
def test_a_plant_that_never_charges_or_may_not_be_built_says_so(rpm, said):
    # 0.139 V between leads for each rpm: 5 V and 1250 V when it runs away.
    made = plant(drive=KnownSpeed(working_rpm=rpm))
    words = list_words(made, parts_to_buy(made))
    assert said in words if said else not re.search("never charges|beyond low voltage", words)
