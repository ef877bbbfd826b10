"""The table of the steps on paper, each with a box to tick and the meter checks that follow it."""

import re

from statorbook.cautions import Instruction, exposures_of, shared_by, text_of
from statorbook.rewiring.checks import numbered, numbers_in_words
from statorbook.sheets.paper import LIGHT_GREY, LINE_MM, TICK_BOX, new_page, paragraph, printable

_BOX_PT = 17.0
_WIRE_END = re.compile(r"\b(\d{1,3}[SF])\b")
# A longer row, as one with hundreds of wire ends, goes on in a row below, so that every row fits on a page.
_LONGEST_ROW = 1500


def step_pages(pdf, sheets):
    """Print the steps as a table with a box to tick for each, rows whole and the header on every page."""
    numbers = _check_words(sheets)
    new_page(pdf, "Steps")
    paragraph(pdf, "Take the steps in this order and tick each one when it is done.")
    if 0 in numbers:
        paragraph(pdf, f"Before step 1: {numbers[0]}, listed after the steps.")
    said = _key(pdf, [step.words for step in sheets.steps])
    with _table(pdf, (13, 15, 152), ("CENTER", "CENTER", "LEFT")) as table:
        table.row(["Step", "Done", "What to do"])
        for step in sheets.steps:
            then = f"\nThen: {numbers[step.number]}." if step.number in numbers else ""
            then = _tag_line(step.words, said) + then
            first, *others = _rows_of(step.words)
            row = table.row([f"**{step.number}**", _tick_box()])
            row.cell(_marked(first) + ("" if others else then))
            for number, words in enumerate(others, start=1):
                row = table.row([f"**{step.number}**", "goes on"])
                row.cell(_marked(words) + (then if number == len(others) else ""))


def _check_words(sheets):
    """For each step with checks behind it, which of the table of checks they are, in words."""
    numbers = {}
    for number, check in numbered(sheets.checks):
        numbers.setdefault(check.step, []).append(number)
    return {step: _these(numbers_in_words(found), step) for step, found in numbers.items()}


def _these(numbers, step):
    if not numbers:
        return f"look, as the meter checks say {f'after step {step}' if step else 'at the start'}"
    return f"meter {'checks' if ' ' in numbers else 'check'} {numbers}"


def _key(pdf, every):
    """Print each caution of a table once above it; gives those that every row shares, which no row need say again."""
    said = shared_by(every)
    for exposure in exposures_of(every):
        paragraph(pdf, f"⚠ {exposure.sentence}")
    pdf.ln(2.0)
    return said


def _tag_line(words, said):
    """The caution of a row in a few words, on a line of its own; empty without one."""
    tags = words.tags_but(said) if isinstance(words, Instruction) else ""
    return f"\n⚠ {printable(tags)}" if tags else ""


def _table(pdf, widths, aligns):
    from fpdf.fonts import FontFace

    return pdf.table(
        align="LEFT",
        col_widths=widths,
        headings_style=FontFace(emphasis="BOLD", fill_color=LIGHT_GREY),
        line_height=LINE_MM,
        markdown=True,
        padding=(1.2, 1.5, 1.2, 1.5),
        text_align=aligns,
    )


def _tick_box():
    from fpdf.fonts import FontFace

    return {"text": TICK_BOX, "style": FontFace(size_pt=_BOX_PT)}


def _rows_of(words):
    """The words in as many pieces as fit on pages, parted where an entry of a list ends."""
    rest, rows = printable(text_of(words)), []
    while len(rest) > _LONGEST_ROW:
        end = rest.rfind(", ", 0, _LONGEST_ROW) + 1 or rest.rfind(" ", 0, _LONGEST_ROW) + 1 or _LONGEST_ROW
        rows.append(rest[:end].strip())
        rest = rest[end:].strip()
    return [*rows, rest]


def _marked(words):
    """The words with each label of a wire end in bold."""
    return _WIRE_END.sub(r"**\1**", words)
