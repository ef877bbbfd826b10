"""What the house rules are read from: the files of the project and the syntax trees of the library."""

import ast
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
LIBRARY = ROOT / "lib" / "statorbook"
_SHIPPED = (("README.md",), ("spring_pipe",), ("ridge_rotor",), ("shed_pedals",))
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))

# From the ground up. A package, or one of the two modules that stand alone, may import only what stands before it.
PACKAGES = (
    "errors", "cautions", "quantities", "winding", "cable", "bridge", "bank", "drives", "bench", "fits", "operation",
    "choice", "year", "rewiring", "protection", "charging", "service", "job", "first_run", "assembly", "examples",
    "figures", "drawings", "sheets", "widgets", "panels",
)  # fmt: skip
# Bare numbers and arrays: no files of the reader's, no globals, public docstrings with equation, validity, source.
PHYSICS = ("winding", "cable", "bridge", "bank", "drives", "service.life", "service.limits")
NOT_PHYSICS = ("winding.wiring", "winding.wire_names")
READER = ("figures", "drawings", "sheets", "widgets", "panels")


def modules():
    """Every module of the library as (dotted name, path), such as ("drives.water_jet", …)."""
    found = []
    for path in sorted(LIBRARY.rglob("*.py")):
        parts = path.relative_to(LIBRARY).with_suffix("").parts
        found.append((".".join(part for part in parts if part != "__init__"), path))
    return found


@cache
def tree_of(path):
    """Syntax tree of one file."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


@cache
def face_of(folder):
    """Names that a package shows to the others, as its `__init__` lists them for the lazy loader."""
    lists = [
        node.value
        for node in ast.walk(tree_of(folder / "__init__.py"))
        if isinstance(node, ast.keyword) and node.arg == "submod_attrs"
    ]
    return {name for each in lists for names in ast.literal_eval(each).values() for name in names}


def faces_seen_by(path):
    """Every name of a module's own package, and of the packages round it, that stands on a face."""
    folders = [folder for folder in path.parents if LIBRARY in folder.parents]
    return set().union(*(face_of(folder) for folder in folders))


def _is_module(target):
    """Whether a dotted name is a package or a module of the library, not a name in one or on its face."""
    top, *parts = target.split(".")
    place = LIBRARY.joinpath(*parts)
    if top != "statorbook" or not parts[1:]:
        return top == "statorbook"
    on_face = (place.parent / "__init__.py").is_file() and place.name in face_of(place.parent)
    return not on_face and (place.is_dir() or place.with_suffix(".py").is_file())


def imports_of(tree):
    """Every imported module as (dotted name, line, whether it is loaded together with the file)."""
    found = []

    def walk(node, at_once):
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Import):
                found.extend((alias.name, child.lineno, at_once) for alias in child.names)
            elif isinstance(child, ast.ImportFrom):
                source = "." * child.level + (child.module or "")
                inside = [f"{source}.{alias.name}" for alias in child.names if _is_module(f"{source}.{alias.name}")]
                names = inside + [source] * (len(inside) < len(child.names))
                found.extend((name, child.lineno, at_once) for name in names)
            inner = isinstance(child, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda))
            never = isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"  # read by tools only
            walk(child, at_once and not inner and not never)

    walk(tree, True)
    return found


def is_physics(name):
    """Whether a module holds physics on bare numbers."""
    return name.startswith(PHYSICS) and not name.startswith(NOT_PHYSICS) and not name.endswith(".derivations")


def project_files():
    """Every file that belongs to the project: tracked by git, or new and not ignored."""
    try:
        listed = (
            subprocess.run(
                ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
                cwd=ROOT,
                check=True,
                capture_output=True,
            )
            .stdout.decode()
            .split("\0")
        )
    except (OSError, subprocess.CalledProcessError):  # a copy without git: all but what git would ignore
        paths = [path.relative_to(ROOT) for path in ROOT.rglob("*")]
        theirs = [path for path in paths if path.parts[0] == "data" and path.parts[1:2] not in ((), *_SHIPPED)]
        listed = [
            path.as_posix()
            for path in paths
            if path not in theirs
            and ".previous." not in path.name
            and not any(part.startswith(".") or part == "__pycache__" for part in path.parts)
        ]
    return sorted(name for name in listed if name and (ROOT / name).is_file())


def complaints_in(check, names):
    """What a check of a file's text says, by file; one test for all files, since thousands of tests cost more time."""
    found = {name: check((ROOT / name).read_text(encoding="utf-8")) for name in names}
    return {name: words for name, words in found.items() if words}
