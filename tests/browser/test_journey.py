"""A reader's whole way: a new job, its readings, fit, jet, bank, choice and sheets, and after a reload all is there."""

import re
import shutil
import subprocess

import pytest

from statorbook.job.job import Job

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
NAME = "first_wheel"
# An invented machine of 36 coils: 0.4 V AC rms between two leads for every rpm, 13.2 Ω between two leads.
SPIN = ((60, "24.0"), (90, "36.1"), (120, "47.9"), (150, "60.0"), (180, "72.1"), (240, "95.9"))
# Amps with the leads joined, E / √(R² + (2π f L)²): E = 0.4/√3 V per rpm, R = 6.6 Ω, L = 37.3 mH, f = 0.4 Hz per rpm.
SHORTED = ((100, "2.01"), (200, "2.32"), (300, "2.40"), (400, "2.43"))
WATER = {"Net head [m]": "28", "Nozzle bore [mm]": "14", "Pitch diameter [mm]": "260"}


@pytest.fixture(scope="module")
def start(browser):
    """The start page on the data as shipped."""
    browser.lab.renew()
    browser.open("00_start_here")
    browser.run()
    yield browser
    browser.close()


def test_from_a_new_job_to_the_sheets_and_back_after_a_reload(start):
    _make_the_job(start)
    fitted = _log(start)
    _describe_drive_and_bank(start)
    promised = _choose(start)
    pages = _print_the_sheets(start)
    start.reload()
    start.run()
    assert start.name == "05_cut_and_join" and start.troubles() == []
    assert NAME in start.panel("panel.sheets").sentence
    start.open("04_choose_a_grouping")
    start.run()
    assert _at_once(start.panel("panel").sentence) == promised
    start.open("02_spin_and_log")
    start.run()
    assert start.panel("spin").sentence == fitted
    for row, (speed, volts) in enumerate(SPIN, start=1):
        assert start.panel("spin").cell_value("Speed [rpm]", row) == str(speed)
        assert start.panel("spin").cell_value("Volts [V]", row) == volts
    _is_on_the_disk(start.lab.data, pages)


def _make_the_job(page):
    panel = page.panel("start")
    panel.type("Name of a new job", NAME)
    panel.press("Create this job")
    assert panel.sentence.startswith(f"Open job: {NAME}; 1 of ")  # the first page asks for nothing
    page.open("01_know_your_stator")
    page.run()
    stator = page.panel("StatorPanel(")
    stator.type("Slots", "36")
    stator.type("Magnet poles", "48")
    stator.choose("Connection as found", "star")
    stator.show_more()
    stator.choose("Conductor", "copper")
    stator.choose("Magnets", "ferrite")
    _save(stator, "Save the stator facts")
    ohms = page.panel("OhmsPanel(")
    ohms.type("Probes touching [Ω]", "0.2")
    ohms.type("Winding temperature [°C]", "20")
    ohms.type_cell("Reading [Ω]", 1, "13.4")


def _log(page):
    page.open("02_spin_and_log")
    page.run()
    spin, shorted = page.panel("spin"), page.panel("shorted")
    # Wiring as found, AB, AC line rms and a measured speed stand ready; said once is only the meter.
    for panel, rows, heading in ((spin, SPIN, "Volts [V]"), (shorted, SHORTED, "Current, rms [A]")):
        panel.choose("Meter", "averaging")
        for row, (speed, reading) in enumerate(rows, start=1):
            panel.type_cell("Speed [rpm]", row, str(speed))
            panel.type_cell(heading, row, reading)
    # 0.4 V for every rpm are 40 V at 100 rpm; the readings are rounded to 0.1 V, copper and magnets at 20 °C.
    at_100 = float(re.search(r"so ([\d.]+) ± [\d.]+ V AC line rms between two leads at 100 rpm", spin.sentence)[1])
    assert at_100 == pytest.approx(40.0, abs=0.05)
    # From the formula above: 37.3 mH; amps are rounded to 0.01 A.
    milli = float(re.search(r"an inductance of ([\d.]+) ", shorted.sentence)[1])
    assert milli == pytest.approx(37.3, rel=0.02)
    _save(page.panel("CoilPanel("), "Write these constants to the job")
    return spin.sentence


def _save(panel, words):
    panel.press(words)
    # With a tick, or with a dot before a remark that goes with it.
    assert any(line[1:].startswith(" Saved") and line[0] in "✓•" for line in panel.messages), panel.messages


def _describe_drive_and_bank(page):
    page.open("03_what_turns_it")
    page.run()
    drive = page.panel("DrivePanel(")
    drive.choose("Kind of drive", "water jet")
    drive.choose("Head known from", "gauge at the running nozzle")
    for label, text in WATER.items():
        drive.type(label, text)
    _save(drive, "Save the drive")
    page.open("04_choose_a_grouping")
    page.run()
    bank = page.panel("bank")
    bank.type("Nominal bank volts, DC [V]", "48")
    bank.choose("Chemistry", "LiFePO4")
    bank.type("Capacity [Ah]", "200")
    _save(bank, "Save the bank")


def _choose(page):
    page.run()
    panel = page.panel("panel")
    _save(panel, "Write this grouping to the job")
    return _at_once(panel.sentence)


def _at_once(sentence):
    """What page 04 says at once; whether the choice is settled comes when the controls have rested."""
    return re.split(r" (?:Not settled|No plausible step)", sentence)[0]


def _print_the_sheets(page):
    page.open("05_cut_and_join")
    page.run()
    panel = page.panel("panel.sheets")
    panel.press("Write the sheets")
    path = next((page.lab.data / NAME).glob("*.pdf"))
    assert panel.cell.locator("a[download]").get_attribute("download") == f"{NAME}_{path.name}"
    # Every sheet says at its foot which one of how many it is; poppler counts them without our help.
    count = int(re.search(r"^Pages:\s+(\d+)$", _poppler("pdfinfo", path), re.MULTILINE)[1])
    feet = re.findall(r"page (\d+) of (\d+)", _poppler("pdftotext", path, "-"))
    assert feet == [(str(number), str(count)) for number in range(1, count + 1)]
    assert count >= 4  # summary, drawing, steps, checks
    return count


def _poppler(program, *arguments):
    found = shutil.which(program)
    assert found, f"the program {program} is missing: install the package poppler-utils, then run the tests again"
    return subprocess.run([found, *map(str, arguments)], check=True, capture_output=True).stdout.decode()


def _is_on_the_disk(data, pages):
    job = Job.open(NAME, data)
    assert [(row["speed_rpm"], row["volts"]) for row in job.read_log("spin")] == [(str(n), volts) for n, volts in SPIN]
    assert [(row["speed_rpm"], row["amps"]) for row in job.read_log("shorted")] == [(str(n), a) for n, a in SHORTED]
    assert (job.stator.slots, job.stator.poles, job.drive.head_m, job.bank.nominal_volts) == (36, 48, 28.0, 48.0)
    assert job.choice is not None and job.coil is not None
    assert f"Pages: {pages}" in " ".join(_poppler("pdfinfo", next((data / NAME).glob("*.pdf"))).split())
