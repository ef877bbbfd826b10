"""A log is fitted once for each change, however many panels stand on its fit, and never taken from an older one."""

from collections import Counter
from dataclasses import replace

import pytest

from statorbook.assembly.log_reading import bench_logs
from statorbook.bench.logs import blank_row
from statorbook.bench.ohms import read_ohms
from statorbook.examples import jobs as example
from statorbook.first_run import misfit
from statorbook.first_run.ranking import rank_causes
from statorbook.fits import coil_survey, drag, emf, inductance, ohms
from statorbook.fits.constants import terminal_constants
from statorbook.job.job import Job
from statorbook.job.parts.registry import RotorPart
from statorbook.panels.drive.drag_log import CoastPanel
from statorbook.panels.first_run.first_run import FirstRunPanel
from statorbook.panels.measuring.coil_constants import CoilPanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.meters import MetersPanel
from statorbook.panels.measuring.model_checks import ModelChecksPanel
from statorbook.panels.measuring.spin_log import ShortedPanel, SpinPanel
from statorbook.panels.protection.over_voltage import OverVoltagePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.panels.rewiring.cut_and_join import CutPanel
from statorbook.quantities import reader_units

FALLS = [{"time_s": f"{1.5 * n}", "electrical_hz": f"{0.4 * (300 - 30 * n):.2f}"} for n in range(9)]
RUN = [("876", "52", "2.69"), ("907.5", "52", "3.71"), ("1003.9", "52", "6.82"), ("1102.3", "52", "9.56")]
DRILLED = [("300", "168.3", "150"), ("600", "202.4", "150"), ("900", "252.1", "150")]


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.fixture
def fits(monkeypatch):
    """Call something and count, by log, how often a fit was worked out in it."""
    look, seen = ohms.usable_rows, Counter()
    for module in (coil_survey, drag, emf, inductance, ohms):
        monkeypatch.setattr(module, "usable_rows", lambda *given: seen.update([given[1]]) or look(*given))

    def counted(call):
        seen.clear()
        call()
        return dict(seen)

    return counted


def page_02(job):
    """Its panels as its cells make them."""
    meters = MetersPanel(job)
    spin = SpinPanel(job, follows=[meters])
    shorted = ShortedPanel(job, follows=[spin])
    return spin, shorted, *(kind(job, follows=[shorted]) for kind in (CoilPanel, InductanceWaysPanel, ModelChecksPanel))


def typed(panel, column, text, number=2):
    panel.grid.row(number).cells[column].value = text


def log_with(job, log, rows):
    job.read_log(log)
    job.save_log(log, [blank_row(log) | row for row in rows])


def test_a_change_on_page_02_fits_each_log_once_for_all_its_panels(job, fits):
    for log, column, text in (("spin", "volts", "30.71"), ("shorted", "amps", "1.234"), ("ohms", "ohms", "13.37")):
        rows = job.read_log(log)
        job.save_log(log, [rows[0] | {column: text}, *rows[1:]])
    made = []
    assert fits(lambda: made.extend(page_02(job))) == {"spin": 1, "shorted": 1, "ohms": 1}
    spin, shorted, coil, *_ = made
    assert fits(lambda: typed(spin, "volts", "41.23")) == {"spin": 1, "shorted": 1}
    assert fits(lambda: typed(shorted, "amps", "2.345")) == {"shorted": 1}
    assert fits(lambda: [panel.redraw() for panel in (coil, *made[3:])] + [coil.write()]) == {}


def test_the_other_pages_fit_each_log_once_for_each_change(job, fits):
    log_with(job, "coast", FALLS)
    log_with(job, "drill", [dict(zip(("speed_rpm", "watts_coupled", "watts_alone"), row)) for row in DRILLED])
    log_with(job, "coils", [{"tooth": str(n), "ohms": f"0.56{n % 7}"} for n in range(1, 37)])
    job.save_part("drive", job.drive.model_copy(update={"rotor_kg": 5.0, "rotor_ring_mm": 200.0}))
    job.save_part("rotor", RotorPart())
    page, made = ProtectionPage(job), []
    assert fits(lambda: made.append(OverVoltagePanel(page))) == {"coast": 1, "drill": 1}
    assert fits(page.tell) == {}  # another part was saved
    assert fits(lambda: made.append(CoastPanel(job))) == {"coast": 1}  # with the inertia that is typed there
    assert fits(lambda: typed(made[1], "electrical_hz", "108.4")) == {"coast": 1}
    assert fits(page.tell) == {"coast": 1}
    assert fits(lambda: made.append(CutPanel(job))) == {"coils": 1}
    assert fits(lambda: setattr(made[2].layout, "value", "spread")) == {}


def test_a_cell_of_the_run_log_works_out_its_case_once(job, monkeypatch):
    log_with(job, "run", [dict(zip(("speed_rpm", "dc_volts", "dc_amps"), row)) for row in RUN])
    panel, asked, sigma = FirstRunPanel(job), [], misfit.amps_sigma
    monkeypatch.setattr(misfit, "amps_sigma", lambda case: asked.append(case) or sigma(case))
    typed(panel, "dc_amps", "3.72")
    assert len(asked) == 1 and panel.odd_rows == () and panel.shown_answer.table.rows


def test_a_case_keeps_no_causes_for_another_coil(job):
    log_with(job, "run", [dict(zip(("speed_rpm", "dc_volts", "dc_amps"), row)) for row in RUN])
    case = FirstRunPanel(job).case()
    known, unknown = (rank_causes(case, coil) for coil in (job.coil, None))
    assert known == rank_causes(replace(case), job.coil)  # a case that has kept nothing yet
    assert unknown == rank_causes(replace(case), None) != known


@pytest.fixture
def fresh(job):
    """The volts per rpm of one star phase, from the job as it is on the disk, worked out anew."""

    def fitted():
        logs, part = bench_logs(job.read()), job.stator
        at_c = sum(reading.copper_c for reading in logs.ohms) / len(logs.ohms)
        fit = emf.fit_emf.__wrapped__(logs.spin, part.to_stator(), machine_c=at_c, magnet=part.magnet)
        return fit.estimate.value

    return fitted


def test_what_is_kept_is_never_that_of_other_readings(job, fresh):
    spin, _, coil, *_ = page_02(job)
    other, seen = Job.open(job.name, job.folder.parent), []

    def by_another_page():
        rows = other.read_log("spin")
        other.save_log("spin", [rows[0] | {"volts": f"{1.05 * float(rows[0]['volts']):.1f}"}, *rows[1:]])

    def other_facts():
        job.save_part("stator", job.stator.model_copy(update={"magnet": "neodymium"}))

    for change in (lambda: None, lambda: typed(spin, "volts", "44.4"), by_another_page, other_facts):
        change()
        seen.append(coil.estimates()[1].emf_v_per_rpm.value)
        assert seen[-1] == fresh()
    assert len(set(seen)) == len(seen)


def test_what_a_kept_fit_says_is_in_the_units_of_who_asks(job):
    rows = [row | {"copper_c": ""} for row in job.read_log("ohms")]
    said = []
    for units in ("metric", "US", "metric"):
        with reader_units(units):
            readings = bench_logs(job, ohms=rows).spin
            said.append(" ".join(emf.fit_emf(readings, job.stator.to_stator()).warnings))
    assert "20 °C" in said[0] and "68 °F" in said[1] and said[2] == said[0]


def test_nobody_changes_what_is_kept_for_all(job):
    logs, part = bench_logs(job), job.stator
    found = terminal_constants(logs, part.to_stator())
    for each in (found.emf_fit.pair_ratios, found.ohms_fit.residual_percent, found.henry.moved_by):
        with pytest.raises(TypeError):
            each[next(iter(each))] = 0.0


def test_only_the_last_few_are_kept(fits):
    def fit(ohm):
        rows = [blank_row("ohms") | {"ohms": f"{ohm:.3f}", "lead_zero_ohm": "0", "terminals": "AB"}]
        ohms.fit_ohms(read_ohms(rows))

    assert fits(lambda: [fit(5.0 + 0.001 * n) for n in (0, *range(100), 0)]) == {"ohms": 101}
