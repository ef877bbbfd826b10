"""Reads notebooks and says where they break the rules of a page."""

import ast
import re

VIEW = "application/vnd.jupyter.widget-view+json"
MOST_BYTES = 800_000  # the still pictures of ten panels, as on page 06
LEAST_CELLS, MOST_CELLS = 15, 35
MOST_CODE_LINES = 10
MOST_LETTERS_FOLDED = 70  # Lab does not wrap it: more would push a page on a small tablet sideways
SHOWS_NOTHING = "shows-nothing"
_NO_CODE_IN_A_PAGE = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.For, ast.AsyncFor, ast.While)
HEADING_ALONE = re.compile(r"#{2,} .*")
_LINK = re.compile(r"""(?:\]\(|href=")([^)#"\s]+)[^)"]*[)"]""")
_WAY = re.compile(r'<a class="statorbook-way" href="([^"]+\.ipynb)">(Back|Next): ([^<]+)</a>')


def complaints_about_page(notebook, *, size, exists=lambda name: True):
    """Everything that is wrong with one notebook; `exists` tells whether a relative link leads somewhere."""
    found = [] if size <= MOST_BYTES else [f"{size / 1000:.0f} kB, at most {MOST_BYTES / 1000:.0f} kB"]
    count = sum(not HEADING_ALONE.fullmatch(cell.source) for cell in notebook.cells)
    if not LEAST_CELLS <= count <= MOST_CELLS:
        found.append(f"{count} cells besides headings, {LEAST_CELLS} to {MOST_CELLS} are usual")
    if notebook.metadata.get("kernelspec", {}).get("name") != "python3":
        found.append("its kernel is not python3")
    if "widgets" in notebook.metadata:
        found.append("holds the state of widgets")
    found += complaints_about_order(notebook) + complaints_about_text(notebook, exists)
    for number, cell in enumerate(notebook.cells, start=1):
        if cell.cell_type == "code":
            said = complaints_about_code(cell) + complaints_about_outputs(cell)
            found += [f"cell {number}: {words}" for words in said]
    return found


def complaints_about_order(notebook):
    """Run from top to bottom in one go, or not run at all."""
    counts = [cell.execution_count for cell in notebook.cells if cell.cell_type == "code"]
    ids = [cell.get("id") for cell in notebook.cells]
    found = [] if counts == list(range(1, len(counts) + 1)) else [f"not run from top to bottom: {counts}"]
    return found if len(set(ids)) == len(ids) and all(ids) else [*found, "cell ids are missing or stand twice"]


def complaints_about_text(notebook, exists):
    """The title stands first, links lead somewhere, and the last one leads onward."""
    texts = [
        (number, cell.source) for number, cell in enumerate(notebook.cells, start=1) if cell.cell_type == "markdown"
    ]
    first = notebook.cells[0] if notebook.cells else None
    found = []
    if first is None or first.cell_type != "markdown" or not first.source.startswith("# "):
        found.append("the first cell is not the title")
    if sum(1 for _, text in texts for line in text.splitlines() if line.startswith("# ")) > 1:
        found.append("has more than one title")
    for number, text in texts:
        here = [name for name in _LINK.findall(text) if ":" not in name.split("/")[0]]
        found += [f"cell {number}: its link {name} leads nowhere" for name in here if not exists(name)]
    last = texts[-1][1] if texts else ""
    if not notebook.cells or notebook.cells[-1].cell_type != "markdown" or not ways_of(notebook):
        found.append("the last cell has no button that leads on to a notebook")
    elif not any(line.startswith("## ") for line in last.splitlines()):
        found.append("the last cell has no heading, so that a fold above would hide it")
    return found


def ways_of(notebook):
    """The buttons of the last cell: (file, "Back" or "Next", the words behind it)."""
    return _WAY.findall(notebook.cells[-1].source)


def complaints_about_code(cell):
    """A code cell is short, collapsed, and calls the library."""
    lines = [line for line in cell.source.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    found = []
    if not lines:
        return ["is empty"]
    if len(lines) > MOST_CODE_LINES:
        found.append(f"{len(lines)} lines of code, at most {MOST_CODE_LINES}")
    if len(cell.source.splitlines()[0]) > MOST_LETTERS_FOLDED:
        found.append(f"its first line, all that is seen of folded code, is over {MOST_LETTERS_FOLDED} letters")
    if not cell.metadata.get("jupyter", {}).get("source_hidden"):
        found.append("its code is not collapsed")
    if any(line.startswith(("%", "!")) for line in lines):
        return [*found, "has a line that is not Python"]
    if "NBVAL_SKIP" in cell.source or "nbval-skip" in cell.metadata.get("tags", ()):
        found.append("is left out of the tests")
    for node in ast.walk(ast.parse(cell.source)):
        if isinstance(node, _NO_CODE_IN_A_PAGE):
            found.append(f"{type(node).__name__} belongs in the library")
        if isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names):
            found.append("imports *")
    return found


def complaints_about_outputs(cell):
    """What a cell shows is stored, without errors, live widgets or timing."""
    found = []
    for output in cell.outputs:
        if output.output_type == "error":
            found.append(f"stores an error, {output.ename}")
        if output.output_type == "stream" and output.name == "stderr":
            found.append("stores a warning on stderr")
        if VIEW in output.get("data", {}):
            found.append("stores a live panel instead of its still picture")
    if "execution" in cell.metadata:
        found.append("stores its timing")
    if shows_something(cell.source) and not cell.outputs and SHOWS_NOTHING not in cell.metadata.get("tags", ()):
        found.append(f"shows something, yet no output is stored (or give it the tag {SHOWS_NOTHING})")
    return found


def shows_something(source):
    """True when the last line is a bare expression, or when something is printed or displayed on the way."""
    try:
        tree = ast.parse(source)
    except SyntaxError:  # said by complaints_about_code
        return False
    calls = {ast.unparse(node.func).split(".")[-1] for node in ast.walk(tree) if isinstance(node, ast.Call)}
    return bool(tree.body) and (isinstance(tree.body[-1], ast.Expr) or bool({"print", "display", "show"} & calls))


def without_pictures(text):
    """A notebook's text without the bytes of its pictures, in which any letters may stand by chance."""
    return re.sub(r'"image/png": "[^"]*"', '"image/png": ""', text)
