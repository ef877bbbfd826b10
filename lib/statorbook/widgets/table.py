"""A table for the page: plain values in, escaped HTML out."""

from dataclasses import dataclass
from html import escape

from statorbook.cautions import Instruction, exposures_of, shared_by
from statorbook.errors import BadInput
from statorbook.widgets.guard import ODD

_WIDE = 5  # columns; from here on a table may be wider than a small screen
_MANY = 9
_LINE = "var(--jp-border-color2, #bdbdbd)"
_CELL = f"padding:2px 10px;border-bottom:1px solid {_LINE};vertical-align:top;"
_MARKED = {
    "": "",
    "chosen": "font-weight:bold;background:var(--jp-layout-color2, #eeeeee);",
    "quiet": "color:var(--jp-ui-font-color2, #616161);",
}
_WALL = "border-top:4px double currentColor;padding:4px 10px;font-weight:bold"


@dataclass(frozen=True, kw_only=True)
class Table:
    """Rows to show under a picture.

    Parameters
    ----------
    columns : sequence of str
        Headings, with units.
    rows : sequence of sequence
        Cells: text as it is, numbers to four figures; an instruction with its caution in a few words.
    marks : sequence of str
        For each row "chosen", "quiet" or ""; empty when none is marked.
    caption : str
        What the table shows.
    wall : tuple of int and str
        Before which row a line stands across the whole table, counted from 0, and its words; empty without [-].

    Raises
    ------
    BadInput
        When a row has not one cell for each heading, or a mark is unknown.
    """

    columns: tuple
    rows: tuple
    marks: tuple = ()
    caption: str = ""
    wall: tuple = ()

    def __post_init__(self):
        for number, row in enumerate(self.rows, start=1):
            if len(row) != len(self.columns):
                raise BadInput(
                    f"{len(row)} cells were given",
                    f"{len(self.columns)} are allowed, one for each heading",
                    "complete the row",
                    where=f"table row {number}",
                )
        if self.marks and (len(self.marks) != len(self.rows) or not set(self.marks) <= set(_MARKED)):
            raise BadInput(
                f"the marks {self.marks!r} were given",
                f"{', '.join(map(repr, _MARKED))} are allowed",
                "give one of them for each row",
                where="table",
            )

    @property
    def exposures(self):
        """What the instructions in its cells expose hands to, a tuple of Exposure; the panel says it in full above."""
        return exposures_of(cell for row in self.rows for cell in row)

    def html(self):
        """The table as a `<table>` element, every cell escaped."""
        heads = "".join(f'<th scope="col" style="{_CELL}text-align:left">{escape(str(c))}</th>' for c in self.columns)
        marks = self.marks or ("",) * len(self.rows)
        said = shared_by(cell for row in self.rows for cell in row)
        lines = [
            f'<tr style="{_MARKED[mark]}">{"".join(_cell(cell, said) for cell in row)}</tr>'
            for row, mark in zip(self.rows, marks, strict=True)
        ]
        if self.wall:
            before, words = self.wall
            lines.insert(before, f'<tr><td colspan="{len(self.columns)}" style="{_WALL}">{escape(words)}</td></tr>')
        body = "".join(lines)
        caption = f'<caption style="text-align:left;padding:4px 0">{escape(self.caption)}</caption>'
        wide = "min-width:80em;" if len(self.columns) > _MANY else ""  # it scrolls rather than grow tall and thin
        look = f"{wide}border-collapse:collapse;line-height:1.4;font-size:var(--jp-ui-font-size1, 13px)"
        return (
            f'<table style="{look}">'
            f"{caption if self.caption else ''}<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
        )

    def in_its_own_box(self, *, height_px=None):
        """The table in a box that scrolls, so that a wide or long one never moves the page; the keyboard reaches it.

        Parameters
        ----------
        height_px : int or None
            Most height of the box; as high as the table when None [px].

        Returns
        -------
        str
            A `<div>` element with the table.
        """
        scrolls = height_px or len(self.columns) >= _WIDE
        return in_a_box(self.html(), (self.caption or "Table") if scrolls else "", height_px)


def in_a_box(inside, name="", height_px=None):
    """HTML in a box in which it scrolls, so that it never moves the page.

    Parameters
    ----------
    inside : str
        HTML.
    name : str
        What the box holds; by it the keyboard reaches the box.
    height_px : int or None
        Most height of the box; as high as its inside when None [px].

    Returns
    -------
    str
        A `<div>` element.
    """
    reached = f' tabindex="0" role="region" aria-label="{escape(name)}"' if name else ""
    high = f"max-height:{height_px}px;" if height_px else ""
    # No width of its own: a box as wide as its inside would widen everything around it instead of scrolling.
    return f'<div style="{high}width:0;min-width:100%;overflow:auto"{reached}>{inside}</div>'


def _cell(value, said):
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    text = f"{value:.4g}" if isinstance(value, float) else str(value)
    style = "text-align:right;font-variant-numeric:tabular-nums" if number else "text-align:left"
    if isinstance(value, Instruction):
        return f'<td style="{_CELL}{style}">{escape(value.text)}{_tags(value, said)}</td>'
    return f'<td style="{_CELL}{style}">{escape(text)}</td>'


def _tags(instruction, said):
    """Its caution in a few words, right behind its text; what every row shares is said above the table."""
    tags = escape(instruction.tags_but(said))
    return f' <span style="color:{ODD}"><b>⚠</b> {tags}</span>' if tags else ""
