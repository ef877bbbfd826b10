"""The fault finder behind the meter checks: typed readings in, the fault and the next reading out."""

import pytest

from samples.job_samples import sample
from samples.pages import shown
from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example
from statorbook.panels.rewiring.cut_and_join import CutPanel
from statorbook.rewiring.circuit import coil_values, finished
from statorbook.winding.wiring import CoilEnd

RPM = 60.0


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("choice", sample("choice", series=4, parallel=3, connection="star", speed_rpm=600.0, dc_amps=11.0))
    return made


def typed(job, circuit, names=("A-B", "B-C", "C-A")):
    """Rows as a person types them, the meter without noise: ohms still and volts at 60 rpm."""
    rows = []
    for name in names:
        one, other = (f"lead {letter}" for letter in name.split("-"))
        rows.append(
            blank_row("checks")
            | {
                "between": name,
                "ohms": f"{circuit.ohms(one, other):.3f}",
                "volts": f"{circuit.volts_rms(one, other):.3f}",
                "speed_rpm": "60",
            }
        )
    job.save_log("checks", rows)


def wired_and_coils(job):
    panel = CutPanel(job)
    wired = panel.plan().wired
    return wired, coil_values(wired.stator, job.coil.to_coil(job.stator), RPM)


def test_a_healthy_winding_is_called_healthy(job):
    wired, coils = wired_and_coils(job)
    typed(job, finished(wired, coils))
    panel = CutPanel(job)
    assert "healthy" in panel.checks.sentence and "what it could be" not in shown(panel.checks)[2]


def test_a_path_left_out_is_named_with_the_next_reading(job):
    wired, coils = wired_and_coils(job)
    circuit = finished(wired, coils)
    loose = next(iter(wired.paths["B"][1]))  # the first coil of path B2: its wire was never brought to lead B
    ends = {CoilEnd(tooth=loose[0], side=side) for side in "SF"}
    ties = tuple(tie - ends if "lead B" in tie else tie for tie in circuit.ties)
    typed(job, type(circuit)(coils=coils, ties=ties))
    panel = CutPanel(job)
    said = panel.checks.sentence + shown(panel.checks)[2]
    assert "B2" in said and "what it could be" in shown(panel.checks)[2] and panel.message.text == ""


def test_readings_of_paths_alone_are_searched_before_the_leads_are_there(job):
    rows = [blank_row("checks") | {"between": "A1", "ohms": "OL"}]
    job.save_log("checks", rows)
    found = CutPanel(job).checks
    assert "open" in shown(found)[2]
