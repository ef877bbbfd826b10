"""A job's parts put together, the ends of their bands, and the example in place of what is missing."""

import pytest

from decisions.job_samples import sample
from sentences import exactly
from statorbook import example
from statorbook.errors import BadInput
from statorbook.estimate import Estimate
from statorbook.grouping import Grouping
from statorbook.job import Job
from statorbook.machine import corners, machine_from, with_parts

PARTS = ("stator", "coil", "drive", "bank")


@pytest.fixture
def empty(tmp_path):
    example.write(tmp_path)
    return Job.create("mill", tmp_path)


@pytest.fixture
def filled(empty):
    for part in PARTS:
        empty.save_part(part, sample(part))
    return empty


def test_every_number_of_the_parts_arrives_where_it_belongs(filled):
    filled.save_part("stator", sample("stator", found_parallel=4, found_connection="delta", wires_in_hand=2,
                                      conductor="aluminium", magnet="neodymium"))
    filled.save_part("drive", sample("drive", drag_nm=0.7, efficiency=0.65))
    filled.save_part("bank", sample("bank", cable_ohm=0.03, diode_drop_v=0.8, temperature_c=5.0))
    made = machine_from(filled)
    assert (made.stator.slots, made.stator.poles) == (36, 48)
    assert made.found == Grouping(series=3, parallel=4, connection="delta")
    assert (made.coil.emf_v_per_rpm, made.coil.ohm, made.coil.henry) == (0.02, 0.5, 0.003)
    assert (made.coil.conductor, made.coil.magnet) == ("aluminium", "neodymium")
    assert (made.drive.head_m, made.drive.nozzle_mm, made.drive.efficiency) == (28.0, 16.0, 0.65)
    assert (made.bank.cells, made.bank.capacity_ah, made.bank.temperature_c) == (16, 200.0, 5.0)
    at_work = made.setting.conditions
    assert (at_work.drag_nm, at_work.diode_drop_v, at_work.cable_ohm) == (0.7, 0.8, 0.03)
    assert (made.setting.wire_diameter_mm, made.setting.wires_in_hand) == (0.9, 2)
    assert made.setting.device_max_volts == 64.0


def test_what_was_assumed_is_said_and_what_was_measured_is_not(filled):
    filled.save_part("coil", sample("coil", henry_assumed=True))
    filled.save_part("drive", sample("drive", drag_nm=0.7))
    said = machine_from(filled).assumed
    assert said[0] == "inductance of a coil" and "Runner efficiency [-]" in said and "Runaway ratio [-]" in said
    assert not [words for words in said if words.startswith(("EMF", "resistance of a coil", "Drag"))]
    assert said[-3:] == ("winding at 80 °C and magnets at 50 °C at work", "coldest magnets 0 °C",
                         "inner resistance of the bank")


@pytest.mark.parametrize("part, notebook", [
    ("stator", "01_know_your_stator"), ("coil", "02_spin_and_log"), ("drive", "03_what_turns_it"),
    ("bank", "04_choose_a_grouping"),
])
def test_a_missing_part_names_its_notebook(empty, part, notebook):
    for other in PARTS:
        if other != part:
            empty.save_part(other, sample(other))
    with pytest.raises(BadInput, match=exactly(f"job: the job mill has no {part} yet; all of stator, coil, drive and "
                                               f"bank are needed; fill it in in {notebook}.")):
        machine_from(empty)


def test_the_corners_are_the_ends_of_all_three_bands():
    made = corners(Estimate(value=0.02, plus_minus=0.001, unit="V/rpm", how="test"),
                   Estimate(value=0.5, plus_minus=0.1, unit="Ω", how="test"),
                   Estimate(value=0.003, plus_minus=0.002, unit="H", how="test"), "aluminium", "neodymium")
    got = {(round(c.emf_v_per_rpm, 9), round(c.ohm, 9), round(c.henry, 9)) for c in made}
    assert got == {(e, r, h) for e in (0.019, 0.021) for r in (0.4, 0.6) for h in (0.001, 0.005)}
    assert len(made) == 8 and {(c.conductor, c.magnet) for c in made} == {("aluminium", "neodymium")}


def test_a_band_that_reaches_0_is_cut_at_a_tenth_of_its_middle():
    sure = Estimate(value=1.0, plus_minus=0.0, unit="Ω", how="test")
    wide = Estimate(value=0.004, plus_minus=0.009, unit="H", how="test")
    assert {round(c.henry, 9) for c in corners(sure, sure, wide)} == {0.0004, 0.013}


def test_the_machine_of_a_job_has_the_corners_of_its_coil_part(filled):
    got = {round(c.henry, 9) for c in machine_from(filled).corners}
    assert got == {0.0029, 0.0031}  # 3 mH ± 0.1 mH in the sample


def test_a_complete_job_is_shown_itself(filled):
    shown = with_parts(filled, *PARTS)
    assert shown is filled and shown.notice == ""


def test_only_the_parts_that_are_asked_for_count(empty):
    empty.save_part("drive", sample("drive"))
    assert with_parts(empty, "drive") is empty
    assert with_parts(empty, "drive", "bank") is not empty


def test_an_empty_job_shows_the_example_and_says_which_pages_to_fill_in(empty):
    shown = with_parts(empty, *PARTS)
    assert shown.name == "spring_pipe" and shown.folder.parent == empty.folder.parent
    assert shown.notice == (
        "Your job mill has no stator and no coil and no drive and no bank yet, so this page shows the example: fill it "
        "in in 01_know_your_stator, 02_spin_and_log, 03_what_turns_it, 04_choose_a_grouping, then run the page again."
    )
    assert machine_from(shown).stator.slots == 36
    assert empty.notice == "" and empty.stator is None


def test_only_the_missing_pages_are_named(empty):
    empty.save_part("stator", sample("stator"))
    assert with_parts(empty, "stator", "coil").notice == (
        "Your job mill has no coil yet, so this page shows the example: fill it in in 02_spin_and_log, then run the "
        "page again."
    )


def test_without_the_example_the_refusal_names_the_jobs_that_are_there(tmp_path):
    lonely = Job.create("mill", tmp_path)
    with pytest.raises(BadInput, match="spring_pipe.*mill"):
        with_parts(lonely, "stator")
