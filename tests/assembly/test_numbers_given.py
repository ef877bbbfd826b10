"""What a job takes as exactly so: said with its value, where it stands, and nothing that has a ± of its own."""

from dataclasses import replace

import pytest

from samples.job_samples import sample
from statorbook.assembly.machine import machine_from
from statorbook.assembly.numbers_given import numbers_given
from statorbook.drives.known_speed import KnownSpeed
from statorbook.examples import jobs as example
from statorbook.job.parts.drive.part import DrivePart
from statorbook.job.parts.fuse import FusePart
from statorbook.quantities import CONDUCTORS, MAGNETS


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    made = example.write(tmp_path_factory.mktemp("data"))
    made.save_part("bank", sample("bank", cells=16, chemistry="LiFePO4"))
    return made.read()


def given_of(job, stated=frozenset(), machine=None):
    return {each.words: each for each in numbers_given(job, machine or machine_from(job), set(stated))}


# Ferrite loses 0.2 % of its strength for each kelvin, copper is as far from no ohms at −235 °C (IEC 60034-1).
@pytest.mark.outside(
    "what warmth does to copper and ferrite",
    source="IEC 60034-1, 8.6.2.3.3, for copper; common practice, no source, for ferrite",
    number="235 °C, −0.2 % for each kelvin",
    tolerance="as printed",
    seen="from memory",
)
@pytest.mark.outside(
    "volts of 16 cells of LiFePO4, half full, at rest",
    source="common practice, no source",
    number="3.3 V a cell",
    tolerance="1 %",
    seen="from memory",
)
def test_tables_are_said_with_their_number_and_where_they_stand(job):
    given = given_of(job)
    magnets, wire = given["Volts that warm magnets lose, ferrite"], given["Ohms of warm wire, copper"]
    assert (magnets.said, magnets.how) == ("0.2 % for each kelvin", MAGNETS["ferrite"].source)
    assert (wire.said, wire.how) == ("as (235 + °C)", CONDUCTORS["copper"].source)
    bank = given["Volts of the half-full bank"]
    assert float(bank.said.split()[0]) == pytest.approx(52.8, rel=0.01) and bank.said.endswith(" V")
    assert {each.known for each in (magnets, wire, bank)} == {"from a table"}


def test_a_field_is_said_with_its_page_and_left_out_where_it_has_a_plus_minus(job):
    given = given_of(job, {"hottest_c", "capacity_ah"})
    assert (given["Cells in series"].said, given["Cells in series"].known) == ("16", "typed")
    assert given["Cells in series"].how == "bank, page 04_choose_a_grouping"
    assert given["Pitch diameter"].said == "260 mm" and given["Pitch diameter"].how.endswith("page 03_what_turns_it")
    assert "Hottest air" not in given and "Capacity" not in given
    assert "Hottest air" in given_of(job) and "Capacity" in given_of(job)
    assert "Mark" not in " ".join(given) and "Notes" not in given  # words are no numbers
    # What the answer calls by another name is that.
    assert "Coldest air" not in given_of(job, {"cold_c"}) and "Coldest air" in given


def test_what_the_source_is_known_by_is_not_exactly_so(job):
    assert "Net head" not in given_of(job)
    machine = replace(machine_from(job), drive=KnownSpeed(working_rpm=600.0))
    held = replace(job, parts=job.parts | {"drive": DrivePart(kind="known speed", speed_rpm=600.0)})
    given = given_of(held, machine=machine)
    assert "Working speed" not in given and given["Runaway ratio"].known == "assumed"
    assert "Net head" in given_of(job, machine=machine)  # that of another drive is a number like any other


# Of the place only the coldest air plays a part in a choice; all of it does in a plant, and so does a measured run.
def test_a_place_and_a_run_that_change_no_choice_are_said_all_the_same(job):
    given = given_of(job)
    assert (given["Hottest air"].said, given["Hottest air"].known) == ("30 °C", "typed")
    assert given["Place"].said == "wet outdoors" and "site" not in job.parts["site"].assumed
    assert given["Cold: ohms between two leads"].said == "0.28 Ω"
    empty = replace(job, parts=job.parts | {"fuse": FusePart()})
    assert not [words for words in given_of(empty) if words.endswith("of the fuse")]


def test_rows_of_the_year_are_counted_and_yes_and_no_are_said(job):
    given = given_of(job)
    assert given["Source over the year"].said == "12 rows" and "water_months" in given["Source over the year"].how
    assert given["A relay can stop the source"].said == "yes"
    assert given["Over the year"].said == "the log of months"
