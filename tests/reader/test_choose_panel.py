"""The panel of chapter 04: its numbers are the library's, nothing is hidden, and what is written is what is shown."""

import re
from dataclasses import replace

import pytest

from decisions.job_samples import sample
from reader.pages import cells, is_stale, refused, shown
from statorbook import example
from statorbook.bank import Bank
from statorbook.comparison import Setting, compare
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.grouping import Grouping
from statorbook.job import Job
from statorbook.job_parts import BankPart, CoilPart, DrivePart
from statorbook.panels.choose import ChoosePanel
from statorbook.sweep import Conditions

_SENTENCE = re.compile(
    r"(?P<verdict>Chosen|Workable|Rejected)\. (?P<label>.+?): (?P<watts>\d+) W \((?P<amps>[\d.]+) A\) into the half-"
    r"full bank at (?P<speed>\d+) rpm(?:, which takes (?P<shaft>\d+) W from whatever turns it)?, "
    r"charging from (?P<cut_in>\d+) rpm; with the bank gone it can run away to "
    r"(?P<line>\d+) V AC line rms, (?P<peak>\d+) V DC peak: (?P<danger>[^.]+)\. (?P<rest>.*)")


@pytest.fixture
def own_job(tmp_path):
    """A job to write to."""
    return example.write(tmp_path)


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    """The example, only read."""
    return example.write(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="module")
def lasting_panel(job):
    return ChoosePanel(job)


@pytest.fixture
def panel(lasting_panel):
    """The panel of the example, to be moved but not written with; put back afterwards, as making one takes long."""
    controls = [lasting_panel.series, lasting_panel.connection, lasting_panel.bank, lasting_panel.state,
                *lasting_panel.drive.sliders.values(), lasting_panel.copper, lasting_panel.cold]
    before = [control.value for control in controls]
    yield lasting_panel
    if before != [control.value for control in controls]:
        with lasting_panel.together():
            for control, value in zip(controls, before, strict=True):
                control.value = value


def library(job, *, drive=None, bank=None, copper_c=80.0, cold_c=0.0, **drive_changes):
    """The comparison that the library makes of the job's parts, put together here without the panel's help."""
    facts, on = job.stator, job.bank
    setting = Setting(
        conditions=Conditions(copper_c=copper_c, drag_nm=job.drive.drag_nm, diode_drop_v=on.diode_drop_v,
                              cable_ohm=on.cable_ohm),
        cold_c=cold_c, wire_diameter_mm=facts.wire_diameter_mm, device_max_volts=on.device_max_volts)
    drive = replace(drive or job.drive.to_drive(), **drive_changes)
    return compare(facts.to_stator(), job.coil.to_coil(facts), drive, bank or on.to_bank(), setting)


def says(panel, row):
    """Check every number of the panel's sentence against a row of the library."""
    assert panel.message.text == "" and panel.message.last_fault == ""
    said = _SENTENCE.match(panel.sentence)
    assert said, panel.sentence
    assert (said["verdict"].lower(), said["label"]) == (row.verdict, row.grouping.label)
    for name, exact, step in (("watts", row.point.bank_watts, 1), ("amps", row.point.dc_amps, 0.1),
                              ("speed", row.point.speed_rpm, 1), ("cut_in", row.cut_in_rpm, 1),
                              ("line", row.runaway.line_volts_rms, 1), ("peak", row.runaway.dc_volts_peak, 1)):
        assert float(said[name]) == pytest.approx(exact, abs=0.51 * step), name
    assert said["danger"] == row.runaway.word
    assert said["rest"].lower().startswith(row.reason.lower())
    return True


def test_on_the_example_the_sentence_is_the_chosen_row_of_the_library(panel, job):
    assert says(panel, library(job).chosen)


def test_the_table_has_every_legal_grouping_and_the_rejected_ones_stay(panel, job):
    rows, table = cells(shown(panel)[2]), panel._answer.table
    found = library(job)
    # 36 slots, 48 poles: 1, 2, 3, 4, 6 or 12 paths, each in star and in delta.
    assert len(rows) == 12 and [row[0] for row in rows] == [row.grouping.label for row in found.rows]
    assert [row[1] for row in rows].count("rejected") == 1 and [row[1] for row in rows].count("chosen") == 1
    for line, row in zip(rows, found.rows, strict=True):
        named = dict(zip(table.columns, line, strict=True))
        assert float(named["DC [A]"]) == pytest.approx(row.point.dc_amps, abs=0.051)
        watts = [float(each) for each in named["empty / half full / charging [W]"].split(" / ")]
        assert watts == pytest.approx([point.bank_watts for point in row.points], abs=0.51)
        volts = [float(each) for each in named["runaway [V AC line rms / V DC peak]"].split(" / ")]
        assert volts == pytest.approx([row.runaway.line_volts_rms, row.runaway.dc_volts_peak], abs=0.51)
        assert named["why"] == row.reason.replace("'", "&#x27;") and named["danger"] == row.runaway.word


def test_the_picked_row_is_marked_and_rejected_ones_are_quiet(panel):
    table = panel._answer.table
    assert [row[1] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "chosen"] == ["chosen"]
    assert [row[1] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "quiet"] == ["rejected"]


def test_two_pictures_with_their_words_stand_on_the_page(panel):
    assert shown(panel)[1].count("<svg") == 2
    # Hand algebra in the caution: DC peak is √2 times AC line rms; 60 V is no limit of the device, 64 V is.
    assert "A device that stands 64 V would be destroyed" in shown(panel)[0]
    assert "IEC 60364-4-41" in shown(panel)[0]


@pytest.mark.parametrize("moved", [{"nozzle_mm": 10.0}, {"head_m": 45.5}])
def test_moving_the_jet_changes_the_sentence_as_the_library_says(panel, job, moved):
    before = panel.sentence
    for name, value in moved.items():
        panel.drive.sliders[name].value = value
    assert panel.sentence != before and says(panel, library(job, **moved).chosen)


@pytest.mark.parametrize("control, value, option", [("copper", 30.0, "copper_c"), ("cold", -25.0, "cold_c")])
def test_moving_the_temperatures_does_too(panel, job, control, value, option):
    before = panel.sentence
    getattr(panel, control).value = value
    assert panel.sentence != before and says(panel, library(job, **{option: value}).chosen)


@pytest.mark.parametrize("volts, count", [(12, 4), (24, 8)])
def test_another_bank_does_too(panel, job, volts, count):
    panel.bank.value = next(value for label, value in panel.bank.options if label == f"{volts} V LiFePO4")
    bank = Bank(chemistry="LiFePO4", cells=count, capacity_ah=200.0, temperature_c=15.0)
    assert says(panel, library(job, bank=bank).chosen)


@pytest.mark.parametrize("state, number", [("empty", 0), ("charging", 2)])
def test_the_state_of_the_bank_is_added_to_the_sentence(panel, job, state, number):
    panel.state.value = number
    row = library(job).chosen
    at = row.points[number]
    assert says(panel, row)
    assert panel.sentence.endswith(
        f" With the bank {state}: {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) at {at.speed_rpm:.0f} rpm.")
    panel.state.value = 1
    assert "With the bank" not in panel.sentence


@pytest.mark.parametrize("series, connection", [(12, "star"), (4, "delta"), (1, "delta")])
def test_a_grouping_picked_by_hand_is_the_one_described(panel, job, series, connection):
    assert panel.connection.disabled
    panel.series.value, panel.connection.value = series, connection
    assert not panel.connection.disabled
    wanted = Grouping(series=series, parallel=12 // series, connection=connection)
    assert says(panel, library(job).find(wanted))
    table = panel._answer.table
    assert [row[0] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "chosen"] == [wanted.label]
    panel.series.value = "best"
    assert panel.connection.disabled and says(panel, library(job).chosen)


def test_the_list_offers_only_legal_counts(panel):
    # 36 slots, 48 poles: a phase of 12 coils splits into 1, 2, 3, 4, 6 or 12 equal paths.
    assert [value for _, value in panel.series.options] == ["best", 1, 2, 3, 4, 6, 12]


def test_writing_keeps_the_choice_that_is_shown(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    panel.buttons["Write this grouping to the job"].click()
    kept, row = Job.open(job.name, job.folder.parent).choice, library(job).chosen
    assert panel.message.text == f"Saved in the job spring_pipe: {row.grouping.label}."
    assert kept.to_grouping() == row.grouping
    assert (kept.speed_rpm, kept.dc_amps, kept.dc_watts) == pytest.approx(
        (row.point.speed_rpm, row.point.dc_amps, row.point.bank_watts))
    assert kept.bank_volts == pytest.approx(16 * 3.28)  # half full, trade handling guideline, see bank_chemistry.csv
    assert (kept.runaway_line_volts_rms, kept.runaway_dc_volts_peak) == pytest.approx(
        (row.runaway.line_volts_rms, row.runaway.dc_volts_peak))
    assert kept.hazard == f"{row.runaway.word} ({row.runaway.limit})" and kept.verdict == f"chosen: {row.reason}"
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", kept.date)


def test_writing_without_a_move_leaves_drive_and_bank_as_they_were(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    drive, bank = job.drive, job.bank
    panel.buttons["Write this grouping to the job"].click()
    assert job.drive == drive and job.bank == bank


def test_writing_with_moved_sliders_writes_drive_and_bank_too_and_says_so(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    drive, bank = job.drive, job.bank
    panel.drive.sliders["nozzle_mm"].value = 11.0
    panel.bank.value = panel.bank.options[2][1]
    panel.buttons["Write this grouping to the job"].click()
    assert panel.message.text.endswith("The job's drive and bank now hold what the sliders show.")
    assert job.drive == drive.model_copy(update={"nozzle_mm": 11.0})
    assert job.bank == bank.model_copy(update={"nominal_volts": None, "cells": 8})
    # The page run again from the job says the same as the panel that wrote it.
    assert says(ChoosePanel(job), library(job).chosen)
    assert job.choice.dc_watts == pytest.approx(library(job).chosen.point.bank_watts)


def test_sliders_moved_back_after_writing_are_written_again(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    drive = job.drive
    for nozzle in (11.0, 14.0):
        panel.drive.sliders["nozzle_mm"].value = nozzle
        panel.buttons["Write this grouping to the job"].click()
        assert panel.message.text.endswith("The job's drive now holds what the sliders show.")
        assert job.drive.nozzle_mm == nozzle
    assert job.drive == drive


def test_a_job_changed_elsewhere_is_not_mixed_with_what_the_panel_shows(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    lead = BankPart(nominal_volts=24.0, chemistry="AGM", capacity_ah=300.0)
    Job.open(job.name, job.folder.parent).save_part("bank", lead)
    panel.buttons["Write this grouping to the job"].click()
    assert panel.message.text == (
        "Not usable – job spring_pipe: the job's bank changed since this panel was made; a grouping is written for the "
        "job as it is now; press “Run the page”, then write the grouping.")
    assert job.bank == lead and job.choice is None


def test_a_drive_that_cannot_turn_it_is_a_sentence(own_job):
    own_job.save_part("drive", own_job.drive.model_copy(update={"drag_nm": 50.0}))
    panel = ChoosePanel(own_job)
    assert panel.message.text == "" and panel.message.last_fault == ""
    assert panel.sentence.startswith("Rejected. ") and "0 W (0.0 A) into the half-full bank at 0 rpm" in panel.sentence
    assert "The drive cannot turn it against its drag." in panel.sentence
    assert shown(panel)[1].count("<svg") == 2
    assert {row[1] for row in cells(shown(panel)[2])} == {"rejected"}


def test_a_jet_too_thin_for_the_runner_is_refused_and_the_last_picture_stays(panel):
    before = panel._answer
    panel.drive.sliders["nozzle_mm"].value = 2.0
    # 260 mm over 2 mm is 130 jet diameters; the library allows 5 to 60.
    assert refused(panel) == ("runner and jet: a 260 mm runner with a 2 mm jet was given, 130 jet diameters across; "
                              "this jet can turn a runner of 10 to 120 mm; change the runner or the nozzle.")
    assert is_stale(panel) and panel._answer is before
    panel.drive.sliders["nozzle_mm"].value = 14.0
    assert panel.message.text == "" and not is_stale(panel)


def test_what_is_refused_cannot_be_written(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    panel.drive.sliders["nozzle_mm"].value = 2.0
    panel.buttons["Write this grouping to the job"].click()
    assert panel.message.text.startswith("Not usable – runner and jet:")
    assert job.choice is None and job.drive.nozzle_mm == 14.0


def test_a_known_speed_has_one_slider(own_job):
    own_job.save_part("drive", DrivePart(kind="known speed", speed_rpm=700.0))
    panel = ChoosePanel(own_job)
    assert list(panel.drive.sliders) == ["working_rpm"]
    assert panel.drive.sliders["working_rpm"].description == "Working speed [rpm]"
    panel.drive.sliders["working_rpm"].value = 500.0
    assert says(panel, library(own_job, drive=KnownSpeed(working_rpm=500.0)).chosen)
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.drive.speed_rpm == 500.0 and own_job.drive.kind == "known speed"


def test_a_jet_given_by_its_flow_shows_its_bore(own_job):
    own_job.save_part("drive", sample("drive", nozzle_mm=None, flow_l_s=3.5))
    panel = ChoosePanel(own_job)
    # Hand algebra: 3.5 L/s at 0.97 √(2 × 9.80665 × 28) m/s is a bore of 14.0 mm.
    assert panel.drive.sliders["nozzle_mm"].value == pytest.approx(14.0, abs=0.01)
    assert says(panel, library(own_job).chosen)
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.drive.flow_l_s == 3.5 and own_job.drive.nozzle_mm is None


@pytest.mark.parametrize("part, slider, value", [
    (DrivePart(kind="known speed", speed_rpm=12.0), "working_rpm", 12.0),
    (DrivePart(kind="water jet", head_m=0.6, nozzle_mm=14.0, pitch_diameter_mm=260.0), "head_m", 0.6),
    (DrivePart(kind="water jet", head_m=28.0, nozzle_mm=1.5, pitch_diameter_mm=60.0), "nozzle_mm", 1.5),
    (DrivePart(kind="water jet", head_m=200.0, nozzle_mm=50.0, pitch_diameter_mm=900.0), "head_m", 200.0),
])
def test_a_drive_outside_the_usual_range_is_shown_as_it_is(own_job, part, slider, value):
    own_job.save_part("drive", part)
    assert ChoosePanel(own_job).drive.sliders[slider].value == value


def test_a_bank_too_cold_to_charge_is_a_caution(own_job):
    own_job.save_part("bank", own_job.bank.model_copy(update={"temperature_c": -3.0}))
    # Trade handling guideline 2024: LiFePO4 is not charged below 0 °C.
    assert "A LiFePO4 bank must not be charged at -3 °C (allowed: 0 to 45 °C)" in shown(ChoosePanel(own_job))[0]


def test_third_harmonic_caution_stands_at_deltas_of_12_10_and_nowhere_at_36_48(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    words = "third-harmonic volts there would heat the coils"
    assert words not in shown(panel)[2]
    job.save_part("stator", sample("stator", slots=12, poles=10))
    job.save_part("coil", sample("coil", emf_v_per_rpm=0.08))
    rows = [row for row in cells(shown(ChoosePanel(job))[2]) if row[1] != "rejected"]
    assert {words in row[-1] for row in rows if row[0].endswith("delta")} == {True}
    assert {words in row[-1] for row in rows if row[0].endswith("star")} == {False}


def test_a_job_that_is_not_complete_says_where_to_go_on(tmp_path):
    with pytest.raises(BadInput, match="^job: the job mill has no stator facts yet; .* on page 01_know_your_stator"):
        ChoosePanel(Job.create("mill", tmp_path))


def test_every_control_says_its_unit(panel):
    sliders = (*panel.drive.sliders.values(), panel.copper, panel.cold)
    units = {slider.description.rsplit(" ", 1)[-1] for slider in sliders}
    assert units == {"[m]", "[mm]", "[°C]"}


def test_an_assumed_inductance_is_said_with_its_range(tmp_path):
    job = example.write(tmp_path)
    wide = {"henry_plus_minus": job.coil.henry / 2, "henry_assumed": True}
    job.save_part("coil", CoilPart(**{**job.coil.model_dump(), **wide}))
    sentence = ChoosePanel(job).sentence
    assert "Assumed, not measured: inductance of a coil; within that band it may give" in sentence
    band = re.search(r"it may give (\d+) to (\d+) W, so measure before you cut", sentence)
    lowest, highest = map(float, band.groups())
    best = float(re.search(r": (\d+) W \(", sentence).group(1))
    assert lowest < best < highest


@pytest.mark.parametrize("head_m, nozzle_mm", [(31.638, 9.525), (28.0, 14.0), (0.7, 1.3)])
def test_a_measured_value_lies_on_a_step_of_its_slider(own_job, head_m, nozzle_mm):
    # The page moves a handle to the nearest step from the left end; a value between two steps would be saved rounded.
    own_job.save_part("drive", sample("drive", head_m=head_m, nozzle_mm=nozzle_mm, pitch_diameter_mm=20 * nozzle_mm))
    for slider in ChoosePanel(own_job).drive.sliders.values():
        steps = (slider.value - slider.min) / slider.step
        assert steps == pytest.approx(round(steps), abs=1e-9) and slider.min > 0.0


def test_the_ring_stands_at_the_watts_of_the_sentence(own_job):
    panel = ChoosePanel(own_job)
    ring = next(line for line in panel._curve.axes[0].lines if line.get_gid() == "picked")
    watts = float(_SENTENCE.match(panel.sentence)["watts"])
    assert ring.get_ydata()[0] == pytest.approx(watts, rel=0.01)


def test_more_amps_than_the_bank_takes_are_cautioned(own_job):
    assert "the bank's" not in shown(ChoosePanel(own_job))[0]
    own_job.save_part("bank", BankPart(**{**own_job.bank.model_dump(), "capacity_ah": 5.0}))
    # Some 10 A into 5 Ah is about 2 times; 0.5 is usual for LiFePO4 (common practice, no source).
    panel = ChoosePanel(own_job)
    amps = float(_SENTENCE.match(panel.sentence)["amps"])
    words = f"{amps:.1f} A is {amps / 5:.2g} times the bank's 5 Ah; a LiFePO4 bank usually takes 0.5"
    assert words in shown(panel)[0].replace("&#x27;", "'")


def test_a_panel_that_shows_the_example_in_place_of_ones_own_job_writes_nothing(own_job):
    own_job.notice = "Your job mill_two has no bank yet, so this page shows the example."
    panel = ChoosePanel(own_job)
    assert panel.sentence.startswith("Job spring_pipe, not your own: ")
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.choice is None and "this panel shows the job spring_pipe, not your own" in panel.message.text
