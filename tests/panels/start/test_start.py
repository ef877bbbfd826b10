"""The panel of the start page: open, create, restore, and how far each chapter has come."""

import re
import shutil

import pytest

from samples.job_samples import sample
from samples.pages import cells, shown
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.job import Job, open_current
from statorbook.panels.start.start import StartPanel, chapter_table

wording = sentences_of("panels_start")

CHAPTERS = [
    "00_start_here",
    "01_know_your_stator",
    "02_spin_and_log",
    "03_what_turns_it",
    "04_choose_a_grouping",
    "04b_add_up_the_year",
    "05_cut_and_join",
    "06_protect_it",
    "07_charge_and_dump",
    "08_first_run",
]
RESTORED = wording("The example jobs spring_pipe, ridge_rotor")
WAYS_ON = wording("pen another one, create one")


@pytest.fixture
def data(tmp_path, monkeypatch):
    """A data folder with the example, found by itself, and no job named from outside."""
    example.write(tmp_path)
    monkeypatch.setenv("STATORBOOK_DATA", str(tmp_path))
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)
    return tmp_path


@pytest.fixture
def panel(data):
    return StartPanel()


def create(panel, name):
    panel.name.value = name
    panel.create_button.click()


def restore(panel):
    panel.buttons["Restore the examples"].click()


def healthy(panel, name):
    """Check that this job is open everywhere: in the panel, in the list, and for every other notebook."""
    assert panel.message.last_fault == ""
    return (panel.job.name, panel.jobs.value, open_current().name) == (name, name, name)


def test_the_main_button_creates_a_job(tmp_path):
    panel = StartPanel(example.write(tmp_path))
    assert panel.create_button.button_style == "primary" != panel.buttons["Restore the examples"].button_style


def test_at_first_the_example_is_open_and_no_file_says_so(panel, data):
    assert healthy(panel, "spring_pipe") and not (data / ".current_job").exists()
    assert panel.sentence == wording("Open job: spring_pipe; 6 of 10 chapters are done")


def test_the_chapters_stand_with_their_states_in_order(panel):
    rows = cells(shown(panel)[2])
    assert [row[0] for row in rows] == CHAPTERS
    assert [row[2] for row in rows] == ["done"] * 4 + [
        "started: still missing the chosen grouping",
        "done",
        wording("empty: still missing the chosen"),
        "done",
        "started: still missing the program",
        wording("empty: still missing the run"),
    ]
    assert all(row[1].endswith("?") for row in rows)


def test_a_page_that_no_other_needs_counts_only_once_it_is_begun(panel, data):
    (panel.job.folder / "water_months.csv").unlink()
    panel.redraw()
    assert panel.sentence == wording("Open job: spring_pipe; 5 of")
    assert [row[2] for row in cells(shown(panel)[2])][5] == wording("empty: still missing the source")
    (panel.job.folder / "water_months.csv").write_bytes(b"\xff\xfe\x00")
    panel.redraw()
    assert panel.sentence == wording("Open job: spring_pipe; 5 of 10")  # begun, though it cannot be read


def test_the_states_follow_the_job(panel, data):
    panel.job.save_part("choice", sample("choice"))
    panel.redraw()
    assert panel.sentence == wording("Open job: spring_pipe; 7 of")
    (data / "spring_pipe" / "spin.csv").write_bytes(b"\xff\xfe\x00")
    panel.redraw()
    assert panel.sentence.startswith(wording("Open job: spring_pipe; 6 of 10 chapters are done"))
    assert cells(shown(panel)[2])[2][2].startswith("started: spring_pipe/spin.csv")


def test_a_new_job_is_empty_open_and_current(panel):
    create(panel, " mill ")
    assert healthy(panel, "mill") and panel.name.value == ""
    assert panel.message.text == wording("Created mill, empty. Next: open")
    assert panel.sentence == wording("Open job: mill; 1 of")
    assert [row[2].split(":")[0] for row in cells(shown(panel)[2])] == ["done"] + ["empty"] * 9
    assert [label for label, _ in panel.jobs.options] == ["mill", "spring_pipe"]


def test_another_job_is_opened_from_the_list(panel, data):
    Job.create("attic", data)
    create(panel, "mill")
    panel.jobs.value = "attic"
    assert healthy(panel, "attic")
    assert panel.message.text == wording("Opened attic. In every other")
    assert StartPanel().job.name == "attic"


def test_filling_the_list_anew_opens_no_other_job_on_the_way(panel, data, monkeypatch):
    opened = []
    make_current = Job.make_current
    monkeypatch.setattr(Job, "make_current", lambda job: (opened.append(job.name), make_current(job)))
    for name in ("apple", "zebra", "middle"):
        create(panel, name)
    panel.jobs.value = "zebra"
    restore(panel)
    assert opened == ["apple", "zebra", "middle", "zebra", "spring_pipe"] and healthy(panel, "spring_pipe")


@pytest.mark.parametrize(
    "name", ["", "   ", "../out", "a b", "nul", "spring/pipe", ".hidden", "é", "x" * 41, "<script>alert(1)</script>"]
)
def test_a_bad_name_is_one_sentence_and_stays_in_the_field(panel, data, name):
    before = sorted(data.iterdir())
    create(panel, name)
    assert panel.message.text.startswith("Not usable – job name: ") and panel.message.last_fault == ""
    assert wording("1 to 40 letters a") in panel.message.text
    assert "<script" not in panel.message.widget.value
    assert panel.name.value == name and sorted(data.iterdir()) == before and healthy(panel, "spring_pipe")


def test_a_name_that_is_taken_is_said_and_the_job_is_left_alone(panel, data):
    before = (data / "spring_pipe" / "job.json").read_bytes()
    create(panel, "spring_pipe")
    assert panel.message.text.startswith("Not usable – job name: ") and "spring_pipe" in panel.message.text
    assert "there" in panel.message.text and panel.message.last_fault == ""
    assert (data / "spring_pipe" / "job.json").read_bytes() == before and healthy(panel, "spring_pipe")


def test_a_damaged_job_is_not_opened_and_the_old_one_stays(panel, data):
    create(panel, "mill")
    panel.jobs.value = "spring_pipe"
    (data / "mill" / "job.json").write_text("{")
    panel.jobs.value = "mill"
    assert panel.message.text.startswith(wording("Not usable – mill/job.json, line"))
    assert panel.job.name == "spring_pipe" == open_current().name and panel.message.last_fault == ""


def damage(data):
    (data / "spring_pipe" / "job.json").write_text('{"schema_version": 1, "stator"')


def lose_file(data):
    (data / "spring_pipe" / "job.json").unlink()


def lose_folder(data):
    shutil.rmtree(data / "spring_pipe")


@pytest.mark.parametrize("harm", [damage, lose_file, lose_folder])
def test_the_example_is_restored_while_the_panel_is_open(panel, data, harm):
    harm(data)
    panel.redraw()
    assert panel.sentence.startswith("No job is open now: ") and panel.sentence.endswith(WAYS_ON)
    assert panel.message.text == "" and "Not usable" not in panel.sentence
    restore(panel)
    assert panel.message.text == RESTORED and healthy(panel, "spring_pipe")
    assert panel.sentence == wording("Open job: spring_pipe; 6 of 10 chapters are done")


@pytest.mark.parametrize("harm", [damage, lose_file, lose_folder])
def test_the_example_is_restored_from_a_page_that_is_opened_after_the_harm(data, harm):
    harm(data)
    panel = StartPanel()
    assert panel.job is None and panel.sentence.startswith("No job is open now: ") and "spring_pipe" in panel.sentence
    assert panel.sentence.endswith(WAYS_ON) and panel.message.text == ""
    restore(panel)
    assert panel.message.text == RESTORED and healthy(panel, "spring_pipe")


def test_restoring_opens_the_example_that_was_open(panel, data):
    restore(panel)
    panel.jobs.value = "ridge_rotor"
    restore(panel)
    assert healthy(panel, "ridge_rotor") and panel.message.text.endswith("shipped; ridge_rotor is now open.")
    assert Job.names(data) == ["ridge_rotor", "shed_pedals", "spring_pipe"]


def test_what_is_damaged_is_named_with_its_line_and_the_ways_on(data):
    damage(data)
    assert StartPanel().sentence == wording("No job is open now: spring_pipe/job.json")


def test_without_any_job_the_ways_to_one_are_offered(data):
    lose_folder(data)
    assert StartPanel().sentence == wording("No job is open now: current")


def test_a_job_that_lost_its_file_can_be_chosen_to_restore_it(panel, data):
    create(panel, "mill")
    panel.job.save_part("bank", sample("bank"))
    panel.jobs.value = "spring_pipe"
    (data / "mill" / "job.json").unlink()
    panel = StartPanel()
    assert [label for label, _ in panel.jobs.options] == ["spring_pipe", "mill (its job.json is gone)"]
    panel.jobs.value = "mill"
    assert panel.message.text.startswith(wording("Not usable – mill/job.json: the"))
    assert panel.job.name == "spring_pipe" and panel.current.name == "mill"


def test_what_a_killed_import_left_is_swept_at_the_next_start(data):
    (data / ".import-a1b2c3d4").mkdir()
    (data / ".import-a1b2c3d4" / "job.json").write_text("{")
    StartPanel()
    assert not list(data.glob(".import-*"))


def test_a_job_can_be_created_when_the_example_is_gone(data):
    lose_folder(data)
    panel = StartPanel()
    create(panel, "mill")
    assert healthy(panel, "mill") and [label for label, _ in panel.jobs.options] == ["mill"]


def test_restoring_clears_a_choice_and_touches_no_other_job(panel, data):
    panel.job.save_part("choice", sample("choice"))
    other = Job.create("mill", data)
    other.save_part("bank", sample("bank"))
    restore(panel)
    assert panel.job.choice is None and Job.open("mill", data).bank == sample("bank")


def test_a_current_job_that_is_gone_is_told_beside_the_example(panel, data):
    create(panel, "mill")
    shutil.rmtree(data / "mill")
    panel = StartPanel()
    assert panel.job.name == "spring_pipe"
    assert panel.sentence.startswith(wording("Open job: spring_pipe; 6 of 10 chapters are done. The"))
    assert "mill" in panel.sentence


def test_without_a_data_folder_the_way_to_start_is_said(data, monkeypatch):
    monkeypatch.setenv("STATORBOOK_DATA", str(data / "nowhere"))
    with pytest.raises(BadInput, match=wording("^data folder: STATORBOOK_DATA names a")):
        StartPanel()


def test_done_chapters_are_marked_in_the_table():
    assert chapter_table({"00_start_here": "done", "01_know_your_stator": "empty: still missing x"}).marks == (
        "chosen",
        "",
    )


def test_the_name_of_a_new_job_has_room_to_be_read(panel):
    # The placeholder has 24 characters; a width that CSS cannot read would leave the box a few characters wide.
    assert re.fullmatch(r"calc\(\d+ch \+ 18em\)", panel.name.layout.width)
