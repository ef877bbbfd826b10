"""The panel that weighs every way to the inductance."""

from math import hypot, pi, sqrt

import pytest

from samples.job_samples import sample
from samples.made_up_logs import MACHINE, clean_logs
from samples.pages import cells, press, shown
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.registry import HenriesPart
from statorbook.panels.measuring.coil_constants import CoilPanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.spin_log import ShortedPanel

wording = sentences_of("panels_measuring")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def test_the_shorted_log_alone_is_what_it_was(job):
    panel = InductanceWaysPanel(job)
    (row,) = cells(shown(panel)[2])
    # One coil times 12 in series is one phase of this star, by the regrouping algebra.
    assert row[0] == "shorted log" and row[1].startswith(f"{12e3 * job.coil.henry:.1f}"[:3]) and row[2] == "agrees"


def test_an_lcr_reading_joins_in_and_one_that_is_far_off_is_named(job):
    panel = InductanceWaysPanel(job)
    panel.form.fields["lcr_henry"].control.value = f"{2e3 * 12 * job.coil.henry:.1f} mH"
    press(panel.form, "Save these readings")
    assert [row[0] for row in cells(shown(panel)[2])] == ["shorted log", "LCR meter"]
    assert Job.open(job.name, job.folder.parent).henries.lcr_henry == pytest.approx(24 * job.coil.henry, rel=0.01)
    assert "do not agree" not in panel.sentence
    panel.form.fields["lcr_henry"].control.value = f"{3e3 * 12 * job.coil.henry:.1f} mH"
    press(panel.form, "Save these readings")
    assert wording("LCR meter and the rest") in panel.sentence


def test_half_a_loaded_reading_is_refused_at_its_field(job):
    panel = InductanceWaysPanel(job)
    panel.form.fields["load_rpm"].control.value = "300"
    press(panel.form, "Save these readings")
    assert wording("nothing was given but its partners") in panel.form.message.text
    assert Job.open(job.name, job.folder.parent).henries is None


def test_an_impossible_loaded_reading_is_a_sentence(job):
    job.save_part(
        "henries", HenriesPart(load_rpm=300.0, load_dc_amps=90.0, load_dc_volts=26.0, load_bank="another bank")
    )
    panel = InductanceWaysPanel(job)
    assert panel.sentence.startswith(wording("Not usable – loaded reading"))


def test_the_weighted_value_goes_to_the_coil_and_says_where_it_is_from(job):
    job.save_part("henries", HenriesPart(lcr_henry=24 * job.coil.henry * 1.02))
    before = job.coil
    InductanceWaysPanel(job).buttons["Write the weighted inductance to the job"].click()
    kept = Job.open(job.name, job.folder.parent).coil
    assert before.henry < kept.henry < 1.02 * before.henry and not kept.henry_assumed
    assert kept.henry_how == wording("one coil, worked out from")
    assert (kept.emf_v_per_rpm, kept.ohm) == (before.emf_v_per_rpm, before.ohm)


def test_without_logs_it_says_what_is_missing(tmp_path):
    example.write(tmp_path)
    panel = InductanceWaysPanel(Job.create("mill", tmp_path))
    assert wording("the slots and poles are") in panel.sentence and panel.message.last_fault == ""


@pytest.mark.outside(
    "amps and volts of three resistors in star on a machine",
    source="phasors of one star phase: I = E / √((R + r)² + (ωL)²), U = √3 I r",
    number="5 Ω at 300 rpm, 120 Hz",
    tolerance="the ± of each way",
    seen="derived",
)
def test_readings_on_resistors_join_in_each_by_itself(job):
    panel = InductanceWaysPanel(job)
    star = 12 * job.coil.emf_v_per_rpm, 12 * job.coil.ohm, 12 * job.coil.henry
    # 24 pole pairs, winding at 20 °C.
    amps = star[0] * 300 / ((star[1] + 5) ** 2 + (2 * 3.14159265 * 120 * star[2]) ** 2) ** 0.5
    typed = {
        "res_rpm": "300",
        "res_ohm": "5",
        "res_line_amps": f"{amps:.3f}",
        "res_line_volts": f"{8.660254 * amps:.2f}",
    }
    for name, text in typed.items():
        panel.form.fields[name].control.value = text
    press(panel.form, "Save these readings")
    assert [row[0] for row in cells(shown(panel)[2])] == ["shorted log", "amps on resistors", "volts on resistors"]
    assert "do not agree" not in panel.sentence and "Resistors under load get hot" in shown(panel)[0]


@pytest.mark.outside(
    "henries of a coil from volts on three resistors in star",
    source="phasors of one star phase: U = √3 r E / √((R + r)² + (ωL)²)",
    number="5 Ω at 300 rpm, 120 Hz; a twelfth of the phase",
    tolerance="the ± told",
    seen="derived",
)
def test_a_meter_without_ac_amps_comes_to_constants_by_volts_on_resistors(tmp_path):
    job, machine = Job.create("mill", tmp_path), MACHINE
    job.save_part("stator", sample("stator"))
    logs = clean_logs(machine)
    job.save_log("spin", logs["spin"])
    job.save_log("ohms", logs["ohms"])
    shorted = ShortedPanel(job)
    coil = CoilPanel(job, follows=[shorted])
    ways = InductanceWaysPanel(job, follows=[shorted])
    assert "mH (assumed)" in coil.sentence
    # Winding and magnets at 20 °C, 24 pole pairs.
    reactance = 2 * pi * 24 * 300 / 60 * machine.henry
    volts = sqrt(3) * 5 * machine.emf * 300 / hypot(machine.ohm + 5, reactance)
    for name, text in {"res_rpm": "300", "res_ohm": "5", "res_line_volts": f"{volts:.2f}"}.items():
        ways.form.fields[name].control.value = text
    press(ways.form, "Save these readings")
    assert "Resistors under load get hot" in shown(ways)[0] and "hundreds of volts" in shown(ways)[0]
    assert "(assumed)" not in coil.sentence and "it decides the amps" not in shown(coil)[0]
    coil.write()
    kept = Job.open("mill", tmp_path).coil
    assert not kept.henry_assumed and "three resistors" in kept.henry_how
    # Twelve coils in series in star, so one has a twelfth; the reading is rounded, and the rows of the logs are, too.
    assert kept.henry == pytest.approx(machine.henry / 12, abs=kept.henry_plus_minus)
    assert 0 < kept.henry_plus_minus < 0.2 * kept.henry
    # Of rows with joined leads the shorted log itself says more, so it is not overruled.
    job = job.reopen()
    job.save_log("shorted", logs["shorted"])
    coil.write()
    assert "shorted log" in Job.open("mill", tmp_path).coil.henry_how


def test_half_a_reading_on_resistors_is_refused_at_its_field(job):
    panel = InductanceWaysPanel(job)
    for name, text in {"res_rpm": "300", "res_line_amps": "2"}.items():
        panel.form.fields[name].control.value = text
    press(panel.form, "Save these readings")
    assert wording("One resistor [Ω]: nothing was") in panel.form.message.text
    panel.form.fields["res_line_amps"].control.value = ""
    panel.form.fields["res_ohm"].control.value = "5"
    press(panel.form, "Save these readings")
    assert wording("Resistors: line amps, rms [A]") in panel.form.message.text


@pytest.mark.outside(
    "least and most volts of 16 LiFePO4 cells",
    source="common practice, no source",
    number="2.50 and 3.65 V a cell, 38.8 and 60.2 V on a meter of 3 %",
    tolerance="as printed",
    seen="from memory",
)
def test_volts_that_the_bank_cannot_show_are_set_aside_and_kept(job):
    panel = InductanceWaysPanel(job)
    for name, text in {"load_rpm": "900", "load_dc_amps": "8", "load_dc_volts": "24"}.items():
        panel.form.fields[name].control.value = text
    press(panel.form, "Save these readings")
    assert [row[0] for row in cells(shown(panel)[2])] == ["shorted log"]
    assert wording("24 V was given; 16") in panel.sentence
    assert Job.open(job.name, job.folder.parent).henries.load_dc_volts == 24.0


def test_another_bank_at_the_bench_is_not_held_against_the_jobs_own(job):
    job.save_part(
        "henries", HenriesPart(load_rpm=300.0, load_dc_amps=2.0, load_dc_volts=26.0, load_bank="another bank")
    )
    panel = InductanceWaysPanel(job)
    assert [row[0] for row in cells(shown(panel)[2])] == ["shorted log", "loaded reading"]
    assert wording("The 26 V of the") in shown(panel)[0]


def test_ten_logged_rows_are_never_told_to_be_logged(job):
    shorted = ShortedPanel(job)
    panel = InductanceWaysPanel(job, follows=[shorted])
    slow = [
        blank_row("shorted") | {"speed_rpm": f"{4 + n}", "amps": "0.14", "lead": "A", "connection": "star"}
        for n in range(10)
    ]
    assert panel.sentence.startswith("All together")
    # So slow that the ohms alone limit the amps: 0.23 V/rpm × 4 rpm / 6.7 Ω = 0.14 A.
    shorted.grid.add_rows(
        [row | {"amps": f"{0.2316 * float(row['speed_rpm']) / 6.72:.3f}"} for row in slow], replace=True
    )
    assert wording("No reading tells the inductance") in (panel.sentence)
    assert "take rows up to" in panel.sentence and "log shorted amps above" not in panel.sentence
    shorted.grid.add_rows([row | {"amps": "some"} for row in slow], replace=True)
    assert wording("None of the 10 rows") in panel.sentence
    shorted.grid.add_rows([], replace=True)
    assert wording("No row is in the shorted log above") in panel.sentence
