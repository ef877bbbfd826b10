"""A job's parts put together, and the example in place of what is missing or out of date."""

import pytest

from samples.job_samples import sample
from sentences import exactly, sentences_of
from statorbook.assembly.machine import machine_from, stale_words, with_parts
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job import job as job_module
from statorbook.job.job import Job
from statorbook.job.parts.fields import facts_of
from statorbook.job.parts.registry import DrivePart
from statorbook.job.parts.results import facts_worked_out_for
from statorbook.winding.grouping import Grouping

wording = sentences_of("assembly")

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
    filled.save_part(
        "stator",
        sample(
            "stator",
            found_parallel=4,
            found_connection="delta",
            wires_in_hand=2,
            conductor="aluminium",
            magnet="neodymium",
        ),
    )
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


def test_a_save_while_the_parts_are_read_makes_no_machine_of_old_and_new_parts(filled, monkeypatch):
    parse, saved = job_module.parse_document, []

    def parse_then_save(*given):
        found = parse(*given)
        if not saved:  # another window saves, right after this one has read for the first time
            saved.append("stator and coil")
            other = Job.open("mill", filled.folder.parent)
            other.save_part("stator", sample("stator", found_parallel=4))
            other.save_part("coil", sample("coil", ohm=0.7))
        return found

    monkeypatch.setattr(job_module, "parse_document", parse_then_save)
    before, after = machine_from(filled), machine_from(filled)
    assert (before.found.parallel, before.coil.ohm) == (1, 0.5)
    assert (after.found.parallel, after.coil.ohm) == (4, 0.7)


def test_what_was_assumed_is_said_and_what_was_measured_is_not(filled):
    filled.save_part("coil", sample("coil", henry_assumed=True))
    filled.save_part("drive", sample("drive", drag_nm=0.7))
    said = machine_from(filled).assumed
    assert said[0] == "inductance of a coil" and "Runner efficiency [-]" in said and "Runaway ratio [-]" in said
    assert not [words for words in said if words.startswith(("EMF", "resistance of a coil", "Drag"))]
    assert said[-4:] == (
        wording("winding at 80 °C and"),
        "coldest magnets 0 °C",
        "inner resistance of the bank",
        wording("64 V DC accepted with"),
    )


@pytest.mark.parametrize(
    "part, words, step",
    [
        ("stator", "stator facts", "fill them in on page 01_know_your_stator"),
        ("coil", "coil constants", "fill them in on page 02_spin_and_log"),
        ("drive", "drive", "fill it in on page 03_what_turns_it"),
        ("bank", "bank", "fill it in on page 04_choose_a_grouping"),
    ],
)
def test_a_missing_part_names_its_notebook(empty, part, words, step):
    for other in PARTS:
        if other != part:
            empty.save_part(other, sample(other))
    with pytest.raises(
        BadInput,
        match=exactly(
            f"job: the job mill has no {words} yet; all of stator facts, coil "
            f"constants, drive and bank are needed; {step}."
        ),
    ):
        machine_from(empty)


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
    assert shown.notice == wording("Your job mill has no stator")
    assert machine_from(shown).stator.slots == 36
    assert empty.notice == "" and empty.stator is None


def test_only_the_missing_pages_are_named(empty):
    empty.save_part("stator", sample("stator"))
    assert with_parts(empty, "stator", "coil").notice == wording("Your job mill has no coil")


def test_without_the_example_the_refusal_names_the_jobs_that_are_there(tmp_path):
    lonely = Job.create("mill", tmp_path)
    with pytest.raises(BadInput, match="spring_pipe.*mill"):
        with_parts(lonely, "stator")


def with_constants_for(job, **facts):
    """Coil constants as the panel writes them: for the stator facts given."""
    job.save_part("coil", sample("coil", **facts_worked_out_for(sample("stator", **facts))))
    return job


STALE = (
    "the coil constants in the job mill were worked out for 12 in series, 1 path, star, but the stator facts now "
    "say 4 in series, 3 paths, delta"
)
PRESS = "press “Write these constants to the job” on page 02_spin_and_log"


def test_constants_of_the_facts_as_they_stand_are_used(filled):
    with_constants_for(filled)
    assert stale_words(filled) == "" and with_parts(filled, *PARTS) is filled
    assert machine_from(filled).found == Grouping(series=12, parallel=1)


def test_constants_of_an_older_job_that_kept_no_facts_are_used(filled):
    filled.save_part("stator", sample("stator", found_parallel=3))
    assert filled.coil.for_slots is None and stale_words(filled) == ""
    assert machine_from(filled).found.parallel == 3


def test_nothing_is_out_of_date_in_an_empty_job(empty):
    assert stale_words(empty) == ""


def test_constants_of_another_wiring_are_refused(filled):
    with_constants_for(filled).save_part("stator", sample("stator", found_parallel=3, found_connection="delta"))
    whole = f"job: {STALE}; constants worked out for the stator facts as they stand are needed; {PRESS}."
    assert stale_words(filled) == whole
    with pytest.raises(BadInput, match=exactly(whole)):
        machine_from(filled)


@pytest.mark.parametrize(
    "change, then, now",
    [
        (dict(poles=42), "36 slots with 48 poles", "36 slots with 42 poles"),
        (dict(conductor="aluminium"), "copper and ferrite", "aluminium and ferrite"),
        (dict(magnet="neodymium"), "copper and ferrite", "copper and neodymium"),
        (
            dict(slots=27, poles=30),
            "36 slots with 48 poles, 12 in series, 1 path, star",
            "27 slots with 30 poles, 9 in series, 1 path, star",
        ),
    ],
)
def test_every_fact_that_the_constants_hang_on_counts(filled, change, then, now):
    with_constants_for(filled).save_part("stator", sample("stator", **change))
    assert f"were worked out for {then}, but the stator facts now say {now};" in stale_words(filled)


def test_a_fact_that_the_constants_do_not_hang_on_does_not_count(filled):
    with_constants_for(filled).save_part("stator", sample("stator", notes="another", wire_diameter_mm=None))
    assert stale_words(filled) == "" and machine_from(filled).setting.wire_diameter_mm is None


def test_constants_out_of_date_show_the_example_and_say_why(filled):
    with_constants_for(filled).save_part("stator", sample("stator", found_parallel=3, found_connection="delta"))
    shown = with_parts(filled, "stator", "coil")
    assert shown.name == "spring_pipe" and machine_from(shown).stator.slots == 36
    assert shown.notice == (f"T{STALE[1:]}, so this page shows the example: {PRESS}, then press “Run the page” again.")
    assert with_parts(filled, "stator") is filled and with_parts(filled, "coil") is filled


def test_constants_out_of_date_and_a_missing_part_are_said_together(empty):
    empty.save_part("stator", sample("stator", found_parallel=3, found_connection="delta"))
    with_constants_for(empty)
    assert with_parts(empty, "stator", "coil", "drive").notice == (
        f"Your job mill has no drive yet, and {STALE}, so this page shows the example: fill it in on page "
        f"03_what_turns_it, and {PRESS}, then press “Run the page” again."
    )


def test_what_was_assumed_of_the_stator_is_said_too(filled):
    filled.save_part("stator", sample("stator", assumed=("found_parallel", "magnet")))
    said = machine_from(filled).assumed
    assert "Parallel paths as found [count]" in said and "Magnets" in said


@pytest.mark.outside(
    "third harmonic that coils of 36 slots with 48 poles link",
    source="exact: pitch factor sin(3π 24/36)",
    number="0",
    tolerance="0.05",
    seen="derived",
)
def test_an_open_corner_that_looks_like_something_else_leaves_a_doubt(filled):
    stator = filled.stator.to_stator()
    assert machine_from(filled).doubt == "" and stator.third_harmonic_factor < 0.05
    # Half of a phase's volts at that speed.
    volts = 0.5 * filled.stator.to_found_grouping().series * filled.coil.emf_v_per_rpm * 100
    corner = {"open_corner_volts_rms": volts, "open_corner_rpm": 100.0}
    filled.save_part("stator", sample("stator", **corner))
    assert wording("look for a phase that") in machine_from(filled).doubt


def test_a_wind_job_assumes_nothing_that_only_other_drives_use(filled):
    # As the form of page 03 saves it: every default nobody touched is named, of whatever kind.
    named = [facts.name for facts in facts_of(DrivePart) if facts.assumed_default]
    wind = sample("drive", kind="wind rotor", rotor_diameter_m=2.2, wind_m_s=5.2, assumed=named)
    filled.save_part("drive", wind)
    said = " ".join(machine_from(filled).assumed)
    assert all(words in said for words in ("Power coefficient", "Strongest gust of wind", "Drag"))
    assert not [
        words
        for words in (
            "Runner efficiency",
            "Cadence",
            "Chain efficiency",
            "Droop",
            "Belt efficiency",
            "Overspeed ratio",
            "Runaway ratio",
        )
        if words in said
    ]
