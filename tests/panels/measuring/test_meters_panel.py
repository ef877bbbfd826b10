"""The panel of the reader's meters, and the logs that follow it."""

import pytest

from samples.pages import cells, press, shown
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.registry import MetersPart
from statorbook.panels.measuring.meters import MetersPanel
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.spin_log import SpinPanel

wording = sentences_of("panels_measuring")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def typed(panel, **values):
    for name, value in values.items():
        panel.form.fields[name].control.value = value
    press(panel.form, "Save the meters")


def test_every_empty_field_is_shown_as_assumed_with_its_value(job):
    panel = MetersPanel(job)
    assert cells(shown(panel)[2]) == [
        ["AC volts", "1 % (assumed)", "1 (assumed)", "400 Hz (assumed)", "600 V (assumed)"],
        ["amps", "2 % (assumed)", "1 (assumed)", "400 Hz (assumed)", "–"],
        ["ohms", "1 % (assumed)", "0.5 (assumed)", "at rest", "–"],
    ]
    assert panel.sentence == wording("9 of 9 figures below")
    assert panel.message.text == "" and job.meters is None


@pytest.mark.outside(
    "what a worse meter adds to a ±",
    source="JCGM 100:2008 (GUM), 5.1.2, law of propagation",
    number="√(3² − 1²) %",
    tolerance="at least 0.9 of its square",
    seen="from memory",
)
def test_what_is_typed_is_kept_and_the_logs_follow_at_once(job):
    meters = MetersPanel(job)
    spin = SpinPanel(job, follows=[meters])
    before = spin.found.fit.estimate
    typed(meters, volts_percent="3 %", volts_digits="5", volts_kind="true rms")
    assert cells(shown(meters)[2])[0] == ["AC volts", "3 %", "5", "1000 Hz (assumed)", "600 V (assumed)"]
    kept = Job.open(job.name, job.folder.parent).meters
    assert (kept.volts_percent, kept.volts_digits, kept.volts_kind, kept.amps_percent) == (3.0, 5.0, "true rms", None)
    after = spin.found.fit.estimate
    # The class of a meter is shared by all rows.
    assert after.plus_minus**2 - before.plus_minus**2 > 0.9 * (0.03**2 - 0.01**2) * before.value**2


def test_the_ohms_log_uses_the_ohm_meter_of_the_job(job):
    before = OhmsPanel(job).found.fit.estimate.plus_minus
    job.save_part("meters", MetersPart(ohms_percent=3.0))
    assert OhmsPanel(job).found.fit.estimate.plus_minus > 1.5 * before


@pytest.mark.outside(
    "poles from frequency and speed",
    source="f = p n / 60, definition of electrical frequency",
    number="48 poles at 120 Hz and 300 rpm",
    tolerance="exact",
    seen="derived",
)
def test_one_spin_says_whether_the_magnets_were_counted_well(job):
    panel = MetersPanel(job)
    typed(panel, spin_hz="120", spin_rpm="300")
    assert "The 48 that you counted agree." in panel.sentence
    typed(panel, spin_hz="240")
    assert wording("You counted 48, which does") in panel.sentence


def test_the_count_needs_no_stator(tmp_path):
    panel = MetersPanel(Job.create("mill", tmp_path))
    typed(panel, spin_hz="120", spin_rpm="300")
    assert panel.sentence.endswith(wording("Within the ±: 48. Count"))


@pytest.mark.parametrize(
    "field, text, words",
    [
        ("volts_percent", "0", "AC volts, accuracy"),
        ("volts_percent", "fair", "AC volts, accuracy"),
        ("amps_band_hz", "-3", "Amps, good up to"),
        ("ohms_digits", "1e9", "Ohms, digits"),
    ],
)
def test_nonsense_stays_in_its_field_and_nothing_is_saved(job, field, text, words):
    panel = MetersPanel(job)
    typed(panel, **{field: text})
    assert words in panel.form.message.text and panel.form.fields[field].control.value == text
    assert Job.open(job.name, job.folder.parent).meters is None and panel.form.message.last_fault == ""


def test_half_a_spin_is_refused_at_its_field(job):
    panel = MetersPanel(job)
    typed(panel, spin_rpm="300")
    assert wording("nothing was given but its partner") in panel.form.message.text
