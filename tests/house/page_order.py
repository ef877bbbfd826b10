"""Reads notebooks and says where a page does not open on the work."""

import ast
import re

from house.pages import HEADING_ALONE

FOLDED = "jp-MarkdownHeadingCollapsed"
WORKED_OUT = "## How this is worked out"
BOX = '<div class="statorbook-caution">'
MOST_LETTERS = 1000  # in a cell before the first panel; what fills the screen is measured in the browser
_QUESTION = "**The question of this page:**"
_OPENS_JOB = re.compile(r"\b(?:open_current|StartPanel)\(")
_HEADING = re.compile(r"^(#+) ", flags=re.MULTILINE)


def complaints_about_opening(notebook):
    """What stands before, or instead of, the work: question, cautions, job, steps, panel, and the rest folded."""
    cells = notebook.cells
    under_title = "".join(cells[0].source.splitlines()[2:3])
    found = []
    if not (under_title.startswith(_QUESTION) and under_title.rstrip().endswith("?")):
        found.append("the title is not followed by its question in one line")
    if [number for number, cell in enumerate(cells) if BOX in cell.source] != [1]:
        found.append("the one box of cautions is not the second cell")
    if not next(_OPENS_JOB.search(cell.source) for cell in cells if cell.cell_type == "code"):
        found.append("the first code does not open the job")
    loose = [cell.source for cell in cells if cell.metadata.get(FOLDED) and not HEADING_ALONE.fullmatch(cell.source)]
    found += [f"its text stays in sight beside the folded heading: {source.splitlines()[0]}" for source in loose]
    panels = [number for number, cell in enumerate(cells) if shows_panel(cell)]
    return found + (complaints_about_panel(cells, panels[0]) if panels else complaints_about_sections(cells))


def complaints_about_panel(cells, panel):
    """The first panel is in sight soon, and how it is worked out is folded below it."""
    found = ["its first panel is folded away"] if hidden(cells)[panel] else []
    long = [number for number in range(panel) if len(cells[number].source) > MOST_LETTERS]
    found += [f"cell {number + 1}: {len(cells[number].source)} letters before the first panel" for number in long]
    worked_out = [number for number, cell in enumerate(cells) if WORKED_OUT in cell.source]
    if len(worked_out) != 1 or not cells[worked_out[0]].metadata.get(FOLDED):
        return [*found, f"“{WORKED_OUT}” does not stand there once and folded"]
    return found if worked_out[0] > panel else [*found, f"“{WORKED_OUT}” stands before the first panel"]


def complaints_about_sections(cells):
    """A page to read only is folded by its sections; its last cell leads on."""
    heads = [cell for cell in cells[:-1] if cell.cell_type == "markdown" and cell.source.startswith("## ")]
    return [
        f"a section is not folded: {cell.source.splitlines()[0]}" for cell in heads if not cell.metadata.get(FOLDED)
    ]


def shows_panel(cell):
    """True for a code cell that makes a panel and ends in showing one."""
    if cell.cell_type != "code" or "Panel(" not in cell.source:
        return False
    last = ast.parse(cell.source).body[-1]
    return isinstance(last, ast.Expr) and not ast.unparse(last).startswith("print(")


def hidden(cells):
    """For each cell whether JupyterLab hides it: a fold goes down to the next heading of its level or above."""
    found, closed = [], None
    for cell in cells:
        levels = [len(marks) for marks in _HEADING.findall(cell.source)] if cell.cell_type == "markdown" else []
        if closed and levels and min(levels) <= closed:
            closed = None
        found.append(closed is not None)
        if closed is None and cell.metadata.get(FOLDED):
            closed = min(levels)
    return found
