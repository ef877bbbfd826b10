"""Stored notebooks: the refresher runs a page, stores what the browser shows, and gives the same bytes again."""

import base64
import importlib.machinery
import importlib.util
import io
import subprocess
import sys

import nbformat
import numpy as np
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook
from PIL import Image

from house.pages import VIEW
from house.sources import ROOT
from sentences import sentences_of

wording = sentences_of("browser")

_LOADER = importlib.machinery.SourceFileLoader("refresh_notebooks", str(ROOT / ".ci" / "refresh-notebooks"))
refresher = importlib.util.module_from_spec(importlib.util.spec_from_loader(_LOADER.name, _LOADER))
_LOADER.exec_module(refresher)

FIGURE = """%matplotlib inline
import matplotlib.pyplot as plt
plt.figure(figsize=(3, 2)).subplots().plot([0, 1], [0, 1])
plt.show()"""
DRAWING = """from IPython.display import SVG
SVG('<svg xmlns="http://www.w3.org/2000/svg" width="80" height="40"/>')"""
BLUE, RED, GREEN = (0, 0x72, 0xB2), (0xD5, 0x5E, 0), (46, 115, 49)
# A table in a box that scrolls both ways; the blue square stands in its last corner, beyond the window's edge.
BOXED = """import ipywidgets as W
corner = '<div style="width:20px;height:20px;margin:800px 0 0 1680px;background:#0072b2"></div>'
box = f'<div style="max-height:90px;width:0;min-width:100%;overflow:auto">{corner}</div>'
W.VBox([W.HTML(box, layout=W.Layout(height="90px")), W.HTML('<b style="background:#d55e00">under it</b>')])"""
TYPED = 'W.Text("12", description="Volts [V]")\n'


@pytest.fixture
def page(browser, tmp_path):
    """A new page of these cells; where it lies, and the browser that runs it."""
    path = tmp_path / "refreshed.ipynb"

    def write(*sources):
        folded = new_markdown_cell("## Folded", metadata={refresher.FOLDED: True})
        # Lab opens the heading above the last cell.
        texts = [new_markdown_cell("# Page"), folded, new_markdown_cell("## Go on")]
        cells = [*texts[:2], *map(new_code_cell, sources), texts[2]]
        nbformat.write(new_notebook(cells=cells, metadata={"widgets": {}}), path)
        return path

    yield write
    browser.close()
    (browser.lab.root / "notebooks" / path.name).unlink(missing_ok=True)


def picture(cell):
    return Image.open(io.BytesIO(base64.b64decode(cell.outputs[0].data["image/png"]))).convert("RGB")


def place_of(colour, image):
    """Where a colour stands in a picture: left, top, right, bottom."""
    rows, columns = np.nonzero((abs(np.asarray(image, dtype=int) - colour) < 12).all(axis=-1))
    return columns.min(), rows.min(), columns.max() + 1, rows.max() + 1


@pytest.mark.slow
def test_a_page_is_stored_in_one_form(page, browser):
    path = page("1 + 1", FIGURE, DRAWING, BOXED, TYPED, TYPED.replace("12", "13"))
    refresher.refresh(path, browser)
    first, stored = path.read_bytes(), nbformat.read(path, as_version=4)
    name, figure, drawing, boxed, *typed = stored.cells[2:-1]
    assert stored.cells[1].metadata == {refresher.FOLDED: True}
    assert [cell.execution_count for cell in stored.cells[2:-1]] == [1, 2, 3, 4, 5, 6]
    assert name.outputs[0].data == {"text/plain": "2"}
    assert set(figure.outputs[0].data) == set(drawing.outputs[0].data) == {"image/png", "text/plain"}
    assert boxed.outputs[0].data["text/plain"] == wording("Panel: run the page to")
    assert VIEW not in boxed.outputs[0].data and "widgets" not in stored.metadata
    assert all(cell.metadata.jupyter.source_hidden for cell in stored.cells[2:-1])
    # The box is opened to its corner, and nothing lies over what stands under it.
    image = picture(boxed)
    left, top, right, bottom = place_of(BLUE, image)
    assert left >= 1680 and top >= 800 and (right - left, bottom - top) == (20, 20)
    assert place_of(RED, image)[1] >= bottom
    # What was typed is seen, though the page's markup does not tell it.
    assert (
        len({cell.outputs[0].metadata.still for cell in typed}) == len({picture(cell).tobytes() for cell in typed}) == 2
    )
    refresher.refresh(path, browser)
    assert path.read_bytes() == first
    assert nbval(path).returncode == 0
    path.write_text(path.read_text().replace('"2"', '"3"'))
    run = nbval(path)
    assert run.returncode == 1 and "Cell outputs differ" in run.stdout


def nbval(page):
    """Run nbval on one page as the suite does."""
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-q", str(ROOT / "tests" / "conftest.py"), str(page)],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )


@pytest.mark.slow
def test_a_page_that_fails_is_left_as_it_was(page, browser):
    path = page("1 / 0", "1 + 1")
    before = path.read_bytes()
    with pytest.raises(refresher.PageFailed, match="ZeroDivisionError"):
        refresher.refresh(path, browser)
    assert path.read_bytes() == before and list(path.parent.iterdir()) == [path]


def test_random_ids_make_no_new_picture():
    one, other = (
        '<svg><clipPath id="{0}"/><g clip-path="url(#{0})"/><use href="#{0}"/></svg>'.format(name)
        for name in ("p1a2b", "p9f8e")
    )
    assert refresher.without_random_ids(one) == refresher.without_random_ids(other)
    assert refresher.without_random_ids(one) != refresher.without_random_ids(one.replace("<g", '<g x="1"'))


def test_a_few_words_keep_their_colour_among_many_greys():
    image = Image.fromarray(np.tile(np.arange(256, dtype=np.uint8), (300, 4))).convert("RGB")
    image.paste(GREEN, (500, 100, 508, 108))
    taken = io.BytesIO()
    image.save(taken, "png")
    small = Image.open(io.BytesIO(refresher.small(taken.getvalue()))).convert("RGB")
    assert place_of(GREEN, small) == (500, 100, 508, 108)
