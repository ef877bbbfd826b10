"""The editable log."""

import re
import time
from importlib import resources

import pytest

from sentences import sentences_of
from statorbook.widgets.grid import LogGrid
from statorbook.widgets.grid_keys import LOG_CLASS, LogKeys

wording = sentences_of("widgets")

COLUMNS = {"speed_rpm": "Speed [rpm]", "volts": "Volts [V]", "terminals": "Terminals", "note": "Note"}
OPTIONS = {"terminals": ["AB", "BC", "CA"]}


def rows(count):
    return [
        {"speed_rpm": str(100 * n), "volts": str(30 * n), "terminals": "AB", "note": ""} for n in range(1, count + 1)
    ]


def judge(given):
    return ["good" if row["volts"].isdigit() else f"bad: {row['volts']} is no number" for row in given]


@pytest.fixture
def grid():
    return LogGrid(COLUMNS, rows(3), OPTIONS, judge)


def box(grid):
    return grid.widget.children[1]


def line(grid, number):
    return grid.row(number)


def press(grid, words):
    grid.buttons[words].click()


def choose_row(grid, number):
    next(b for b in grid.widget.children[3].children if b.description == "Row").value = number


def texts(grid, column):
    return [row[column] for row in grid.rows()]


def test_headings_carry_units_and_cells_their_names(grid):
    headings = " ".join(child.value for child in box(grid).children[:6])
    assert all(heading in headings for heading in COLUMNS.values())
    assert line(grid, 2).cells["volts"].tooltip == "Volts [V], row 2"
    assert line(grid, 1).cells["volts"].continuous_update is False


def test_empty_rows_at_the_end_are_offered_and_not_part_of_the_log(grid):
    assert grid.rows_shown >= 6
    assert grid.rows() == rows(3)


def test_a_grid_brings_its_enter_key_and_room_to_go_on(grid):
    keys = grid.widget.children[-1]
    assert isinstance(keys, LogKeys) and keys.layout.display == "none"
    # The script looks for its log by this class, and beside itself.
    assert box(grid).get_state()["_dom_classes"] == (keys.log_class,) == (LOG_CLASS,)
    script = resources.files("statorbook.widgets").joinpath("grid_keys.js").read_text(encoding="utf-8")
    assert keys.get_state()["_esm"] == script and "export default" in script
    assert not re.search("https?:|import", script)  # a page without a network works
    for number in range(4, 20):
        line(grid, number).cells["volts"].value = "1"
        assert grid.rows_shown >= number + 3


def test_an_empty_row_in_between_keeps_the_row_numbers(grid):
    line(grid, 5).cells["volts"].value = "150"
    assert texts(grid, "volts") == ["30", "60", "90", "", "150"]


def test_what_was_typed_stays_as_typed_and_is_judged_in_words_and_sign(grid):
    line(grid, 2).cells["volts"].value = " 12..5 <b>"
    assert texts(grid, "volts") == ["30", " 12..5 <b>", "90"]
    assert "✗ bad" in line(grid, 2).sign.value and "&lt;b&gt; is no number" in line(grid, 2).sentence.value
    assert line(grid, 2).sentence.layout.display is None
    assert "✓ good" in line(grid, 1).sign.value and line(grid, 1).sentence.layout.display == "none"


def test_verdicts_may_come_by_row_number_and_in_other_words():
    grid = LogGrid(COLUMNS, rows(3), OPTIONS, lambda given: {2: "odd: 7 % above the line", 3: "look again"})
    assert "! odd" in line(grid, 2).sign.value and "7 % above the line" in line(grid, 2).sentence.value
    assert "look again" in line(grid, 3).sentence.value
    assert line(grid, 1).sentence.layout.display == "none"


def test_a_change_of_one_cell_builds_nothing_anew(grid):
    before = box(grid).children
    line(grid, 2).cells["volts"].value = "61"
    assert box(grid).children == before


def test_each_change_is_saved_before_it_is_judged():
    order = []
    grid = LogGrid(
        COLUMNS,
        rows(2),
        OPTIONS,
        lambda given: order.append("judged"),
        save=lambda given: order.append(given[0]["volts"]),
    )
    assert order == ["judged"]
    line(grid, 1).cells["volts"].value = "31"
    assert order == ["judged", "31", "judged"]


def test_a_fault_in_the_verdict_loses_nothing():
    saved = []

    def broken(given):
        raise KeyError("volts")

    grid = LogGrid(COLUMNS, rows(2), OPTIONS, broken, save=saved.append)
    line(grid, 1).cells["volts"].value = "31"
    assert saved[-1][0]["volts"] == "31"
    assert "fault of the workbook" in grid.message.text


def test_a_full_disk_is_said_and_the_verdicts_still_come():
    def full(given):
        raise OSError(28, "No space left on device")

    grid = LogGrid(COLUMNS, rows(2), OPTIONS, judge, save=full)
    line(grid, 1).cells["volts"].value = "x"
    assert "No space left on device" in grid.message.text
    assert "✗ bad" in line(grid, 1).sign.value and texts(grid, "volts") == ["x", "60"]


def test_a_removed_row_comes_back_to_its_place(grid):
    choose_row(grid, 2)
    press(grid, "Remove this row")
    assert texts(grid, "volts") == ["30", "90"]
    assert grid.message.text == wording("Row 2 was removed; “Undo”")
    assert line(grid, 2).cells["volts"].tooltip == "Volts [V], row 2"
    choose_row(grid, 1)
    press(grid, "Remove this row")
    press(grid, "Undo")
    press(grid, "Undo")
    assert grid.rows() == rows(3)
    assert not grid.can_undo


def test_all_rows_can_go_and_come_back():
    grid = LogGrid(COLUMNS, rows(1), OPTIONS, judge)
    count = grid.rows_shown
    for _ in range(count):
        choose_row(grid, 1)
        press(grid, "Remove this row")
    assert grid.rows() == []
    press(grid, "Remove this row")
    assert "fault of the workbook" not in grid.message.text
    while grid.can_undo:
        press(grid, "Undo")
    assert grid.rows() == rows(1)


def test_a_saved_word_that_is_not_on_the_list_stays():
    strange = [{"speed_rpm": "100", "volts": "30", "terminals": "U-V", "note": ""}]
    grid = LogGrid(COLUMNS, strange, OPTIONS, judge)
    assert grid.rows() == strange
    assert line(grid, 1).cells["terminals"].options == ("", "AB", "BC", "CA", "U-V")


def test_cells_of_the_file_without_a_column_here_go_back_as_they_came():
    extra = [{"speed_rpm": "100", "volts": "30", "terminals": "AB", "note": "", "weather": "rain", None: ["5"]}]
    grid = LogGrid(COLUMNS, extra, OPTIONS, judge)
    line(grid, 1).cells["volts"].value = "31"
    assert grid.rows() == [{**extra[0], "volts": "31"}]


def test_a_cell_of_a_long_log_is_judged_quickly():
    grid = LogGrid(COLUMNS, rows(40), OPTIONS, judge)
    started = time.perf_counter()
    line(grid, 20).cells["volts"].value = "601"
    assert time.perf_counter() - started < 0.5
