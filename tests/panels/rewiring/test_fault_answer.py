"""The fault finder behind the meter checks: typed readings in, the fault and the next reading out."""

from math import isinf

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


def every_check_read(job):
    """All checks of the plan as a healthy machine answers them, volts at the speed that the table is for."""
    panel, rows = CutPanel(job), []
    for check in panel.checks.checks:
        if check.kind == "ohms":
            shown_ohms = "OL" if isinf(check.expected) else f"{check.expected:.3f}"
            rows.append(blank_row("checks") | {"between": check.name, "ohms": shown_ohms})
        elif check.kind == "megohm":
            rows.append(blank_row("checks") | {"between": check.name, "ohms": "OL"})
        elif check.kind == "volts":
            volts = {"volts": f"{check.expected:.3f}", "speed_rpm": f"{RPM:.0f}"}
            rows.append(blank_row("checks") | {"between": check.name} | volts)
    job.save_log("checks", rows)
    return len(rows)


def test_when_all_is_well_it_is_said_shortly_and_what_is_not_ruled_out_is_folded(job):
    count = every_check_read(job)
    checks = CutPanel(job).checks
    assert checks.sentence.startswith(f"All {count} checks agree. ")
    assert "healthy machine" in checks.sentence
    # A dozen faults stood here; what is asked for is a sentence or three.
    assert "shorted" not in checks.sentence and "reversed" not in checks.sentence and len(checks.sentence) < 200
    table = checks.shown_answer.table
    assert table is None or "not rule out" in table.columns[0]
    assert checks.table_fold and checks.message.text == ""


def test_readings_half_way_that_agree_name_no_faults_and_keep_what_they_leave_open(job):
    every_check_read(job)
    job.save_log("checks", [row for row in job.read_log("checks") if row["between"] not in ("B-C", "C-A")])
    checks = CutPanel(job).checks
    assert " agree." in checks.sentence and "reversed" not in checks.sentence
    table = checks.shown_answer.table
    assert "not rule out" in table.columns[0] and "reversed" in table.rows[0][0]
    assert table.rows[0][1].exposures  # the reading that would tell comes with its caution


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
