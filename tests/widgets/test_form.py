"""Forms built from the parts of a job."""

from html import unescape

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.job_samples import sample
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.parts.fields import facts_of
from statorbook.job.parts.registry import PARTS, BankPart, CoilPart, DrivePart, StatorPart
from statorbook.quantities import filled as in_reader_units
from statorbook.widgets.controls import NumberField
from statorbook.widgets.form import Form

wording = sentences_of("widgets")

GOOD = {"slots": "36", "poles": "48", "found_connection": "star", "wire_diameter_mm": "0,9"}


JUNK = ["<script>alert(1)</script>", "1,234", "-0", "1e309", "12 V", "٣", "\ud800"]


def filled(save=None, **typed):
    form = Form(StatorPart, save=save)
    for name, text in {**GOOD, **typed}.items():
        form.fields[name].control.value = text
    return form


def save_button(form):
    return next(child for child in form.widget.children if getattr(child, "description", "") == "Save")


def under(form, name):
    return form.fields[name].help.value


def beside(form, name):
    return form.fields[name].beside.value


def test_every_field_of_every_part_has_a_labelled_control_with_its_unit():
    for model in PARTS.values():
        form = Form(model)
        for facts in facts_of(model):
            if facts.name == "assumed":
                continue
            label = form.fields[facts.name].control.description
            assert label and label in (facts.title, facts.title.removesuffix(f" [{facts.unit}]"))
            if facts.unit not in ("", "-", "count"):
                assert label.endswith(f"[{facts.unit}]")
            assert in_reader_units(facts.description).split(".")[0][:20] in unescape(under(form, facts.name))


def test_a_good_form_is_saved():
    saved = []
    form = filled(saved.append, notes="found in a shed")
    save_button(form).click()
    assert len(saved) == 1 and saved[0].slots == 36 and saved[0].wire_diameter_mm == 0.9
    assert saved[0].notes == "found in a shed" and saved[0].insulation_megohm is None
    assert form.message.text.startswith("Saved.")


@pytest.mark.outside(
    "a gauge typed into a field of mm",
    source="ASTM B258, diameters by 0.127 mm × 92^((36 − n)/39)",
    number="AWG 18 is 1.024 mm",
    tolerance="0.05 %",
    seen="in a reproduction",
)
def test_other_units_are_understood_and_shown_in_the_fields_own():
    form = filled(wire_diameter_mm="AWG 18")
    assert "= 1.024 mm" in beside(form, "wire_diameter_mm")
    assert form.part().wire_diameter_mm == pytest.approx(1.024, rel=5e-4)
    assert form.fields["wire_diameter_mm"].control.value == "AWG 18"


def test_bad_fields_are_named_marked_and_kept_and_nothing_is_saved():
    saved = []
    form = filled(saved.append, slots="36.5", insulation_megohm="<b>wet</b>")
    save_button(form).click()
    assert saved == []
    assert form.message.text == wording("Not usable – stator facts")
    assert wording("“36.5” was typed; a whole") in under(form, "slots")
    assert "&lt;b&gt;wet" in under(form, "insulation_megohm") and "<b>wet" not in under(form, "insulation_megohm")
    assert form.fields["slots"].control.value == "36.5"
    assert form.fields["insulation_megohm"].control.value == "<b>wet</b>"


def test_mending_a_field_takes_its_complaint_away():
    form = filled(slots="many")
    assert "is not a number" in under(form, "slots")
    form.fields["slots"].control.value = "36"
    assert "is not a number" not in under(form, "slots") and beside(form, "slots") == ""


def test_nothing_is_chosen_for_the_reader():
    form = filled(found_connection=None)
    with pytest.raises(BadInput, match="look at Connection as found"):
        form.part()
    assert wording("nothing was chosen; allowed are") in under(form, "found_connection")


def test_an_emptied_field_is_no_silent_default():
    form = filled(wires_in_hand="")
    with pytest.raises(BadInput, match="look at Wires in hand"):
        form.part()
    assert "nothing was typed" in under(form, "wires_in_hand")


def test_counts_that_do_not_go_together_are_said_by_the_model():
    form = filled(lambda part: None, slots="36", poles="36")
    save_button(form).click()
    assert wording("36 slots with 36 poles") in form.message.text


def test_the_models_complaint_stands_at_its_field():
    form = Form(DrivePart)
    form.fields["kind"].control.value = "known speed"
    with pytest.raises(BadInput, match="a known speed needs it"):
        form.part()
    assert "a known speed needs it" in under(form, "speed_rpm")


def test_assumed_values_are_marked_until_the_reader_types():
    form = filled(lambda part: None)
    assert "assumed, not measured" in beside(form, "conductor") and beside(form, "slots") == ""
    assert form.part().assumed == ("found_parallel", "wires_in_hand", "conductor", "magnet")
    form.fields["magnet"].control.value = "neodymium"
    assert beside(form, "magnet") == ""
    assert form.part().assumed == ("found_parallel", "wires_in_hand", "conductor")
    save_button(form).click()
    assert form.message.text == wording("Saved. Still assumed, not measured")


def test_what_was_assumed_stays_so_when_the_part_is_opened_again():
    part = StatorPart(
        slots=36,
        poles=48,
        found_connection="star",
        wire_diameter_mm=0.9,
        magnet="ferrite",
        wires_in_hand=1,
        assumed=("magnet",),
    )
    form = Form(StatorPart, part)
    assert set(form.assumed()) == set(part.assumed) and "magnet" in form.assumed()
    assert beside(form, "wires_in_hand") == ""
    assert form.part().model_dump(exclude={"assumed"}) == part.model_dump(exclude={"assumed"})
    assert set(form.part().assumed) == set(part.assumed)


def test_fields_left_out_keep_what_was_saved():
    part = StatorPart(slots=36, poles=48, found_connection="star", wire_diameter_mm=0.9, notes="from the shed")
    form = Form(StatorPart, part, skip=("notes",))
    assert "notes" not in form.fields and form.part().notes == "from the shed"


def test_a_change_is_told_and_an_error_of_the_listener_is_caught():
    seen = []

    def listen(form):
        seen.append(form.fields["slots"].control.value)
        raise KeyError("oops")

    form = Form(StatorPart, on_change=listen)
    form.fields["slots"].control.value = "36"
    assert seen == ["36"]
    assert "fault of the workbook" in form.message.text


def test_unsaved_changes_are_said_and_a_full_disk_too():
    def full(part):
        raise OSError(28, "No space left on device")

    form = filled(full)
    assert form.message.text == "Changed and not saved yet."
    save_button(form).click()
    assert "No space left on device" in form.message.text and form.fields["slots"].control.value == "36"


def test_numbers_appear_with_few_figures_and_stay_whole_until_something_is_typed():
    part = CoilPart(
        emf_v_per_rpm=0.9116199055,
        emf_plus_minus_v_per_rpm=1e-5,
        ohm=0.25,
        ohm_plus_minus=0.0,
        henry=0.004,
        henry_plus_minus=0.001,
    )
    form = Form(CoilPart, part)
    control = form.fields["emf_v_per_rpm"].control
    assert control.value == "0.9116" and form.fields["ohm"].control.value == "0.25"
    assert form.part() == part
    control.value = "0.91161991"
    assert control.value == "0.91161991" and form.part().emf_v_per_rpm == 0.91161991
    control.value = "0.9116"
    assert form.part().emf_v_per_rpm == 0.9116


@pytest.mark.parametrize(
    "value, text",
    [
        (0.9116199055, "0.9116"),
        (12345.678, "12346"),
        (5400.0, "5400"),
        (1_000_000.0, "1000000"),
        (0.050000123, "0.05"),
        (31.6402, "31.6402"),
    ],
)
def test_a_number_keeps_its_figures_before_the_point(value, text):
    field = NumberField("Speed", "rpm", value, above=0.05)
    assert field.value == text and field.read() == value


def test_two_forms_of_one_part_leave_each_other_what_they_saved(tmp_path):
    job = example.write(tmp_path)

    def form(*shown):
        skip = [name for name in BankPart.model_fields if name not in shown]
        return Form(
            BankPart, job.bank, save=lambda typed: job.save_part("bank", typed), skip=skip, now=lambda: job.bank
        )

    capacity, cable = form("capacity_ah", "diode_drop_v"), form("cable_ohm", "accepted_volts")
    capacity.fields["capacity_ah"].control.value = "90"
    save_button(capacity).click()
    capacity.fields["diode_drop_v"].confirm.click()
    save_button(capacity).click()
    cable.fields["accepted_volts"].control.value = "100"  # was empty: saved by itself, though the other form did save
    assert (job.bank.capacity_ah, job.bank.accepted_volts, job.bank.assumed) == (90.0, 100.0, ())
    cable.fields["cable_ohm"].control.value = "0.05"
    save_button(cable).click()
    assert (job.bank.capacity_ah, job.bank.cable_ohm, job.bank.assumed) == (90.0, 0.05, ())


@pytest.mark.parametrize("name", ["stator", "coil", "drive", "bank", "choice"])
def test_saving_an_untouched_form_leaves_the_job_as_it_is(tmp_path, name):
    job = example.write(tmp_path)
    job.save_part(
        "drive",
        job.drive.model_copy(
            update={"head_m": 31.640123456789, "drag_nm": 1 / 3, "assumed": ("drag_nm", "runaway_ratio")}
        ),
    )
    before = (job.folder / "job.json").read_bytes()
    assert b"31.640123456789" in before
    part = sample(name) if getattr(job, name) is None else getattr(job, name)
    job.save_part(name, part)
    before = (job.folder / "job.json").read_bytes()
    form = Form(PARTS[name], part, save=lambda typed: job.save_part(name, typed))
    save_button(form).click()
    assert form.message.text.startswith("Saved.") and (job.folder / "job.json").read_bytes() == before


def test_an_assumption_that_is_right_can_be_confirmed():
    seen = []
    form = Form(StatorPart, save=seen.append, on_change=lambda form: seen.append(form.assumed()))
    field = form.fields["magnet"]
    assert field.confirm in field.widget.children and field.confirm.layout.display is None
    assert "measured" not in [getattr(child, "description", "") for child in form.fields["slots"].widget.children]
    field.confirm.click()
    assert seen == [("found_parallel", "wires_in_hand", "conductor")]
    assert field.control.value == "ferrite" and beside(form, "magnet") == ""
    assert field.confirm.layout.display == "none" and form.message.text == "Changed and not saved yet."


@pytest.mark.outside(
    "paths of 36 slots with 48 poles and of 45 with 50",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="5 refused; gcd(45, 25) = 5 taken",
    tolerance="exact",
    seen="from memory",
)
def test_what_does_not_go_together_is_marked_at_once_and_until_it_is_mended():
    form = filled(found_parallel="5")
    assert wording("allow 1, 2, 3, 4") in under(form, "found_parallel")
    form.fields["slots"].control.value = "45"
    form.fields["poles"].control.value = "50"
    assert "type one of these" not in under(form, "found_parallel") and beside(form, "found_parallel") == ""


@pytest.mark.outside(
    "part of an inch typed into a field of mm",
    source="NIST SP 811, appendix B.8",
    number="1/32 in is 0.79375 mm",
    tolerance="as printed",
    seen="from memory",
)
def test_a_fraction_is_shown_in_the_fields_own_unit():
    assert "= 0.7937 mm" in beside(filled(wire_diameter_mm="1/32 in"), "wire_diameter_mm")


def test_water_and_wire_units_are_offered_where_they_apply():
    assert "psi, bar" in under(Form(DrivePart), "head_m")
    assert "gpm (US gallons)" in under(Form(DrivePart), "flow_l_s")
    assert "AWG 19" in under(Form(StatorPart), "wire_diameter_mm")
    assert "Also understood" not in under(Form(BankPart), "nominal_volts")


@settings(max_examples=60)
@given(data=st.data(), junk=st.text(max_size=40) | st.sampled_from(JUNK))
def test_nonsense_in_any_field_of_any_part_is_kept_and_never_saved_as_a_number(data, junk):
    model = data.draw(st.sampled_from(list(PARTS.values())))
    saved = []
    form = Form(model, save=saved.append)
    for name, field in form.fields.items():
        if field.facts.kind in ("number", "count", "text"):
            field.control.value = junk
            assert field.control.value == junk
            assert "<script" not in under(form, name) + beside(form, name)
    save_button(form).click()
    assert form.message.text
    if not saved:
        assert "Traceback" not in form.message.text and "fault of the workbook" not in form.message.text
