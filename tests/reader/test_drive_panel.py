"""The panel of chapter 03: the fields of the drive chosen, any usual unit, one sentence for what cannot be."""

from math import pi, sqrt

import pytest

from decisions.job_samples import sample
from reader.pages import is_stale, press, refused, shown
from statorbook import example
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.job import Job
from statorbook.panels.drive import DrivePanel, describe_drive

JET = ("head_m", "nozzle_mm", "flow_l_s", "jets", "pitch_diameter_mm", "efficiency")
KNOWN = ("speed_rpm",)
BOTH = ("kind", "runaway_ratio", "drag_nm")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.fixture
def panel(job):
    return DrivePanel(job)


def type_in(panel, name, text):
    panel.form.fields[name].control.value = text


def visible(panel):
    return {name for name, field in panel.form.fields.items() if field.widget.layout.display != "none"}


def under(panel, name):
    return panel.form.fields[name].widget.children[1].value


def test_the_example_is_described_as_hand_algebra_has_it(panel):
    # V = 0.97 √(2 g H), Q = π/4 d² V, P = ρ g Q H, best bucket speed 0.46 V, runaway 1.8 times (values: WaterJet).
    jet = 0.97 * sqrt(2.0 * 9.80665 * 28.0)
    flow = pi / 4.0 * 0.014**2 * jet
    water, best = 1000.0 * 9.80665 * flow * 28.0, 60.0 * 0.46 * jet / (pi * 0.26)
    assert panel.sentence.startswith(
        f"{1000 * flow:.2f} L/s leave the nozzle at {jet:.1f} m/s with {water:.0f} W; the runner gives at most "
        f"{0.7 * water:.0f} W at {best:.0f} rpm and runs away to {1.8 * best:.0f} rpm. The jet is taken to hit")
    assert f"Runaway: with the load gone it turns at {1.8 * best:.0f} rpm. Guard the rotor" in shown(panel)[0]
    assert shown(panel)[1].count("<svg") == 1


def test_only_the_fields_of_the_kind_chosen_are_shown(panel):
    assert visible(panel) == {*BOTH, *JET}
    type_in(panel, "kind", "known speed")
    assert visible(panel) == {*BOTH, *KNOWN}
    type_in(panel, "kind", "water jet")
    assert visible(panel) == {*BOTH, *JET}


def test_an_empty_job_shows_what_belongs_to_every_drive_and_asks_for_the_kind(tmp_path):
    panel = DrivePanel(Job.create("mill", tmp_path))
    assert visible(panel) == set(BOTH)
    assert panel.sentence == "Choose the kind of drive first, then fill in what it asks for."
    assert panel.message.text == ""  # nothing was typed yet, so nothing is complained about


def test_a_field_that_must_be_mended_is_shown_whatever_the_kind(panel):
    type_in(panel, "head_m", "high")
    type_in(panel, "kind", "known speed")
    type_in(panel, "speed_rpm", "600")
    assert "head_m" in visible(panel) and refused(panel).endswith("look at Net head [m].")
    type_in(panel, "head_m", "28")
    assert visible(panel) == {*BOTH, *KNOWN}
    assert panel.sentence.startswith("It holds 600 rpm and would run away to 1080 rpm. The speed is taken as given")


def test_a_known_speed_has_a_picture_that_says_what_is_not_known(panel):
    type_in(panel, "kind", "known speed")
    type_in(panel, "speed_rpm", "600")
    assert shown(panel)[1].count("<svg") == 1 and not is_stale(panel)
    assert {text.get_text() for axes in panel._figure.axes for text in axes.texts if text.get_visible()} >= {
        "power and torque not known", "working 600 rpm", "runaway 1080 rpm"}


def test_pressure_is_understood_as_head(panel):
    type_in(panel, "head_m", "45 psi")
    # 1 psi is 6894.757 Pa (NIST SP 811): 45 psi over 1000 kg/m³ × 9.80665 m/s² is 31.64 m.
    head = 45.0 * 6894.757 / 9806.65
    assert panel.form.part().head_m == pytest.approx(head, rel=1e-5)
    assert f"at {0.97 * sqrt(2.0 * 9.80665 * head):.1f} m/s" in panel.sentence
    assert "= 31.64 m" in panel.form.fields["head_m"].widget.children[0].children[1].value


@pytest.mark.parametrize("name, text, words", [
    ("head_m", "0", "“0” was typed; a number above 0"),
    ("head_m", "-28", "“-28” was typed"),
    ("head_m", "", "a water jet needs it"),
    ("nozzle_mm", "14 V", "where length is wanted"),
    ("jets", "2.5", "a whole number from 1 to 6 is allowed; count the nozzles."),
    ("efficiency", "1.2", "at most 0.95"),
    ("pitch_diameter_mm", "wide", "is not a number"),
])
def test_bad_fields_are_named_and_the_last_picture_stays(panel, name, text, words):
    before = panel._answer
    type_in(panel, name, text)
    assert panel.form.fields[name].label in refused(panel)
    assert words in under(panel, name) and is_stale(panel) and panel._answer is before


def test_a_runner_far_too_big_for_the_jet_is_said_with_the_sizes_that_fit(panel):
    type_in(panel, "pitch_diameter_mm", "2000")
    # The library allows 5 to 60 jet diameters: 14 mm × 5 = 70 mm and × 60 = 840 mm.
    assert refused(panel).endswith("a 2000 mm runner with a 14 mm jet was given, 143 jet diameters across; this jet "
                                   "can turn a runner of 70 to 840 mm; change the runner or the nozzle.")
    assert is_stale(panel)


def test_nozzle_and_flow_together_are_refused_and_so_is_neither(panel):
    type_in(panel, "flow_l_s", "3.5")
    assert "both or neither of nozzle bore and flow were given; exactly one of the two is allowed" in refused(panel)
    type_in(panel, "nozzle_mm", "")
    assert panel.sentence.startswith("3.50 L/s leave the nozzle at 22.7 m/s")
    type_in(panel, "flow_l_s", "")
    assert "neither was given but a water jet needs one" in refused(panel)


def test_what_is_saved_is_what_was_typed(panel, job):
    type_in(panel, "head_m", "3 bar")
    type_in(panel, "jets", "2")
    type_in(panel, "efficiency", "0.6")
    press(panel.form, "Save the drive")
    kept = Job.open(job.name, job.folder.parent).drive
    # 3 bar is 300 kPa, 30.59 m of water.
    assert kept.head_m == pytest.approx(30.591, rel=1e-4) and (kept.jets, kept.efficiency) == (2, 0.6)
    assert set(kept.assumed) == {"runaway_ratio", "drag_nm"}
    assert panel.form.message.text == "Saved. Still assumed, not measured: Runaway ratio, Drag."


def test_what_is_refused_is_not_saved(panel, job):
    before = job.drive
    type_in(panel, "pitch_diameter_mm", "2000")
    press(panel.form, "Save the drive")
    assert "Not usable – " in panel.form.message.text and "change the runner or the nozzle" in panel.form.message.text
    assert job.drive == before


def test_a_known_speed_is_saved_with_its_runaway_ratio(panel, job):
    type_in(panel, "kind", "known speed")
    type_in(panel, "speed_rpm", "640 rpm")
    type_in(panel, "runaway_ratio", "2.5")
    press(panel.form, "Save the drive")
    assert job.drive.to_drive() == KnownSpeed(working_rpm=640.0, runaway_ratio=2.5)


def test_a_drive_in_words_ends_with_the_limits_of_its_model():
    for drive in (KnownSpeed(working_rpm=600.0), WaterJet(head_m=20.0, nozzle_mm=12.0, pitch_diameter_mm=200.0)):
        assert describe_drive(drive).endswith(drive.limits) and f"{drive.runaway_speed_rpm:.0f} rpm" in (
            describe_drive(drive))


def test_a_saved_drive_is_shown_again(job):
    job.save_part("drive", sample("drive", nozzle_mm=None, flow_l_s=2.5))
    panel = DrivePanel(job)
    assert panel.form.fields["flow_l_s"].control.value == "2.5" and panel.sentence.startswith("2.50 L/s leave")


@pytest.mark.parametrize("changed, typed, marked", [
    ("flow_l_s", "3", "nozzle_mm"), ("pitch_diameter_mm", "4000", "pitch_diameter_mm"),
])
def test_what_the_jet_refuses_is_marked_at_its_field(panel, changed, typed, marked):
    type_in(panel, changed, typed)
    assert [name for name, field in panel.form.fields.items() if "✗" in field._beside.value] == [marked]
