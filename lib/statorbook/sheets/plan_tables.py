"""The tables of the sheets: steps to tick and meter checks to fill in."""

import re
from dataclasses import dataclass
from itertools import groupby

from statorbook.cautions import Instruction, exposures_of, shared_by, text_of, together
from statorbook.errors import count_of
from statorbook.rewiring.checks import numbered, numbers_in_words
from statorbook.sheets.paper import LIGHT_GREY, LINE_MM, new_page, paragraph, printable

TICK_BOX = "☐"
_BOX_PT = 17.0
_WIRE_END = re.compile(r"\b(\d{1,3}[SF])\b")
# A longer row, as one with hundreds of wire ends, goes on in a row below, so that every row fits on a page.
_LONGEST_ROW = 1500
_READING_MM = 11.0


@dataclass(frozen=True, kw_only=True)
class _Printed:
    """A line of the table of checks."""

    number: str
    name: str
    kind: str
    step: int
    words: Instruction
    expects: str = ""
    unit: str = ""


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


def _lines(checks):
    """The checks in order; joints that only have to be open share a line, for there is nothing to write."""
    for (step, open_ends), group in groupby(numbered(checks), key=lambda each: _open_after(each[1])):
        group = list(group)
        if not open_ends or len(group) == 1:
            yield from (_line(number, check) for number, check in group)
            continue
        first, numbers = group[0][1], numbers_in_words([number for number, _ in group])
        places = ", ".join(check.name.replace("-", " and ") for _, check in group)
        words = together(first.words, f"The meter shows {first.expects} in each place: between {places}.")
        yield _Printed(number=numbers, name="open", kind="look", step=step, words=words)


def _open_after(check):
    return check.step, check.expects.startswith("OL")


def _line(number, check):
    return _Printed(
        number=f"{number or ''}",
        name=check.name,
        kind=check.kind,
        step=check.step,
        words=check.words,
        expects=check.expects,
        unit=check.unit,
    )


def check_pages(pdf, sheets):
    """Print the meter checks as a table with a box for each reading; nothing when there are none."""
    if not sheets.checks:
        return
    new_page(pdf, "Meter checks")
    paragraph(
        pdf,
        "Write every reading into its box and tick it when it is within what is written beside it. When one is not, "
        "stop and find out why before the next step.",
    )
    asked = sum(bool(number) for number, _ in numbered(sheets.checks))
    paragraph(
        pdf,
        f"{count_of(asked, 'check')} with a number, the same as on page 05_cut_and_join. A row without a number is for "
        "your eyes alone.",
    )
    if sheets.check_note:
        paragraph(pdf, sheets.check_note)
    said = _key(pdf, [check.words for check in sheets.checks])
    aligns = ("CENTER", "LEFT", "CENTER", "LEFT", "LEFT", "RIGHT", "CENTER")
    with _table(pdf, (11, 21, 14, 62, 33, 26, 13), aligns) as table:
        table.row(["No.", "Check", "After step", "What to do", "It should say", "Reading", "OK"])
        for check in _lines(sheets.checks):
            _check_row(table, check, said)


def _key(pdf, every):
    """Print each caution of a table once above it; gives those that every row shares, which no row need say again."""
    said = shared_by(every)
    for exposure in exposures_of(every):
        paragraph(pdf, f"⚠ {exposure.sentence}")
    pdf.ln(2.0)
    return said


def _tag_line(words, said, *, names_only=False):
    """The caution of a row in a few words, on a line of its own; empty without one."""
    tags = words.tags_but(said, names_only=names_only) if isinstance(words, Instruction) else ""
    return f"\n⚠ {printable(tags)}" if tags else ""


def _check_row(table, check, said):
    """One check; what is judged by eye has no box to write in, and its words take that room."""
    look = check.kind == "look"
    first, *others = _rows_of(check.words)
    tags = _tag_line(check.words, said, names_only=not look)
    name = printable(check.name) or ("look" if look else "")
    row = table.row(min_height=_READING_MM)
    for text in (_bold(check.number), _bold(name), f"{check.step}" if check.step else "start"):
        row.cell(text)
    row.cell(_marked(first) + ("" if others else tags), colspan=3 if look else 1)
    if not look:
        row.cell(printable(check.expects))
        row.cell(printable(check.unit))
    row.cell(**_tick_box())
    for place, words in enumerate(others, start=1):
        row = table.row(["goes on", "", ""])
        row.cell(_marked(words) + (tags if place == len(others) else ""), colspan=3)
        row.cell("")


def _bold(text):
    return f"**{text}**" if text else ""


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
