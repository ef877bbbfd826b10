"""Protecting a plant: an own job comes to a list to buy from, place, cable and labels at hand counting for all."""

import re

import pytest
from playwright.sync_api import TimeoutError

from samples.wind_case import wind_job
from statorbook.assembly import choice_of

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start


def shows(browser, panel, words, *, there=True):
    """Wait until a panel shows words, or no longer does: another panel's save reaches it once the hand rests."""
    asked = "([cell, words, there]) => cell.innerText.includes(words) === there"
    try:
        browser.page.wait_for_function(asked, arg=[panel.cell.element_handle(), words, there])
    except TimeoutError as late:
        raise AssertionError(f"“{words}” there: {not there}\n{panel.cell.inner_text()}\n{browser.troubles()}") from late


def test_an_own_job_comes_to_a_list_down_to_the_last_fuse(browser):
    browser.lab.renew()
    job = wind_job(browser.lab.data)
    job.make_current()
    job.save_part("choice", choice_of(job))
    browser.open("06_protect_it")
    browser.run()
    browser.unfold()
    touch, parts, cable, fuse, bridge = (
        browser.panel(f"{name}Panel(") for name in ("Touch", "Parts", "Cable", "Fuse", "Bridge")
    )
    assert "IP65" in parts.cell.inner_text() and touch.sentence.startswith("Wet outdoors")
    touch.choose("Place", "damp")
    touch.press("Save the place")
    shows(browser, parts, "IP65", there=False)
    cable.type("Cable from machine to bank, one way [m]", "30")
    cable.type("Cross-section of each wire [mm²]", "1.5")
    cable.press("Save the cable")
    shows(browser, parts, "1.5 mm² does not fit")  # in the table, which follows the sentence
    asked = re.search(r"wires of ([\d.]+) mm²", parts.cell.inner_text())[1]
    cable.type("Cross-section of each wire [mm²]", asked)
    cable.press("Save the cable")
    shows(browser, parts, "does not fit", there=False)
    fuse.type("Rated amps of the fuse [A]", "4")
    assert fuse.sentence.count("does not fit") == 1
    size, volts, breaks = re.search(
        r"fuse of (\d+) A, for at least (\d+) V DC, that breaks at least ([\d.]+ k?A)", fuse.sentence
    ).groups()
    fuse.type("Rated amps of the fuse [A]", size)
    fuse.type("Rated volts of the fuse, DC [V]", volts)
    fuse.type("Breaking capacity of the fuse, DC [A]", breaks)
    fuse.press("Save fuse and switch")
    assert "Your fuse fits" in fuse.sentence
    bridge.type("Amps on its label, DC [A]", "400")
    bridge.type("Reverse volts on its label, DC peak [V]", "1600")
    bridge.press("Save this rectifier")
    parts.press("Save the list")
    assert job.states()["06_protect_it"] == "done"
    parts.press("Print it")
    assert (job.folder / "protect_A4.pdf").read_bytes().startswith(b"%PDF") and browser.troubles() == []
    browser.close()
