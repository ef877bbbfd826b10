"""The panel of chapter 03: the fields of the drive chosen, any usual unit, one sentence for what cannot be."""

from html import unescape
from math import pi, sqrt

import pytest

from samples.job_samples import sample
from samples.pages import is_stale, press, refused, shown, unfolded
from sentences import sentences_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.drive.drive import BUCKET, NOZZLE, DrivePanel
from statorbook.panels.drive.drive_words import describe_drive

wording = sentences_of("panels_drive")

JET = (
    "head_from",
    "head_m",
    "nozzle_mm",
    "largest_nozzle_mm",
    "flow_l_s",
    "bucket_l",
    "bucket_s",
    "jets",
    "pitch_diameter_mm",
    "bucket_width_mm",
    "efficiency",
    "runaway_ratio",
)
KNOWN = ("speed_rpm", "runaway_ratio")
BOTH = ("kind", "drag_nm", "drag_nm_per_1000rpm", "start_nm")


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
    return panel.form.fields[name].help.value


@pytest.mark.outside(
    "jet, flow, power and speeds of 28 m on a nozzle of 14 mm",
    source="Torricelli's law and continuity: V = 0.97 √(2 g H), Q = π/4 d² V, P = ρ g Q H",
    number="22.7 m/s, 3.5 L/s, 961 W at the nozzle",
    tolerance="as printed",
    seen="derived",
)
@pytest.mark.outside(
    "width and number of buckets",
    source="handbooks of hydraulics",
    number="3 jets of 14 mm wide, 15 + 260 / 28",
    tolerance="as printed",
    seen="from memory",
)
def test_the_example_is_described_as_hand_algebra_has_it(panel):
    # Best bucket speed 0.46 V, runaway 1.8 times (values: WaterJet).
    jet = 0.97 * sqrt(2.0 * 9.80665 * 28.0)
    flow = pi / 4.0 * 0.014**2 * jet
    water, best = 1000.0 * 9.80665 * flow * 28.0, 60.0 * 0.46 * jet / (pi * 0.26)
    assert panel.sentence.startswith(
        f"{1000 * flow:.3g} L/s leave the nozzle at {jet:.1f} m/s with {water:.0f} W; the runner gives at most "
        f"{0.7 * water:.0f} W at {best:.0f} rpm and runs away to {1.8 * best:.0f} rpm. This jet needs about "
    )
    assert wording("about 24 buckets at least") in panel.sentence and "The jet is assumed to hit" in panel.sentence
    assert f"Runaway: with the load gone it turns at up to {1.8 * best:.0f} rpm. Guard the rotor" in shown(panel)[0]
    assert shown(panel)[1].count("<svg") == 1
    assert {name: picture.count("<svg") for name, picture in unfolded(panel).items()} == {BUCKET: 1}


def test_only_the_fields_of_the_kind_chosen_are_shown(panel):
    assert visible(panel) == {*BOTH, *JET}
    type_in(panel, "kind", "known speed")
    assert visible(panel) == {*BOTH, *KNOWN}
    type_in(panel, "kind", "water jet")
    assert visible(panel) == {*BOTH, *JET}


def test_an_empty_job_shows_what_belongs_to_every_drive_and_asks_for_the_kind(tmp_path):
    panel = DrivePanel(Job.create("mill", tmp_path))
    assert visible(panel) == {"kind"}
    assert panel.sentence == wording("Choose the kind of drive")
    assert panel.message.text == ""  # nothing was typed yet, so nothing is complained about


def test_a_field_that_must_be_mended_is_shown_whatever_the_kind(panel):
    type_in(panel, "head_m", "high")
    type_in(panel, "kind", "known speed")
    type_in(panel, "speed_rpm", "600")
    assert "head_m" in visible(panel) and refused(panel).endswith("look at Net head [m].")
    type_in(panel, "head_m", "28")
    assert visible(panel) == {*BOTH, *KNOWN}
    assert panel.sentence.startswith(wording("It holds 600 rpm and"))


def test_a_known_speed_has_a_picture_that_says_what_is_not_known(panel):
    type_in(panel, "kind", "known speed")
    type_in(panel, "speed_rpm", "600")
    assert shown(panel)[1].count("<svg") == 1 and not is_stale(panel)
    assert {text.get_text() for axes in panel.curves.axes for text in axes.texts if text.get_visible()} >= {
        "power and torque not known",
        "working 600 rpm",
        "runaway 1080 rpm",
    }


@pytest.mark.outside(
    "metres of water typed in psi",
    source="NIST SP 811, appendix B.8; over 9806.65 N/m³",
    number="52 psi hold 36.56 m",
    tolerance="1e-5",
    seen="from memory",
)
def test_pressure_is_understood_as_head(panel):
    type_in(panel, "head_m", "52 psi")
    head = 52.0 * 6894.757 / 9806.65
    assert panel.form.part().head_m == pytest.approx(head, rel=1e-5)
    assert f"at {round(0.97 * sqrt(2.0 * 9.80665 * head), 1):g} m/s" in panel.sentence
    assert "= 36.56 m" in panel.form.fields["head_m"].beside.value


@pytest.mark.parametrize(
    "name, text, words",
    [
        ("head_m", "0", wording("“0” was typed; a number above 0")),
        ("head_m", "-28", "“-28” was typed"),
        ("head_m", "", "a water jet needs it"),
        ("nozzle_mm", "14 V", "where length is wanted"),
        ("jets", "2.5", wording("a whole number from 1")),
        ("efficiency", "1.2", "at most 0.95"),
        ("pitch_diameter_mm", "wide", "is not a number"),
    ],
)
def test_bad_fields_are_named_and_the_last_picture_stays(panel, name, text, words):
    before = panel.shown_answer
    type_in(panel, name, text)
    assert panel.form.fields[name].label in refused(panel)
    assert words in under(panel, name) and is_stale(panel) and panel.shown_answer is before


def test_a_runner_far_too_big_for_the_jet_is_said_with_the_sizes_that_fit(panel):
    type_in(panel, "pitch_diameter_mm", "2000")
    # The library allows 5 to 60 jet diameters: 14 mm × 5 = 70 mm and × 60 = 840 mm.
    assert refused(panel).endswith(wording("a 2000 mm runner with"))
    assert is_stale(panel)


def test_nozzle_and_flow_together_are_refused_and_so_is_neither(panel):
    type_in(panel, "flow_l_s", "3.5")
    assert wording("both or neither of nozzle") in refused(panel)
    type_in(panel, "nozzle_mm", "")
    assert panel.sentence.startswith(wording("3.5 L/s leave the nozzle"))
    type_in(panel, "flow_l_s", "")
    assert wording("neither was given but a") in refused(panel)


def test_what_is_saved_is_what_was_typed(panel, job):
    type_in(panel, "head_m", "3 bar")
    type_in(panel, "jets", "2")
    type_in(panel, "efficiency", "0.6")
    press(panel.form, "Save the drive")
    kept = Job.open(job.name, job.folder.parent).drive
    # 3 bar is 300 kPa, 30.59 m of water.
    assert kept.head_m == pytest.approx(30.591, rel=1e-4) and (kept.jets, kept.efficiency) == (2, 0.6)
    assert set(kept.assumed) == {"runaway_ratio", "drag_nm"}
    assert panel.form.message.text == wording("Saved. Still assumed, not measured")


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
            describe_drive(drive)
        )


def test_a_saved_drive_is_shown_again(job):
    job.save_part("drive", sample("drive", nozzle_mm=None, flow_l_s=2.5))
    panel = DrivePanel(job)
    assert panel.form.fields["flow_l_s"].control.value == "2.5" and panel.sentence.startswith("2.5 L/s leave")


@pytest.mark.parametrize(
    "changed, typed, marked", [("flow_l_s", "3", "nozzle_mm"), ("pitch_diameter_mm", "4000", "pitch_diameter_mm")]
)
def test_what_the_jet_refuses_is_marked_at_its_field(panel, changed, typed, marked):
    type_in(panel, changed, typed)
    assert [name for name, field in panel.form.fields.items() if "✗" in field.beside.value] == [marked]


# --- every kind, and the reader's units -------------------------------------------------------------------------------

DRAG = ("drag_nm", "drag_nm_per_1000rpm", "start_nm")
KINDS = {
    "wind rotor": ({"rotor_diameter_m": "2.2", "wind_m_s": "6"}, "wind_m_s", "A wind of 6 m/s at the hub"),
    "pedals": ({"ride_hours": "1", "gear_ratio": "6.5"}, "cadence_rpm", "The rider gives 100 W"),
    "engine": (
        {"rated_watts": "1 hp", "engine_rpm": "3000", "pulley_ratio": "0.25"},
        "droop",
        "At full load the engine gives 746 W",
    ),
}


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_asks_for_its_own_and_answers(panel, job, kind):
    typed, own, words = KINDS[kind]
    type_in(panel, "kind", kind)
    assert {*DRAG, own} <= visible(panel) and not {"head_m", "nozzle_mm", "jets", "runaway_ratio"} & visible(panel)
    for name, text in typed.items():
        type_in(panel, name, text)
    assert words in panel.sentence and not is_stale(panel) and shown(panel)[1].count("<svg") == 1
    press(panel.form, "Save the drive")
    kept = Job.open(job.name, job.folder.parent).drive
    assert kept.kind == kind and kept.to_drive().best_speed_rpm > 0 and "efficiency" not in kept.as_saved()


@pytest.mark.parametrize(
    "kind, name, text, words",
    [
        ("wind rotor", "wind_m_s", "-3", wording("“-3” was typed; a number")),
        ("wind rotor", "power_coefficient", "0.7", "at most 0.59"),
        ("pedals", "gear_ratio", "0", wording("“0” was typed; a number above 0 and")),
        ("pedals", "rider_watts", "150", "both or neither of the rider's watts and the hours were given"),
        ("engine", "engine_pulley_mm", "80", "both or neither of the pulley ratio and the two pulleys were given"),
    ],
)
def test_nonsense_is_named_at_its_field(panel, kind, name, text, words):
    type_in(panel, "kind", kind)
    for field, value in KINDS[kind][0].items():
        type_in(panel, field, value)
    if words.startswith("both") and kind == "engine":
        type_in(panel, "generator_pulley_mm", "320")
    type_in(panel, name, text)
    assert is_stale(panel) and any(words in unescape(under(panel, name)) for name in panel.form.fields)


def piped(panel):
    type_in(panel, "head_from", "drop and pipe")
    for name, text in {
        "gross_head_m": "30",
        "pipe_length_m": "120",
        "pipe_bore_mm": "50",
        "pipe_material": "polyethylene",
        "pipe_bends": "3",
    }.items():
        type_in(panel, name, text)


def test_drop_and_pipe_show_the_nozzle_that_gives_most(panel):
    piped(panel)
    assert "head_m" not in visible(panel) and "pipe_bore_mm" in visible(panel)
    assert "The pipe takes" in panel.sentence and wording("Most power comes from a") in panel.sentence
    assert list(unfolded(panel)) == [NOZZLE, BUCKET] and "Shut the valve slowly" in shown(panel)[0]


def test_a_running_gauge_above_the_static_one_is_refused(panel):
    type_in(panel, "head_from", "gauge shut and running")
    type_in(panel, "gross_head_m", "20 m")
    assert is_stale(panel) and "20" in refused(panel) and "28" in refused(panel)
    type_in(panel, "gross_head_m", "33 m")
    assert not is_stale(panel)


def test_flow_beyond_what_the_head_can_push_is_refused(panel):
    piped(panel)
    type_in(panel, "nozzle_mm", "")
    type_in(panel, "flow_l_s", "40")
    assert is_stale(panel) and "even without a nozzle" in refused(panel)


def test_a_jet_wider_than_the_bucket_is_refused(panel):
    type_in(panel, "bucket_width_mm", "12")
    assert is_stale(panel) and "12 mm" in refused(panel) and "14 mm" in refused(panel)


@pytest.mark.outside(
    "flow of a bucket typed in US gallons",
    source="NIST SP 811, appendix B.8",
    number="5 gal of 3.785412 L in 6 s",
    tolerance="1e-5",
    seen="from memory",
)
def test_a_timed_bucket_stands_for_the_flow(panel):
    type_in(panel, "nozzle_mm", "")
    type_in(panel, "bucket_l", "5 gal")
    assert wording("only one of the bucket") in refused(panel)
    type_in(panel, "bucket_s", "6")
    assert panel.form.part().to_drive().total_flow_l_s == pytest.approx(5 * 3.785412 / 6, rel=1e-5)


@pytest.mark.outside(
    "head and bore shown to a US reader, and typed",
    source="NIST SP 811, appendix B.8",
    number="28 m is 91.86 ft, 14.2875 mm 9/16 in, 100 ft 30.48 m",
    tolerance="as printed; 1e-9",
    seen="from memory",
)
def test_us_units_show_everything_anew_and_are_remembered_in_the_job(panel, job):
    type_in(panel, "nozzle_mm", "9/16 in")
    panel.units.control.value = "US"
    fields = panel.form.fields
    assert fields["head_m"].label == "Net head [ft]" and fields["head_m"].control.value == "91.86"
    assert float(fields["nozzle_mm"].control.value) == pytest.approx(0.5625, rel=1e-3)
    assert "gpm leave the nozzle at" in panel.sentence and "ft/s" in panel.sentence
    assert panel.form.part().head_m == 28.0 and panel.form.part().nozzle_mm == pytest.approx(14.2875, rel=1e-12)
    type_in(panel, "head_m", "100")
    assert panel.form.part().head_m == pytest.approx(30.48, rel=1e-9)
    assert "assumed, not measured" in fields["efficiency"].beside.value
    again = DrivePanel(Job.open(job.name, job.folder.parent))
    assert again.units.system == "US" and again.form.fields["head_m"].label == "Net head [ft]"


def test_a_limit_is_said_in_the_units_shown(panel):
    panel.units.control.value = "US"
    type_in(panel, "head_m", "4000")
    # 1000 m is 3280.84 ft.
    assert "at most 3280.8" in under(panel, "head_m") and "ft is allowed" in under(panel, "head_m")


def test_what_cannot_be_read_stays_as_typed_when_the_units_change(panel):
    type_in(panel, "head_m", "high up")
    panel.units.control.value = "US"
    assert panel.form.fields["head_m"].control.value == "high up" and is_stale(panel)


def test_a_belt_that_runs_too_fast_on_a_large_pulley_is_cautioned(panel):
    type_in(panel, "kind", "engine")
    for name, text in {
        "rated_watts": "2000",
        "engine_rpm": "3600",
        "engine_pulley_mm": "100",
        "generator_pulley_mm": "400",
    }.items():
        type_in(panel, name, text)
    # π 0.1 m × 3600 × 1.05 × 1.2 / 60 s = 23.8 m/s, below 30 m/s; three times the pulley is 71 m/s.
    assert "The belt would run" not in shown(panel)[0]
    type_in(panel, "engine_pulley_mm", "300")
    assert wording("The belt would run at") in shown(panel)[0] and "a pulley can burst" in shown(panel)[0]


@pytest.mark.parametrize(
    "typed, words",
    [
        ({}, wording("Also assumed: pull that starts it, twice the drag too")),
        ({"start_nm": "1"}, ""),
        ({"kind": "pedals", "ride_hours": "2", "gear_ratio": "6"}, "rider's watts, from the hours of a healthy adult"),
    ],
)
def test_what_is_assumed_without_a_field_is_said(panel, typed, words):
    for name, text in typed.items():
        type_in(panel, name, text)
    assert (words in panel.sentence) if words else ("Also assumed" not in panel.sentence)


def test_the_pipes_material_is_chosen_from_a_list(panel):
    type_in(panel, "head_from", "drop and pipe")
    control = panel.form.fields["pipe_material"].control
    assert control.options[0] == ("(not known)", None) and ("rusty steel", "rusty steel") in control.options
    for name, text in {"gross_head_m": "30", "pipe_length_m": "120", "pipe_bore_mm": "50"}.items():
        type_in(panel, name, text)
    words = wording("Pipe material: nothing was given")
    assert words in under(panel, "pipe_material")


# --- what holds a wind rotor ------------------------------------------------------------------------------------------


def windy(panel, **typed):
    for name, text in ({"kind": "wind rotor", "rotor_diameter_m": "2.4", "wind_m_s": "5.2"} | typed).items():
        type_in(panel, name, text)
    return shown(panel)[0]


@pytest.mark.outside(
    "free tip speed ratio over the best one",
    source="Heier, Grid Integration of Wind Energy, the curve's zero over its top",
    number="13.4 / 8.1: tips at 397 m/s for 6 and a gust of 40 m/s",
    tolerance="as printed",
    seen="from memory",
)
def test_a_rotor_that_nothing_holds_is_asked_for_its_guard(panel):
    caution = windy(panel)
    assert {"furls_from_m_s", "brake_from_rpm"} <= visible(panel) and "pedal" not in panel.sentence
    assert wording("Fill in “Furls from a") in caution
    assert "tips at 397 m/s" in caution and "blades burst long before" in caution
    assert wording("One wind speed is not") in panel.sentence


def test_furling_tells_the_runaway_with_it_and_without(panel):
    caution = windy(panel, furls_from_m_s="8 m/s")
    drive = panel.form.part().to_drive()
    with_it, without = drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm
    # By hand: 8 m/s × 1.25 = 10 m/s against a gust of 40 m/s, so a quarter of the speed.
    assert without == pytest.approx(4.0 * with_it, rel=1e-9)
    assert f"up to {with_it:.0f} rpm with furling from a wind of 8 m/s at the hub, and at up to {without:.0f} rpm" in (
        caution
    )
    assert "Fill in" not in caution and "Should its guard fail" in caution
    assert wording("Also assumed: pull that starts it, twice the drag") in (panel.sentence)
    labels = {text.get_text() for axes in panel.curves.axes for text in axes.texts if text.get_visible()}
    assert f"runaway with its guard {with_it:.0f} rpm, off the picture" in labels


def test_furling_too_late_for_the_tips_is_cautioned(panel):
    assert "too fast" in windy(panel, furls_from_m_s="14 m/s")
    assert "too fast" not in windy(panel, furls_from_m_s="8 m/s")


@pytest.mark.outside(
    "wind typed in miles an hour",
    source="NIST SP 811, appendix B.8",
    number="20 mph are 8.9408 m/s",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_guard_is_kept_in_the_job_and_told_in_us_units(panel, job):
    windy(panel, furls_from_m_s="20 mph", brake_from_rpm="600")
    press(panel.form, "Save the drive")
    kept = Job.open(job.name, job.folder.parent).drive
    assert kept.furls_from_m_s == pytest.approx(20 * 0.44704, rel=1e-6) and kept.brake_from_rpm == 600.0
    panel.units.control.value = "US"
    assert panel.form.fields["furls_from_m_s"].label == "Furls from a wind of [mph]"
    assert wording("furling from a wind of") in shown(panel)[0]
    assert "m/s" not in shown(panel)[0] and "m/s" not in panel.sentence


@pytest.mark.parametrize(
    ("name", "text"),
    [("furls_from_m_s", "0"), ("furls_from_m_s", "2 m/s"), ("brake_from_rpm", "-5"), ("brake_from_rpm", "fast")],
)
def test_a_guard_that_cannot_be_is_marked_at_its_field(panel, name, text):
    windy(panel, **{name: text})
    assert is_stale(panel) and panel.form.fields[name].label in refused(panel)


def test_a_largest_nozzle_that_does_not_fit_is_marked_at_its_field(panel):
    type_in(panel, "largest_nozzle_mm", "80")
    assert [name for name, field in panel.form.fields.items() if "✗" in field.beside.value] == ["largest_nozzle_mm"]
    type_in(panel, "largest_nozzle_mm", "20")
    assert panel.form.part().to_drive().strongest().jet_mm == 20.0


# --- only what the kind uses is assumed and counted -------------------------------------------------------------------

# The assumed fields of the other kinds by name, so that a list that shows one of them is caught.
ELSEWHERE = {
    "wind rotor": ("Runner efficiency", "Cadence", "Chain efficiency", "Droop", "Belt efficiency", "Runaway ratio"),
    "pedals": ("Runner efficiency", "Power coefficient", "Droop", "Overspeed ratio", "Runaway ratio"),
    "engine": ("Runner efficiency", "Cadence", "Strongest gust of wind", "Runaway ratio"),
}


@pytest.fixture
def new_job(tmp_path):
    return Job.create("shed", tmp_path)


@pytest.mark.parametrize("kind", KINDS)
def test_a_drive_typed_anew_says_only_what_its_kind_assumes(new_job, kind):
    panel = DrivePanel(new_job)
    for name, text in {"kind": kind, **KINDS[kind][0]}.items():
        type_in(panel, name, text)
    press(panel.form, "Save the drive")
    kept = Job.open(new_job.name, new_job.folder.parent).drive
    assert "drag_nm" in kept.assumed_in_use and set(kept.assumed_in_use) <= visible(panel)
    said = panel.form.message.text
    assert said.startswith("Saved. Still assumed, not measured: ") and "Drag" in said
    assert not [words for words in ELSEWHERE[kind] if words in said]


def test_a_sentence_counts_the_fields_that_are_shown(panel):
    for name, text in {"kind": "wind rotor", "rotor_diameter_m": "2.2", "wind_m_s": "fresh"}.items():
        type_in(panel, name, text)
    assert f"1 of {len(visible(panel))} fields cannot be used yet" in refused(panel)
    assert len(visible(panel)) < len(panel.form.fields) / 2
    # A field of another kind that has to be mended is shown, so it counts.
    type_in(panel, "droop", "much")
    assert "droop" in visible(panel) and f"2 of {len(visible(panel))} fields" in refused(panel)


@pytest.mark.parametrize("efficiency, assumed", [({}, True), ({"efficiency": 0.65}, False)])
def test_a_default_is_an_assumption_when_its_kind_is_chosen_later(new_job, efficiency, assumed):
    new_job.save_part("drive", sample("drive", kind="known speed", **efficiency))
    panel = DrivePanel(Job.open(new_job.name, new_job.folder.parent))
    assert "efficiency" not in panel.form.part().assumed_in_use
    type_in(panel, "kind", "water jet")
    assert panel.form.fields["efficiency"].assumed == assumed
    assert ("efficiency" in panel.form.part().assumed_in_use) == assumed
