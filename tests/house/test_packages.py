"""Imports run one way, and what is slow to load is loaded only when it is first needed."""

import ast
import importlib
import subprocess
import sys
from collections import Counter

import nbformat
import pytest

# import-linter would take thirty lines of configuration for the order of the packages, two lines here, and the same
# imports would be read again for what it cannot tell: faces, imports made late, files and globals of physics.
from house.sources import NOTEBOOKS, PACKAGES, READER, ROOT, face_of, imports_of, is_physics, modules, tree_of

SLOW = {"pandas", "sympy", "matplotlib", "ipywidgets", "pint", "pydantic", "scipy", "fluids", "fpdf", "IPython"}
# The job's parts are pydantic models; nothing below the job loads them.
MAY_LOAD_PYDANTIC = ("job", "examples")
# What numba compiles loads it, and scipy with it: only inside functions, and by one another.
COMPILED = ("charging.day_controls", "charging.day_bus", "charging.day_kernel", "charging.rest_kernel")
# Physics works on bare numbers: it opens none of the reader's files and draws nothing. Tables of the package are read
# through importlib.resources.
NOT_IN_PHYSICS = set("os pathlib shutil tempfile json pickle pandas pydantic pint warnings logging".split())


def is_inside(target):
    """Whether a dotted name is a module inside a package, which only the package itself may import."""
    return "." in target and target in {name for name, path in modules() if path.name != "__init__.py"}


def may_load(top):
    """Packages that may load something slow at once."""
    return (*READER, *MAY_LOAD_PYDANTIC) if top == "pydantic" else READER


def complaints_about_imports(name, tree):
    """What is wrong with the imports of one module of the library."""
    package, found = name.split(".")[0], []
    for target, line, at_once in imports_of(tree):
        top, place = target.split(".")[0], f"{name}, line {line}: imports {target}"
        if target.startswith("."):
            found.append(f"{place}: write the whole name")
        elif target.removeprefix("statorbook.") in (*COMPILED, "numba") and at_once and name not in COMPILED:
            found.append(f"{place}: slow, import it inside the function that needs it")
        elif top == "statorbook":
            other = target.split(".")[1]
            if other != package and (other not in PACKAGES or PACKAGES.index(other) >= PACKAGES.index(package)):
                found.append(f"{place}: not below it")
            elif other != package and is_inside(target.removeprefix("statorbook.")):
                found.append(f"{place}: import it from the package's face")
        elif top in ("ipywidgets", "anywidget") and package not in ("widgets", "panels"):
            found.append(f"{place}: only widgets and panels may")
        elif top in ("matplotlib", "IPython") and package not in READER:
            found.append(f"{place}: only figures and panels may")
        elif top in SLOW and at_once and package not in may_load(top):
            found.append(f"{place}: slow, import it inside the function that needs it")
        elif top in NOT_IN_PHYSICS and is_physics(name):
            found.append(f"{place}: not in physics")
    return found + complaints_about_physics(name, tree)


def complaints_about_physics(name, tree):
    """Files opened and globals changed in a module of physics."""
    if not is_physics(name):
        return []
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "open":
            found.append(f"{name}, line {node.lineno}: opens a file")
        elif isinstance(node, ast.Global):
            found.append(f"{name}, line {node.lineno}: changes a global")
    return found


def loaded_by(statement):
    """Top-level names of all modules in memory after a statement, and those of the library in full."""
    code = f"import sys\n{statement}\nprint(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    names = run.stdout.split()
    return {name.split(".")[0] for name in names}, {name for name in names if name.startswith("statorbook.")}


@pytest.mark.parametrize("name, path", modules(), ids=[name or "statorbook" for name, _ in modules()])
def test_imports_run_downwards(name, path):
    if name:
        assert name.split(".")[0] in PACKAGES, f"{name} is in no package: name its package in tests/house/sources.py"
        assert complaints_about_imports(name, tree_of(path)) == []


def test_every_package_of_the_table_exists_and_says_what_it_knows():
    assert set(PACKAGES) == {name.split(".")[0] for name, _ in modules() if name}
    for folder in {path.parent for _, path in modules()}:
        start = folder / "__init__.py"
        assert start.is_file() and ast.get_docstring(tree_of(start)), folder.name


def trees_of_page(page):
    """Syntax trees of a notebook's cells."""
    return [ast.parse(cell.source) for cell in nbformat.read(page, as_version=4).cells if cell.cell_type == "code"]


def asked_for(tree):
    """Every (module, name) that is imported by name."""
    froms = (node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom))
    return {(node.module, alias.name) for node in froms for alias in node.names}


@pytest.mark.parametrize("page", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])
def test_a_page_imports_from_faces_only(page):
    targets = [target for tree in trees_of_page(page) for target, _, _ in imports_of(tree)]
    assert [target for target in targets if is_inside(target.removeprefix("statorbook."))] == []


def test_what_stands_on_a_face_is_there():
    for name, path in modules():
        if name and path.name == "__init__.py":
            face = importlib.import_module(f"statorbook.{name}")
            assert all(getattr(face, each) is not None for each in getattr(face, "__all__", ())), name


def test_nothing_stands_on_a_face_that_nobody_asks_for():
    scripts = [
        ast.parse(path.read_text("utf-8")) for path in (ROOT / ".ci").iterdir() if path.is_file() and path.name != "run"
    ]
    trees = [tree_of(path) for _, path in modules()] + scripts
    asked = set().union(*map(asked_for, [*trees, *(tree for page in NOTEBOOKS for tree in trees_of_page(page))]))
    faces = [(f"statorbook.{name}", path.parent) for name, path in modules() if name and path.name == "__init__.py"]
    idle = [(face, name) for face, folder in faces for name in face_of(folder) if (face, name) not in asked]
    assert idle == []


def test_a_name_is_asked_for_by_its_import():
    tree = ast.parse(
        "import numpy\ndef f():\n    from statorbook.winding import Stator as S, Grouping\n    return Coil"
    )
    assert asked_for(tree) == {("statorbook.winding", "Stator"), ("statorbook.winding", "Grouping")}


def test_no_two_classes_have_one_name():
    nodes = [node for _, path in modules() for node in ast.walk(tree_of(path))]
    names = Counter(node.name for node in nodes if isinstance(node, ast.ClassDef))
    assert [name for name, times in names.items() if times > 1] == []


def test_the_developers_page_names_every_package():
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [name for name in PACKAGES if f"`{name}`" not in page] == []


def test_importing_the_library_loads_nothing():
    top, own = loaded_by("import statorbook")
    assert own == set() and not top & (SLOW | {"numpy"})


@pytest.mark.parametrize("last, may_load", [("bridge", set()), ("service", set()), ("assembly", {"pydantic"})])
def test_packages_load_nothing_slow(last, may_load):
    packages = PACKAGES[: PACKAGES.index(last) + 1]
    names = [name for name, _ in modules() if name.split(".")[0] in packages and name not in COMPILED]
    top, _ = loaded_by("\n".join(f"import statorbook.{name}" for name in names))
    assert top & SLOW <= may_load


@pytest.mark.parametrize(
    "name, source, words",
    [
        ("winding.temperature", "from statorbook.fits import fit", "not below it"),
        ("winding.temperature", "from statorbook import sheets", "not below it"),
        ("winding.temperature", "from statorbook import strangers", "not below it"),
        ("winding.temperature", "def f():\n    from statorbook.bench.logs import LOGS", "not below it"),
        ("fits.constants", "from statorbook.figures.canvas.kept import look", "not below it"),
        ("figures.canvas.kept", "from statorbook.panels.choice import choose", "not below it"),
        ("fits.constants", "from statorbook.winding.stator import Stator", "from the package's face"),
        ("fits.constants", "from statorbook.winding import stator", "from the package's face"),
        ("winding.temperature", "from . import stator", "write the whole name"),
        ("figures.canvas.kept", "import ipywidgets", "only widgets and panels"),
        ("job.job", "def f():\n    import ipywidgets", "only widgets and panels"),
        ("job.job", "def f():\n    import anywidget", "only widgets and panels"),
        ("fits.constants", "def f():\n    from matplotlib import pyplot", "only figures and panels"),
        ("fits.constants", "import pandas as pd", "slow"),
        ("fits.constants", "if True:\n    import pandas as pd", "slow"),
        ("fits.constants", "from scipy.optimize import brentq", "slow"),
        ("fits.constants", "from numba import njit", "slow"),
        ("charging.days", "from statorbook.charging.day_kernel import advance", "slow"),
        ("bench.readings", "from pydantic import BaseModel", "slow"),
        ("quantities.typed_quantity", "class A:\n    import pint", "slow"),
        ("winding.temperature", "def f():\n    from pathlib import Path", "not in physics"),
        ("winding.temperature", "def f():\n    return open('a')", "opens a file"),
        ("winding.temperature", "def f():\n    global a\n    a = 1", "changes a global"),
    ],
)
def test_a_wrong_import_is_named(name, source, words):
    complaints = complaints_about_imports(name, ast.parse(source))
    assert len(complaints) == 1 and words in complaints[0]


@pytest.mark.parametrize(
    "name, source",
    [
        ("winding.stator", "from statorbook.winding.grouping import Grouping"),
        ("fits.constants", "def f():\n    import pandas\n    from scipy.stats import t"),
        ("bridge.derivations", "if TYPE_CHECKING:\n    import sympy"),
        ("drives.water_jet", "import numpy as np\nfrom statorbook.drives.known_speed import KnownSpeed"),
        ("widgets.frame", "import ipywidgets\nfrom statorbook.figures import look"),
        ("job.parts.registry", "from pydantic import Field"),
    ],
)
def test_a_right_import_passes(name, source):
    assert complaints_about_imports(name, ast.parse(source)) == []


def test_controls_know_of_a_job_only_how_its_fields_are_declared():
    """What a panel speaks of, its units too, it is given."""
    known = {
        target
        for name, path in modules()
        if name.split(".")[0] == "widgets"
        for target, _, _ in imports_of(tree_of(path))
        if target.startswith(("statorbook.assembly", "statorbook.job"))
    }
    assert known == {"statorbook.job.parts"}
