"""What is typed into a page comes back after the page is run anew, marked as not used yet, until it is used."""

import pytest

from samples.job_samples import sample, spin_rows
from samples.pages import press
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job.drafts import DRAFTS, Drafts, load_drafts
from statorbook.job.job import Job
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.parts.registry import PARTS
from statorbook.panels.choice.bank import BankPanel
from statorbook.panels.choice.other_ways import OtherWaysPanel
from statorbook.panels.drive.drag_log import CoastPanel
from statorbook.panels.drive.drive import DrivePanel
from statorbook.panels.first_run.service import ServicePanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.meters import MetersPanel
from statorbook.panels.measuring.spin_log import SpinPanel
from statorbook.panels.measuring.stator_facts import StatorPanel
from statorbook.panels.rewiring.meter_checks import MeterChecks
from statorbook.widgets.form import BRING_BACK, DISCARD, Form
from widgets.test_form import beside, under

wording = sentences_of("widgets")

PAGES = {
    "stator": StatorPanel,
    "drive": DrivePanel,
    "bank": BankPanel,
    "service": ServicePanel,
    "meters": MetersPanel,
    "henries": InductanceWaysPanel,
}
NOT_USED = "typed, not used yet"


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def control(panel, name):
    return panel.form.fields[name].control


def saved(job):
    return (job.folder / "job.json").read_bytes()


def form_of(job, name):
    """A form as its page makes it, without the rest of the page."""
    return Form(PARTS[name], getattr(job, name), save=lambda part: None, drafts=Drafts(job.folder, name))


@pytest.mark.parametrize("name, text", [*zip(PAGES, ["36x", "12", "-", "<b>", "1,234", ""], strict=True)])
def test_every_field_of_every_form_comes_back_as_it_was_left(job, name, text):
    before, form = saved(job), form_of(job, name)
    for field in form.fields.values():
        if field.facts.kind in ("number", "count", "text"):
            field.control.value = text
        elif field.facts.kind == "choice":
            field.control.index = len(field.control.options) - 1
        else:
            field.control.value = not field.control.value
    again, usual = form_of(job, name), Form(PARTS[name], getattr(job, name))
    typed = {name: field.control.value for name, field in form.fields.items()}
    assert {name: field.control.value for name, field in again.fields.items()} == typed
    assert saved(job) == before and again.message.last_fault == ""
    waiting = [name for name in typed if NOT_USED in beside(again, name)]
    assert waiting and set(waiting) >= {name for name in typed if usual.fields[name].control.value != typed[name]}


@pytest.mark.parametrize("name", PAGES)
def test_every_page_with_a_form_brings_its_text_back(job, name):
    panel = PAGES[name](job)
    field = next(field for field in panel.form.fields.values() if field.facts.kind in ("number", "count"))
    field.control.value = "7 half"
    assert control(PAGES[name](job), field.facts.name).value == "7 half"


def test_a_field_is_on_the_disk_the_moment_it_is_left_and_what_is_used_is_no_draft(job):
    panel = StatorPanel(job)
    control(panel, "slots").value = "42"
    control(panel, "diameter_mm").value = "25x"
    assert [(draft.field, draft.text) for draft in load_drafts(job.folder)] == [("slots", "42"), ("diameter_mm", "25x")]
    assert job.stator.slots == 36
    assert panel.form.message.text == wording("Kept as typed, not used")
    again = StatorPanel(job)
    assert again.form.message.text == wording("Brought back as you left").replace(
        "Diameter over the teeth", again.form.fields["diameter_mm"].name
    )
    assert "“25x” was typed" in under(again.form, "diameter_mm") and NOT_USED in beside(again.form, "slots")
    control(again, "diameter_mm").value, control(again, "poles").value = "250", "56"
    control(again, "found_parallel").value = "1"
    press(again.form, "Save the stator facts")
    assert job.stator.slots == 42 and load_drafts(job.folder) == ()
    assert NOT_USED not in beside(again.form, "slots") and again.form.discard.layout.display == "none"
    assert control(StatorPanel(job), "slots").value == "42" and StatorPanel(job).form.message.text == ""


def test_an_untouched_page_writes_nothing(job):
    for page in PAGES.values():
        assert page(job).form.message.text == ""
    assert not (job.folder / DRAFTS).exists()


def test_a_text_put_back_to_what_is_saved_waits_for_nothing(job):
    panel = StatorPanel(job)
    control(panel, "slots").value = "42"
    control(panel, "slots").value = "36"
    assert load_drafts(job.folder) == () and NOT_USED not in beside(panel.form, "slots")


def test_what_does_not_go_together_is_still_said_at_its_field(job):
    panel = StatorPanel(job)
    control(panel, "found_parallel").value = "5"
    for shown in (panel, StatorPanel(job)):
        assert "type one of these" in under(shown.form, "found_parallel")
        assert NOT_USED in beside(shown.form, "found_parallel")


def test_discard_goes_back_to_the_job_and_can_be_taken_back(job):
    panel = BankPanel(job)
    control(panel, "cable_ohm").value, control(panel, "chemistry").value = "0,0x", "gel"
    assert panel.form.discard.description == DISCARD and panel.form.discard.layout.display is None
    panel.form.discard.click()
    assert load_drafts(job.folder) == () and control(panel, "chemistry").value == job.bank.chemistry
    assert panel.form.part() == job.bank and panel.form.discard.description == BRING_BACK
    panel.form.discard.click()
    assert control(panel, "cable_ohm").value == "0,0x" == control(BankPanel(job), "cable_ohm").value
    assert control(BankPanel(job), "chemistry").value == "gel"
    panel.form.discard.click()
    assert control(BankPanel(job), "cable_ohm").value != "0,0x"


def test_an_assumption_that_was_confirmed_stays_so(job):
    job.save_part("stator", sample("stator"))
    panel = StatorPanel(job)
    panel.form.fields["magnet"].confirm.click()
    assert "magnet" not in job.stator.assumed and "magnet" not in StatorPanel(job).form.assumed()


@pytest.mark.outside(
    "a bare number typed in feet and read after the units changed",
    source="NIST SP 811, appendix B.8",
    number="100 ft is 30.48 m",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_bare_number_keeps_its_unit_when_the_units_change_in_between(job):
    panel = DrivePanel(job)
    panel.units.control.value = "US"
    control(panel, "head_m").value = "100"
    assert panel.form.fields["head_m"].read() == pytest.approx(30.48)
    panel.units.control.value = "metric"
    assert DrivePanel(job).form.fields["head_m"].read() == pytest.approx(30.48)
    DrivePanel(job).form.fields["head_m"].control.value = "31"
    assert DrivePanel(job).form.fields["head_m"].read() == pytest.approx(31.0)


def test_two_pages_of_one_form_keep_both_texts(job):
    one, two = StatorPanel(job), StatorPanel(job)
    control(one, "slots").value, control(two, "slots").value = "41x", "42x"
    control(two, "poles").value = "56"
    again = StatorPanel(job)
    assert control(again, "slots").value == "42x" and control(again, "poles").value == "56"
    assert "Another page left here: “41x”." in under(again.form, "slots")


def test_a_full_disk_is_said_at_the_form_and_the_panel_answers_all_the_same(job, monkeypatch):
    panel = StatorPanel(job)

    def full(*arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("statorbook.job.files.write_through", full)
    control(panel, "slots").value = "45"
    control(panel, "poles").value = "50"
    assert "No space left on device" in panel.form.message.text and panel.sentence.startswith("45 slots with 50 poles")


def test_a_damaged_file_is_said_and_the_page_opens(job):
    (job.folder / DRAFTS).write_bytes(b"rubbish")
    panel = StatorPanel(job)
    assert wording("what was typed and not") in panel.form.message.text
    control(panel, "slots").value = "45"
    assert control(StatorPanel(job), "slots").value == "45"


@pytest.mark.parametrize(
    "page, name, text",
    [
        (CoastPanel, "mass", "4x"),
        (CoastPanel, "wheel_mm", "21"),
        (MeterChecks, "copper", "2x"),
        (MeterChecks, "speed", "61"),
        (OtherWaysPanel, "turns", "40x"),
    ],
)
def test_fields_outside_a_form_come_back_too(job, page, name, text):
    getattr(page(job), name).value = text
    again = page(Job.open(job.name, job.folder.parent))
    assert getattr(again, name).value == text and again.message.last_fault == ""


@pytest.mark.outside(
    "a ring typed in inches and read after the units changed",
    source="NIST SP 811, appendix B.8",
    number="10 in is 254 mm",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_rotor_typed_in_inches_is_not_taken_for_millimetres(job):
    job.save_part("reader", ReaderPart(units="US"))
    CoastPanel(job).ring.value = "10"
    job.save_part("reader", ReaderPart())
    assert CoastPanel(job).ring.read() == pytest.approx(254.0)


def test_rows_that_are_pasted_and_not_added_yet_are_kept(job):
    panel = SpinPanel(job)
    text = exchange_text(panel)
    text.value = "speed\t12x"
    assert exchange_text(SpinPanel(job)).value == "speed\t12x" and job.read_log("spin") != spin_rows(1)


def exchange_text(panel):
    """The field for pasted rows."""
    return next(
        widget for widget in widgets(panel.widget) if getattr(widget, "placeholder", "").startswith("Copy rows")
    )


def widgets(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from widgets(child)
