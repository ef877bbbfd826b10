"""What stands in the repository: the agreed top level, a birth certificate for every data file, no machine's paths."""

import re

import pytest

from house.sources import ROOT, project_files

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "requirements.txt", "notebooks", "lib", "tests", "data"}
PICTURES = (".png", ".npz", ".pdf", ".jpg", ".ico")
# Written in pieces, so that this file does not complain about itself.
_MACHINE_PATH = re.compile("|".join((
    r"(?<![\w.~/-])/(?:ho" "me|ro" "ot|wo" r"rk|Us" r"ers)(?:/|\b(?![\w-]))",
    r"[A-Za-z]:\\{1,2}Us" r"ers\b",
)))


def machine_paths(text):
    """Absolute paths of somebody's computer, with their lines."""
    return [f"line {number}: {found[0]}" for number, line in enumerate(text.splitlines(), start=1)
            if (found := _MACHINE_PATH.search(line))]


def entries_of(page):
    """Files that a data README gives a heading, by their path inside data/: "### `job/file` – what it is"."""
    return {f"data/{name}" for name in re.findall(r"^###? `([^`]+)`", page, flags=re.MULTILINE)}


def test_the_top_level_is_as_agreed():
    assert {name.split("/")[0] for name in project_files() if not name.startswith(".")} == TOP_LEVEL


def test_notebooks_hold_nothing_else():
    inside = {name for name in project_files() if name.startswith("notebooks/") and not name.endswith(".ipynb")}
    pictures = {name for name in inside if name.startswith("notebooks/pictures/") and name.endswith(".svg")}
    assert inside - pictures == {"notebooks/README.md"}


def test_every_data_file_has_a_birth_certificate():
    files = {name for name in project_files() if name.startswith("data/")} - {"data/README.md"}
    assert entries_of((ROOT / "data" / "README.md").read_text(encoding="utf-8")) == files


def test_every_published_table_is_named():
    page = (ROOT / "tests" / "published" / "README.md").read_text(encoding="utf-8")
    tables = [name.split("/")[-1] for name in project_files() if name.startswith("tests/published/")]
    assert [name for name in tables if not name.endswith((".py", ".md")) and f"`{name}`" not in page] == []


@pytest.mark.parametrize("name", [name for name in project_files() if not name.endswith(PICTURES)])
def test_no_file_names_a_place_on_a_machine(name):
    assert machine_paths((ROOT / name).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("parts", [("/ho", "me/ann/a"), ("see /ro", "ot/.cache"), ("'/wo", "rk/a'"), ("at /ro", "ot."),
                                   ("C:\\Us", "ers\\ann"), ("c:\\\\Us", "ers"), ("(/Us", "ers/ann)")])
def test_a_path_of_a_machine_is_named(parts):
    assert len(machine_paths("fine\n" + "".join(parts))) == 1


@pytest.mark.parametrize("text", ["volts/work", "the homework", "../data/spring_pipe", "lib/statorbook", "a/root cause",
                                  ".venv/bin/python", "amps/home"])
def test_other_text_is_left_alone(text):
    assert machine_paths(text) == []


def test_only_headings_are_entries():
    page = "# Data\n## `list.csv`\n### `one/spin.csv` – volts\nSee `two/spin.csv` and\n### two/job.json\n"
    assert entries_of(page) == {"data/list.csv", "data/one/spin.csv"}
