"""Imports run one way, and what is slow to load is loaded only when it is first needed."""

import ast
import subprocess
import sys

import pytest

from house.sources import LIBRARY, ORDER, ROOT, floor_of, modules, tree_of

SLOW = {"pandas", "sympy", "matplotlib", "ipywidgets", "pint", "pydantic", "scipy", "fluids", "fpdf", "IPython"}
# The job's parts are pydantic models; nothing below the job loads them.
MAY_LOAD_PYDANTIC = [name for name in ORDER if name.startswith("job")] + ["example"]
# Physics works on bare numbers: it opens none of the reader's files and draws nothing. Tables of the package are read
# through importlib.resources.
NOT_IN_PHYSICS = {"os", "pathlib", "shutil", "tempfile", "json", "pickle", "pandas", "pydantic", "pint", "warnings",
                  "logging"}


def imports_of(tree):
    """Every imported module as (dotted name, line, whether it is loaded together with the file)."""
    found = []

    def walk(node, at_once):
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Import):
                found.extend((alias.name, child.lineno, at_once) for alias in child.names)
            elif isinstance(child, ast.ImportFrom):
                source = "." * child.level + (child.module or "")
                whole = source == "statorbook"
                names = [f"{source}.{alias.name}" for alias in child.names] if whole else [source]
                found.extend((name, child.lineno, at_once) for name in names)
            inner = isinstance(child, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda))
            walk(child, at_once and not inner)

    walk(tree, True)
    return found


def complaints_about_floors(name, tree):
    """What is wrong with the imports of one module of the library."""
    floor, room, found = floor_of(name), name.split(".")[0], []
    for target, line, at_once in imports_of(tree):
        top, place = target.split(".")[0], f"{name}, line {line}: imports {target}"
        if target.startswith("."):
            found.append(f"{place}: write the whole name")
        elif top == "statorbook":
            other = target.split(".")[1]
            if other != room and (other not in ORDER or ORDER.index(other) >= ORDER.index(room)):
                found.append(f"{place}: not below it")
        elif top == "ipywidgets" and room != "panels":
            found.append(f"{place}: only panels may")
        elif top in ("matplotlib", "IPython") and floor != "reader":
            found.append(f"{place}: only figures and panels may")
        elif top in SLOW and at_once and floor != "reader" and not (top == "pydantic" and room in MAY_LOAD_PYDANTIC):
            found.append(f"{place}: slow, import it inside the function that needs it")
        elif top in NOT_IN_PHYSICS and floor == "physics":
            found.append(f"{place}: not in physics")
    return found + complaints_about_physics(name, tree)


def complaints_about_physics(name, tree):
    """Files opened and globals changed in a module of the physics floor."""
    if floor_of(name) != "physics":
        return []
    opened = [f"{name}, line {node.lineno}: opens a file" for node in ast.walk(tree)
              if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "open"]
    changed = [f"{name}, line {node.lineno}: changes a global" for node in ast.walk(tree)
               if isinstance(node, ast.Global)]
    return opened + changed


def loaded_by(statement):
    """Top-level names of all modules in memory after a statement, and those of the library in full."""
    code = f"import sys\n{statement}\nprint(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    names = run.stdout.split()
    return {name.split(".")[0] for name in names}, {name for name in names if name.startswith("statorbook.")}


@pytest.mark.parametrize("name, path", modules(), ids=[name or "statorbook" for name, _ in modules()])
def test_imports_run_downwards(name, path):
    assert not name or floor_of(name), f"{name} is on no floor: add it to FLOORS in tests/house/sources.py"
    if name:
        assert complaints_about_floors(name, tree_of(path)) == []


def test_every_module_of_the_table_exists():
    rooms = {name.split(".")[0] for name, _ in modules() if name}
    assert set(ORDER) == rooms and len(ORDER) == len(set(ORDER))
    assert all((LIBRARY / folder / "__init__.py").is_file() for folder in ("drives", "figures", "panels"))


def test_the_developers_page_names_every_module():
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [name for name in ORDER if f"`{name}`" not in page] == []


def test_importing_the_library_loads_nothing():
    top, own = loaded_by("import statorbook")
    assert own == set() and not top & (SLOW | {"numpy"})


@pytest.mark.parametrize("floors, may_load", [
    (["words"], set()),
    (["words", "physics"], set()),
    (["words", "physics", "decisions"], {"pydantic"}),
], ids=["words", "physics", "decisions"])
def test_floors_load_nothing_slow(floors, may_load):
    names = [name for name, _ in modules() if name and floor_of(name) in floors]
    top, _ = loaded_by("\n".join(f"import statorbook.{name}" for name in names))
    assert top & SLOW <= may_load


@pytest.mark.parametrize("name, source, words", [
    ("heat", "from statorbook.fit import fit", "not below it"),
    ("heat", "from statorbook import stator", "not below it"),
    ("heat", "def f():\n    from statorbook.readings import read_logs", "not below it"),
    ("grouping", "from statorbook.stator import Stator", "not below it"),
    ("fit", "from statorbook.figures.kept import look", "not below it"),
    ("figures.kept", "from statorbook.panels import frame", "not below it"),
    ("heat", "from . import stator", "write the whole name"),
    ("figures.kept", "import ipywidgets", "only panels"),
    ("job", "def f():\n    import ipywidgets", "only panels"),
    ("fit", "def f():\n    from matplotlib import pyplot", "only figures and panels"),
    ("fit", "import pandas as pd", "slow"),
    ("fit", "from scipy.optimize import brentq", "slow"),
    ("readings", "from pydantic import BaseModel", "slow"),
    ("conversions", "class A:\n    import pint", "slow"),
    ("heat", "def f():\n    from pathlib import Path", "not in physics"),
    ("heat", "def f():\n    return open('a')", "opens a file"),
    ("heat", "def f():\n    global a\n    a = 1", "changes a global"),
])
def test_a_wrong_import_is_named(name, source, words):
    complaints = complaints_about_floors(name, ast.parse(source))
    assert len(complaints) == 1 and words in complaints[0]


@pytest.mark.parametrize("name, source", [
    ("stator", "from statorbook.grouping import Grouping"),
    ("fit", "def f():\n    import pandas\n    from scipy.stats import t"),
    ("drives.water_jet", "import numpy as np\nfrom statorbook.drives.known_speed import KnownSpeed"),
    ("panels.frame", "import ipywidgets\nfrom statorbook.figures.kept import look"),
    ("job_parts", "from pydantic import Field"),
])
def test_a_right_import_passes(name, source):
    assert complaints_about_floors(name, ast.parse(source)) == []
