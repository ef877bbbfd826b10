"""Which grouping is to be built, how the winding was found, and when a saved plan is out of date."""

import pytest

from samples.job_samples import sample
from sentences import exactly, sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of, choice_words, found_words, plan_of
from statorbook.choice.comparison import compare
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.registry import StatorPart
from statorbook.job.progress import planned_for

wording = sentences_of("assembly")

NINE = dict(slots=9, poles=12, found_connection="star", found_parallel=1)


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path, "spring_pipe")


def test_before_a_choice_the_recommended_grouping_is_planned_and_said(job):
    now = machine_from(job)
    best = compare(now.stator, now.coil, now.drive, now.bank, now.setting).recommended
    made = choice_of(job)
    assert made.to_grouping() == best.grouping
    assert (made.dc_amps, made.runaway_dc_volts_peak) == (best.point.dc_amps, best.runaway.dc_volts_peak)
    assert choice_words(job) == wording("No grouping is written to")


def test_the_choice_that_is_written_wins(job):
    job.save_part("choice", sample("choice", series=12, parallel=1, connection="delta"))
    assert choice_of(job).to_grouping().label == "12 in series, 1 path, delta" and choice_words(job) == ""
    assert plan_of(job, choice_of(job), "spread").wired.grouping.connection == "delta"


def test_a_choice_out_of_date_is_told_before_the_cut(job):
    job.save_part("choice", sample("choice", worked_out_for="stator=00000000 coil=0 drive=0 bank=0"))
    assert choice_words(job).startswith(wording("Look at page 04_choose_a_grouping before"))


@pytest.mark.outside(
    "teeth of each phase, 9 slots with 12 poles",
    source="star of slots: 240° a tooth, phases 120° behind each other",
    number="A 1 4 7, B 3 6 9, C 2 5 8",
    tolerance="exact",
    seen="derived",
)
def test_wires_in_tooth_order_are_an_assumption_and_traced_ones_are_not():
    facts = StatorPart(**NINE)
    assert wording("(assumed, not traced: each phase") in found_words(facts)
    assert "A: 1 4 7;" in found_words(facts)
    phases = {coil.number: coil.phase for coil in facts.to_stator().coils}
    words = "; ".join(
        f"{phase}: {' '.join(str(t) for t in (7, 4, 1, 8, 5, 2, 9, 6, 3) if phases[t] == phase)}" for phase in "ABC"
    )
    assert f"(as you traced it). From the lead: {words}." in found_words(StatorPart(**NINE, found_wiring=words))


def test_a_wiring_that_cannot_be_is_refused_at_its_field():
    words = exactly(wording("stator facts, Wires as traced"))
    with pytest.raises(BadInput, match=words) as caught:
        StatorPart(**NINE, found_wiring=wording("A: 1 4 4; B"))
    assert caught.value.field == "found_wiring"


def test_a_plan_is_out_of_date_once_the_wiring_or_the_choice_changed(tmp_path):
    example.write(tmp_path)
    job = Job.create("mill", tmp_path)
    for name in ("stator", "coil", "drive", "bank", "choice"):
        job.save_part(name, sample(name))
    assert job.states()["05_cut_and_join"] == "started: still missing the plan"
    parts = {"stator": job.stator, "choice": job.choice}
    job.save_part("plan", sample("plan", planned_for=planned_for(parts)))
    assert job.states()["05_cut_and_join"] == "done"
    job.save_part("stator", sample("stator", notes="another remark"))
    assert job.states()["05_cut_and_join"] == "done"
    job.save_part("choice", sample("choice", connection="delta"))
    words = "out of date: the wiring as found or the chosen grouping changed since the plan was saved"
    assert job.states()["05_cut_and_join"] == words
