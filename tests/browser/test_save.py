"""Save, close, a lost kernel: a page never looks alive when it is not, and no reading goes nowhere."""

import re
from contextlib import suppress

import ipywidgets as W
import nbformat
import pytest
from ipywidgets.embed import dependency_state

from browser.lab import Lab
from browser.page import LabPage
from house.sources import ROOT
from sentences import sentences_of

wording = sentences_of("browser")

SPIN, PANEL = "02_spin_and_log", "spin"
ONLY_02 = pytest.mark.parametrize("opened", [SPIN], indirect=True)
FIELDS = ".jp-NotebookPanel:visible .jp-OutputArea-output :is(input, select, textarea, button)"
LOG, NOTICE = ".jp-NotebookPanel:visible .statorbook-log input", ".statorbook-notice:visible"
ASLEEP = wording("This page is not running")
CELL = "Volts [V], row 2"
DIALOG = ".jp-Dialog"
pytestmark = pytest.mark.slow


@pytest.fixture
def page_02(notebook):
    """Page 02, run; its file as shipped again at the end."""
    yield notebook
    file = notebook.lab.root / "notebooks" / f"{SPIN}.ipynb"
    file.write_bytes((ROOT / "notebooks" / file.name).read_bytes())
    notebook.page.keyboard.press("Escape")
    notebook.open(SPIN)
    notebook.touched = True


def spin_log(browser):
    return (browser.lab.data / "spring_pipe" / "spin.csv").read_text(encoding="utf-8")


def saved(browser, how):
    """Save as a reader does, and what is on the disk then."""
    file = browser.lab.root / "notebooks" / f"{browser.name}.ipynb"
    browser.page.evaluate("""() => { const context = watch.panel().context, saves = watch.saves = [];
        context.saveState.connect((_, state) => saves.push(state)); }""")
    how(browser.page)
    browser.page.wait_for_function("() => watch.saves.includes('completed') || watch.saves.includes('failed')")
    assert browser.page.evaluate("() => watch.saves") == ["started", "completed"]
    return file.read_bytes()


def by_key(page):
    page.locator(".jp-NotebookPanel:visible .jp-MarkdownOutput").first.click()
    page.keyboard.press("Control+s")


def by_menu(page):
    page.locator(".lm-MenuBar-item").get_by_text("File", exact=True).click()
    page.locator(".lm-Menu-item").get_by_text(re.compile("^Save Notebook$")).click()


def close_tab(browser):
    """Press the cross on the page's tab."""
    browser.page.locator("#jp-main-dock-panel .lm-TabBar-tab.lm-mod-current .lm-TabBar-tabCloseIcon").click()


def is_closed(browser):
    browser.page.wait_for_function("() => !document.querySelector('.jp-NotebookPanel')")


def reopened(browser, name=SPIN):
    browser.page.evaluate(
        "async path => { await window.jupyterapp.commands.execute('docmanager:open', {path}); }",
        f"notebooks/{name}.ipynb",
    )
    browser.page.wait_for_function("() => watch.ready() && (watch.listen(), true)")


def notice(browser):
    browser.page.locator(NOTICE).wait_for()
    return browser.page.locator(NOTICE).inner_text()


def type_into(field, text):
    """Type as a hand does, with the mouse and with the keyboard; True when it went in."""
    with suppress(Exception):
        field.click(timeout=1000)
    field.evaluate("field => field.focus()")
    field.page.keyboard.type(text)
    return text in field.input_value()


@ONLY_02
def test_a_page_that_was_saved_opens_as_stored_pictures(page_02, kept_in):
    shipped = (ROOT / "notebooks" / f"{SPIN}.ipynb").read_bytes()
    assert page_02.page.locator(".jp-NotebookPanel-toolbar:visible").locator("[data-jp-item-name=save]").count() == 0
    page_02.panel(PANEL).type_cell("Volts [V]", 2, "444")
    assert saved(page_02, by_key) == shipped
    page_02.panel(PANEL).type_cell("Volts [V]", 3, "445")  # still alive after a save
    assert saved(page_02, by_menu) == shipped
    assert "444" in spin_log(page_02) and "445" in spin_log(page_02)
    close_tab(page_02)
    is_closed(page_02)
    assert page_02.page.locator(DIALOG).count() == 0
    reopened(page_02)
    assert page_02.page.locator(FIELDS).count() == 0  # nothing to type into
    assert page_02.page.locator(".jp-NotebookPanel:visible .jp-RenderedImage img").count() > 3
    assert notice(page_02) == wording("Stored pictures of an example")
    page_02.picture(kept_in / "saved-and-opened")
    page_02.run()
    assert page_02.page.locator(NOTICE).count() == 0
    assert page_02.panel(PANEL).cell_value("Volts [V]", 2) == "444"
    assert page_02.troubles() == []


@ONLY_02
def test_closing_asks_about_the_readers_own_words_only(page_02):
    page_02.panel(PANEL).type_cell("Volts [V]", 2, "444")
    close_tab(page_02)
    is_closed(page_02)
    assert page_02.page.locator(DIALOG).count() == 0
    assert "444" in spin_log(page_02)
    reopened(page_02)
    page_02.run()
    page_02.page.evaluate("""() => { const cells = watch.panel().content.model.sharedModel;
        cells.addCell({cell_type: 'markdown', source: 'My own words.'}); }""")
    close_tab(page_02)
    page_02.page.locator(DIALOG).get_by_text("Save changes in").wait_for()
    page_02.page.locator(DIALOG).get_by_role("button", name="Save", exact=True).click()
    is_closed(page_02)
    page = nbformat.read(page_02.lab.root / "notebooks" / f"{SPIN}.ipynb", as_version=4)
    before = nbformat.read(ROOT / "notebooks" / f"{SPIN}.ipynb", as_version=4)
    assert page.cells[-1].source == "My own words." and page.cells[:-1] == before.cells
    reopened(page_02)


def restarted(browser):
    browser.page.locator(".lm-MenuBar-item").get_by_text("Kernel", exact=True).click()
    browser.page.locator(".lm-Menu-item").get_by_text(re.compile("^Restart Kernel…$")).click()
    browser.page.locator(DIALOG).get_by_role("button", name="Confirm Kernel Restart").click()


def crashed(browser):
    browser.page.evaluate("""() => { watch.panel().sessionContext.session.kernel
        .requestExecute({code: 'import os; os._exit(1)'}).done.catch(() => {}); }""")


@ONLY_02
@pytest.mark.parametrize("lost", [restarted, crashed])
def test_a_panel_that_lost_its_kernel_takes_no_reading(page_02, lost, kept_in):
    lost(page_02)
    assert notice(page_02).startswith(ASLEEP)
    page_02.page.screenshot(path=kept_in / f"{lost.__name__}.png")
    for dialog in page_02.page.locator(f"{DIALOG} button").all():
        dialog.click()
    page_02.page.wait_for_function("() => watch.ready() && (watch.listen(), true)")
    assert not type_into(page_02.panel(PANEL).cell.get_by_title(CELL, exact=True), "444")
    page_02.run()
    assert page_02.page.locator(NOTICE).count() == 0
    page_02.panel(PANEL).type_cell("Volts [V]", 2, "444")
    assert "444" in spin_log(page_02)
    assert page_02.troubles() == []


@ONLY_02
def test_a_line_that_was_lost_and_comes_back_wakes_the_page(page_02):
    page_02.page.evaluate("async () => { await watch.panel().sessionContext.session.kernel.reconnect(); }")
    page_02.page.wait_for_function("() => !document.querySelector('.statorbook-notice')")
    page_02.panel(PANEL).type_cell("Volts [V]", 2, "444")
    assert "444" in spin_log(page_02)


def stored_alive():
    """A page as a workbook stored it whose JupyterLab kept the state of panels."""
    field = W.Text("12", description="Volts [V]")
    output = nbformat.v4.new_output("display_data", field._repr_mimebundle_())
    page = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("import statorbook", outputs=[output])])
    page.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3 (ipykernel)"}
    page.metadata["widgets"] = {
        "application/vnd.jupyter.widget-state+json": {
            "version_major": 2,
            "version_minor": 0,
            "state": dependency_state([field]),
        }
    }
    return page


def test_a_page_stored_alive_by_an_older_workbook_takes_no_reading(lab, browser, kept_in):
    stored = stored_alive()
    nbformat.write(stored, lab.root / "notebooks" / "stored_alive.ipynb")
    lab.trust(stored)
    page = LabPage(lab, browser.page.context.browser.new_page())
    try:
        page.open("stored_alive")
        assert notice(page).startswith(ASLEEP)
        page.page.screenshot(path=kept_in / "stored_alive.png")
        assert page.page.locator(FIELDS).input_value() == "12" and not type_into(page.page.locator(FIELDS), "444")
    finally:
        page.close()
        page.page.close()
        (lab.root / "notebooks" / "stored_alive.ipynb").unlink()


def test_without_its_server_a_page_takes_no_reading(browser, kept_in):
    with Lab() as own:
        page = LabPage(own, browser.page.context.browser.new_page())
        page.open(SPIN)
        page.run()
        own.stop()
        page.page.locator(NOTICE).wait_for()
        assert "takes no reading now" in notice(page) and "start the workbook again" in notice(page)
        page.page.screenshot(path=kept_in / "no_server.png")
        page.page.keyboard.press("Escape")
        assert not type_into(page.panel(PANEL).cell.get_by_title(CELL, exact=True), "444")
        page.page.close()
