"""The meter checks on paper: for each group what to do, said once with its caution, then a row for every reading."""

from dataclasses import dataclass
from math import ceil, floor, isinf

from statorbook.cautions import text_of
from statorbook.errors import count_of
from statorbook.rewiring.checks import check_groups
from statorbook.sheets.paper import FONT, LIGHT_GREY, SMALL_PT, TICK_BOX, new_page, printable

_LINE_MM, _PAD_MM, _SIDE_MM = 3.9, 1.1, 0.7
_ROW_MM = _LINE_MM + 2 * _PAD_MM
# Room for a number of four figures with its point, written by hand (common practice, no source).
READING_MM = 14.0
_GUTTER_MM, _MOST_BLOCKS = 2.0, 4
# So many rows that should all say the same: it is said once above them, and more of them stand side by side.
_MANY_ROWS = 14
_LEAST_LINES = 2  # of a table below its instruction; fewer go to the next page with it
_BOX_PT = 15.0


@dataclass(frozen=True, kw_only=True)
class _Column:
    """A column of a table of checks."""

    head: str
    cells: tuple
    align: str = "LEFT"
    style: str = ""
    least_mm: float = 0.0

    def width_mm(self, pdf):
        """As wide as its cells and the words of its heading."""
        pdf.set_font(FONT, "", SMALL_PT)
        heads = [pdf.get_string_width(word) for word in self.head.split()]
        pdf.set_font(FONT, self.style, SMALL_PT)
        return max(self.least_mm, *heads, *map(pdf.get_string_width, self.cells)) + 2 * _SIDE_MM + 0.1


def check_pages(pdf, sheets):
    """Print the meter checks group by group; nothing when there are none."""
    if not sheets.checks:
        return
    groups = check_groups(sheets.checks, sheets.plan.wired)
    new_page(pdf, "Meter checks")
    asked = count_of(sum(len(group.rows) for group in groups), "check")
    _small(
        pdf,
        "Write every reading into its box and tick it when it is within what is written beside it. When one is not, "
        f"stop and find out why before the next step. {asked} with a number, the same as on page 05_cut_and_join; Step "
        f"is the one after which it is taken. {sheets.check_note}",
    )
    for group in groups:
        _group(pdf, group)


def _group(pdf, group):
    """What to do, its cautions, what to prepare, and the rows; words and first rows stay on one page."""
    said = (
        f"**{printable(group.title)}{_after(group)}.** {printable(text_of(group.words or ''))} {_once(group)}".strip()
    )
    looks = [f"{TICK_BOX} {_when(look, group)}{text_of(look.words)}" for look in group.looks]
    parts = [f"{said} {_cautions(group)}", *looks]
    room = _height(pdf, parts[0])
    pdf.ln(1.6)
    if pdf.will_page_break(room + (_LINE_MM if group.looks else _least_mm(group))):
        pdf.add_page()
    for words in parts:
        _small(pdf, words)
    if group.rows:
        _rows(pdf, group, _columns(group))


def _least_mm(group):
    return _LINE_MM + (1 + min(_LEAST_LINES, len(group.rows))) * _ROW_MM if group.rows else 0.0


def _cautions(group):
    """What was not said before in whole sentences, the rest in a few words."""
    said = [exposure.sentence for exposure in group.cautions]
    return " ".join(f"⚠ {words}" for words in (*said, *_tags(group.reminders)))


def _tags(exposures):
    tags = "; ".join(exposure.tag for exposure in exposures)
    return [f"**{tags}.**"] if tags else []


def _after(group):
    return f", {_step_words(group.steps[0])}" if len(group.steps) == 1 else ""


def _when(look, group):
    """Of a group of several steps each look says its own."""
    words = _step_words(look.step)
    return "" if len(group.steps) == 1 else f"{words[0].upper()}{words[1:]}. "


def _step_words(step):
    return f"after step {step}" if step else "before step 1"


def _columns(group):
    """Those that tell the rows apart; where the meter only has to show an open line there is nothing to write."""
    rows, checks = group.rows, [row.check for row in group.rows]
    if not rows:
        return ()
    found = [_Column(head="No.", cells=tuple(f"{row.number}" for row in rows), align="CENTER", style="B")]
    if len(group.steps) > 1:
        found.append(_Column(head="Step", cells=tuple(f"{check.step}" for check in checks), align="CENTER"))
    if any(row.path for row in rows):
        found.append(_Column(head="Path", cells=tuple(row.path for row in rows), style="B"))
    for head, place in (("From", 0), ("To", 1)):
        found.append(_Column(head=head, cells=tuple(printable(row.places[place]) for row in rows)))
    if not _said_once(group):
        found.append(_Column(head="Should say", cells=tuple(printable(check.expects) for check in checks)))
    if not all(check.expected is not None and isinf(check.expected) for check in checks):
        found.append(_Column(head="Reading", cells=("",) * len(rows), least_mm=READING_MM))
    return (*found, _Column(head="OK", cells=(TICK_BOX,) * len(rows), align="CENTER", least_mm=5.0))


def _once(group):
    return f"Each should say {_said_once(group)}." if _said_once(group) else ""


def _said_once(group):
    """What all rows of a long group should say; empty where it stands in each row."""
    expected = {row.check.expects for row in group.rows}
    return expected.pop() if len(expected) == 1 and len(group.rows) >= _MANY_ROWS else ""


def _rows(pdf, group, columns):
    """The rows in as many blocks side by side as fit, read down each block, page by page."""
    widths = [column.width_mm(pdf) for column in columns]
    blocks = max(count for count in range(1, _MOST_BLOCKS + 1) if count == 1 or sum(widths) <= _block_mm(pdf, count))
    widths = _filled_up(widths, columns, _block_mm(pdf, blocks))
    head_mm = _ROW_MM + (_LINE_MM if any(head_wraps(pdf, *each) for each in zip(columns, widths, strict=True)) else 0)
    first, count = 0, len(group.rows)
    while first < count:
        lines = min(ceil((count - first) / blocks), floor((pdf.page_break_trigger - pdf.y - head_mm) / _ROW_MM - 0.01))
        if lines < min(_LEAST_LINES, ceil((count - first) / blocks)):
            pdf.add_page()
            tags = " ".join(f"⚠ {words}" for words in _tags((*group.cautions, *group.reminders)))
            _small(pdf, f"**{printable(group.title)}, the rows.** {tags}")
            continue
        _lines(pdf, columns, widths, range(first, min(count, first + lines * blocks)), lines)
        first += lines * blocks


def _block_mm(pdf, blocks):
    return (pdf.epw - (blocks - 1) * _GUTTER_MM) / blocks


def _filled_up(widths, columns, block_mm):
    """What a block has left over goes to the box for the reading, else to what it should say."""
    heads = [column.head for column in columns]
    wide = heads.index("Reading") if "Reading" in heads else -2
    left = block_mm - sum(widths)
    return [width + left * (place == wide % len(widths)) for place, width in enumerate(widths)]


def head_wraps(pdf, column, width_mm):
    """Whether a heading takes two lines."""
    pdf.set_font(FONT, "", SMALL_PT)
    return pdf.get_string_width(column.head) > width_mm - 2 * _SIDE_MM


def _lines(pdf, columns, widths, places, lines):
    """One table of so many lines, its blocks filled from the top down."""
    from fpdf.fonts import FontFace

    blocks = ceil(len(places) / lines)
    gap = (_GUTTER_MM,) if blocks > 1 else ()
    every = [*([*widths, *gap] * (blocks - 1)), *widths]
    aligns = [*([*(column.align for column in columns), *(["LEFT"] if gap else [])] * (blocks - 1))]
    aligns += [column.align for column in columns]
    pdf.set_font(FONT, "", SMALL_PT)
    with pdf.table(
        align="LEFT",
        col_widths=every,
        width=min(sum(every), pdf.epw),
        headings_style=FontFace(emphasis=""),
        line_height=_LINE_MM,
        padding=(_PAD_MM, _SIDE_MM, _PAD_MM, _SIDE_MM),
        text_align=aligns,
    ) as table:
        grey = FontFace(fill_color=LIGHT_GREY)
        _line(table, blocks, lambda block, column: {"text": column.head, "style": grey}, columns)
        for line in range(lines):
            _line(table, blocks, lambda block, column, line=line: _cell(column, places, block * lines + line), columns)


def _line(table, blocks, cell, columns):
    row = table.row()
    for block in range(blocks):
        for column in columns:
            row.cell(**cell(block, column))
        if block + 1 < blocks:
            row.cell("", border="NONE")


def _cell(column, places, number):
    """One cell; below the last check of the last block nothing is left to be ticked."""
    from fpdf.fonts import FontFace

    if number >= len(places):
        return {"text": "", "border": "NONE"}
    text, style = column.cells[places[number]], None
    if text == TICK_BOX:
        style = FontFace(size_pt=_BOX_PT)
    elif column.style:
        style = FontFace(emphasis="BOLD")
    return {"text": text, "style": style}


def _small(pdf, words):
    pdf.set_font(FONT, "", SMALL_PT)
    pdf.multi_cell(0, _LINE_MM, _unparted(words), align="L", new_x="LMARGIN", new_y="NEXT", markdown=True)


def _height(pdf, words):
    pdf.set_font(FONT, "", SMALL_PT)
    given = {"dry_run": True, "output": "HEIGHT", "align": "L", "markdown": True}
    return pdf.multi_cell(pdf.epw, _LINE_MM, _unparted(words), **given)


def _unparted(words):
    """The sign of a caution never ends a line."""
    return printable(words).replace("⚠ ", "⚠\xa0")
