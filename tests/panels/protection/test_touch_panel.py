"""Panel of the place: what is typed is graded at once, what is saved counts for the page, units follow everywhere."""

import pytest

from statorbook.assembly.plant import plant_from
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.bank import BankPart
from statorbook.job.parts.reader import units_of
from statorbook.job.parts.site import SitePart
from statorbook.panels.protection.page import ProtectionPage
from statorbook.panels.protection.touch import LAW, TouchPanel


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("bank", BankPart(**made.bank.model_dump() | {"nominal_volts": 12.0, "cells": 4}))
    made.save_part("site", SitePart())
    return made


@pytest.fixture
def panel(job):
    return TouchPanel(ProtectionPage(job))


def cells_of(panel, state):
    return next(row for row in panel.shown_answer.table.rows if row[0].startswith(state))


@pytest.mark.outside(
    "DC without cover where wet",
    source="IEC 60364-4-41, 414.4.5",
    number="30 V DC: 14.6 V need none",
    tolerance="none",
    seen="in a reproduction",
)
def test_the_place_as_typed_is_graded_before_it_is_saved(panel, job):
    assert panel.sentence.startswith("Wet outdoors") and "other than dry" in panel.sentence
    # 14.6 V of four cells.
    assert cells_of(panel, "stopped")[4] == "15 V DC: touchable"
    wet = [cell for row in panel.shown_answer.table.rows for cell in row if cell.endswith(": cover")]
    panel.form.fields["place"].control.value = "dry indoors"
    dry = [cell for row in panel.shown_answer.table.rows for cell in row if cell.endswith(": cover")]
    assert panel.sentence.startswith("Dry indoors") and len(dry) < len(wet)


def test_a_job_that_shows_the_example_is_not_given_the_examples_place(job):
    mine = Job.create("mine", job.folder.parent)
    job.save_part("site", SitePart(place="damp", hottest_c=31.0, coldest_c=-7.0, assumed=()))
    panel = TouchPanel(ProtectionPage(mine))
    assert "shows the example" in panel.sentence
    panel.form.fields["place"].control.value = "dry indoors"
    panel.form.save()
    # What the reader did not type is the assumed default of the part, not the example's.
    assert mine.site.place == "dry indoors" and mine.site.assumed == ("hottest_c", "coldest_c")
    assert (mine.site.hottest_c, mine.site.coldest_c) == (40.0, 0.0)


def test_an_assumed_place_says_so_until_it_is_chosen(panel, job):
    assert "Taken as wet outdoors" in panel.sentence
    panel.form.fields["place"].control.value = "damp"
    assert "Taken as" not in panel.sentence
    panel.form.save()
    assert job.site.place == "damp" and not job.site.assumes("place")


def test_colder_air_as_typed_makes_more_volts_before_it_is_saved(job):
    job.save_part("site", SitePart(place="damp", hottest_c=30.0, coldest_c=5.0, assumed=()))
    panel = TouchPanel(ProtectionPage(job))
    before = cells_of(panel, "bank lost and run away")
    panel.form.fields["coldest_c"].control.value = "-40"
    assert cells_of(panel, "bank lost and run away") != before
    assert plant_from(job).machine.setting.cold_c == 5.0
    panel.form.save()
    assert plant_from(job).machine.setting.cold_c == -40.0


def test_amps_are_said_also_where_none_flow(panel):
    # Milliohms inside 200 Ah of LiFePO4 (tables/bank_chemistry.csv).
    assert cells_of(panel, "stopped")[5].endswith("through a spanner across the bank")
    assert cells_of(panel, "bank lost and run away")[5].startswith("none")
    assert "into the bank" in cells_of(panel, "charging")[5]


def test_local_codes_and_a_licensed_electrician_are_named_once(panel):
    assert panel.shown_answer.caution.count(LAW) == 1
    assert "electrical code" in LAW and "licensed electrician" in LAW


def test_the_units_chosen_here_are_those_of_every_panel_of_the_page(job):
    page = ProtectionPage(job)
    first, second = TouchPanel(page), TouchPanel(page)
    first.units.control.value = "US"
    assert page.system == second.system == "US" and units_of(job) == "US"
    assert second.form.fields["coldest_c"].control.value == "32"
    assert "Run the page" not in first.units.message.text
    page.tell()
    assert page.system == "US"


@pytest.mark.parametrize(("name", "typed"), [("hottest_c", "400"), ("coldest_c", "cold"), ("coldest_c", "-300")])
def test_air_out_of_range_is_one_sentence(panel, name, typed):
    panel.form.fields[name].control.value = typed
    assert panel.sentence.startswith("Not usable – ") and panel.sentence.count("\n") == 0
    assert panel.form.fields[name].control.value == typed and panel.message.last_fault == ""
