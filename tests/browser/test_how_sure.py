"""See how sure this is: a measured value put into the job makes another number lead, and the sheet is printed."""

import pytest

from statorbook.examples import jobs as example
from statorbook.job.parts.heat import HeatPart

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
PAGE = "09_see_how_sure"


def test_a_measured_value_makes_another_number_lead(browser):
    browser.lab.renew()
    job = example.write(browser.lab.data, "shed_pedals")
    job.make_current()
    browser.open(PAGE)
    browser.run()
    panel = browser.panel("SurePanel(")
    panel.choose("Answer to look into", "Speed")
    browser.settle()
    assert "that of the magnets at work" in panel.sentence and panel.pictures
    panel.press("Print it")
    assert (job.folder / "how_sure_A4.pdf").read_bytes().startswith(b"%PDF")
    job.save_part("heat", HeatPart(magnet_c=40.0))
    browser.run()
    panel = browser.panel("SurePanel(")
    panel.choose("Answer to look into", "Speed")
    browser.settle()
    assert "that of the magnets at work" not in panel.sentence and "measured" in panel.sentence
    assert browser.troubles() == []
