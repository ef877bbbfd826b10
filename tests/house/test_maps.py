"""The maps for readers: every page, every shipped job and every file of a job, told the same wherever it is told."""

import re

import nbformat
import pytest

from house.sources import NOTEBOOKS, ROOT
from statorbook.bench.logs import ALL_LOGS
from statorbook.job.places import EXAMPLES

START = ROOT / "notebooks" / "00_start_here.ipynb"


def rows_of(text, head):
    """The rows below the table heading that starts so, as lists of cells."""
    lines = text.splitlines()
    first = next((number for number, line in enumerate(lines) if line.startswith(head)), None)
    assert first is not None, f"no table starts with {head}"
    rows = []
    for line in lines[first + 2 :]:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in line.strip("|").split("|")])
    return rows


def text_of(*parts):
    return ROOT.joinpath(*parts).read_text(encoding="utf-8")


def start_page():
    return "\n".join(cell.source for cell in nbformat.read(START, as_version=4).cells if cell.cell_type == "markdown")


def test_the_map_of_the_pages_has_every_page_in_order():
    rows = rows_of(text_of("notebooks", "README.md"), "| page |")
    assert [row[0] for row in rows] == [f"[{path.stem}]({path.name})" for path in NOTEBOOKS]
    assert all(cell for row in rows for cell in row)


def test_the_readme_names_every_page_and_links_the_maps():
    page = text_of("README.md")
    assert [row[0] for row in rows_of(page, "| page |")] == [f"`{path.stem}`" for path in NOTEBOOKS]
    assert "(notebooks/README.md)" in page and "(data/README.md)" in page


def test_questions_and_times_are_those_of_the_start_page():
    told = {re.search(r"\((.*)\)", row[0])[1]: row[1:] for row in rows_of(start_page(), "| page |")}
    mapped = {
        re.search(r"\((.*)\)", row[0])[1]: [row[1], row[-1]]
        for row in rows_of(text_of("notebooks", "README.md"), "| page |")
    }
    assert mapped.pop(START.name)
    assert told == mapped


def test_the_start_page_says_first_what_to_do_what_it_costs_and_what_can_hurt():
    first = "\n".join(cell.source for cell in nbformat.read(START, as_version=4).cells[:2])
    places = [first.index(words) for words in ("**Run the page**", "**Time:**", "**Tools:**", "**What can hurt you")]
    assert places == sorted(places) and len(first.splitlines()) <= 20
    assert "common practice, no source" in first


@pytest.mark.parametrize("head", ["| job |"])
def test_every_shipped_job_is_on_the_map_of_the_data(head):
    assert [row[0] for row in rows_of(text_of("data", "README.md"), head)] == [f"`{name}`" for name in EXAMPLES]


def test_every_file_of_a_job_is_on_the_map_with_its_page():
    rows = rows_of(text_of("data", "README.md"), "| file of a job |")
    assert [row[0] for row in rows] == ["`job.json`", *(f"`{log}.csv`" for log in ALL_LOGS)]
    pages = {f"`{path.stem}`" for path in NOTEBOOKS} | {"all of them"}
    assert {row[-1] for row in rows} <= pages


def test_a_map_without_its_table_is_named():
    with pytest.raises(AssertionError, match=r"^no table starts with \| page \|"):
        rows_of("# Nothing\n", "| page |")


def test_rows_are_read_to_the_end_of_the_table():
    assert rows_of("| a | b |\n|---|---|\n| 1 | 2 |\n\n| 3 | 4 |", "| a") == [["1", "2"]]
