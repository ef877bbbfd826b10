"""The single-line diagram of a plant: from what turns it down to the bank, each part with its rating."""

from dataclasses import dataclass
from functools import cached_property
from html import escape
from itertools import accumulate, groupby
from textwrap import wrap

from statorbook.drawings.coil_symbols import moved, tag
from statorbook.drawings.line_rows import line_rows
from statorbook.drawings.line_symbols import BRANCH_PX, boundary
from statorbook.drawings.stator_ring import QUIET
from statorbook.protection import Plant, enclosure_grade

_AXIS_PX, _TEXT_PX, _WIDTH_PX = 170, 250, 760
_FONT_PX, _LINE_PX, _TOP_PX, _GAP_PX = 13.0, 17.0, 12.0, 10.0
_LETTERS = 56  # in a line of text
_BOX_LEFT_PX, _BOX_RIGHT_PX = BRANCH_PX + 76, 44  # of an enclosure, from the line
_NOTES = (
    "1, 2, …: its number in the list. Dash and dot: one enclosure, {grade}. ?: ask the electrician.",
    "Signs: IEC 60617, from memory; a stroke across the line for each wire.",
)


@dataclass(frozen=True, kw_only=True)
class SingleLine:
    """A plant as a single-line diagram; a cell may end with it.

    Parameters
    ----------
    plant : Plant
        The plant.
    """

    plant: Plant

    @cached_property
    def _rows(self):
        """Each row with its place from the top."""
        rows = line_rows(self.plant)
        heights = [max(row.height_px, _text_px(row) + _GAP_PX) for row in rows]
        return list(zip(accumulate(heights, initial=_TOP_PX), heights, rows, strict=False))

    @property
    def height_px(self):
        """Height of the picture [px]."""
        top, height, _ = self._rows[-1]
        return round(top + height + 3 * _LINE_PX)

    @property
    def description(self):
        """The picture in words: every part in the order of the line."""
        said = [f"{name}: {words}" if words else name for _, _, row in self._rows for name, words in row.words]
        return f"Single-line diagram, from what turns it to the bank. {'; '.join(said)}."

    def svg(self):
        """The picture as an `<svg>` element without ids, so that any number of them can stand on one page."""
        height, grade = self.height_px, enclosure_grade(self.plant.site.place)[0]
        notes = [
            tag(
                (14, height - _LINE_PX * (2.1 - up)),
                words.format(grade=grade),
                11,
                colour=QUIET,
                anchor="start",
                bold=False,
            )
            for up, words in enumerate(_NOTES)
        ]
        parts = [*self._boxes(), *(_drawn(*row) for row in self._rows), *notes]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.description)}" '
            f'width="{_WIDTH_PX}" height="{height}" viewBox="0 0 {_WIDTH_PX} {height}" '
            f'style="max-width:100%;height:auto" font-family="DejaVu Sans, Verdana, sans-serif">\n'
            f'<rect width="{_WIDTH_PX}" height="{height}" fill="white"/>\n' + "\n".join(parts) + "\n</svg>"
        )

    def _boxes(self):
        """The enclosures: rows that stand one after the other in the same one."""
        for box, rows in groupby(self._rows, lambda placed: placed[2].box):
            if box:
                rows = list(rows)
                top, bottom = rows[0][0], rows[-1][0] + rows[-1][1]
                yield boundary(_AXIS_PX - _BOX_LEFT_PX, top, _BOX_LEFT_PX + _BOX_RIGHT_PX, bottom - top)

    def _repr_svg_(self):
        return self.svg()


def _drawn(top_px, height_px, row):
    """A row with its sign on the line, the line on to the next row, and its words."""
    on = f'<path d="M0 {row.height_px:g}V{height_px:g}" fill="none" stroke="#222222" stroke-width="1.8"/>'
    sign = moved(_AXIS_PX, top_px, row.sign + (on if height_px > row.height_px else ""))
    down, texts = top_px + 14, []
    for name, words in row.words:
        texts.append(_text(name, down, bold=True))
        for number, said in enumerate(wrap(words, _LETTERS), start=1):
            texts.append(_text(said, down + number * _LINE_PX, bold=False))
        down += (1 + len(wrap(words, _LETTERS))) * _LINE_PX
    return sign + "".join(texts)


def _text(words, down_px, *, bold):
    return tag((_TEXT_PX, down_px), escape(words), _FONT_PX, anchor="start", bold=bold)


def _text_px(row):
    return sum((1 + len(wrap(words, _LETTERS))) * _LINE_PX for _, words in row.words)
