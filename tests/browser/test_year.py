"""Adding up the year of a wind job of one's own: the example first, then one number typed, and its kilowatt-hours."""

import re

import pytest

from samples.wind_case import wind_job
from statorbook.job.job import Job

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start


def kwh_in(sentence):
    return float(re.search(r"it gives ([\d.]+)(?: ± [\d.]+)? kWh a year", sentence)[1])


def test_a_mean_wind_typed_is_the_year_of_every_panel_below(browser):
    browser.lab.renew()
    wind_job(browser.lab.data).make_current()
    browser.open("04b_add_up_the_year")
    browser.run()
    source, added = browser.panel("source"), browser.panel("AddedUp(")
    assert "not your own" in added.cell.inner_text() and browser.troubles() == []
    of_example = kwh_in(added.sentence)
    source.type("Mean wind of the year [m/s]", "5.5")
    browser.settle()
    assert Job.open("hill", browser.lab.data).year.mean_wind_m_s == 5.5
    assert "It is there for 8760" in source.sentence
    browser.page.wait_for_function("cell => !cell.innerText.includes('not your own')", arg=added.cell.element_handle())
    assert kwh_in(added.sentence) != of_example and browser.troubles() == []
    browser.close()
