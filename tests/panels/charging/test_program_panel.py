"""Panel of the program: shown, saved as a file, out of date when a rule changes, printed; nonsense is one sentence."""

import pytest

from samples.pages import refused
from sentences import sentences_of
from statorbook.assembly.plan import choice_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.control import ControlPart
from statorbook.panels.charging.page import ChargingPage
from statorbook.panels.charging.program import FILE, SKETCH, ProgramPanel

wording = sentences_of("charging_program")

EASY = "shed_pedals"  # the fewest rules


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path, EASY)
    made.save_part("choice", choice_of(made))
    made.save_part("control", ControlPart())
    return made


@pytest.fixture
def panel(job):
    return ProgramPanel(ChargingPage(job))


def test_the_program_is_shown_and_the_sketch_is_drawn_when_it_is_opened(panel):
    assert panel.program_text.startswith("(* Job shed_pedals.") and "END_PROGRAM" in panel.text.value
    assert f"{panel.program_text.count(': TON;')} timers of the kind TON" in panel.sentence
    assert "Not checked" in panel.sentence and panel.folds[SKETCH].value == ""
    panel.folds[SKETCH].is_open = True
    assert panel.folds[SKETCH].value.count("<svg") == 1
    assert "mV" in panel.scale.value and "volts relay" in panel.alone.value


def test_it_is_saved_as_a_file_and_goes_out_of_date_with_what_it_was_written_for(panel, job):
    panel.buttons["Save the program"].click()
    assert (job.folder / FILE).read_text(encoding="ascii") == panel.program_text
    kept = job.read().program
    assert (kept.file_name, kept.timers) == (FILE, panel.program_text.count(": TON;"))
    assert wording("this program is saved") in panel.sentence
    job.save_part("bank", job.bank.model_copy(update={"capacity_ah": 2 * job.bank.capacity_ah}))
    panel.page.tell()
    assert "is out of date" in panel.sentence
    assert job.states()["07_charge_and_dump"].startswith("out of date: the bank changed")


def test_the_multimeter_makes_the_scale_right_and_is_saved_with_the_program(panel, job):
    fields = panel.form.fields
    fields["check_volts"].control.value = "25.0"
    assert "Shown by the controller then" in refused(panel)
    fields["check_shown"].control.value = "2000"
    assert "Checked by the multimeter" in panel.sentence
    panel.buttons["Save the program"].click()
    now = job.read()
    assert now.control.check_shown == 2000 and now.program.text_mark
    assert job.states()["07_charge_and_dump"] == "done"
    assert "out of date" not in panel.sentence


def test_it_is_printed_beside_the_job(panel, job):
    panel.buttons["Print it all"].click()
    assert (job.folder / "controller_A4.pdf").read_bytes().startswith(b"%PDF")
    assert "controller_A4.pdf" in panel.link.value
    panel.paper.value = "Letter"
    assert panel.link.value == ""


@pytest.mark.parametrize(
    "field, text",
    [("scan_ms", "0"), ("scan_ms", "fast"), ("input_volts", "-1"), ("upper_ohm", "0"), ("full_counts", "1e9")],
)
def test_nonsense_keeps_the_last_answer(panel, field, text):
    good = panel.shown_answer
    panel.form.fields[field].control.value = text
    assert panel.shown_answer is good and "\n" not in panel.sentence and panel.message.last_fault == ""


def test_a_divider_that_ends_too_low_is_refused_in_a_sentence(panel):
    with panel.together():
        panel.form.fields["upper_ohm"].control.value = "100"
        panel.form.fields["lower_ohm"].control.value = "1000"
    assert "the volts input ends at" in panel.sentence and "\n" not in panel.sentence


def test_without_a_volts_relay_it_says_what_then_holds_nothing(panel):
    assert "nothing holds this bank" not in panel.shown_answer.caution
    panel.form.fields["volts_relay"].control.value = "none"
    assert "nothing holds this bank" in panel.shown_answer.caution


def test_the_example_is_not_written_to(tmp_path):
    example.write(tmp_path, "spring_pipe")
    panel = ProgramPanel(ChargingPage(Job.create("mine", tmp_path)))
    panel.buttons["Save the program"].click()
    assert "not your own" in panel.message.text
    assert not list(tmp_path.glob(f"*/{FILE}"))
