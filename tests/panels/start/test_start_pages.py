"""What the side bar is told: every page by its name, its state in the open job, and what is wrong with that job."""

import json
import shutil

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

from house.sources import NOTEBOOKS
from samples.job_samples import sample
from statorbook.examples import jobs as example
from statorbook.job import Job
from statorbook.job.parts import ReaderPart
from statorbook.panels.start.pages import pages_now


@pytest.fixture
def root(tmp_path, monkeypatch):
    """A workbook's folder with the pages as they are and the first example."""
    (tmp_path / "data").mkdir()
    shutil.copytree(NOTEBOOKS[0].parent, tmp_path / "notebooks")
    example.write(tmp_path / "data")
    monkeypatch.setenv("STATORBOOK_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)
    return tmp_path


def test_all_pages_are_told_by_their_titles_with_the_states_of_the_open_job(root):
    now = pages_now(root)
    assert [page["path"] for page in now["pages"]] == [f"notebooks/{path.name}" for path in NOTEBOOKS]
    titles = [nbformat.read(path, as_version=4).cells[0].source.splitlines()[0] for path in NOTEBOOKS]
    assert [f"# {page['title']}" for page in now["pages"]] == titles
    states = Job.open("spring_pipe", root / "data").states()
    said = {page["path"][10:-6]: f"{page['state']}: {page['why']}".removesuffix(": ") for page in now["pages"]}
    assert {chapter: said[chapter] for chapter in states} == states
    assert {said[path.stem] for path in NOTEBOOKS if path.stem not in states} == {""}
    assert [page["number"] for page in now["pages"]][4:7] == ["04", "04b", "05"]
    assert (now["job"], now["units"], now["trouble"]) == ("spring_pipe", "metric", "")
    json.dumps(now)


def test_it_is_told_anew_after_every_save(root):
    job = Job.create("mill", root / "data")
    job.make_current()
    chapters = len(job.states())  # pages after them ask nothing, so they have no state
    told = [page["state"] for page in pages_now(root)["pages"]]
    assert set(told[1:chapters]) == {"empty"} and set(told[chapters:]) == {""}
    job.save_part("stator", sample("stator"))
    job.save_part("reader", ReaderPart(units="US"))
    now = pages_now(root)
    assert (now["job"], now["units"]) == ("mill", "US")
    assert [page["state"] for page in now["pages"]][1:3] == ["started", "empty"]


def test_what_is_out_of_date_is_told_as_such(root):
    job = Job.open("spring_pipe", root / "data")
    job.save_part("stator", job.stator.model_copy(update={"found_parallel": 2}))
    page = pages_now(root)["pages"][2]
    assert page["state"] == "out of date" and "the stator facts changed" in page["why"]


def test_a_job_that_is_gone_or_damaged_is_named_and_the_pages_stay(root):
    job = Job.create("mill", root / "data")
    job.make_current()
    (job.folder / "job.json").write_text("{", encoding="utf-8")
    now = pages_now(root)
    assert (now["job"], now["units"]) == ("", "") and "mill/job.json" in now["trouble"]
    assert len(now["pages"]) == len(NOTEBOOKS) and {page["state"] for page in now["pages"]} == {""}
    shutil.rmtree(job.folder)
    now = pages_now(root)
    assert now["job"] == "spring_pipe" and "no job 'mill'" in now["trouble"]


def test_a_new_page_is_listed_and_what_is_no_page_is_not(root):
    pages = root / "notebooks"
    nbformat.write(new_notebook(cells=[new_markdown_cell("# Guard it\n\nHow?")]), pages / "06_guard_it.ipynb")
    nbformat.write(new_notebook(cells=[new_code_cell("1")]), pages / "07_of_mine.ipynb")
    (pages / "91_damaged.ipynb").write_text("{", encoding="utf-8")
    nbformat.write(new_notebook(cells=[new_markdown_cell("# Mine")]), pages / "mine.ipynb")
    listed = [(page["number"], page["title"]) for page in pages_now(root)["pages"]]
    assert listed[7] == ("06", "Guard it") and len(listed) == len(NOTEBOOKS) + 1
    assert [page["path"] for page in pages_now(pages)["pages"]][7] == "06_guard_it.ipynb"  # started from in there
