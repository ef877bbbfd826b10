"""Every fact and every row of a table has a unit, a source, and a value that can be true."""

import csv
import math
from importlib import import_module

import pytest

from house.sources import LIBRARY, READER, modules
from statorbook.quantities import facts as constants
from statorbook.quantities.facts import Fact

TABLES = sorted((LIBRARY / "tables").glob("*.csv"))
COLUMNS = ("value", "unit", "low", "high", "source")
_NO_SOURCE = {"", "-", "todo", "tbd", "unknown", "none", "see above"}


def complaints_about_fact(value, unit, low, high, source):
    """What is wrong with one fact: the same for a constant and a table's row."""
    found = [] if all(math.isfinite(number) for number in (value, low, high)) else ["not a finite number"]
    if not low <= value <= high:
        found.append(f"{value:g} is not within {low:g} to {high:g}")
    if low > high:
        found.append("low is above high")
    if not unit.strip():
        found.append("no unit")
    if source.strip().lower() in _NO_SOURCE:
        found.append("no source")
    return found


def complaints_about_table(text):
    """What is wrong with one table: header, units row, then rows that are facts each."""
    rows = list(csv.DictReader(text.splitlines()))
    if not rows:
        return ["has no units row"]
    missing = [name for name in COLUMNS if name not in rows[0]]
    if missing:
        return [f"has no column {', '.join(missing)}"]
    units, *rows = rows
    found = [f"units row: {name} has none" for name, unit in units.items() if not (unit or "").strip()]
    found += ["units row: a number stands in it" for unit in units.values() if (unit or "").lstrip("-")[:1].isdigit()]
    for line, row in enumerate(rows, start=3):
        found += [f"line {line}: {words}" for words in complaints_about_row(row)]
    named = [tuple(str(row[name]) for name in row if name not in COLUMNS) for row in rows]
    found += [f"{'/'.join(name)} stands twice" for name in sorted(set(named)) if named.count(name) > 1]
    return found if rows else [*found, "has no rows"]


def complaints_about_row(row):
    """What is wrong with one row of a table."""
    if None in row or not all(cell and cell.strip() for cell in row.values()):
        return ["a cell is empty or one too many"]
    try:
        value, low, high = (float(row[name]) for name in ("value", "low", "high"))
    except ValueError:
        return ["value, low and high are numbers"]
    return complaints_about_fact(value, row["unit"], low, high, row["source"])


def all_facts():
    """Every Fact that a module below the reader holds, those inside dictionaries too, with its name."""
    found = {}
    for module in (import_module(f"{LIBRARY.name}.{name}") for name, _path in modules() if below_the_reader(name)):
        for name, thing in vars(module).items():
            members = thing.items() if isinstance(thing, dict) and not name.startswith("__") else [("", thing)]
            facts = {f"{name}.{key}" if key else name: fact for key, fact in members if isinstance(fact, Fact)}
            found |= {id(fact): (f"{module.__name__}.{name}", fact) for name, fact in facts.items()} | found
    return list(found.values())


def below_the_reader(name):
    """Whether a module, such as drives.pipe, stands in a package of physics or of the reader's data."""
    return bool(name) and name.split(".")[0] not in READER


@pytest.mark.parametrize("name, fact", all_facts(), ids=[name for name, _ in all_facts()])
def test_a_fact_has_unit_source_and_range(name, fact):
    assert complaints_about_fact(fact.value, fact.unit, fact.low, fact.high, fact.source) == []


def test_every_constant_is_a_fact():
    bare = [name for name, thing in vars(constants).items() if isinstance(thing, (int, float))]
    assert bare == [] and len(all_facts()) > 100


@pytest.mark.parametrize("path", TABLES, ids=[path.name for path in TABLES])
def test_a_table_has_units_sources_and_ranges(path):
    assert complaints_about_table(path.read_text(encoding="utf-8")) == []


def test_there_are_tables():
    assert "bank_chemistry.csv" in [path.name for path in TABLES]


@pytest.mark.parametrize(
    "fact, words",
    [
        ((2.0, "V", 0.0, 1.0, "a book"), "not within"),
        ((math.nan, "V", 0.0, 1.0, "a book"), "finite"),
        ((0.5, " ", 0.0, 1.0, "a book"), "no unit"),
        ((0.5, "V", 0.0, 1.0, "TODO"), "no source"),
        ((0.5, "V", 1.0, 0.0, "a book"), "low is above high"),
    ],
)
def test_a_wrong_fact_is_named(fact, words):
    assert any(words in each for each in complaints_about_fact(*fact))


HEAD = "kind,value,unit,low,high,source\ntext,number,text,number,number,text\n"


@pytest.mark.parametrize(
    "text, words",
    [
        ("kind,value,unit,low,high,source\n", "no units row"),
        ("kind,value,unit,low,high\ntext,number,text,number,number\n", "no column source"),
        ("kind,value,unit,low,high,source\na,1,V,0,2,book\na,1,V,0,2,book\n", "a number stands in it"),
        (HEAD, "no rows"),
        (HEAD + "a,1,V,0,2,unknown\n", "line 3: no source"),
        (HEAD + "a,one,V,0,2,book\n", "are numbers"),
        (HEAD + "a,3,V,0,2,book\n", "3 is not within 0 to 2"),
        (HEAD + "a,1,V,0,2,book\na,1,V,0,2,book\n", "stands twice"),
        (HEAD + "a,1,V,0,2,book,more\n", "one too many"),
        (HEAD + ",1,V,0,2,book\n", "a cell is empty"),
        (HEAD.replace("text,number,text", "text,,text") + "a,1,V,0,2,book\n", "value has none"),
    ],
)
def test_a_wrong_table_is_named(text, words):
    complaints = complaints_about_table(text)
    assert any(words in each for each in complaints), complaints


def test_a_good_table_passes():
    assert complaints_about_table(HEAD + 'a,1,V,0,2,"a book, p. 3"\nb,1,V,0,2,book\n') == []
