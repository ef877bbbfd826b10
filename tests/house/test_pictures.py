"""The README's pictures: drawn from the example as it is shipped, small, and the same bytes each time."""

import importlib.machinery
import importlib.util
import re

import pytest

from house.sources import ROOT

_LOADER = importlib.machinery.SourceFileLoader("draw_readme_pictures", str(ROOT / ".ci" / "draw-readme-pictures"))
painter = importlib.util.module_from_spec(importlib.util.spec_from_loader(_LOADER.name, _LOADER))
_LOADER.exec_module(painter)

MOST_BYTES = 150_000
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_WITHIN = 0.05  # a twentieth of a point: another processor may round the last digits otherwise


def stale(stored, drawn):
    """What differs between a stored picture and the same drawn now; empty when nothing that can be seen does."""
    if _NUMBER.sub("#", stored) != _NUMBER.sub("#", drawn):
        return "it shows other things"
    pairs = zip(_NUMBER.findall(stored), _NUMBER.findall(drawn), strict=True)
    moved = [pair for pair in pairs if abs(float(pair[0]) - float(pair[1])) > _WITHIN]
    return f"{len(moved)} numbers differ, such as {moved[0]}" if moved else ""


@pytest.fixture(scope="module")
def drawn():
    return painter.drawn()


@pytest.mark.parametrize("name", painter.PICTURES)
def test_a_picture_is_current_and_small(drawn, name):
    stored = (painter.FOLDER / name).read_text(encoding="utf-8")
    assert stale(stored, drawn[name]) == "", "run .ci/draw-readme-pictures"
    assert len(stored.encode()) < MOST_BYTES


def test_drawn_again_they_have_the_same_bytes(drawn):
    assert painter.drawn() == drawn


def test_the_readme_shows_each_of_them_and_no_other_is_kept():
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    assert sorted(re.findall(r"notebooks/pictures/([\w.]+)", page)) == sorted(painter.PICTURES)
    assert sorted(path.name for path in painter.FOLDER.iterdir()) == sorted(painter.PICTURES)


def test_the_readme_stays_short():
    assert len((ROOT / "README.md").read_text(encoding="utf-8").splitlines()) < 150


@pytest.mark.parametrize(
    "then, now, said",
    [
        ('<path d="M 1.00 2"/>', '<path d="M 1.04 2"/>', ""),
        ("<a/>", "<a/>", ""),
        ('<path d="M 1.0 2"/>', '<path d="M 1.2 2"/>', "1 numbers differ, such as ('1.0', '1.2')"),
        ("<text>12 star</text>", "<text>12 delta</text>", "it shows other things"),
        ('<path d="M 1 2"/>', '<path d="M 1 2 3"/>', "it shows other things"),
    ],
)
def test_a_stale_picture_is_named(then, now, said):
    assert stale(then, now) == said
