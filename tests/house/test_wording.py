"""Wording is held in one file per subject: no test holds a sentence of its own, and no sentence there is left over."""

import ast
import re
import tomllib

import pytest

from house.sources import ROOT, tree_of
from sentences import WORDING

LEAST_WORDS = 7
# Checkers with samples of their own, and outside facts.
_NO_WORDING = ("house", "benchmarks", "judges", "published", "samples")
TESTS = [
    path
    for path in sorted((ROOT / "tests").rglob("test_*.py"))
    if path.relative_to(ROOT / "tests").parts[0] not in _NO_WORDING
]
_ENDS = re.compile(r"[.;?]$|; ")
_NOT_SAID = ("wording", "outside", "skip", "skipif", "fail", "evaluate", "wait_for_function")


def sentences_in(tree):
    """The nodes of whole sentences that stand in a test's comparisons or cases."""
    docstrings = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    pieces = {id(piece) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for piece in node.values}
    aside = docstrings | pieces | _within(tree, _is_aside)
    compared = _within(tree, lambda node: isinstance(node, ast.Assert) or getattr(node, "arg", "") == "match")
    texts = [node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    return [
        node
        for node in texts
        if id(node) not in aside and _is_long(node.value) and (id(node) in compared or _ENDS.search(node.value))
    ]


def _within(tree, wanted):
    """Every node that stands inside a node of a kind, by its id."""
    return {id(inner) for node in ast.walk(tree) if wanted(node) for inner in ast.walk(node)}


def _is_aside(node):
    """A reason to skip, a script for the browser, a name of a case: nothing that the workbook says."""
    called = isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] in _NOT_SAID
    return called or isinstance(node, ast.keyword) and node.arg in ("reason", "id", "ids")


def _is_long(text):
    code = "\n" in text or "=>" in text or text.startswith("import ")
    return len(text.split()) >= LEAST_WORDS and not code


@pytest.mark.parametrize("path", sorted(WORDING.glob("*.toml")), ids=lambda path: path.stem)
def test_every_sentence_is_asked_for(path):
    kept = tomllib.loads(path.read_text(encoding="utf-8"))
    asked = {
        node.args[0].value
        for test in TESTS
        if f'sentences_of("{path.stem}")' in test.read_text(encoding="utf-8")
        for node in ast.walk(tree_of(test))
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "wording"
    }
    assert set(kept) == asked


def test_no_test_holds_a_sentence():
    found = [f"{path.name}, line {node.lineno}: {node.value}" for path in TESTS for node in sentences_in(tree_of(path))]
    assert found == []


@pytest.mark.parametrize(
    "source, count",
    [
        ('assert a == "one two three four five six seven"', 1),
        ('pytest.raises(E, match="one two three four five six seven")', 1),
        ('CASES = ["one two three four five six seven."]', 1),
        ('CASES = ["one two three four five six seven"]', 0),
        ('assert a == "one two three"', 0),
        ('pytest.skip("one two three four five six seven.")', 0),
        ('def f():\n    """One two three four five six seven."""', 0),
        ('assert a == f"one two three four five six seven {b}."', 0),
        ('assert a == wording("one two three four five six seven")', 0),
    ],
)
def test_a_sentence_in_a_test_is_named(source, count):
    assert len(sentences_in(ast.parse(source))) == count
