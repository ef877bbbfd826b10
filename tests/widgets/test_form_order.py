"""What a form keeps in sight, what it folds, and the line of what is assumed."""

import re

import pytest

from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job.drafts import Drafts, load_drafts
from statorbook.job.job import Job
from statorbook.job.parts.registry import BankPart, DrivePart, MetersPart, ServicePart, StatorPart
from statorbook.panels.drive.drive import DrivePanel
from statorbook.widgets.form import Form

wording = sentences_of("widgets")


@pytest.fixture
def job(tmp_path):
    return Job.create("mill", tmp_path)


def seen(form):
    """Names of the fields that the reader sees without opening the fold."""
    return {name for name in form.order.in_sight if form.fields[name].widget.layout.display != "none"}


def line(form):
    """The line of the fold: is it open, what is it about, how many fields are in it, and how many of them filled."""
    said = re.fullmatch(r"([▸▾]) (.+): (?:more|less) – (\d+) fields?, (none|\d+) filled", form.order.more.description)
    return said[1] == "▾", said[2], int(said[3]), 0 if said[4] == "none" else int(said[4])


def assumed_words(form):
    """The words of the line of assumptions, one for each."""
    return [re.sub("<[^>]+>", "", pair.children[0].value) for pair in form.order.assumed.children[1:]]


def type_in(form, **values):
    for name, value in values.items():
        form.fields[name].control.value = value


def bank_form(job, part=None):
    return Form(
        BankPart,
        part,
        save=lambda part: job.save_part("bank", part),
        now=lambda: job.bank,
        drafts=Drafts(job.folder, "bank"),
    )


def test_the_help_stands_in_the_row_of_its_field():
    field = Form(BankPart).fields["cells"]
    assert field.help in field.widget.children and field.facts.description in field.help.value
    assert field.widget.layout.flex_flow == "row wrap"  # a narrow page puts it under the control
    field.control.value = "many"
    assert "is not a number" in field.help.value


@pytest.mark.parametrize(
    "model, first",
    [
        (StatorPart, {"slots", "poles", "found_connection"}),
        (BankPart, {"nominal_volts", "chemistry", "capacity_ah", "device_max_volts"}),
        (MetersPart, set()),
    ],
)
def test_a_new_form_shows_what_a_first_answer_needs_and_folds_the_rest(model, first):
    form = Form(model)
    assert seen(form) == first and not form.order.open
    assert set(form.order.folded) == set(form.fields) - first
    form.order.more.click()
    assert form.order.open and set(form.order.folded) == set(form.fields) - first


def test_a_form_whose_every_field_may_stay_empty_folds_none_unless_it_says_so():
    form = Form(ServicePart)
    assert form.order.folded == () and form.order.more.layout.display == "none"


@pytest.mark.parametrize(
    "kind, first",
    [
        ("water jet", {"head_from", "head_m", "nozzle_mm", "pitch_diameter_mm"}),
        # What furls or brakes it decides how fast it runs away, so it is asked for at once.
        ("wind rotor", {"rotor_diameter_m", "wind_m_s", "furls_from_m_s", "brake_from_rpm"}),
        ("pedals", {"gear_ratio", "rider_watts", "ride_hours"}),
        ("engine", {"rated_watts", "engine_rpm", "pulley_ratio"}),
        ("known speed", {"speed_rpm"}),
    ],
)
def test_each_kind_of_drive_asks_first_for_what_it_cannot_do_without(job, kind, first):
    panel = DrivePanel(job)
    panel.form.fields["kind"].control.value = kind
    assert seen(panel.form) == {"kind", *first}
    assert line(panel.form)[:2] == (False, kind)


def test_another_kind_of_drive_begins_with_its_fold_closed(job):
    panel = DrivePanel(job)
    for kind in ("wind rotor", "pedals"):  # the gear is asked for by both, and only pedals cannot do without
        panel.form.fields["kind"].control.value = kind
    assert line(panel.form)[:2] == (False, "pedals")
    panel.form.order.more.click()
    panel.form.fields["kind"].control.value = "engine"
    assert line(panel.form)[:2] == (False, "engine")


def test_the_fold_names_its_subject_and_counts_what_is_filled():
    form = Form(StatorPart)
    assert line(form) == (False, "stator", 12, 0)
    form.order.more.click()
    type_in(form, mark_note="paint", wire_diameter_mm="0,9")
    assert line(form) == (True, "stator", 12, 2)
    assert "mark_note" in form.order.folded  # nothing moves under the hands of who types
    form.order.more.click()
    assert {"mark_note", "wire_diameter_mm"} <= seen(form)
    assert line(form) == (False, "stator", 10, 0)


def test_what_is_filled_in_the_job_is_in_sight(tmp_path):
    form = Form(StatorPart, example.write(tmp_path).stator)
    assert {"wire_diameter_mm", "notes"} <= seen(form) and "found_wiring" not in seen(form)


def test_a_folded_field_that_has_to_be_mended_is_in_sight():
    form = Form(StatorPart)
    type_in(form, slots="36", poles="48", found_connection="star")
    form.order.more.click()
    type_in(form, wire_diameter_mm="thin")
    form.order.more.click()
    assert "wire_diameter_mm" in seen(form) and not form.order.open


def test_a_fold_opens_when_a_field_in_it_has_to_be_mended():
    form = Form(StatorPart)
    form.order.more.click()
    type_in(form, open_corner_volts_rms="0.5")
    form.order.more.click()
    assert "open_corner_rpm" in form.order.folded and not form.order.open
    type_in(form, slots="36", poles="48", found_connection="star")
    assert form.order.open and wording("nothing was given but its") in form.fields["open_corner_rpm"].help.value


def test_a_draft_that_is_brought_back_is_in_sight(job):
    form = bank_form(job)
    type_in(form, cable_ohm="0,0x")
    assert "cable_ohm" in seen(bank_form(job))


def test_what_is_assumed_stands_in_one_line_with_a_button_that_leads_to_its_field():
    form = Form(StatorPart)
    assert assumed_words(form) == [
        "parallel paths as found 1",
        "wires in hand 1",
        "conductor copper",
        "magnets ferrite",
    ]
    focused = []
    form.fields["magnet"].control.focus = lambda: focused.append("magnet")
    form.order.assumed.children[-1].children[1].click()
    assert form.order.open and focused == ["magnet"]
    type_in(form, magnet="neodymium")
    form.fields["conductor"].confirm.click()
    assert assumed_words(form) == ["parallel paths as found 1", "wires in hand 1"]


@pytest.mark.outside(
    "an assumed length told to a US reader",
    source="NIST SP 811, appendix B.8",
    number="10 m is 32.81 ft",
    tolerance="as printed",
    seen="from memory",
)
def test_the_line_says_what_the_kind_of_drive_assumes_in_the_readers_units(job):
    panel = DrivePanel(job)
    assert assumed_words(panel.form) == []
    panel.form.fields["kind"].control.value = "wind rotor"
    assert wording("wind 10 m") in assumed_words(panel.form)
    panel.units.control.value = "US"
    assert wording("wind 32.81 ft") in assumed_words(panel.form)


def test_a_new_part_is_saved_as_typed_as_soon_as_it_is_whole(job):
    form = bank_form(job)
    type_in(form, nominal_volts="48", chemistry="LiFePO4")
    assert job.bank is None and {draft.field for draft in load_drafts(job.folder)} == {"nominal_volts", "chemistry"}
    type_in(form, capacity_ah="20O")  # a letter O
    assert job.bank is None
    type_in(form, capacity_ah="200")
    assert job.bank.capacity_ah == 200.0 and load_drafts(job.folder) == ()
    assert form.message.text.startswith("Saved as typed")
    type_in(form, capacity_ah="180")  # this page wrote it just now: a slip is mended without a press
    assert job.bank.capacity_ah == 180.0


def test_a_value_that_was_saved_before_is_only_changed_by_a_press(job):
    job.save_part("bank", BankPart(nominal_volts=48.0, chemistry="LiFePO4", capacity_ah=200.0))
    form = bank_form(job, job.bank)
    type_in(form, device_max_volts="60")
    assert job.bank.device_max_volts == 60.0  # nothing stood there
    type_in(form, cable_ohm="0.02")
    assert job.bank.cable_ohm == 0.02 and "cable_ohm" not in job.bank.assumed
    type_in(form, capacity_ah="100")
    assert job.bank.capacity_ah == 200.0 and form.fields["capacity_ah"].waiting
    assert [draft.field for draft in load_drafts(job.folder)] == ["capacity_ah"]
    type_in(form, accepted_volts="90")
    assert job.bank.accepted_volts is None  # it would take the capacity along
    form.save()
    assert (job.bank.capacity_ah, job.bank.accepted_volts) == (100.0, 90.0)


def test_what_another_page_saved_meanwhile_is_not_overwritten_without_a_press(job):
    form, other = bank_form(job), bank_form(job)
    for each, volts in ((other, "48"), (form, "24")):
        type_in(each, nominal_volts=volts, chemistry="LiFePO4", capacity_ah="200")
    assert job.bank.nominal_volts == 48.0 and form.fields["nominal_volts"].waiting


def test_a_disk_that_refuses_loses_nothing_that_would_have_been_saved(job, monkeypatch):
    form = bank_form(job)
    type_in(form, nominal_volts="48", chemistry="LiFePO4")

    def full(*arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Job, "save_part", full)
    type_in(form, capacity_ah="200")
    assert job.bank is None and "No space left on device" in form.message.text
    assert {draft.field for draft in load_drafts(job.folder)} == {"nominal_volts", "chemistry", "capacity_ah"}


def test_every_kind_of_drive_saves_itself_when_it_is_whole(job):
    typed = {
        "water jet": {"head_m": "28", "nozzle_mm": "14", "pitch_diameter_mm": "260"},
        "wind rotor": {"rotor_diameter_m": "2.2", "wind_m_s": "6"},
        "pedals": {"gear_ratio": "6.5", "ride_hours": "1"},
        "engine": {"rated_watts": "3000", "engine_rpm": "3000", "pulley_ratio": "0.5"},
        "known speed": {"speed_rpm": "500"},
    }
    for number, (kind, fields) in enumerate(typed.items()):
        other = Job.create(f"mill{number}", job.folder.parent)
        form = DrivePanel(other).form
        type_in(form, kind=kind, **fields)
        assert other.drive.kind == kind and isinstance(other.drive, DrivePart)
        type_in(form, drag_nm="0.4")
        assert other.drive.drag_nm == 0.4 and "drag_nm" not in other.drive.assumed
