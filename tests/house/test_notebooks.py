"""Notebooks are run, complete, short-coded and led onward."""

import copy

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from house.pages import MOST_BYTES, VIEW, complaints_about_page, shows_something, ways_of, without_pictures
from house.sources import NOTEBOOKS, ROOT
from house.test_tree import machine_paths

START = "00_start_here.ipynb"
ONWARD = '## Go on\n\n<a class="statorbook-way" href="01_one.ipynb">Next: One</a>'


def test_the_start_page_is_there():
    assert START in [path.name for path in NOTEBOOKS]


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.name for path in NOTEBOOKS])
def test_a_page_keeps_the_rules(path):
    text = path.read_text(encoding="utf-8")
    notebook = nbformat.reads(text, as_version=4)
    nbformat.validate(notebook)
    size = path.stat().st_size
    complaints = complaints_about_page(notebook, size=size, exists=lambda name: (path.parent / name).exists())
    assert not complaints, "\n" + "\n".join(complaints)
    assert machine_paths(without_pictures(text)) == [] and "/tmp/" not in without_pictures(text)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.name for path in NOTEBOOKS])
def test_every_page_can_be_reached(path):
    pages = [nbformat.read(each, as_version=4) for each in NOTEBOOKS if each != path]
    assert path.name in [file for page in pages for file, _, _ in ways_of(page)]


def test_the_buttons_lead_through_all_pages_and_give_their_names():
    pages = [nbformat.read(path, as_version=4) for path in NOTEBOOKS]
    names = [(path.name, page.cells[0].source.splitlines()[0][2:]) for path, page in zip(NOTEBOOKS, pages, strict=True)]
    for number, page in enumerate(pages):
        back, onward = names[max(number - 1, 0) : number], names[number + 1 : number + 2]
        wanted = [(file, "Back", name) for file, name in back] + [(file, "Next", name) for file, name in onward]
        assert ways_of(page) == wanted, names[number][0]


def a_good_page():
    """A page that breaks no rule."""
    code = new_code_cell(
        "from math import pi\npi",
        execution_count=1,
        metadata={"jupyter": {"source_hidden": True}},
        outputs=[new_output("execute_result", {"text/plain": "3.14"}, execution_count=1)],
    )
    more = new_code_cell("a = 1", execution_count=2, metadata={"jupyter": {"source_hidden": True}})
    texts = [new_markdown_cell(f"Text {number}.") for number in range(12)]
    cells = [new_markdown_cell("# Title"), code, more, *texts, new_markdown_cell(ONWARD)]
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    return new_notebook(cells=cells, metadata={"kernelspec": kernel})


def broken(change):
    """What is said about the good page after a change."""
    page = copy.deepcopy(a_good_page())
    change(page)
    return complaints_about_page(page, size=1000, exists=lambda name: name == "01_one.ipynb")


def test_a_good_page_passes():
    assert broken(lambda page: None) == []


def set_code(page, source):
    page.cells[1].source = source


@pytest.mark.parametrize(
    "words, change",
    [
        ("not run from top to bottom", lambda p: p.cells[1].update(execution_count=None)),
        ("not run from top to bottom", lambda p: p.cells[1].update(execution_count=7)),
        ("no output is stored", lambda p: p.cells[1].update(outputs=[])),
        ("no output is stored", lambda p: (set_code(p, "print(1)\na = 1"), p.cells[1].update(outputs=[]))),
        (
            "stores an error",
            lambda p: p.cells[1].outputs.append(new_output("error", ename="E", evalue="", traceback=[])),
        ),
        ("stderr", lambda p: p.cells[1].outputs.append(new_output("stream", name="stderr", text="w"))),
        ("live panel", lambda p: p.cells[1].outputs.append(new_output("display_data", {VIEW: {"model_id": "a"}}))),
        ("state of widgets", lambda p: p.metadata.update(widgets={})),
        ("timing", lambda p: p.cells[1].metadata.update(execution={})),
        ("kernel", lambda p: p.metadata.kernelspec.update(name="conda")),
        ("not collapsed", lambda p: p.cells[1].update(metadata={})),
        ("imports *", lambda p: set_code(p, "from math import *\npi")),
        ("FunctionDef belongs", lambda p: set_code(p, "def f():\n    return 1\nf()")),
        ("For belongs", lambda p: set_code(p, "for a in b:\n    c(a)\na")),
        ("While belongs", lambda p: set_code(p, "while a:\n    b()\na")),
        ("11 lines of code", lambda p: set_code(p, "\n".join(["a = 1"] * 11))),
        ("is empty", lambda p: set_code(p, "# nothing")),
        (
            "its first line, all that is seen of folded code, is over 70 letters",
            lambda p: set_code(p, f"a = {'1' * 67}\na"),
        ),
        ("not Python", lambda p: set_code(p, "%matplotlib inline\na")),
        ("left out of the tests", lambda p: set_code(p, "# NBVAL_SKIP\na")),
        ("left out of the tests", lambda p: p.cells[1].metadata.update(tags=["nbval-skip"])),
        ("14 cells", lambda p: p.cells.__delitem__(slice(4, 6))),
        ("36 cells", lambda p: p.cells.__setitem__(slice(4, 5), [new_markdown_cell("a") for _ in range(21)])),
        ("not the title", lambda p: p.cells[0].update(source="Title")),
        ("more than one title", lambda p: p.cells[4].update(source="# Again")),
        ("leads nowhere", lambda p: p.cells[4].update(source="See [this](05_gone.ipynb).")),
        ("leads nowhere", lambda p: p.cells[-1].update(source=ONWARD.replace("01_one", "05_gone"))),
        ("no button that leads on", lambda p: p.cells[-1].update(source="The end.")),
        ("no button that leads on", lambda p: p.cells[-1].update(source="Next: [one](01_one.ipynb)")),
        ("no button that leads on", lambda p: p.cells.append(p.cells.pop(1))),
        ("a fold above would hide it", lambda p: p.cells[-1].update(source=ONWARD.split("\n\n")[1])),
        ("ids", lambda p: p.cells[4].update(id=p.cells[5].id)),
    ],
)
def test_a_broken_page_is_named(words, change):
    complaints = broken(change)
    assert any(words in each for each in complaints), complaints


def test_a_heading_alone_is_no_cell_more():
    assert broken(lambda p: p.cells.__setitem__(slice(4, 4), [new_markdown_cell("### Why?") for _ in range(20)])) == []


def test_a_heavy_page_is_named():
    assert "801 kB" in complaints_about_page(a_good_page(), size=MOST_BYTES + 1000)[0]


def test_a_cell_may_say_that_it_shows_nothing():
    page = a_good_page()
    page.cells[1].update(source="job.save()", outputs=[])
    page.cells[1].metadata.update(tags=["shows-nothing"])
    assert complaints_about_page(page, size=1000) == []


@pytest.mark.parametrize(
    "source, shows",
    [
        ("a", True),
        ("a = 1", False),
        ("f(a)", True),
        ("import a", False),
        ("if a:\n    print(a)", True),
        ("plt.show()\na = 1", True),
        ("# a", False),
    ],
)
def test_what_shows_something_is_known(source, shows):
    assert shows_something(source) is shows


def test_letters_inside_a_picture_are_no_path():
    text = '{"image/png": "iVBOR+/HOME/x", "text": "a"}'.replace("HOME", "home")
    assert machine_paths(text) and not machine_paths(without_pictures(text))


def test_the_start_page_is_where_the_settings_land():
    settings = (ROOT / "lib" / "lab_settings" / "jupyter_lab_config.json").read_text(encoding="utf-8")
    assert f"/tree/notebooks/{START}" in settings
