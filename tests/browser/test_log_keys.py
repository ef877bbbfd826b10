"""A whole log typed without the mouse: Enter goes to the next number, Shift+Enter back; all is on the disk."""

import pytest

from samples.job_samples import sample
from statorbook.job.job import Job

ROWS = 10
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


def type_numbers(browser, texts):
    """Type each number and press Enter; how many keys that took."""
    for text in texts:
        browser.page.keyboard.type(text)  # quicker than any hand
        browser.page.keyboard.press("Enter")
    return sum(len(text) + 1 for text in texts)


def back_up(browser, cells):
    for _ in range(cells):
        browser.page.keyboard.press("Shift+Enter")


@pytest.mark.slow
@pytest.mark.parametrize("opened", ["02_spin_and_log"], indirect=True)
def test_ten_rows_are_two_numbers_and_two_enters_each(empty_log, kept_in):
    keys, cells = empty_log.page.keyboard, "() => watch.panel().content.model.cells.length"
    before = empty_log.page.evaluate(cells)
    assert focused(empty_log) == "Speed [rpm], row 1"
    keys.press("Enter")
    back_up(empty_log, 2)
    assert focused(empty_log) == "Speed [rpm], row 1"  # nothing is begun, and above the first row is nothing
    count = type_numbers(empty_log, [text for row in zip(SPEEDS, VOLTS, strict=True) for text in row])
    comes_to(empty_log, f"Speed [rpm], row {ROWS + 1}")
    keys.press("Enter")
    assert focused(empty_log) == f"Speed [rpm], row {ROWS + 1}"  # an empty row leads to no other
    # Ten speeds of three digits, ten readings of four signs, and Enter after each.
    assert count == ROWS * (3 + 4 + 2)
    back_up(empty_log, 2 * ROWS - 3)
    comes_to(empty_log, "Volts [V], row 2")
    keys.press("Tab")
    keys.type("BC")  # the first letters of a word in a list; from there Enter goes down the column
    keys.press("Enter")
    comes_to(empty_log, "Leads, row 3")
    keys.type("CA")
    empty_log.settle(still_ms=300)
    empty_log.page.screenshot(path=kept_in / "log_typed_by_keyboard.png")
    rows = Job.open("mill", empty_log.lab.data).read_log("spin")
    words = {"connection": "star", "quantity": "AC line rms", "meter": "unknown", "speed_by": "measured"}
    leads = ["AB", "BC", "CA", *["AB"] * (ROWS - 3)]
    assert [{name: cell for name, cell in row.items() if cell} for row in rows] == [
        {"speed_rpm": speed, "volts": volts, "terminals": pair, "volts_by": "meter"} | words
        for speed, volts, pair in zip(SPEEDS, VOLTS, leads, strict=True)
    ]
    # The letters were kept from the page's own keys, one of which adds a cell and another cuts one.
    assert empty_log.page.evaluate(cells) == before and empty_log.troubles() == []


@pytest.mark.slow
@pytest.mark.parametrize("opened", ["02_spin_and_log"], indirect=True)
def test_a_column_that_comes_into_sight_takes_no_cell_from_the_hand(empty_log):
    empty_log.panel("spin").choose("Wiring", "")
    empty_log.page.locator(".statorbook-log input").first.focus()
    type_numbers(empty_log, ["100", "41,5"])
    empty_log.page.keyboard.type("110")
    empty_log.page.get_by_title("Wiring, row 1", exact=True).wait_for()
    empty_log.settle(still_ms=300)
    assert focused(empty_log) == "Speed [rpm], row 2"
    assert empty_log.panel("spin").cell_value("Speed [rpm]", 2) == "110"
    # While the log scrolls sideways the verdict stays where it is.
    log = empty_log.page.locator(".statorbook-log").first
    empty_log.page.set_viewport_size({"width": 800, "height": 900})
    empty_log.panel("spin").press("More columns")
    left = "log => log.querySelectorAll('.statorbook-row-sign')[1].getBoundingClientRect().left"
    at_rest = log.evaluate(left)
    assert log.evaluate("log => { log.scrollLeft = 200; return log.scrollLeft; }") == 200
    assert log.evaluate(left) == pytest.approx(at_rest, abs=1.0)
    empty_log.page.set_viewport_size({"width": 1280, "height": 900})
    assert empty_log.troubles() == []


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
    type_numbers(empty_log, ["100", "40", "110", "44", "127"])
    assert focused(empty_log) == f"Volts [V], row {row}"
    back_up(empty_log, 1)
    keys.press("Backspace")
    keys.type("120")
    for text in ("13,5", "BC"):  # on to the volts and the leads
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
    ] == [(row, "100", "40", "AB"), (row + 1, "110", "44", "AB"), (row + 2, "120", "13,5", "BC")]
    assert empty_log.troubles() == []
