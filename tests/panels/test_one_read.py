"""A panel, a sheet or a check reads job.json once, so that all it shows is of one moment."""

import pytest

from statorbook.assembly import year as year_module
from statorbook.assembly.machine import machine_from, with_parts
from statorbook.assembly.meter_checks import checks_for
from statorbook.assembly.plan import choice_of, plan_of
from statorbook.examples import jobs as example
from statorbook.job import job as job_module
from statorbook.job.job import Job
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.groupings import written_words
from statorbook.panels.choice.other_ways import OtherWaysPanel
from statorbook.panels.choice.settle import SettlePanel
from statorbook.panels.measuring.coil_constants import CoilPanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.meters import MetersPanel
from statorbook.panels.measuring.model_checks import ModelChecksPanel
from statorbook.panels.rewiring.cut_and_join import CutPanel
from statorbook.panels.start.start import StartPanel
from statorbook.sheets.job_sheets import write_sheets


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.fixture
def reads(monkeypatch):
    """Call something and count how often job.json was read and parsed in it."""
    parse, seen = job_module.parse_document, []
    monkeypatch.setattr(job_module, "parse_document", lambda *given: seen.append(given) or parse(*given))

    def counted(call):
        seen.clear()
        call()
        return len(seen)

    return counted


@pytest.mark.parametrize("panel", [ChoosePanel, OtherWaysPanel, SettlePanel])
def test_a_panel_of_page_04_is_drawn_from_one_reading(job, reads, panel):
    assert reads(lambda: panel(job)) == 1


def test_a_slider_of_page_04_reads_nothing_again(job, reads):
    panel = ChoosePanel(job)
    assert reads(lambda: setattr(panel.copper, "value", panel.copper.value + 5.0)) == 0


@pytest.mark.parametrize("panel", [MetersPanel, CoilPanel, InductanceWaysPanel, ModelChecksPanel, CutPanel])
def test_a_panel_worked_out_again_reads_once(job, reads, panel):
    assert reads(panel(job).redraw) == 1


def test_the_page_puts_its_machine_together_from_one_reading(job, reads):
    assert reads(lambda: with_parts(job, "stator", "coil", "drive", "bank")) == 1
    assert reads(lambda: machine_from(job)) == 1
    assert reads(lambda: choice_of(job)) == 1
    assert reads(lambda: written_words(job)) == 1


def test_the_chapters_of_the_start_page_come_from_one_reading(job, reads):
    assert reads(StartPanel(job).redraw) == 1


def test_checks_and_sheets_come_from_one_reading_each(job, reads):
    plan = plan_of(job, choice_of(job), "neighbours")
    assert reads(lambda: checks_for(job, plan)) == 1
    assert reads(lambda: write_sheets(job, plan)) == 1


def test_the_year_is_made_once_for_all_panels_of_its_page(job, monkeypatch):
    made = []
    build = year_module.year_of
    monkeypatch.setattr(year_module, "year_of", lambda *given: made.append(given) or build(*given))
    first = year_module.source_year_from(job)
    assert (
        year_module.source_year_from(job)
        is first
        is year_module.source_year_from(Job.open(job.name, job.folder.parent))
    )
    rows = job.read_log("water_months")
    job.save_log("water_months", [rows[0] | {"flow_l_s": "2.2"}, *rows[1:]])
    assert year_module.source_year_from(job) is not first and len(made) == 2
