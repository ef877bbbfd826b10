"""A whole log typed without the mouse: Enter goes down, Shift+Enter up, letters choose words; all is on the disk."""

import pytest

from samples.job_samples import sample
from statorbook.job.job import Job

ROWS = 12
PANEL = "SpinPanel("
SPEEDS, VOLTS = [str(100 + 10 * n) for n in range(ROWS)], [f"{13 + n},5" for n in range(ROWS)]


@pytest.fixture
def empty_log(opened):
    """Page 02 on a job without a reading, with the first cell of its log in focus."""
    opened.lab.renew()
    job = Job.create("mill", opened.lab.data)
    job.save_part("stator", sample("stator"))
    job.make_current()
    opened.run()
    opened.touched = True
    opened.page.locator(".statorbook-log input").first.focus()
    return opened


def focused(browser):
    return browser.page.evaluate("() => document.activeElement.title")


def comes_to(browser, title):
    """Wait until a cell has the keyboard: rows to come may be late."""
    browser.page.wait_for_function("title => document.activeElement.title === title", arg=title)


def type_down(browser, texts):
    for text in texts:
        browser.page.keyboard.type(text)  # quicker than any hand
        browser.page.keyboard.press("Enter")


def back_up(browser, rows=ROWS):
    for _ in range(rows):
        browser.page.keyboard.press("Shift+Enter")


@pytest.mark.slow
@pytest.mark.parametrize("opened", ["02_spin_and_log"], indirect=True)
def test_a_spin_log_is_typed_without_the_mouse(empty_log, kept_in):
    keys, cells = empty_log.page.keyboard, "() => watch.panel().content.model.cells.length"
    before = empty_log.page.evaluate(cells)
    assert focused(empty_log) == "Speed [rpm], row 1"
    back_up(empty_log, 2)
    assert focused(empty_log) == "Speed [rpm], row 1"  # above the first row is nothing
    type_down(empty_log, SPEEDS)
    comes_to(empty_log, f"Speed [rpm], row {ROWS + 1}")
    back_up(empty_log)
    keys.press("Tab")
    keys.press("Tab")
    comes_to(empty_log, "Volts [V], row 1")
    type_down(empty_log, VOLTS)
    for words in ("AB", "star", "AC l", "true"):  # the first letters of words in a list
        back_up(empty_log)
        keys.press("Tab")
        type_down(empty_log, [words] * ROWS)
    comes_to(empty_log, f"Meter, row {ROWS + 1}")
    empty_log.settle(still_ms=300)
    empty_log.page.screenshot(path=kept_in / "log_typed_by_keyboard.png")
    rows = Job.open("mill", empty_log.lab.data).read_log("spin")
    words = {"terminals": "AB", "connection": "star", "quantity": "AC line rms", "meter": "true rms"}
    assert [{name: cell for name, cell in row.items() if cell} for row in rows] == [
        {"speed_rpm": speed, "volts": volts} | words for speed, volts in zip(SPEEDS, VOLTS, strict=True)
    ]
    # The letters were kept from the page's own keys, one of which adds a cell and another cuts one.
    assert empty_log.page.evaluate(cells) == before and empty_log.troubles() == []


@pytest.mark.slow
@pytest.mark.parametrize("opened", ["02_spin_and_log"], indirect=True)
def test_below_the_last_row_what_is_typed_waits_for_the_next(empty_log):
    last = empty_log.page.locator(".statorbook-log").first.locator("input[title^='Speed']").last
    row = int(last.get_attribute("title").rsplit(" ", 1)[1])
    last.focus()
    # The kernel is busy meanwhile, so that the rows to come are late for sure.
    empty_log.page.evaluate("""() => { watch.panel().sessionContext.session.kernel.requestExecute(
        {code: 'import time; time.sleep(1.5)'}); }""")
    keys = empty_log.page.keyboard
    for text in ("100", "110", "127"):
        keys.type(text)
        keys.press("Enter")
    assert focused(empty_log) == f"Speed [rpm], row {row}"
    back_up(empty_log, 1)
    keys.press("Backspace")
    keys.type("120")
    for text in ("", "13,5", "AB"):  # on to the Hz, the volts and the leads
        keys.press("Tab")
        keys.type(text)
    comes_to(empty_log, f"Leads, row {row + 2}")
    keys.press("Enter")
    empty_log.settle(still_ms=300)
    rows = Job.open("mill", empty_log.lab.data).read_log("spin")
    assert [
        (number, *(cells[name] for name in ("speed_rpm", "volts", "terminals")))
        for number, cells in enumerate(rows, 1)
        if cells["speed_rpm"]
    ] == [(row, "100", "", ""), (row + 1, "110", "", ""), (row + 2, "120", "13,5", "AB")]
    assert empty_log.troubles() == []
