"""Tests ask what the public names show; none reaches into what a module or a widget keeps to itself."""

import ast
import re

import pytest

from house.sources import ROOT, project_files

MAY_STAY = {"os._exit": "ends a process as a crash does, without tidying up"}
# Names that IPython gives: it asks every object for them.
_PROTOCOL = re.compile(r"_(repr_\w+|render_traceback|ipython_\w+)_$")
_BY_NAME = ("getattr", "setattr", "delattr", "hasattr")
_TESTS = [name for name in project_files() if name.startswith("tests/") and name.endswith(".py")]


def is_private(name):
    """Whether a name is one that a module or an object keeps to itself."""
    return name.startswith("_") and not name.startswith("__") and not _PROTOCOL.match(name)


def reached_into(source):
    """Every private name of something else than `self` that a test touches, as (line, what is written there)."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Attribute) and is_private(node.attr):
            own = isinstance(node.value, ast.Name) and node.value.id in ("self", "cls")
            found += [] if own else [(node.lineno, ast.unparse(node))]
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "statorbook":
            found += [(node.lineno, f"import {alias.name}") for alias in node.names if is_private(alias.name)]
        elif isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] in _BY_NAME:
            names = [
                argument.value
                for argument in node.args
                if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
            ]
            own = isinstance(node.args[0], ast.Name) and node.args[0].id == "self" if node.args else False
            found += [(node.lineno, name) for name in names if is_private(name.split(".")[-1]) and not own]
    return [(line, words) for line, words in found if words not in MAY_STAY]


@pytest.mark.parametrize("name", _TESTS)
def test_a_test_asks_public_names_only(name):
    assert reached_into((ROOT / name).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source, words",
    [
        ("panel._answer.caution", "panel._answer"),
        ("SpinPanel(job).grid._rows[0].cells", "SpinPanel(job).grid._rows"),
        ("from statorbook.widgets.form import _UNSAVED", "import _UNSAVED"),
        ("getattr(panel, '_sentence')", "_sentence"),
        ("monkeypatch.setattr('statorbook.widgets.grid._cell', None)", "statorbook.widgets.grid._cell"),
        ("monkeypatch.setattr(grid, '_cell', None)", "_cell"),
        ("os._wait()", "os._wait"),
    ],
)
def test_a_private_name_is_found(source, words):
    assert reached_into(source) == [(1, words)]


@pytest.mark.parametrize(
    "source",
    [
        "self._rows",
        "getattr(self, '_server', None)",
        "panel._repr_mimebundle_()",
        "panel.__class__",
        "from tests.samples import _one",
        "os._exit(1)",
        "panel.sentence_box.value",
    ],
)
def test_what_may_stay_passes(source):
    assert reached_into(source) == []


def test_what_may_stay_is_still_there():
    written = "\n".join((ROOT / name).read_text(encoding="utf-8") for name in _TESTS if "test_private" not in name)
    assert [words for words in MAY_STAY if f"{words}(" not in written] == []
