"""Every page in a real JupyterLab: it opens, runs without a fault, and every control can be touched."""

import pytest


def test_the_workbook_opens_on_its_first_page(browser):
    browser.land()
    assert browser.name == "00_start_here"
    assert browser.page.locator(".jp-Dialog").count() == 0


def test_it_runs_without_a_fault(notebook, kept_in):
    files = notebook.picture(kept_in / notebook.name)
    assert notebook.troubles() == []
    assert notebook.complaints() == []
    assert all(file.stat().st_size > 10_000 for file in files)
