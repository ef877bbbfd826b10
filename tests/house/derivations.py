"""Which derivation stands behind which function: read from the docstrings of both."""

import ast
import json
import re

from house.sources import NOTEBOOKS, modules, tree_of

_NAME = re.compile(r"`([^`]+)`")
_LINE = "{word}:(.*?)(?:\n\\s*\n|\n\\s*[A-Z][a-z]+:|$)"
_DOCUMENTED = (ast.FunctionDef, ast.ClassDef)


def docstrings():
    """Every docstring by the name that a reader of the docs would type: package, then class and method or function."""
    return {name: words for module, path in modules() for name, words in docstrings_of(module, tree_of(path))}


def docstrings_of(module, tree):
    """The docstrings of one module's functions, classes and methods."""
    package = module.split(".")[0]
    for node in (node for node in tree.body if isinstance(node, _DOCUMENTED)):
        yield f"{package}.{node.name}", ast.get_docstring(node) or ""
        for inner in (inner for inner in node.body if isinstance(inner, ast.FunctionDef)):
            yield f"{package}.{node.name}.{inner.name}", ast.get_docstring(inner) or ""


def named(word, docstring):
    """The names that a docstring's notes give behind a word, such as "Behind" or "Derivation"."""
    found = re.search(_LINE.format(word=word), f"{docstring}\n", re.DOTALL)
    return set(_NAME.findall(found[1])) if found else set()


def derivations():
    """The functions of every module named `derivations` that a package shows."""
    paths = [(module, path) for module, path in modules() if module.endswith(".derivations")]
    return {
        f"{module.split('.')[0]}.{node.name}"
        for module, path in paths
        for node in tree_of(path).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }


def complaints_about_derivations(words, derived):
    """Where a derivation and the functions on its formula do not name each other."""
    found = [
        f"{name} names no function that stands on it" for name in sorted(derived) if not named("Behind", words[name])
    ]
    for name in sorted(words):
        for other, back in (("Behind", "Derivation"), ("Derivation", "Behind")):
            for target in sorted(named(other, words[name])):
                if target not in words:
                    found.append(f"{name}: there is no {target}")
                elif name not in named(back, words[target]):
                    found.append(f"{name} names {target}, which does not name it back")
        found += [f"{name}: {target} is no derivation" for target in sorted(named("Derivation", words[name]) - derived)]
    return found


def called_on_pages():
    """Names that the cells of the pages on formulas call."""
    pages = [path for path in NOTEBOOKS if path.name[:2] in ("90", "91", "92")]
    cells = [cell for page in pages for cell in json.loads(page.read_text(encoding="utf-8"))["cells"]]
    code = [ast.parse("".join(cell["source"])) for cell in cells if cell["cell_type"] == "code"]
    calls = [node.func for tree in code for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return {ast.unparse(function).split(".")[-1] for function in calls}
