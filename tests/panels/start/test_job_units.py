"""The choice of units on the start page, and the sheets that follow it."""

import shutil
import subprocess

import pytest

from samples.pages import refused
from sentences import sentences_of
from statorbook.assembly.plan import choice_of, plan_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.reader import ReaderPart, units_of
from statorbook.panels.choice.settle import SettlePanel
from statorbook.panels.start.job_units import UnitsPanel
from statorbook.panels.start.start import StartPanel
from statorbook.quantities.unit_systems import reader_units, say
from statorbook.sheets.job_sheets import write_sheets

wording = sentences_of("panels_start")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def test_what_is_chosen_is_said_and_kept(job):
    panel = UnitsPanel(StartPanel(job))
    assert panel.sentence.startswith(wording("The job spring_pipe is shown in metric"))
    panel.units.control.value = "US"
    assert panel.sentence.startswith(wording("The job spring_pipe is shown in US"))
    assert units_of(Job.open("spring_pipe", job.folder.parent)) == "US"
    assert panel.units.message.text == wording("“Run the page” lets every")


def test_it_follows_the_job_that_is_opened(job):
    example.write(job.folder.parent, "ridge_rotor").save_part("reader", ReaderPart(units="US"))
    start = StartPanel(job)
    panel = UnitsPanel(start)
    assert "spring_pipe is shown in metric" in panel.sentence
    start.open("ridge_rotor")
    assert "ridge_rotor is shown in US" in panel.sentence and panel.units.control.value == "US"
    panel.units.control.value = "metric"
    assert units_of(Job.open("ridge_rotor", job.folder.parent)) == "metric"
    assert Job.open("spring_pipe", job.folder.parent).reader is None


def test_without_a_job_it_says_what_to_do(job):
    start = StartPanel(job)
    start.job = None
    assert refused(UnitsPanel(start)) == wording("units: no job is open")


@pytest.mark.outside(
    "temperatures on a US reader's sheets",
    source="NIST SP 811, appendix B.8",
    number="25 °C is 77 °F, 105 °C 221 °F, 150 °C 302 °F",
    tolerance="as printed",
    seen="from memory",
)
@pytest.mark.skipif(not shutil.which("pdftotext"), reason="the sheets are read back with pdftotext, which is not here")
@pytest.mark.parametrize(
    "units, note, wire, sleeve",
    [
        ("metric", wording("a winding at 25 °C"), "for 105 °C or more", "stands 150 °C"),
        ("US", wording("a winding at 77 °F"), "for 221 °F or more", "stands 302 °F"),
    ],
)
def test_the_sheets_say_temperatures_in_the_readers_units(job, units, note, wire, sleeve):
    job.save_part("reader", ReaderPart(units=units))
    path = write_sheets(job, plan_of(job, choice_of(job), "neighbours"), "A4", copper_c=25.0)
    text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True).stdout
    words = " ".join(text.replace("\xa0", " ").split())
    for each in (note, wire, sleeve):
        assert each in words


@pytest.mark.outside(
    "foot-pound of a US reader's figure",
    source="NIST SP 811, appendix B.8",
    number="1.3558179 N·m",
    tolerance="two figures",
    seen="from memory",
)
@pytest.mark.parametrize("units, axis", [("metric", "[N·m]"), ("US", "[ft·lb]")])
def test_the_figure_shows_the_number_of_the_sentence(job, units, axis):
    job.save_part("reader", ReaderPart(units=units))
    panel = SettlePanel(job)
    axes = panel.torque.axes[0]
    assert axes.get_ylabel().endswith(axis)
    # The torque at rest that the sentence says is where the drive's curve leaves the axis.
    left = next(line for line in axes.lines if len(line.get_xdata()) > 20 and line.get_xdata()[0] < 10)
    from_metric = {"metric": 1.0, "US": 1.3558179483314004}[units]
    with reader_units(units):
        rest = say(left.get_ydata()[0] * from_metric, "N·m", figures=2)
    assert f"pulls {rest} on the standing rotor" in panel.sentence
