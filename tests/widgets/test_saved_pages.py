"""What JupyterLab writes to the disk: no live panel in a page of ours, every word of the reader, others untouched."""

import json
from copy import deepcopy
from pathlib import Path
from types import SimpleNamespace

import nbformat
import pytest
from jupyter_server.services.contents.filemanager import AsyncFileContentsManager
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from house.sources import NOTEBOOKS, ROOT
from samples.coroutines import run_apart
from statorbook.widgets.saved_pages import AT_REST, at_rest, before_save, is_ours

VIEW, STATE = "application/vnd.jupyter.widget-view+json", "application/vnd.jupyter.widget-state+json"
HOOK = json.loads((ROOT / "lib/lab_settings/jupyter_lab_config.json").read_text(encoding="utf-8"))["ContentsManager"]


def live(words="12 V"):
    return new_output("execute_result", {VIEW: {"model_id": "a1"}, "text/plain": words}, execution_count=7)


def after_a_run(page):
    """A notebook as JupyterLab would save it after a run: panels alive, their state, this machine's Python."""
    page = deepcopy(page)
    page.metadata.setdefault("language_info", {"name": "python"})["version"] = "3.11.2"
    page.metadata["widgets"] = {STATE: {"version_major": 2, "version_minor": 0, "state": {}}}
    for cell in page.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [live()], 7
    return page


def own_page():
    return new_notebook(cells=[new_code_cell("from statorbook.panels.spin import SpinPanel", outputs=[live()])])


def save(folder, name, notebook):
    """Save through the server's own files with the setting that is shipped, and read it back."""
    manager = AsyncFileContentsManager(root_dir=str(folder), **HOOK)
    run_apart(manager.save({"type": "notebook", "format": "json", "content": deepcopy(notebook)}, name))
    return nbformat.read(Path(folder, name), as_version=4)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_run_leaves_the_shipped_page_as_it_is_to_the_byte(path, tmp_path):
    shipped = path.read_bytes()
    (tmp_path / path.name).write_bytes(shipped)
    save(tmp_path, path.name, after_a_run(nbformat.reads(shipped.decode(), as_version=4)))
    assert (tmp_path / path.name).read_bytes() == shipped


def test_the_readers_own_cells_stay_with_what_they_show(tmp_path):
    path = next(path for path in NOTEBOOKS if path.stem == "02_spin_and_log")
    (tmp_path / path.name).write_bytes(path.read_bytes())
    page = after_a_run(nbformat.read(path, as_version=4))
    own = new_output("stream", name="stdout", text="4\n")
    page.cells[1:1] = [new_markdown_cell("My words."), new_code_cell("2 + 2", outputs=[own], execution_count=3)]
    changed = next(cell for cell in page.cells if cell.source.endswith("\nspin"))
    changed.source += "  # mine"
    kept = save(tmp_path, path.name, page)
    assert [(cell.id, cell.source) for cell in kept.cells] == [(cell.id, cell.source) for cell in page.cells]
    assert kept.cells[2].outputs == [own] and kept.cells[2].execution_count == 3
    # A cell that the reader changed shows what the reader saw, in words.
    shown = next(cell for cell in kept.cells if cell.id == changed.id)
    assert [dict(output.data) for output in shown.outputs] == [{"text/plain": f"12 V\n{AT_REST}"}]


def test_a_page_without_stored_pictures_keeps_the_panels_words(tmp_path):
    page = after_a_run(own_page())
    nbformat.write(page, tmp_path / "mine.ipynb")  # saved alive by an older workbook
    kept = save(tmp_path, "mine.ipynb", page)
    assert kept.cells[0].outputs[0].data == {"text/plain": f"12 V\n{AT_REST}"}
    assert "Run the page" in AT_REST and "widgets" not in kept.metadata
    assert save(tmp_path, "mine.ipynb", kept) == kept


@pytest.mark.parametrize("notebook", [own_page(), nbformat.read(NOTEBOOKS[0], as_version=4)])
def test_what_is_stored_is_valid_and_resting_twice_changes_nothing(notebook):
    before = after_a_run(notebook)
    nbformat.validate(before)
    once = at_rest(before, notebook if notebook.cells[0].cell_type == "markdown" else None)
    nbformat.validate(once)
    assert at_rest(once) == once
    assert VIEW in json.dumps(before) and VIEW not in json.dumps(once)  # what the browser sent is left alone


@pytest.mark.parametrize("code", ["import ipywidgets", "# import statorbook", "import statorbooks", "x = 'statorbook'"])
def test_a_notebook_of_others_is_saved_as_it_is(code, tmp_path):
    page = after_a_run(new_notebook(cells=[new_code_cell(code), new_markdown_cell("import statorbook")]))
    assert not is_ours(page)
    assert save(tmp_path, "theirs.ipynb", page) == page


@pytest.mark.parametrize(
    "code", ["import statorbook", "from statorbook.job.job import open_current", "x = 1\n  import statorbook"]
)
def test_a_page_of_ours_is_known_by_what_it_imports(code):
    assert is_ours({"cells": [{"cell_type": "code", "source": code}]})
    assert is_ours({"cells": [{"cell_type": "code", "source": code.splitlines(keepends=True)}]})


@pytest.mark.parametrize(
    "model",
    [
        {"type": "file", "content": "import statorbook"},
        {"type": "directory"},
        {"type": "notebook"},
        {"type": "notebook", "content": None},
    ],
)
def test_what_is_no_notebook_passes(model):
    before = deepcopy(model)
    before_save(model=model, path="a", contents_manager=SimpleNamespace(root_dir="."))
    assert model == before


@pytest.mark.parametrize("stored", [b"", b"not json", b"\xff", b"{}", b'{"cells": 5}'])
def test_a_damaged_file_on_the_disk_does_not_stop_a_save(stored, tmp_path):
    (tmp_path / "page.ipynb").write_bytes(stored)
    assert AT_REST in save(tmp_path, "page.ipynb", own_page()).cells[0].outputs[0].data["text/plain"]


def test_a_failure_saves_the_page_as_the_browser_sent_it(tmp_path, monkeypatch):
    def fails(notebook, stored=None):
        raise RuntimeError("broken")

    monkeypatch.setattr("statorbook.widgets.saved_pages.at_rest", fails)
    page = after_a_run(own_page())
    assert save(tmp_path, "page.ipynb", page) == page
