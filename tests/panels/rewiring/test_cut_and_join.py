"""The panels of chapter 05: layout, drawing, checks and sheets follow each other, and the plan is saved in the job."""

from base64 import b64decode

import pytest

from samples.job_samples import sample
from samples.pages import cells, shown
from sentences import sentences_of
from statorbook.assembly.plan import choice_of, plan_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.places import EXAMPLES
from statorbook.panels.rewiring.cut_and_join import CutPanel, plan_words
from statorbook.rewiring.work_steps import steps
from statorbook.sheets.job_sheets import write_sheets

wording = sentences_of("panels_rewiring")


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("choice", sample("choice", series=4, parallel=3, connection="star"))
    return made


def press(panel, words):
    panel.buttons[words].click()


def test_the_sentence_counts_what_the_plan_has(job):
    panel = CutPanel(job)
    # 12 coils of a phase from one chain into three equal stretches: two wires parted in each phase (counted by hand).
    assert panel.sentence.startswith(wording("From 12 in series, 1"))
    assert panel.sentence.endswith(
        f"{len(steps(panel.plan()))} steps. No other way to share out the coils needs fewer cuts."
    )


def test_both_layouts_stand_in_the_table_and_the_chosen_one_is_marked(job):
    panel = CutPanel(job)
    for layout, row in zip(("neighbours", "spread"), cells(shown(panel)[2]), strict=True):
        plan = plan_of(job, choice_of(job), layout)
        assert row[1:3] == [str(len(plan.cuts)), str(len(plan.joins))]


def test_drawing_checks_and_sheets_follow_the_layout(job):
    panel = CutPanel(job)
    before = shown(panel.view)[1], panel.sheets.sentence
    panel.layout.value = "spread"
    after = shown(panel.view)[1], panel.sheets.sentence
    spread = plan_of(job, choice_of(job), "spread")
    assert before[0] != after[0] and before[1] != after[1]
    assert plan_words(spread) in panel.sentence and f"{len(steps(spread))} steps" in after[1]
    assert {check.step for check in panel.checks.checks} <= set(range(len(steps(spread)) + 1))


def test_the_plan_is_saved_with_what_its_checks_are_for_and_comes_back(job):
    panel = CutPanel(job)
    panel.layout.value = "spread"
    press(panel, "Save this plan to the job")
    kept = Job.open(job.name, job.folder.parent)
    assert (kept.plan.layout, kept.plan.hand_rpm) == ("spread", panel.checks.speed.read())
    assert kept.states()["05_cut_and_join"] == "done" and CutPanel(kept).layout.value == "spread"


def test_without_a_written_choice_the_plan_is_shown_but_not_saved(tmp_path):
    panel = CutPanel(example.write(tmp_path))
    assert wording("No grouping is written to") in shown(panel)[0]
    press(panel, "Save this plan to the job")
    assert panel.message.text == wording("Not usable – plan: the")


def test_another_job_than_the_readers_is_never_written(job):
    job.notice = wording("Your job mill has no")
    panel = CutPanel(job)
    assert panel.sentence.startswith("Job spring_pipe, not your own: ")
    press(panel, "Save this plan to the job")
    assert wording("this panel shows the job") in panel.message.text and job.plan is None


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_one_button_writes_the_sheets_and_offers_them(job, paper):
    sheets = CutPanel(job).sheets
    sheets.paper.value = paper
    press(sheets, "Write the sheets")
    written = job.folder / f"cut_and_join_{paper}.pdf"
    data = written.read_bytes()
    assert data.startswith(b"%PDF") and b64decode(sheets.link.value.split("base64,")[1].split('"')[0]) == data
    assert sheets.message.text.startswith(f"Written: cut_and_join_{paper}.pdf")


@pytest.mark.parametrize("name", EXAMPLES)
def test_one_call_writes_the_sheets_of_every_example(tmp_path, name):
    made = example.write(tmp_path, name)
    path = write_sheets(made, plan_of(made, choice_of(made), "spread"), "Letter")
    assert path == made.folder / "cut_and_join_Letter.pdf" and path.stat().st_size > 10_000


def test_an_unknown_paper_is_refused(job):
    panel = CutPanel(job)
    with pytest.raises(ValueError, match="A4 or Letter is allowed"):
        write_sheets(job, panel.plan(), "A5")
