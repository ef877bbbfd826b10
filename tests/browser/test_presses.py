"""How much a reader types and presses from a new job to the first trustworthy answer of page 04, on the shortest way.

A field is everything that is typed or chosen. A press is every button, and opening a page and “Run the page” are one
each; the start page is open when the workbook starts. Tab and Enter go with the field that they leave.
"""

import pytest

from statorbook.job.job import Job

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
NAME = "shortest_way"
MOST_FIELDS, MOST_PRESSES = 40, 10
# An invented machine of 36 coils: 0.4 V AC rms between two leads for every rpm, 13.2 Ω between two leads.
OHMS = ("13.4", "13.4", "13.5")
SPIN = ((60, "24.0"), (120, "47.9"), (240, "95.9"))
# Amps with the leads joined, E / √(R² + (2π f L)²): E = 0.4/√3 V per rpm, R = 6.6 Ω, L = 37.3 mH, f = 0.4 Hz per rpm.
SHORTED = ((100, "2.01"), (200, "2.32"), (400, "2.43"))
WATER = {"Net head [m]": "28", "Nozzle bore [mm]": "14", "Pitch diameter [mm]": "260"}


class Counted:
    """A page of the workbook whose fields and presses are counted."""

    def __init__(self, page):
        self.page, self.fields, self.presses = page, 0, 0

    def run(self):
        """Press “Run the page”."""
        self.presses += 1
        self.page.run()

    def open(self, name):
        """Open another page, and run it."""
        self.presses += 1
        self.page.open(name)
        self.run()

    def press(self, panel, words):
        """Press a button of a panel."""
        self.presses += 1
        panel.press(words)

    def fill(self, do, *what):
        """Type or choose one thing; `do` is a panel's `type`, `choose` or `type_cell`."""
        self.fields += 1
        do(*what)


@pytest.fixture(scope="module")
def way(browser):
    """The shortest way, walked once; page 04 is then open."""
    browser.lab.renew()
    browser.open("00_start_here")
    counted = Counted(browser)
    counted.run()
    start = browser.panel("start")
    counted.fill(start.type, "Name of a new job", NAME)
    counted.press(start, "Create this job")
    said = browser.page.evaluate("() => watch.panel().content.node.textContent")
    assert f"Open job: {NAME}" in said and "Open job: spring_pipe" not in said and "The job spring_pipe" not in said
    _stator_and_ohms(counted)
    _spin_and_shorted(counted)
    _drive_and_bank(counted)
    yield counted
    browser.close()


def test_forty_fields_and_ten_presses_lead_to_the_first_answer(way):
    assert way.fields <= MOST_FIELDS and way.presses <= MOST_PRESSES, (way.fields, way.presses)
    assert way.page.troubles() == []


def test_the_answer_is_of_ones_own_machine_and_stands_on_three_rows_a_log(way):
    sentence = way.page.panel("panel").sentence
    assert "not your own" not in sentence and " W (" in sentence
    job = Job.open(NAME, way.page.lab.data)
    assert (job.stator.slots, job.stator.poles, job.stator.found_connection) == (36, 48, "star")
    assert [len(job.read_log(log)) for log in ("ohms", "spin", "shorted")] == [3, 3, 3]
    # 0.4 V for every rpm between two leads are 0.4 / √3 V of a phase of 12 coils in series.
    assert job.coil.emf_v_per_rpm == pytest.approx(0.4 / 3**0.5 / 12, rel=0.01)
    # 37.3 mH of a phase of 12 coils in series; amps are rounded to 0.01 A.
    assert job.coil.henry == pytest.approx(0.0373 / 12, rel=0.03)
    assert (job.drive.head_m, job.drive.nozzle_mm, job.bank.nominal_volts, job.bank.capacity_ah) == (28, 14, 48, 200)


def _stator_and_ohms(counted):
    counted.open("01_know_your_stator")
    stator, ohms = counted.page.panel("StatorPanel("), counted.page.panel("OhmsPanel(")
    counted.fill(stator.type, "Slots", "36")
    counted.fill(stator.type, "Magnet poles", "48")
    counted.fill(stator.choose, "Connection as found", "star")
    counted.fill(ohms.type, "Probes touching [Ω]", "0.2")
    counted.fill(ohms.type, "Winding temperature [°C]", "20")
    for row, reading in enumerate(OHMS, start=1):  # the leads stand ready in turn: AB, BC, CA
        counted.fill(ohms.type_cell, "Reading [Ω]", row, reading)


def _spin_and_shorted(counted):
    counted.open("02_spin_and_log")
    for code, rows, heading in (("spin", SPIN, "Volts [V]"), ("shorted", SHORTED, "Current, rms [A]")):
        panel = counted.page.panel(code)
        counted.fill(panel.choose, "Meter", "averaging")
        for row, (speed, reading) in enumerate(rows, start=1):
            counted.fill(panel.type_cell, "Speed [rpm]", row, str(speed))
            counted.fill(panel.type_cell, heading, row, reading)
    # They are written once the hand rests.
    counted.page.panel("CoilPanel(").cell.get_by_text("Written to the job").wait_for()


def _drive_and_bank(counted):
    counted.open("03_what_turns_it")
    drive = counted.page.panel("DrivePanel(")
    counted.fill(drive.choose, "Kind of drive", "water jet")
    for label, text in WATER.items():
        counted.fill(drive.type, label, text)
    counted.open("04_choose_a_grouping")
    bank = counted.page.panel("bank")
    counted.fill(bank.type, "Nominal bank volts, DC [V]", "48")
    counted.fill(bank.choose, "Chemistry", "LiFePO4")
    counted.fill(bank.type, "Capacity [Ah]", "200")
    counted.page.panel("panel").cell.get_by_text("not your own").first.wait_for(state="detached")
