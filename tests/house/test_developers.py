"""The developers' page: short, its picture current, all files, names and commands real, one value's trip driven."""

import ast
import importlib
import re
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from house.package_picture import PAGE, drawn, in_mermaid, reduced, with_picture
from house.sources import LIBRARY, PACKAGES, ROOT, project_files, tree_of
from statorbook.examples import jobs
from statorbook.job import Job
from statorbook.job.parts.registry import PARTS
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.measuring import CoilPanel, SpinPanel

MOST_LINES = 200
# What a newcomer asks, the file where the folders' names lead to, and what stands in it.
QUESTIONS = {
    "Where is the mean-volts rule of the bridge?": ("bridge/rectifier.py", "_by_mean_volts"),
    "Where would a new log go?": ("bench/logs.py", "ALL_LOGS"),
    "Where is it said how many cells make a 48 V bank?": ("bank/battery.py", "cells_for"),
    "Where does the pipe eat its share of the head?": ("drives/pipe.py", "Pipe"),
    "Where is a reading found that does not belong to the others?": ("fits/odd_rows.py", "odd_points"),
    "Where is it decided that a voltage can kill?": ("operation/hazards.py", "grade"),
    "Where does a bearing's life come from?": ("service/life.py", "l10_hours"),
    "Where is a job packed to take it along?": ("job/archive.py", "export_job"),
    "Where are the cuts and joins worked out?": ("rewiring/plan.py", "cut_and_join"),
    "Where is a grouping called rejected or chosen?": ("choice/verdict.py", "choose"),
}
_MADE_UP = {"DIR", "STATORBOOK_PICTURES=DIR"}
_FILE = r"\.(py|md|txt|toml|ipynb|json|csv)$"


def page():
    return PAGE.read_text(encoding="utf-8")


def spans(text):
    """Everything between backticks, fenced blocks aside."""
    return re.findall(r"`([^`\n]+)`", re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL))


def defined_in(path):
    """Names that a module of the library defines, those of a class behind its name and a dot."""
    found = set()
    for node in tree_of(path).body:
        if isinstance(node, ast.Assign):
            found |= {target.id for target in node.targets if isinstance(target, ast.Name)}
        elif isinstance(node, (ast.FunctionDef, ast.ClassDef)):
            found.add(node.name)
            found |= {
                f"{node.name}.{each.name}" for each in getattr(node, "body", ()) if isinstance(each, ast.FunctionDef)
            }
    return found


def names_in_code():
    """Every name that stands in the library or in the tests, this file aside, which has made-up ones."""
    files = [ROOT / name for name in project_files() if name.endswith(".py") and not name.endswith(Path(__file__).name)]
    return {name for path in files for name in re.findall(r"[A-Za-z_]\w*", path.read_text(encoding="utf-8"))}


def is_there(place):
    """Whether a path stands below the top folder, in the library or in the tests, or a bare name anywhere."""
    return any((folder / place).exists() for folder in (ROOT, LIBRARY, ROOT / "tests")) or place in {
        name.split("/")[-1] for name in project_files()
    }


def is_in_library(dotted):
    """Whether a dotted name such as `job.parts.fields.labelled` leads from a package to something."""
    place, *names = dotted.removeprefix("statorbook.").split(".")
    if place not in PACKAGES:
        return False
    thing = importlib.import_module(f"statorbook.{place}")
    for name in names:
        place = f"{place}.{name}"
        if find_spec_of(place):
            thing = importlib.import_module(f"statorbook.{place}")
        elif hasattr(thing, name):
            thing = getattr(thing, name)
        else:
            return False
    return True


def find_spec_of(place):
    try:
        return find_spec(f"statorbook.{place}")
    except (ModuleNotFoundError, AttributeError):
        return None


def complaints_about_code(source):
    """Imports of a one-line program that lead nowhere, and calls on them that are not there."""
    found, known = [], {}
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.ImportFrom):
            for alias in node.names:
                if is_in_library(f"{node.module}.{alias.name}"):
                    known[alias.name] = f"{node.module}.{alias.name}"
                else:
                    found.append(f"{node.module} has no {alias.name}")
        elif isinstance(node, ast.Attribute) and (place := known.get(ast.unparse(node.value))):
            found += [] if is_in_library(f"{place}.{node.attr}") else [f"{ast.unparse(node)} is not there"]
    return found


def complaints_about_span(span, names):
    """What is not real in one piece of code on the page."""
    if code := re.search(r'-c "(.*)"', span) or re.fullmatch(r"(from statorbook.*)", span):
        return complaints_about_code(code[1])
    words = [word for word in span.split() if word not in _MADE_UP]
    found = [
        f"{word}: no such file"
        for word in words
        if ("/" in word or re.search(_FILE, word)) and not word.startswith(".venv/") and not is_there(word)
    ]
    if "-m" in words and not find_spec(words[words.index("-m") + 1]):
        found.append(f"{span}: no such module")
    dotted = re.fullmatch(r"[a-z_]+(\.\w+)+", span) and not re.search(_FILE, span)
    if dotted and span.split(".")[0] in PACKAGES and not is_in_library(span):
        found.append(f"{span}: not in the library")
    if re.fullmatch(r"[A-Za-z_]\w*", span) and span not in names:
        found.append(f"{span}: nowhere in the code")
    return found


def trip():
    """The stations of the value's trip: file in the library and name of what is called, in the page's order."""
    part = page().partition("## One value's trip")[2].partition("\n## ")[0]
    return re.findall(r"^\| `([^`]+\.py)` \| `([^`]+)` \|", part, flags=re.MULTILINE)


def cell_of(widget, tooltip):
    """The one cell below a widget that tells its column and row so."""
    if getattr(widget, "tooltip", None) == tooltip:
        return widget
    return next(filter(None, (cell_of(child, tooltip) for child in getattr(widget, "children", ()))), None)


def calls_during(work):
    """Every call into the library while something is done, as (file in the library, qualified name)."""
    found = []

    def keep(frame, event, _):
        if event == "call" and frame.f_code.co_filename.startswith(f"{LIBRARY}/"):
            found.append((frame.f_code.co_filename.removeprefix(f"{LIBRARY}/"), frame.f_code.co_qualname))

    before = sys.getprofile()
    sys.setprofile(keep)
    try:
        work()
    finally:
        sys.setprofile(before)
    return found


def first_missed(stations, calls):
    """The first station that the calls do not come to after the one before it, or None."""
    calls = iter(calls)
    return next((station for station in stations if station not in calls), None)


def test_the_page_is_short():
    assert len(page().splitlines()) <= MOST_LINES


def test_the_picture_is_that_of_the_imports():
    assert page() == with_picture(page(), drawn()), "draw it again: .ci/draw-package-picture"


def test_a_new_import_changes_the_picture():
    imported = {"panels": {"fits", "errors"}, "fits": {"errors"}, "errors": set()}
    assert reduced(imported) == {"panels": {"fits"}, "fits": {"errors"}, "errors": set()}
    assert in_mermaid(reduced(imported)) == "```mermaid\nflowchart TD\n    panels --> fits\n    fits --> errors\n```"
    imported["fits"], imported["bench"] = {"bench"}, set()
    assert reduced(imported)["panels"] == {"fits", "errors"}


def test_all_files_names_and_commands_of_the_page_are_real():
    names = names_in_code()
    assert [words for span in spans(page()) for words in complaints_about_span(span, names)] == []


@pytest.mark.parametrize(
    "span, words",
    [
        ("bench/log_columns.py", "no such file"),
        ("sheets.py", "no such file"),
        ("job.parts.labelled_field", "not in"),
        (".venv/bin/python tests/walk.py --out DIR", "no such file"),
        ("reader_units_for", "nowhere in the code"),
        (".venv/bin/python -m statorbook.bridge_chart", "no such module"),
        ("from statorbook.winding import Rotor", "has no"),
        ("from statorbook import example", "has no"),
        ('.venv/bin/python -c "from statorbook.examples import jobs; jobs.draw()"', "is not there"),
    ],
)
def test_what_is_not_real_is_named(span, words):
    found = complaints_about_span(span, {"units_for"})
    assert len(found) == 1 and words in found[0]


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_newcomer_finds_the_file(question):
    place, name = QUESTIONS[question]
    assert name in defined_in(LIBRARY / place)


def test_there_are_ten_questions_in_ten_files():
    assert len(QUESTIONS) == len({place for place, _ in QUESTIONS.values()}) == 10


def test_every_heading_and_bold_word_is_closed():
    pages = [ROOT / name for name in project_files() if name.endswith(".md")]
    for path in pages:
        text = re.sub(r"`[^`\n]*`", "", path.read_text(encoding="utf-8"))
        assert [part for part in re.split(r"\n\s*\n|\n(?=[-|#])", text) if part.count("**") % 2] == [], path.name


def test_a_docstring_names_all_parts_or_their_table():
    said = Job.save_part.__doc__.partition("name : str")[2].partition("part : Part")[0]
    assert "job.parts.registry.PARTS" in said or set(re.findall(r'"(\w+)"', said)) == set(PARTS)


def test_the_trip_is_the_one_that_a_value_takes(tmp_path):
    job = jobs.write(tmp_path)
    job.save_log("spin", job.read_log("spin")[:1])  # the typed value is the only one, so that all hangs on it
    spin, coil, before = SpinPanel(job), CoilPanel(job), ChoosePanel(job).sentence
    cell, after = cell_of(spin.grid.widget, "Volts [V], row 1"), []

    def take_it():
        cell.value = f"{0.8 * float(cell.value):.2f}"
        coil.write()
        after.append(ChoosePanel(Job.open(job.name, tmp_path)).sentence)

    calls = calls_during(take_it)
    assert len(trip()) >= 15 and first_missed(trip(), calls) is None
    assert after != [before] and " W " in after[0]


def test_the_sentence_at_the_end_of_the_trip_is_that_of_page_04():
    quoted = re.search(r"“… (.*) …”", page())[1]
    assert quoted in (ROOT / "notebooks" / "04_choose_a_grouping.ipynb").read_text(encoding="utf-8")


def test_a_station_out_of_order_is_named():
    calls = [("a.py", "one"), ("b.py", "two")]
    assert first_missed(calls, calls) is None
    assert first_missed(calls[::-1], calls) == ("a.py", "one")
