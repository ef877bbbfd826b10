"""What stands in the repository: the agreed top level, a birth certificate for every data file, no machine's paths."""

import re

import pytest

from house.sources import ROOT, complaints_in, project_files

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "requirements.txt", "notebooks", "lib", "tests", "data"}
PICTURES = (".png", ".npz", ".pdf", ".jpg", ".ico")
# Written in pieces, so that this file does not complain about itself.
_MACHINE_PATH = re.compile(
    "|".join((r"(?<![\w.~/-])/(?:ho" "me|ro" "ot|wo" r"rk|Us" r"ers)(?:/|\b(?![\w-]))", r"[A-Za-z]:\\{1,2}Us" r"ers\b"))
)


def machine_paths(text):
    """Absolute paths of somebody's computer, with their lines."""
    return [
        f"line {number}: {found[0]}"
        for number, line in enumerate(text.splitlines(), start=1)
        if (found := _MACHINE_PATH.search(line))
    ]


# A source is a standard, a book or a paper: no list of checks kept elsewhere, no web page, no log of somebody's.
_NO_SOURCE = re.compile(
    "|".join(
        (
            r"(?i:published) (?i:che)" r"cks\b",
            r"(?i:des)" r"ign, section \d",
            r"(?<![\w./-])(?:https?://)?(?!https?:|www\.w3\.)(?:[a-z0-9-]+\.)+(?:c" r"om|o" r"rg|n" r"et|e" r"du)\b",
            r"(?i:\b(?:buil" r"der|tes" r"ter|practi" r"tioner)s?['’]?s? (?:log|figures|table|notes)\b)",
        )
    )
)


def sources_that_name_nothing(text):
    """Citations that a reader cannot look up in print, with their lines."""
    return [
        f"line {number}: {found[0]}"
        for number, line in enumerate(text.splitlines(), start=1)
        if (found := _NO_SOURCE.search(line))
    ]


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


def test_no_file_names_a_place_on_a_machine():
    assert complaints_in(machine_paths, [name for name in project_files() if not name.endswith(PICTURES)]) == {}


def test_every_source_is_named_by_its_own_name():
    named = [name for name in project_files() if name.endswith((".py", ".md", ".csv"))]
    assert complaints_in(sources_that_name_nothing, named) == {}


@pytest.mark.parametrize(
    "parts",
    [
        ("# Published che", "cks, section 4: 1.024 mm"),
        ("# Des", "ign, section 3: 0.5"),
        ("# read at wire.example.c", "om/gauge"),
        ("# A buil", "der's log: 1.02 mH"),
        ("# (a tes", "ter’s log: 40 W)"),
        ("# A practi", "tioner's table: 12.20 V"),
    ],
)
def test_a_source_that_names_nothing_is_named(parts):
    assert len(sources_that_name_nothing("fine\n" + "".join(parts))) == 1


@pytest.mark.parametrize(
    "text",
    [
        "http://www.w3.org/2000/svg",
        "# ASTM B258: 1.024 mm",
        "insulation tester: 500 V",
        "meter checks, section by section",
    ],
)
def test_a_source_with_a_name_is_left_alone(text):
    assert sources_that_name_nothing(text) == []


@pytest.mark.parametrize(
    "parts",
    [
        ("/ho", "me/ann/a"),
        ("see /ro", "ot/.cache"),
        ("'/wo", "rk/a'"),
        ("at /ro", "ot."),
        ("C:\\Us", "ers\\ann"),
        ("c:\\\\Us", "ers"),
        ("(/Us", "ers/ann)"),
    ],
)
def test_a_path_of_a_machine_is_named(parts):
    assert len(machine_paths("fine\n" + "".join(parts))) == 1


@pytest.mark.parametrize(
    "text",
    [
        "volts/work",
        "the homework",
        "../data/spring_pipe",
        "lib/statorbook",
        "a/root cause",
        ".venv/bin/python",
        "amps/home",
    ],
)
def test_other_text_is_left_alone(text):
    assert machine_paths(text) == []


def test_only_headings_are_entries():
    page = "# Data\n## `list.csv`\n### `one/spin.csv` – volts\nSee `two/spin.csv` and\n### two/job.json\n"
    assert entries_of(page) == {"data/list.csv", "data/one/spin.csv"}
