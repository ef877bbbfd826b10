"""How far the chapters of a job have come, and what puts one out of date."""

import pytest

from samples.job_samples import sample, spin_rows
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.converter import STEP_DOWN
from statorbook.job.parts.dump import DumpPart
from statorbook.job.parts.fuse import FusePart
from statorbook.job.parts.rectifier import RectifierPart
from statorbook.job.parts.registry import PARTS
from statorbook.job.parts.year.kind import YearKind
from statorbook.job.parts.year.part import YEAR_KINDS
from statorbook.job.progress import (
    chapter_states,
    counted_states,
    inputs_fingerprint,
    planned_for,
    programmed_for,
    protected_for,
)

wording = sentences_of("job")


@pytest.fixture
def filled(tmp_path):
    job = Job.create("mill", tmp_path)
    for part in ("stator", "coil", "drive", "bank"):
        job.save_part(part, sample(part))
    return job


def state_of(job, chapter, **parts):
    """The state of a chapter, were some parts others, or not there when None."""
    made = {name: part for name, part in (job.parts | parts).items() if part is not None}
    return chapter_states(job.folder, made)[chapter]


def test_a_job_without_anything_says_what_each_chapter_lacks(tmp_path):
    states = Job.create("mill", tmp_path).states()
    assert states.pop("00_start_here") == "done"
    lacks = {chapter: state.removeprefix("empty: still missing ") for chapter, state in states.items()}
    assert lacks == {
        "01_know_your_stator": "the stator facts, the winding ohms",
        "02_spin_and_log": wording("the volts at known speed, the"),
        "03_what_turns_it": "the drive",
        "04_choose_a_grouping": "the bank, the chosen grouping",
        "04b_add_up_the_year": wording("the source over the year; the"),
        "05_cut_and_join": "the chosen grouping, the plan",
        "06_protect_it": wording("the place, the cable, the"),
        "07_charge_and_dump": "the dump loads, the program",
        "08_first_run": "the run log, the service",
    }
    # A chapter that none needs counts once it is begun.
    assert len(counted_states(states)) == len(states) - 1
    assert len(counted_states(states | {"04b_add_up_the_year": "started: still missing a log"})) == len(states)


def test_ohms_and_henries_that_were_measured_elsewhere_need_no_log(filled):
    ohms, henries = sample("coil", ohm_assumed=True), sample("coil", henry_assumed=True)
    assert state_of(filled, "01_know_your_stator") == "done"
    assert state_of(filled, "01_know_your_stator", coil=ohms) == "started: still missing the winding ohms"
    assert state_of(filled, "01_know_your_stator", coil=None) == "started: still missing the winding ohms"
    two = "02_spin_and_log"
    assert state_of(filled, two) == wording("started: still missing the volts at known")
    assert state_of(filled, two, coil=henries) == wording("started: still missing the volts at known speed, the")
    filled.save_log("spin", spin_rows())
    assert state_of(filled, two) == "done"
    assert state_of(filled, two, coil=henries) == "started: still missing the shorted-lead amps"


def test_a_plan_is_held_against_wiring_and_choice_where_both_are_known(filled):
    filled.save_part("choice", sample("choice"))
    kept = planned_for(filled.parts)
    for mark, state in (
        ("", "done"),
        (kept, "done"),
        ("36/48 0 to nothing", wording("out of date: the wiring as found")),
    ):
        assert state_of(filled, "05_cut_and_join", plan=sample("plan", planned_for=mark)) == state
    plan = sample("plan", planned_for="36/48 0 to nothing")
    assert state_of(filled, "05_cut_and_join", plan=plan, stator=None) == "done"
    assert state_of(filled, "05_cut_and_join", plan=plan, choice=None) == "started: still missing the chosen grouping"


def test_a_damaged_log_is_work_begun(filled):
    filled.save_log("run", [])
    (filled.folder / "run.csv").write_bytes(b"\xff\xfe not a log")
    assert filled.states()["08_first_run"].startswith("started: ")
    assert "missing" not in filled.states()["08_first_run"]


def test_chapter_02_is_not_done_once_the_stator_facts_changed(tmp_path):
    job = example.write(tmp_path)
    assert job.states()["02_spin_and_log"] == "done"
    job.save_part("stator", job.stator.model_copy(update={"found_parallel": 2}))
    assert job.states()["02_spin_and_log"] == wording("out of date: the stator facts changed")


def chosen(job):
    """A choice as chapter 04 writes it: with the marks of the parts it was worked out for."""
    job.save_part("choice", sample("choice", worked_out_for=inputs_fingerprint(job)))
    return job


@pytest.mark.parametrize(
    "changes, words",
    [
        (dict(bank=dict(cable_ohm=0.05)), "bank"),
        (dict(drive=dict(head_m=12.0)), "drive"),
        (dict(coil=dict(ohm=0.7)), "coil constants"),
        (dict(stator=dict(wire_diameter_mm=1.2)), "stator facts"),
        (dict(bank=dict(capacity_ah=90.0), drive=dict(jets=2)), "drive and the bank"),
    ],
)
def test_chapter_04_is_not_done_once_what_the_choice_hangs_on_changed(filled, changes, words):
    assert chosen(filled).states()["04_choose_a_grouping"] == "done"
    for part, fields in changes.items():
        filled.save_part(part, sample(part, **fields))
    assert filled.states()["04_choose_a_grouping"] == f"out of date: the {words} changed since the grouping was chosen"


def test_remarks_and_dates_do_not_put_a_choice_out_of_date(filled):
    chosen(filled).save_part("stator", sample("stator", notes="another", insulation_megohm=5.0))
    filled.save_part("coil", sample("coil", date="2026-06-01", henry_how="again"))
    assert Job.open("mill", filled.folder.parent).states()["04_choose_a_grouping"] == "done"


def test_a_choice_without_marks_counts_as_up_to_date(filled):
    filled.save_part("choice", sample("choice"))
    filled.save_part("bank", sample("bank", cable_ohm=0.05))
    assert filled.states()["04_choose_a_grouping"] == "done"


def test_the_year_belongs_to_what_a_choice_was_worked_out_for(filled, monkeypatch):
    class ByLog(YearKind):
        def log(self, given):
            return "water_months"

    older = inputs_fingerprint(filled)
    monkeypatch.setitem(YEAR_KINDS, "water jet", ByLog())
    # A year that nobody began leaves the marks of an older job as they are.
    assert inputs_fingerprint(filled) == older and "year=" not in older
    assert chosen(filled).states()["04_choose_a_grouping"] == "done"
    row = blank_row("water_months")
    for flow, states in (("3.0", wording("the year changed since")), ("2.5", wording("the year changed since"))):
        filled.save_log("water_months", [row | {"month": "January", "flow_l_s": flow}])
        assert filled.states()["04_choose_a_grouping"] == states
        assert chosen(filled).states()["04_choose_a_grouping"] == "done"


def test_page_06_is_done_once_place_cable_rectifier_and_fuse_are_filled_in(filled):
    for part, left in (("site", "the cable, the"), ("cable", "the rectifier, the"), ("rectifier", "the fuse")):
        filled.save_part(part, sample(part))
        assert filled.states()["06_protect_it"].startswith(f"started: still missing {left}")
    filled.save_part("fuse", sample("fuse"))
    assert filled.states()["06_protect_it"] == "done"


def test_a_rectifier_that_is_saved_without_its_label_is_still_missing(filled):
    for part in ("site", "cable", "fuse"):
        filled.save_part(part, sample(part))
    filled.save_part("rectifier", RectifierPart(enclosure="in a closed box"))
    assert filled.states()["06_protect_it"].startswith("started: still missing the rectifier")


@pytest.mark.parametrize(
    "part, fields, words",
    [
        ("choice", dict(series=4), "chosen grouping"),
        ("drive", dict(head_m=12.0), "drive"),
        ("bank", dict(capacity_ah=90.0), "bank"),
        ("fuse", dict(amps=25.0), "fuse"),
    ],
)
def test_page_06_is_out_of_date_once_what_its_list_was_worked_out_for_changed(filled, part, fields, words):
    for name in ("choice", "site", "cable", "rectifier", "fuse"):
        filled.save_part(name, sample(name))
    filled.save_part("protection", sample("protection", worked_out_for=protected_for(filled.parts)))
    # What it was promised to do changes no part.
    filled.save_part("choice", sample("choice", date="2026-06-01", dc_watts=600.0))
    assert filled.states()["06_protect_it"] == "done"
    filled.save_part(part, sample(part, **fields))
    assert filled.states()["06_protect_it"] == f"out of date: the {words} changed since the list was saved"


def test_a_choice_notices_colder_air_and_nothing_else_of_the_place(filled):
    chosen(filled).save_part("site", sample("site", place="wet outdoors", hottest_c=35.0))
    assert filled.states()["04_choose_a_grouping"] == "done"
    filled.save_part("site", sample("site", coldest_c=-20.0))
    assert filled.states()["04_choose_a_grouping"] == wording("the coldest air changed")
    chosen(filled).save_part("site", sample("site", coldest_c=-20.0, place="wet outdoors", hottest_c=35.0))
    assert filled.states()["04_choose_a_grouping"] == "done"


def test_a_list_of_parts_notices_all_of_the_place():
    kept = protected_for({"site": sample("site")})
    for field, value in (("place", "wet outdoors"), ("hottest_c", 45.0), ("coldest_c", -20.0)):
        assert protected_for({"site": sample("site", **{field: value})}) != kept


def test_a_program_notices_each_part_and_log_that_it_is_written_for(filled):
    kept = programmed_for(filled.folder, filled.parts)
    filled.save_part("choice", sample("choice", date="2026-06-01"))
    assert programmed_for(filled.folder, filled.parts) != kept  # it was not chosen before
    kept = programmed_for(filled.folder, filled.parts)
    filled.save_part("choice", sample("choice", dc_watts=600.0))  # what it was promised to do changes no program
    filled.save_part("cable", sample("cable"))
    assert programmed_for(filled.folder, filled.parts) == kept
    seen = {kept}
    for name, changes in (("bank", {"capacity_ah": 90.0}), ("drive", {"head_m": 12.0}), ("choice", {"series": 4})):
        filled.save_part(name, sample(name, **changes))
        seen.add(programmed_for(filled.folder, filled.parts))
    for log, cell in (("control_rules", {"rule": "first"}), ("control_relays", {"relay": "1"})):
        filled.read_log(log)
        filled.save_log(log, [blank_row(log) | cell])
        seen.add(programmed_for(filled.folder, filled.parts))
    assert len(seen) == 6


def test_rules_that_cannot_be_read_mark_no_program(filled):
    kept = programmed_for(filled.folder, filled.parts)
    (filled.folder / "control_rules.csv").write_bytes(b"\xff\xfe not a log")
    assert programmed_for(filled.folder, filled.parts) == kept


@pytest.mark.parametrize(
    "name, changes",
    [
        ("site", {"coldest_c": -20.0}),
        ("heat", {"copper_c": 101.5}),
        ("heat", {"magnet_c": 51.5}),
        ("converter", dict(between=STEP_DOWN, window_low_volts=60, window_high_volts=120, survives_volts=150)),
    ],
)
def test_a_part_saved_as_it_is_assumed_leaves_a_choice_as_it_was(filled, name, changes):
    kept = inputs_fingerprint(filled)
    filled.save_part(name, PARTS[name]())
    assert inputs_fingerprint(filled) == kept
    filled.save_part(name, PARTS[name](**changes))
    assert inputs_fingerprint(filled) != kept


def test_a_fuse_without_amps_leaves_a_list_of_parts_as_it_was():
    kept = protected_for({})
    assert protected_for({"fuse": FusePart()}) == kept
    for only in ({"amps": 40.0}, {"switch_amps": 63.0}):
        assert protected_for({"fuse": FusePart(**only)}) != kept


def programmed(job):
    """A program as page 07 saves it: with the marks of all that it was worked out for."""
    for name in ("choice", "dump"):
        job.save_part(name, sample(name))
    job.save_log("control_rules", [blank_row("control_rules") | {"rule": "dump_1", "on_at": "56.8"}])
    job.save_part("program", sample("program", worked_out_for=programmed_for(job.folder, job.parts)))
    return job


def test_page_07_is_done_once_dump_loads_are_typed_and_the_program_is_saved(filled):
    assert filled.states()["07_charge_and_dump"] == wording("empty: still missing the dump")
    filled.save_part("dump", DumpPart())  # a form that is saved as it is assumed names no load
    assert filled.states()["07_charge_and_dump"].startswith("empty:")
    filled.save_part("dump", sample("dump"))
    assert filled.states()["07_charge_and_dump"] == "started: still missing the program"
    assert programmed(filled).states()["07_charge_and_dump"] == "done"


@pytest.mark.parametrize(
    "part, fields, words",
    [
        ("choice", dict(series=4), "chosen grouping"),
        ("drive", dict(head_m=12.0), "drive"),
        ("bank", dict(capacity_ah=90.0), "bank"),
        ("dump", dict(dump_1_ohm=5.0), "dump loads"),
        ("set_points", dict(), "set-points"),
    ],
)
def test_page_07_is_out_of_date_once_what_its_program_was_worked_out_for_changed(filled, part, fields, words):
    programmed(filled)
    # What it was promised to do, and when, changes no rule.
    filled.save_part("choice", sample("choice", date="2026-06-01", dc_watts=600.0))
    assert filled.states()["07_charge_and_dump"] == "done"
    filled.save_part(part, sample(part, **fields))
    assert filled.states()["07_charge_and_dump"] == f"out of date: the {words} changed since the program was saved"


@pytest.mark.parametrize("log, words", [("control_rules", "rules"), ("control_relays", "relays")])
def test_a_program_notices_a_rule_and_a_relay(filled, log, words):
    programmed(filled).save_log(log, [blank_row(log) | {"output": "dump_2"}])
    assert filled.states()["07_charge_and_dump"] == f"out of date: the {words} changed since the program was saved"
    # An appliance of the house changes no rule.
    filled.save_part("program", sample("program", worked_out_for=programmed_for(filled.folder, filled.parts)))
    filled.save_log("house_loads", [blank_row("house_loads") | {"appliance": "kettle"}])
    assert filled.states()["07_charge_and_dump"] == "done"
