"""Stored notebooks: the refresher runs a page, stills its panels, and gives the same bytes again."""

import base64
import importlib.machinery
import importlib.util
import io
import shutil
import subprocess
import sys

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook
from PIL import Image

from house.pages import VIEW
from house.sources import ROOT

_LOADER = importlib.machinery.SourceFileLoader("refresh_notebooks", str(ROOT / ".ci" / "refresh-notebooks"))
refresher = importlib.util.module_from_spec(importlib.util.spec_from_loader(_LOADER.name, _LOADER))
_LOADER.exec_module(refresher)

needs_browser = pytest.mark.skipif(
    not (shutil.which("chromium") or shutil.which("chromium-browser")),
    reason="still pictures are taken by the browser chromium, which is not here",
)
FIGURE = "import matplotlib.pyplot as plt\nplt.figure(figsize=(3, 2)).subplots().plot([0, 1], [0, 1])\nplt.show()"
DRAWING = """from IPython.display import SVG
SVG('<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40"/>')"""
PANEL = """import ipywidgets as W
speed = W.FloatSlider(value=300, max=600, description="Speed [rpm]")
W.VBox([speed, W.HTML('<svg width="300" height="60"><circle cx="30" cy="30" r="20" fill="#0072b2"/></svg>')])"""


def write_page(path, *sources):
    cells = [new_markdown_cell("# Page"), *map(new_code_cell, sources)]
    nbformat.write(new_notebook(cells=cells, metadata={"widgets": {}}), path)
    return path


def picture(cell):
    return Image.open(io.BytesIO(base64.b64decode(cell.outputs[0].data["image/png"])))


@needs_browser
def test_a_page_is_stored_in_one_form(tmp_path):
    job = "import os\nos.environ['STATORBOOK_JOB']"
    page = write_page(tmp_path / "page.ipynb", job, FIGURE, DRAWING, PANEL)
    refresher.refresh(page)
    first = page.read_bytes()
    stored = nbformat.read(page, as_version=4)
    name, figure, drawing, panel = stored.cells[1:]
    assert [cell.execution_count for cell in stored.cells[1:]] == [1, 2, 3, 4]
    assert name.outputs[0].data == {"text/plain": "'spring_pipe'"}
    assert set(figure.outputs[0].data) == set(drawing.outputs[0].data) == {"image/png", "text/plain"}
    assert panel.outputs[0].data["text/plain"] == "Panel: run the page to use it."
    assert VIEW not in panel.outputs[0].data and "widgets" not in stored.metadata
    assert all(cell.metadata.jupyter.source_hidden for cell in stored.cells[1:])
    # The disc of the drawing is in the still, and the slider's value above it.
    assert (0, 0x72, 0xB2) in [colour for _, colour in picture(panel).convert("RGB").getcolors(10_000)]
    assert 100 < picture(panel).width < 400 and 60 < picture(panel).height < 200
    refresher.refresh(page)
    assert page.read_bytes() == first
    assert nbval(page).returncode == 0


def nbval(page):
    """Run nbval on one page as the suite does."""
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", str(ROOT / "tests" / "conftest.py"), str(page)],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )


def test_a_wrong_number_is_found_by_nbval(tmp_path):
    page = write_page(tmp_path / "page.ipynb", "1 + 1")
    refresher.refresh(page)
    page.write_text(page.read_text().replace('"2"', '"3"'))
    run = nbval(page)
    assert run.returncode == 1 and "Cell outputs differ" in run.stdout


def test_a_page_that_fails_is_left_as_it_was(tmp_path):
    page = write_page(tmp_path / "page.ipynb", "1 / 0")
    before = page.read_bytes()
    with pytest.raises(refresher.CellExecutionError, match="ZeroDivisionError"):
        refresher.refresh(page)
    assert page.read_bytes() == before and list(tmp_path.iterdir()) == [page]


def test_random_ids_make_no_new_picture():
    one, other = (
        '<svg><clipPath id="{0}"/><g clip-path="url(#{0})"/><use href="#{0}"/></svg>'.format(name)
        for name in ("p1a2b", "p9f8e")
    )
    assert refresher.without_random_ids(one) == refresher.without_random_ids(other)
    assert refresher.without_random_ids(one) != refresher.without_random_ids(one.replace("<g", '<g x="1"'))


def test_a_panel_is_drawn_from_its_state():
    states = {
        "box": {
            "_model_name": "VBoxModel",
            "children": [f"IPY_MODEL_{name}" for name in ("tab", "gone", "choice", "go")],
        },
        "tab": {
            "_model_name": "TabModel",
            "children": ["IPY_MODEL_a", "IPY_MODEL_b"],
            "selected_index": 1,
            "titles": ["x", "y"],
        },
        "a": {"_model_name": "HTMLModel", "value": "<b>hidden tab</b>"},
        "b": {"_model_name": "FloatTextModel", "value": 2.5, "description": "Head [m] <"},
        "gone": {"_model_name": "HTMLModel", "value": "not shown", "layout": "IPY_MODEL_layout"},
        "layout": {"display": "none"},
        "choice": {"_model_name": "DropdownModel", "_options_labels": ["star", "delta"], "index": 1},
        "go": {"_model_name": "ButtonModel", "description": "Save"},
    }
    page = refresher.draw("box", states)
    assert all(words in page for words in ("2.5", "Head [m] &lt;", "[y]", "delta", "Save"))
    assert "hidden tab" not in page and "not shown" not in page
