"""The survey of the coils against the paths of a plan: amounts worked by hand, and the words that stop a bad joint."""

import pytest

from samples.job_samples import sample
from sentences import sentences_of
from statorbook.assembly.path_check import NOT_READ, survey_words
from statorbook.assembly.plan import choice_of, plan_of
from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example

wording = sentences_of("assembly")


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("choice", sample("choice", series=4, parallel=3, connection="star"))
    return made


def plan_for(job):
    return plan_of(job, choice_of(job), "neighbours")


def surveyed(job, weak_tooth, share):
    """All coils read at 100 rpm with 2.00 V, one of them weak."""
    rows = [
        blank_row("coils")
        | {"tooth": str(tooth), "speed_rpm": "100", "volts": f"{2.0 * (share if tooth == weak_tooth else 1.0):.3f}"}
        for tooth in range(1, 37)
    ]
    job.save_log("coils", rows)
    return job


def test_one_path_needs_no_survey(job):
    job.save_part("choice", sample("choice", series=12, parallel=1, connection="star"))
    assert survey_words(job, plan_for(job), 600.0, 0.02) == ""


def test_without_readings_it_says_what_is_then_the_only_proof(job):
    assert survey_words(job, plan_for(job), 600.0, 0.02) == NOT_READ


@pytest.mark.outside(
    "amps round three joined paths of 2 Ω, one with half a coil's volts less",
    source="Millman's theorem, equal ohms: (mean − own) volts / ohms",
    number="2.0 A at 600 rpm; the path 8.7 % below the mean",
    tolerance="as printed",
    seen="derived",
)
def test_the_weak_path_is_named_with_its_amps_and_not_to_be_joined(job):
    job.save_part("coil", sample("coil", emf_v_per_rpm=0.02, ohm=0.5))
    words = survey_words(surveyed(job, weak_tooth=1, share=0.5), plan_for(job), 600.0, 0.02)
    # Paths of 4, 4 and 3.5 coil volts, mean 3.8333: (3.8333 − 3.5) × 0.02 V/rpm × 600 rpm / (4 × 0.5 Ω).
    assert wording("Path A1: volts −8.7 %") in words
    assert wording("leads open at 600 rpm") in words
    assert words.endswith(wording("Do not join A1 in"))


def test_alike_coils_may_be_joined(job):
    words = survey_words(surveyed(job, weak_tooth=0, share=1.0), plan_for(job), 600.0, 0.02)
    assert "drives less than 0.01 A round" in words and "Do not join" not in words
