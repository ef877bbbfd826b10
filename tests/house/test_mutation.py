"""The judge of small changes, on a library of a few lines whose mutants are known."""

import json
import subprocess
import sys
from textwrap import dedent

import pytest

from house.sources import ROOT
from judges.mutation import equivalents
from judges.mutation.sites import mutants_of
from judges.mutation.trial import TELL_OF, Project

LIBRARY = """
    LIMIT = 5


    def area(width, height):
        return width * height


    def count_down(start):
        while start > 0:
            start = start - 2
        return start < 1


    def untested(value):
        return -value


    def held(value):
        return value if value < 0 else max(value, 0)


    def within_limit(value):
        return value < LIMIT
"""

TESTS = """
    import pytest
    from tiny.shapes.shapes import area, count_down, held, within_limit


    def test_area():
        assert area(2, 3) == 6


    def test_count_down():
        assert count_down(4)


    def test_held():
        assert held(-1) == -1 and held(0) == 0 and held(2) == 2


    @pytest.mark.parametrize("value, inside", [(4, True), (5, False)])
    def test_limit(value, inside):
        assert within_limit(value) is inside


    def test_red():
        assert area(1, 1) == 2
"""

TRY = """
    import json, sys
    from pathlib import Path
    from judges.mutation.sites import mutants_of
    from judges.mutation.trial import Project, Trial

    root = Path(sys.argv[1])
    sys.path.insert(0, str(root))
    project = Project(root, root / "tiny", root / "tests", ("shapes",))
    mutants = [each for path in project.files_of("shapes") for each in mutants_of(path, project.library)]
    outcomes = Trial(project, "shapes.shapes", mutants, budget_seconds=1.0, quiet=True).run()
    print(json.dumps([[mutant.new, outcome] for mutant, outcome in outcomes.items()]))
"""


@pytest.fixture(scope="module")
def tiny(tmp_path_factory):
    """A library of one module with its tests, and where it stands."""
    root = tmp_path_factory.mktemp("mutation")
    for name, text in {
        "tiny/__init__.py": "",
        "tiny/shapes/__init__.py": "",
        "tiny/shapes/shapes.py": LIBRARY,
        "tests/shapes/test_shapes.py": TESTS,
        "tests/shapes/test_colours.py": "def test_red():\n    assert 'red'\n",
        "tiny/shapes/unnamed.py": "",
        "pytest.ini": "[pytest]\nmarkers =\n    slow: long\n",
    }.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(dedent(text).lstrip(), encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def outcomes(tiny):
    """What became of each mutant of the tiny library, by the changed line."""
    done = subprocess.run(
        [sys.executable, "-c", dedent(TRY), str(tiny)], cwd=ROOT / "tests", capture_output=True, text=True, timeout=240
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return dict(json.loads(done.stdout.splitlines()[-1]))


def test_a_changed_result_is_killed(outcomes):
    assert outcomes["return width / height"] == "killed"
    assert outcomes["return None"] == "killed"


def test_a_change_that_no_test_enters_survives(outcomes):
    assert outcomes["return value"] == "survived"


def test_a_loop_that_never_ends_is_timed_out(outcomes):
    assert outcomes["start = start + 2"] == "timed out"


def test_a_change_that_changes_nothing_survives(outcomes):
    assert outcomes["return value if value <= 0 else max(value, 0)"] == "survived"


def test_a_constant_of_the_module_is_tried_in_a_new_process(outcomes):
    assert outcomes["LIMIT = 6"] == "killed"


def test_an_end_of_a_fact_is_tried_only_where_some_module_reads_it(tmp_path):
    facts = """SPARE = Fact(value=2, low=1, high=3)\nREAD = {"a": Fact(value=5, low=4, high=6)}\n"""
    (tmp_path / "facts.py").write_text(facts, encoding="utf-8")
    (tmp_path / "reader.py").write_text("least = READ['a'].low\n", encoding="utf-8")
    lines = {mutant.new for mutant in mutants_of(tmp_path / "facts.py", tmp_path)}
    assert {"SPARE = Fact(value=3, low=1, high=3)", 'READ = {"a": Fact(value=5, low=5, high=6)}'} <= lines
    assert not lines & {"SPARE = Fact(value=2, low=2, high=3)", "SPARE = Fact(value=2, low=1, high=4)"}


@pytest.mark.parametrize(
    "target, files", [("shapes.shapes", ["test_shapes.py"]), ("shapes.unnamed", ["test_colours.py", "test_shapes.py"])]
)
def test_the_near_tests_are_those_that_name_the_module_or_all(tiny, target, files):
    project = Project(tiny, tiny / "tiny", tiny / "tests", ("shapes",))
    assert [path.name for path in project.near_tests(target)] == files


def test_what_always_tells_of_a_folder_is_there():
    library = ROOT / "lib" / "statorbook"
    assert all((library / each).is_dir() and (ROOT / "tests" / test).is_file() for each, test in TELL_OF.items())


def entry(**changes):
    words = dict(
        file="shapes/shapes.py",
        old="return value if value < 0 else max(value, 0)",
        new="return value if value <= 0 else max(value, 0)",
        why="Nothing and the larger of nothing and nothing are the same.",
    )
    return equivalents.Equivalent(**{**words, **changes})


def test_a_listed_mutant_is_known_by_its_line(tiny):
    mutants = mutants_of(tiny / "tiny/shapes/shapes.py", tiny / "tiny")
    assert [each.within for each in mutants if entry().covers(each)] == ["held"]
    assert not any(entry(within="area").covers(each) for each in mutants)


@pytest.mark.parametrize(
    "changes, complaints",
    [
        ({}, 0),
        ({"old": "return value if value < 1 else max(value, 0)"}, 1),
        ({"new": "return value if value >= 0 else max(value, 0)"}, 1),
        ({"file": "shapes/gone.py"}, 1),
        ({"why": "The same."}, 1),
        ({"within": "area"}, 1),
    ],
)
def test_an_entry_that_is_stale_or_without_a_reason_is_complained_of(tiny, changes, complaints):
    assert len(equivalents.complaints([entry(**changes)], tiny / "tiny")) == complaints


def test_the_list_holds_mutants_that_are_there_and_says_why():
    assert equivalents.complaints(equivalents.read(), ROOT / "lib" / "statorbook") == []
