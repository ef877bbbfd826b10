"""A page opens on the work: question, cautions, job, steps, panel; what a first answer can do without is folded."""

import copy

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

from house.page_order import BOX, FOLDED, MOST_LETTERS, WORKED_OUT, complaints_about_opening, hidden
from house.sources import NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_a_page_opens_on_the_work(path):
    assert complaints_about_opening(nbformat.read(path, as_version=4)) == []


def folded(source):
    return new_markdown_cell(source, metadata={FOLDED: True})


def a_good_page():
    """A page that opens as it should."""
    cells = [
        new_markdown_cell("# Title\n\n**The question of this page:** what? And why?  \nAn hour."),
        new_markdown_cell(f"{BOX}\n\n**What can hurt you:** nothing.\n\n</div>"),
        new_code_cell("job = open_current()\nmeters = MetersPanel(job)\nprint(job.name)"),
        new_markdown_cell("1. Step."),
        new_code_cell("SpinPanel(job)"),
        folded("### No meter?"),
        new_markdown_cell("Take lamps."),
        folded(WORKED_OUT),
        new_markdown_cell("### The model\n\nAnd its limits."),
        new_markdown_cell("## Go on"),
    ]
    return new_notebook(cells=cells)


def page_to_read():
    """A page without a panel that opens as it should."""
    page = a_good_page()
    page.cells[4:8] = [new_markdown_cell("Contents."), folded("## 1. A formula"), new_markdown_cell("Words.")]
    return page


def broken(page, change):
    """What is said about a page after a change."""
    page = copy.deepcopy(page)
    change(page.cells)
    return complaints_about_opening(page)


def test_good_pages_pass():
    assert complaints_about_opening(a_good_page()) == complaints_about_opening(page_to_read()) == []


@pytest.mark.parametrize(
    "words, change",
    [
        ("question in one line", lambda cells: cells[0].update(source="# Title\n\nMuch to say first.")),
        ("question in one line", lambda cells: cells[0].update(source="# Title")),
        ("box of cautions", lambda cells: cells.insert(1, cells.pop(3))),
        ("box of cautions", lambda cells: cells.insert(5, cells[1])),
        ("open the job", lambda cells: cells[2].update(source="a = 1")),
        ("beside the folded heading: ### No meter?", lambda cells: cells[5].update(source="### No meter?\n\nLamps.")),
        ("first panel is folded", lambda cells: cells.insert(4, folded("### Steps"))),
        ("1001 letters", lambda cells: cells[3].update(source="a" * (MOST_LETTERS + 1))),
        ("once and folded", lambda cells: cells[7].metadata.clear()),
        ("once and folded", lambda cells: cells.pop(7)),
        ("once and folded", lambda cells: cells.append(folded(WORKED_OUT))),
        ("before the first panel", lambda cells: cells.insert(7, cells.pop(4))),
    ],
)
def test_a_page_that_opens_on_something_else_is_named(words, change):
    said = broken(a_good_page(), change)
    assert any(words in each for each in said), said


def test_an_open_section_of_a_page_to_read_is_named():
    assert broken(page_to_read(), lambda cells: cells[5].metadata.clear()) == [
        "a section is not folded: ## 1. A formula"
    ]


def test_a_fold_hides_up_to_the_next_heading_of_its_level_or_above():
    assert [number for number, away in enumerate(hidden(a_good_page().cells)) if away] == [6, 8]
    assert hidden(
        [folded("## A"), new_markdown_cell("### B"), new_code_cell("# C"), new_markdown_cell("words\n\n## D")]
    ) == [False, True, True, False]
