"""Protecting the example's plant: place and units chosen at the top count for the whole page."""

import pytest

from statorbook.job.job import Job

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start


def test_place_and_units_chosen_at_the_top_are_those_of_every_panel(browser):
    browser.lab.renew()
    browser.open("06_protect_it")
    browser.run()
    touch, parts = browser.panel("TouchPanel("), browser.panel("PartsPanel(")
    assert "IP65" in parts.cell.inner_text() and touch.sentence.startswith("Wet outdoors")
    touch.choose("Place", "dry indoors")
    browser.settle()
    assert touch.sentence.startswith("Dry indoors")
    touch.press("Save the place")
    browser.page.wait_for_function("cell => !cell.innerText.includes('IP65')", arg=parts.cell.element_handle())
    assert Job.open("spring_pipe", browser.lab.data).site.place == "dry indoors"
    touch.choose("Units", "US")
    # NIST SP 811: 30 °C are 86 °F.
    browser.page.wait_for_function("cell => cell.innerText.includes('86 °F')", arg=parts.cell.element_handle())
    assert "30 °C" not in parts.cell.inner_text() and browser.troubles() == []
    browser.close()


def test_accepted_volts_slide_and_nothing_is_written(browser):
    browser.lab.renew()
    browser.open("06_protect_it")
    browser.run()
    browser.unfold()
    trade = browser.panel("TradePanel(")
    before = trade.sentence
    trade.slide("Highest volts I accept with the bank gone, DC peak [V]", times=30)
    browser.settle()
    assert trade.sentence != before
    assert Job.open("spring_pipe", browser.lab.data).choice is None
    browser.close()
