"""The part of a job that says what stands between rectifier and bank, and what hangs on it."""

import pytest

from samples.job_samples import sample
from statorbook.assembly.machine import machine_from
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.comparison import compare
from statorbook.choice.uncertainty import amps_band, with_plus_minus
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.first_run.case import run_case
from statorbook.first_run.rows import RunReading
from statorbook.job.job import Job
from statorbook.job.parts.converter import STEP_DOWN, STRAIGHT, ConverterPart
from statorbook.job.progress import inputs_fingerprint

VOLTS = dict(between=STEP_DOWN, window_low_volts=30.0, window_high_volts=120.0, survives_volts=150.0)


@pytest.fixture(scope="module")
def wind(tmp_path_factory):
    return example.write(tmp_path_factory.mktemp("data"), name="ridge_rotor")


@pytest.fixture
def with_converter(tmp_path):
    job = example.write(tmp_path, name="ridge_rotor")
    job.save_part("converter", ConverterPart(**VOLTS))
    return job


@pytest.mark.parametrize(
    "changes, words",
    [
        (dict(survives_volts=None), "a converter was chosen, but nothing"),
        (dict(window_high_volts=20.0), "rise in this order"),
        (dict(survives_volts=100.0), "rise in this order"),
        (dict(converter_efficiency=95.0), "at most 1"),
        (dict(most_output_amps=0.0), "above 0 and at most"),
        (dict(between="a wire"), "step-down converter"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(changes, words):
    with pytest.raises(BadInput, match=words):
        ConverterPart(**VOLTS | changes)


def test_defaults_are_marked_as_assumed_only_where_there_is_a_converter():
    part = ConverterPart(**VOLTS)
    assert set(part.assumed_in_use) == {"converter_efficiency", "converter_idle_watts"}
    assert part.to_converter().survives_dc_volts == 150.0
    assert ConverterPart().assumed_in_use == () and ConverterPart().to_converter() is None


def test_a_job_without_a_converter_keeps_its_mark(tmp_path):
    job = Job.create("mill", tmp_path)
    for part in ("stator", "coil", "drive", "bank"):
        job.save_part(part, sample(part))
    before = inputs_fingerprint(job)
    job.save_part("choice", sample("choice", worked_out_for=before))
    job.save_part("converter", ConverterPart(between=STRAIGHT))
    assert inputs_fingerprint(job) == before and job.states()["04_choose_a_grouping"] == "done"
    job.save_part("converter", ConverterPart(**VOLTS))
    assert job.states()["04_choose_a_grouping"].startswith("out of date: the converter changed")


def test_the_machine_of_a_job_has_its_converter(wind, with_converter):
    machine, straight = machine_from(with_converter), machine_from(wind)
    assert straight.setting.conditions.converter is None
    assert machine.setting.conditions.converter.high_volts == 120.0
    assert {"converter_efficiency", "converter_idle_watts"} <= machine.assumed_fields
    said = " ".join(machine.assumed)
    assert "Efficiency of the converter" in said and "What it needs for itself" in said
    new = {variation.words for variation in variations(machine)} - {v.words for v in variations(straight)}
    assert new == {"efficiency of the converter", "idle watts of the converter"}


def test_the_volts_accepted_are_what_the_converter_survives(with_converter):
    setting = machine_from(with_converter).setting
    assert setting.device_max_volts == 33.0  # of the example's controller, which the converter now keeps from the volts
    assert setting.limit_dc_volts == 120.0
    with_converter.save_part("converter", ConverterPart(**VOLTS | dict(window_high_volts=60.0, survives_volts=75.0)))
    assert machine_from(with_converter).setting.limit_dc_volts == 75.0


def test_every_grouping_that_would_destroy_the_converter_says_so(with_converter):
    machine = machine_from(with_converter)
    found = compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)
    burnt = [row for row in found.rows if row.runaway.dc_volts_peak > 150.0]
    assert burnt and len(burnt) < len(found.rows)
    for row in found.rows:
        words = found.words_of(row)
        assert row.runaway.destroys_device == (row in burnt)
        assert ("destroys the converter, which survives" in words) == (row.unguarded.dc_volts_peak > 150.0)
        if row in burnt:
            assert "within milliseconds" in row.runaway.sentence and "within milliseconds" in row.runaway.guard


def test_plus_minus_and_band_hold_the_watts_of_the_comparison(with_converter):
    machine = machine_from(with_converter)
    found = compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)
    row = found.shown
    spread = with_plus_minus(machine, row.grouping)
    assert spread["bank_watts"].value == pytest.approx(row.point.bank_watts, rel=1e-3)
    assert 0.0 < spread["bank_watts"].assumed < row.point.bank_watts
    low, high = amps_band(machine, row.grouping, [row.point.speed_rpm])
    assert low[0] <= high[0]


def test_a_run_is_held_against_the_bridge_up_to_the_converter(wind, with_converter):
    # Volts and amps are read at the converter's input: the same rows then say the same of the winding.
    rows = [RunReading(row=1, log="run", raw={}, speed_rpm=400.0, dc_volts=40.0, dc_amps=3.0, dc_amps_sigma=0.1)]
    cases = [run_case(machine_from(job), machine_from(job).found, rows) for job in (wind, with_converter)]
    assert cases[1].machine.setting.conditions == cases[0].machine.setting.conditions
