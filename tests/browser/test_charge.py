"""Charge and dump: a job of one's own comes from the ready rules to a saved program and its printed sheets."""

import pytest

from samples.wind_case import wind_job
from statorbook.assembly import choice_of
from statorbook.job.job import Job

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
PAGE = "07_charge_and_dump"


def test_an_own_job_comes_to_a_program_and_notices_a_set_point_that_changed(browser):
    browser.lab.renew()
    job = wind_job(browser.lab.data)
    job.make_current()
    job.save_part("choice", choice_of(job))
    browser.open(PAGE)
    browser.run()
    browser.open_headings()
    days, points, dump, program = (browser.panel(f"{name}Panel(") for name in ("Days", "SetPoints", "Dump", "Program"))
    assert days.pictures and browser.troubles() == []
    for label, text in (("First dump load [Ω]", "0.3"), ("First: stands for hours [W]", "5000")):
        dump.type(label, text)
    dump.press("Save the dump loads")
    assert Job.open("hill", browser.lab.data).dump.dump_1_ohm == 0.3
    browser.settle()
    program.press("Save the program")
    browser.settle()
    job = Job.open("hill", browser.lab.data)
    assert job.states()[PAGE] == "done"
    assert (job.folder / job.program.file_name).read_text(encoding="ascii").startswith("(*")
    program.press("Print it all")
    assert (job.folder / "controller_A4.pdf").read_bytes().startswith(b"%PDF")
    points.type("Absorption [V]", "28")
    points.press("Save the set-points")
    browser.settle()
    words = "out of date: the set-points changed since the program was saved"
    assert Job.open("hill", browser.lab.data).states()[PAGE] == words
    assert browser.troubles() == []
    browser.close()
