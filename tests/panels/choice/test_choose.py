"""The panel of chapter 04: its numbers are the library's, nothing is hidden, and what is written is what is shown."""

import re
from dataclasses import replace

import pytest

from samples.job_samples import sample, without_year
from samples.pages import cells, is_stale, refused, shown, unfolded
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.choice.comparison import Setting, compare
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.registry import BankPart, CoilPart, DrivePart
from statorbook.operation.speed_sweep import Conditions
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.winding.grouping import Grouping

wording = sentences_of("panels_choice")

_SENTENCE = re.compile(wording("(?P<lead>.*?)(?P<label>\\d+ in series, \\d+ paths?"))


@pytest.fixture(autouse=True, scope="module")
def at_once():
    """What a panel adds when its controls rest is added at once, also where a browser's test left an event loop."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("statorbook.widgets.frame.when_at_rest", lambda call: call())
        yield


@pytest.fixture
def own_job(tmp_path):
    """A job to write to."""
    return without_year(tmp_path)


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    """The example, only read."""
    return without_year(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="module")
def lasting_panel(job):
    return ChoosePanel(job)


@pytest.fixture
def panel(lasting_panel):
    """The panel of the example, to be moved but not written with; put back afterwards, as making one takes long."""
    controls = [
        lasting_panel.accepted,
        lasting_panel.grouping,
        lasting_panel.bank,
        lasting_panel.state,
        *lasting_panel.drive.sliders.values(),
        lasting_panel.copper,
        lasting_panel.magnet,
        lasting_panel.cold,
    ]
    before = [control.value for control in controls]
    yield lasting_panel
    if before != [control.value for control in controls]:
        with lasting_panel.together():
            for control, value in zip(controls, before, strict=True):
                control.value = value
            lasting_panel.moves["Back to the recommended one"].click()


def library(job, *, drive=None, bank=None, copper_c=80.0, magnet_c=50.0, cold_c=0.0, accepted=None, **drive_changes):
    """The comparison that the library makes of the job's parts, put together here without the panel's help."""
    facts, on = job.stator, job.bank
    setting = Setting(
        conditions=Conditions(
            copper_c=copper_c,
            magnet_c=magnet_c,
            drag_nm=job.drive.drag_nm,
            diode_drop_v=on.diode_drop_v,
            cable_ohm=on.cable_ohm,
        ),
        cold_c=cold_c,
        wire_diameter_mm=facts.wire_diameter_mm,
        device_max_volts=on.device_max_volts,
        accepted_dc_volts=accepted,
    )
    drive = replace(drive or job.drive.to_drive(), **drive_changes)
    return compare(facts.to_stator(), job.coil.to_coil(facts), drive, bank or on.to_bank(), setting)


def says(panel, row):
    """Check every number of the panel's sentence against a row of the library."""
    assert panel.message.text == "" and panel.message.last_fault == ""
    said = _SENTENCE.match(panel.sentence)
    assert said, panel.sentence
    assert said["label"] == row.grouping.label
    # Watts, amps and speed are rounded to their ±, at worst to tens.
    for name, exact, step in (
        ("watts", row.point.bank_watts, 10),
        ("amps", row.point.dc_amps, 0.1),
        ("speed", row.point.speed_rpm, 10),
        ("cut_in", row.cut_in_rpm, 1),
        ("line", row.runaway.line_volts_rms, 1),
        ("peak", row.runaway.dc_volts_peak, 1),
        ("most", row.most.dc_amps, 0.1),
    ):
        assert float(said[name]) == pytest.approx(exact, abs=0.51 * step), name
    assert said["danger"] == row.runaway.word and (said["guard"] or "") == row.runaway.guard
    if row.verdict not in ("chosen", "needs a guard"):
        assert said["lead"] == f"{row.verdict.capitalize()}: " and row.reason.lower() in said["rest"].lower()
    return True


def test_on_the_example_the_sentence_is_the_recommended_row_of_the_library(panel, job):
    found = library(job)
    assert says(panel, found.shown)
    # The device of the example stands 64 V, and nothing that charges 48 V stays within it.
    assert found.shown.verdict == "needs a guard" and found.chosen is None
    assert panel.sentence.startswith(wording("Nothing that charges stays within"))


@pytest.mark.outside(
    "paths of 36 slots with 48 poles",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="1, 2, 3, 4, 6 or 12, each in star and delta: 12",
    tolerance="exact",
    seen="from memory",
)
def test_the_table_has_every_legal_grouping_and_the_rejected_ones_stay(panel, job):
    table, found = panel.shown_answer.table, library(job)
    rows = [row for row in cells(shown(panel)[2]) if len(row) > 1]
    assert len(rows) == 12 and {row[0] for row in rows} == {row.grouping.label for row in found.rows}
    assert [row[1] for row in rows].count("rejected") == 1 and [row[1] for row in rows].count("needs a guard") == 1
    for line in rows:
        row = next(each for each in found.rows if each.grouping.label == line[0])
        named = dict(zip(table.columns, line, strict=True))
        assert float(named["half full, DC [A]"]) == pytest.approx(row.point.dc_amps, abs=0.051)
        assert float(named[wording("most amps, to size by")]) == pytest.approx(row.most.dc_amps, abs=0.051)
        watts = [float(each) for each in named["empty / half full / charging [W]"].split(" / ")]
        assert watts == pytest.approx([point.bank_watts for point in row.points], abs=0.51)
        volts = [float(each) for each in named["bank gone, run away [V DC peak / V AC line rms]"].split(" / ")]
        assert volts == pytest.approx([row.runaway.dc_volts_peak, row.runaway.line_volts_rms], abs=0.51)
        assert named["why"] == row.reason.replace("'", "&#x27;") and named["danger"] == row.runaway.word


def test_danger_and_why_stand_before_the_numbers(panel):
    assert panel.shown_answer.table.columns[:4] == ("grouping", "verdict", "danger", "why")


@pytest.mark.parametrize("accepted", [40.0, 100.0, 150.0, 600.0])
def test_the_accepted_volts_are_a_wall_in_table_and_picture(panel, job, accepted):
    panel.accepted.value = accepted
    found, table = library(job, accepted=accepted), panel.shown_answer.table
    inside = sum(row.verdict in ("chosen", "workable") for row in found.rows)
    peaks = table.columns.index("bank gone, run away [V DC peak / V AC line rms]")
    volts = [float(row[peaks].split(" / ")[0]) for row in table.rows if row[1] != "rejected"]
    assert all(value <= accepted + 0.5 for value in volts[:inside])
    assert all(value >= accepted - 0.5 for value in volts[inside:])
    above = [row for row in found.sound if row.runaway.dc_volts_peak > accepted]
    words = f"Below this line: above the {accepted:.0f} V DC that you accept with the bank gone"
    assert table.wall == ((inside, words) if above else ())
    assert (words in shown(panel)[2]) is bool(above)
    lines = {line.get_gid(): line for line in panel.curve.axes[0].lines}
    at = lines["wall"].get_xdata()[0]
    points = [u for level in range(5) for u in lines[f"danger {level}"].get_xdata()]
    # u falls as the volts rise, so what lies above the accepted volts lies left of the wall.
    beyond = [row for row in found.rows if row.runaway.dc_volts_peak > accepted]
    assert sum(u < at for u in points) == min(len(beyond), len(points))


@pytest.mark.outside(
    "end of extra-low voltage",
    source="IEC glossary, extra-low voltage, std.iec.ch/terms",
    number="120 V DC",
    tolerance="exact",
    seen="read",
)
def test_the_volts_are_asked_first_and_start_at_the_lower_of_device_and_extra_low_voltage(own_job):
    assert ChoosePanel(own_job).accepted.value == 64.0
    own_job.save_part("bank", own_job.bank.model_copy(update={"device_max_volts": None}))
    assert ChoosePanel(own_job).accepted.value == 120.0


@pytest.mark.parametrize("accepted", [60.0, 64.0, 120.0, 150.0])
def test_no_two_limits_are_drawn_at_the_same_volts(panel, accepted):
    unfolded(panel)
    panel.accepted.value = accepted
    lines = [line for line in panel.speeds.axes[1].lines if str(line.get_gid()).startswith("limit ")]
    heights = [line.get_ydata()[0] for line in lines if line.get_visible()]
    assert accepted in heights and len(heights) == len(set(heights))


def test_raising_the_volts_never_costs_watts_and_names_the_guard(panel, job):
    before = 0.0
    for accepted in (70.0, 90.0, 130.0, 160.0, 500.0):
        panel.accepted.value = accepted
        row = library(job, accepted=accepted).chosen
        assert says(panel, row) and panel.sentence.startswith("Chosen, with the most watts within")
        assert row.point.bank_watts >= 0.99 * before
        before = max(before, row.point.bank_watts)
        # The device stands 64 V: it is never given up without its guard in the same sentence.
        assert wording("acts by itself below 64") in panel.sentence.split(". ")[0]


def test_the_most_watts_without_limit_are_one_press_away(panel, job):
    panel.moves["Show the most watts, whatever the volts"].click()
    found = library(job)
    assert found.without_limit is not found.shown
    assert says(panel, found.without_limit)
    panel.moves["Back to the recommended one"].click()
    assert says(panel, found.shown)


def test_the_accepted_volts_are_written_with_the_grouping(own_job):
    panel = ChoosePanel(own_job)
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.bank.accepted_volts is None  # not said by the reader, so still an assumption
    panel.accepted.value = 150.0
    panel.buttons["Write this grouping to the job"].click()
    row = library(own_job, accepted=150.0).chosen
    assert own_job.bank.accepted_volts == 150.0
    kept = own_job.choice
    assert (kept.accepted_dc_volts, kept.guard) == (150.0, row.runaway.guard)
    assert kept.most_dc_amps == pytest.approx(row.most.dc_amps)
    assert ChoosePanel(own_job).accepted.value == 150.0


def test_the_plus_minus_stands_in_parts_and_what_would_turn_the_choice_over_is_said(panel):
    assert re.search(wording("± from the constants alone"), panel.sentence)
    assert re.search(wording("(No plausible step of anything"), panel.sentence)


def test_the_picked_row_is_marked_and_rejected_ones_are_quiet(panel):
    table = panel.shown_answer.table
    assert [row[1] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "chosen"] == ["needs a guard"]
    assert [row[1] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "quiet"] == ["rejected"]


def test_two_pictures_with_their_words_stand_on_the_page(panel):
    assert shown(panel)[1].count("<svg") == 1
    assert [picture.count("<svg") for picture in unfolded(panel).values()] == [1]
    # Hand algebra in the caution: DC peak is √2 times AC line rms; 60 V is no limit of the device, 64 V is.
    assert wording("A device that stands 64") in shown(panel)[0]
    assert "IEC 60364-4-41" in shown(panel)[0]


@pytest.mark.parametrize("moved", [{"nozzle_mm": 10.0}, {"head_m": 45.5}])
def test_moving_the_jet_changes_the_sentence_as_the_library_says(panel, job, moved):
    before = panel.sentence
    for name, value in moved.items():
        panel.drive.sliders[name].value = value
    assert panel.sentence != before and says(panel, library(job, **moved).shown)


@pytest.mark.parametrize(
    "control, value, option", [("copper", 30.0, "copper_c"), ("magnet", 20.0, "magnet_c"), ("cold", -25.0, "cold_c")]
)
def test_moving_the_temperatures_does_too(panel, job, control, value, option):
    before = panel.sentence
    getattr(panel, control).value = value
    assert panel.sentence != before and says(panel, library(job, **{option: value}).shown)


@pytest.mark.parametrize("volts, count", [(12, 4), (24, 8)])
def test_another_bank_does_too(panel, job, volts, count):
    panel.bank.value = next(value for label, value in panel.bank.options if label == f"{volts} V LiFePO4")
    bank = Bank(chemistry="LiFePO4", cells=count, capacity_ah=200.0, temperature_c=15.0)
    assert says(panel, library(job, bank=bank).shown)


@pytest.mark.parametrize("state, number", [("empty", 0), ("charging", 2)])
def test_the_state_of_the_bank_is_added_to_the_sentence(panel, job, state, number):
    panel.state.value = number
    row = library(job).shown
    at = row.points[number]
    assert says(panel, row)
    words = f" With the bank {state}: {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) at {at.speed_rpm:.0f} rpm."
    assert words in panel.sentence
    panel.state.value = 1
    assert "With the bank" not in panel.sentence.replace("With the bank gone", "")


@pytest.mark.parametrize("series, connection", [(12, "star"), (4, "delta"), (1, "delta")])
def test_a_grouping_picked_by_hand_is_the_one_described(panel, job, series, connection):
    wanted = Grouping(series=series, parallel=12 // series, connection=connection)
    panel.grouping.value = panel.grouping.stops.index(wanted.label)
    assert says(panel, library(job).find(wanted))
    table = panel.shown_answer.table
    assert [row[0] for row, mark in zip(table.rows, table.marks, strict=True) if mark == "chosen"] == [wanted.label]
    panel.moves["Back to the recommended one"].click()
    assert says(panel, library(job).shown)


def test_writing_keeps_the_choice_that_is_shown(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    panel.buttons["Write this grouping to the job"].click()
    kept, row = Job.open(job.name, job.folder.parent).choice, library(job).shown
    saved = f"Saved in the job spring_pipe: {row.grouping.label}."
    assert panel.message.text.endswith(f"{saved} But note that it needs {row.runaway.guard}.")
    assert kept.to_grouping() == row.grouping
    assert (kept.speed_rpm, kept.dc_amps, kept.dc_watts) == pytest.approx(
        (row.point.speed_rpm, row.point.dc_amps, row.point.bank_watts)
    )
    assert kept.bank_volts == pytest.approx(16 * 3.28)  # half full, common practice, no source, see bank_chemistry.csv
    assert (kept.runaway_line_volts_rms, kept.runaway_dc_volts_peak) == pytest.approx(
        (row.runaway.line_volts_rms, row.runaway.dc_volts_peak)
    )
    assert kept.hazard == f"{row.runaway.word} ({row.runaway.limit})" and kept.verdict == f"{row.verdict}: {row.reason}"
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
    assert wording("The job's drive and bank") in panel.message.text
    assert job.drive == drive.model_copy(update={"nozzle_mm": 11.0})
    assert job.bank == bank.model_copy(update={"nominal_volts": None, "cells": 8})
    # The page run again from the job says the same as the panel that wrote it.
    assert says(ChoosePanel(job), library(job).shown)
    assert job.choice.dc_watts == pytest.approx(library(job).shown.point.bank_watts)


def test_sliders_moved_back_after_writing_are_written_again(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    drive = job.drive
    for nozzle in (11.0, 14.0):
        panel.drive.sliders["nozzle_mm"].value = nozzle
        panel.buttons["Write this grouping to the job"].click()
        assert wording("The job's drive now holds") in panel.message.text
        assert job.drive.nozzle_mm == nozzle
    assert job.drive == drive


def test_a_job_changed_elsewhere_is_not_mixed_with_what_the_panel_shows(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    lead = BankPart(nominal_volts=24.0, chemistry="AGM", capacity_ah=300.0)
    Job.open(job.name, job.folder.parent).save_part("bank", lead)
    panel.buttons["Write this grouping to the job"].click()
    assert panel.message.text == wording("Not usable – job spring_pipe")
    assert job.bank == lead and job.choice is None


def test_a_drive_that_cannot_turn_it_is_a_sentence(own_job):
    own_job.save_part("drive", own_job.drive.model_copy(update={"drag_nm": 50.0}))
    panel = ChoosePanel(own_job)
    assert panel.message.text == "" and panel.message.last_fault == ""
    assert panel.sentence.startswith("Rejected: ") and wording("into the half-full bank at") in panel.sentence
    assert wording("The drive cannot turn it") in panel.sentence
    assert shown(panel)[1].count("<svg") == 1 and "<svg" in "".join(unfolded(panel).values())
    assert {row[1] for row in cells(shown(panel)[2])} == {"rejected"}


def test_a_jet_too_thin_for_the_runner_is_refused_and_the_last_picture_stays(panel):
    before = panel.shown_answer
    panel.drive.sliders["nozzle_mm"].value = 2.0
    # 260 mm over 2 mm is 130 jet diameters; the library allows 5 to 60.
    assert refused(panel) == wording("runner and jet: a 260")
    assert is_stale(panel) and panel.shown_answer is before
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
    assert says(panel, library(own_job, drive=KnownSpeed(working_rpm=500.0)).shown)
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.drive.speed_rpm == 500.0 and own_job.drive.kind == "known speed"


@pytest.mark.outside(
    "bore of a jet from its flow and head",
    source="Torricelli's law and continuity: Q = π/4 d² 0.97 √(2 g H)",
    number="14.0 mm for 3.5 L/s and 28 m",
    tolerance="0.01 mm",
    seen="derived",
)
def test_a_jet_given_by_its_flow_shows_its_bore(own_job):
    own_job.save_part("drive", sample("drive", nozzle_mm=None, flow_l_s=3.5))
    panel = ChoosePanel(own_job)
    assert panel.drive.sliders["nozzle_mm"].value == pytest.approx(14.0, abs=0.01)
    assert says(panel, library(own_job).shown)
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.drive.flow_l_s == 3.5 and own_job.drive.nozzle_mm is None


@pytest.mark.parametrize(
    "part, slider, value",
    [
        (DrivePart(kind="known speed", speed_rpm=12.0), "working_rpm", 12.0),
        (DrivePart(kind="water jet", head_m=0.6, nozzle_mm=14.0, pitch_diameter_mm=260.0), "head_m", 0.6),
        (DrivePart(kind="water jet", head_m=28.0, nozzle_mm=1.5, pitch_diameter_mm=60.0), "nozzle_mm", 1.5),
        (DrivePart(kind="water jet", head_m=200.0, nozzle_mm=50.0, pitch_diameter_mm=900.0), "head_m", 200.0),
    ],
)
def test_a_drive_outside_the_usual_range_is_shown_as_it_is(own_job, part, slider, value):
    own_job.save_part("drive", part)
    assert ChoosePanel(own_job).drive.sliders[slider].value == value


@pytest.mark.outside(
    "least temperature at which a LiFePO4 bank is charged",
    source="common practice, no source",
    number="0 °C",
    tolerance="none",
    seen="from memory",
)
def test_a_bank_too_cold_to_charge_is_a_caution(own_job):
    own_job.save_part("bank", own_job.bank.model_copy(update={"temperature_c": -3.0}))
    assert wording("A LiFePO4 bank must not") in shown(ChoosePanel(own_job))[0]


def test_third_harmonic_caution_stands_at_deltas_of_12_10_and_nowhere_at_36_48(own_job):
    job, panel = own_job, ChoosePanel(own_job)
    words = "third-harmonic volts there would heat the coils"
    assert words not in shown(panel)[2]
    job.save_part("stator", sample("stator", slots=12, poles=10))
    job.save_part("coil", sample("coil", emf_v_per_rpm=0.08))
    rows = [row for row in cells(shown(ChoosePanel(job))[2]) if row[1] != "rejected"]
    assert {words in row[3] for row in rows if row[0].endswith("delta")} == {True}
    assert {words in row[3] for row in rows if row[0].endswith("star")} == {False}


def test_a_job_that_is_not_complete_says_where_to_go_on(tmp_path):
    with pytest.raises(BadInput, match=wording("^job: the job mill has")):
        ChoosePanel(Job.create("mill", tmp_path))


def test_every_control_says_its_unit(panel):
    sliders = (panel.accepted, *panel.drive.sliders.values(), panel.copper, panel.magnet, panel.cold)
    units = {slider.description.rsplit(" ", 1)[-1] for slider in sliders}
    assert units == {"[V]", "[m]", "[mm]", "[°C]"}


def test_an_assumed_inductance_is_said_with_its_range(tmp_path):
    job = without_year(tmp_path)
    wide = {"henry_plus_minus": job.coil.henry / 2, "henry_assumed": True}
    job.save_part("coil", CoilPart(**{**job.coil.model_dump(), **wide}))
    sentence = ChoosePanel(job).sentence
    assert wording("Assumed, not measured: inductance of") in sentence
    band = re.search(r"it may give (\d+) to (\d+) W, so measure before you cut", sentence)
    lowest, highest = map(float, band.groups())
    best = float(_SENTENCE.match(sentence)["watts"])
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
    ring = next(line for line in panel.curve.axes[0].lines if line.get_gid() == "picked")
    watts = float(_SENTENCE.match(panel.sentence)["watts"])
    assert ring.get_ydata()[0] == pytest.approx(watts, rel=0.01)


@pytest.mark.outside(
    "amps that a LiFePO4 bank usually takes",
    source="common practice, no source",
    number="0.5 times its Ah",
    tolerance="as printed",
    seen="from memory",
)
def test_more_amps_than_the_bank_takes_are_cautioned(own_job):
    assert "the bank's" not in shown(ChoosePanel(own_job))[0]
    own_job.save_part("bank", BankPart(**{**own_job.bank.model_dump(), "capacity_ah": 5.0}))
    # The most amps into 5 Ah are several times as many.
    panel = ChoosePanel(own_job)
    amps = float(_SENTENCE.match(panel.sentence)["most"])
    words = f"{amps:.1f} A is {amps / 5:.2g} times the bank's 5 Ah; a LiFePO4 bank usually takes 0.5"
    assert words in shown(panel)[0].replace("&#x27;", "'")


def test_a_panel_that_shows_the_example_in_place_of_ones_own_job_writes_nothing(own_job):
    own_job.notice = wording("Your job mill_two has no")
    panel = ChoosePanel(own_job)
    assert panel.sentence.startswith("Job spring_pipe, not your own: ")
    panel.buttons["Write this grouping to the job"].click()
    assert own_job.choice is None and wording("this panel shows the job") in panel.message.text
