"""Paper for the bench: page sizes, margins, fonts, the heading and the foot of every page, and what can be printed."""

import re
from datetime import UTC
from functools import cache
from io import BytesIO
from unicodedata import category

from statorbook.errors import BadInput
from statorbook.job import locked, replace_file

# ISO 216 and ANSI/ASME Y14.1 (from memory).
PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN_MM = 15.0
BODY_PT, SMALL_PT, TITLE_PT = 10.0, 9.0, 16.0
LINE_MM, SMALL_LINE_MM, _BOX_LINE_MM = 4.9, 4.0, 4.3
_BOX_BORDER_MM = 1.2
FONT = "dejavu"
_SVG_FONTS = "DejaVu Sans, Verdana, sans-serif"
TICK_BOX = "☐"
INK, LIGHT_GREY = 0, 232
_FOOT_MM = 8.0
_HEAD_MM = 9.0
_NUMBER_AND_UNIT = re.compile(r"(\d) (?=(?:rpm|[VAWm]|mm|mm²|°[CF]|[kM]?Ω|A/mm²|ft|in)\b)")


def new_document(title, job_name, made_on, paper):
    """An empty FPDF whose pages carry their heading; the date stands in the file too, so that the same are the same."""
    if not isinstance(paper, str) or paper not in PAPERS_MM:
        raise BadInput(f"{paper!r} was given", "A4 or Letter is allowed", "choose one of them", where="paper")
    from datetime import datetime

    from fpdf import FPDF

    class Sheets(FPDF):
        sheet_title = ""

        def header(self):
            _head(self, job_name)

    pdf = Sheets(unit="mm", format=PAPERS_MM[paper])
    for style, path in font_files().items():
        pdf.add_font(FONT, style, path)
    pdf.set_creation_date(datetime(made_on.year, made_on.month, made_on.day, tzinfo=UTC))
    pdf.set_title(printable(title))
    pdf.set_lang("en")
    pdf.alias_nb_pages(None)  # no typed sign stands for a number of pages
    pdf.set_margin(MARGIN_MM)
    pdf.set_auto_page_break(True, MARGIN_MM + _FOOT_MM)
    pdf.c_margin = 0.0
    pdf.set_font(FONT, "", BODY_PT)
    return pdf


def finish(pdf, path, job_name, made_on):
    """Put the foot on every page, now that their number is known, and write the file in one step."""
    pdf.set_auto_page_break(False)
    for number in range(1, pdf.pages_count + 1):
        pdf.page = number
        _foot(pdf, job_name, made_on)
    made = bytes(pdf.output())
    with locked(path.parent):
        replace_file(path, made, keep_previous=False)


def new_page(pdf, title):
    """Begin a page; the title stands in its heading and in those of the pages that it runs on to."""
    pdf.sheet_title = title
    pdf.add_page()
    pdf.set_font(FONT, "", BODY_PT)


def paragraph(pdf, text, line_mm=LINE_MM, indent_mm=0.0):
    """Print a paragraph over the whole width, in the font that is set."""
    pdf.set_x(pdf.l_margin + indent_mm)
    pdf.multi_cell(0, line_mm, printable(text), align="L", new_x="LMARGIN", new_y="NEXT")


def heading(pdf, words, keep_mm=3 * LINE_MM):
    """A heading that is never the last line of a page."""
    if pdf.will_page_break(keep_mm):
        pdf.add_page()
    pdf.ln(2.0)
    pdf.set_font(FONT, "B", BODY_PT + 0.5)
    paragraph(pdf, words)
    pdf.set_font(FONT, "", BODY_PT)


def caution_box(pdf, when, cautions):
    """Thick border and heading, so that it stands out on any printer; whole on one page whenever it fits on one."""
    from fpdf.fonts import FontFace

    texts = [printable(caution) for caution in cautions]
    inside = pdf.epw - 2 * _BOX_BORDER_MM - 6.0
    lines = (pdf.multi_cell(inside, LINE_MM, text, dry_run=True, output="HEIGHT") for text in texts)
    if pdf.will_page_break(sum(lines) + 2.0 * len(texts) + 3 * LINE_MM):
        pdf.add_page()
    pdf.set_font(FONT, "", SMALL_PT + 0.5)
    with pdf.table(
        align="LEFT",
        borders_layout="NO_HORIZONTAL_LINES",
        headings_style=FontFace(emphasis="BOLD", size_pt=BODY_PT + 3, fill_color=LIGHT_GREY),
        line_height=_BOX_LINE_MM,
        outer_border_width=_BOX_BORDER_MM,
        padding=(0.7, 3, 0.7, 3),
        text_align="LEFT",
    ) as box:
        box.row([f"⚠ CAUTION: {when}"])
        for text in texts:
            box.row([text])
    pdf.set_font(FONT, "", BODY_PT)


def drawing(pdf, svg):
    """A drawing as large as the rest of the page lets it be; the pictures' own font is the one of the sheets."""
    picture = BytesIO(svg.replace(_SVG_FONTS, FONT).encode("utf-8"))
    room = pdf.page_break_trigger - pdf.y - 1.0
    pdf.image(picture, x=pdf.l_margin, y=pdf.y, w=pdf.epw, h=room, keep_aspect_ratio=True)


def printable(text):
    """Text as the fonts can print it: one line, no number parted from its unit, "?" for what they lack."""
    known = _known_characters()
    kept = (letter for letter in " ".join(text.split()) if category(letter) not in ("Cc", "Cf"))
    return _NUMBER_AND_UNIT.sub("\\1\xa0", "".join(letter if ord(letter) in known else "?" for letter in kept))


def fitting(pdf, text, width_mm):
    """Cut a text so that it fits on one line, with an ellipsis where something is missing."""
    shown, kept = text, len(text)
    while kept and pdf.get_string_width(shown) > width_mm:
        kept -= 1
        shown = text[:kept].rstrip() + "…"
    return shown


def font_files():
    """The two fonts of every page, by style "" or "B", as the files that matplotlib carries."""
    import matplotlib

    folder = matplotlib.get_data_path() + "/fonts/ttf/"
    return {"": f"{folder}DejaVuSans.ttf", "B": f"{folder}DejaVuSans-Bold.ttf"}


@cache
def _known_characters():
    from fontTools.ttLib import TTFont

    tables = [TTFont(path, lazy=True).getBestCmap().keys() for path in font_files().values()]
    return frozenset(tables[0] & tables[1])


def _head(pdf, job_name):
    """What the page shows on the left, whose job it is on the right, and a line below."""
    half = pdf.epw / 2 - 2
    pdf.set_xy(MARGIN_MM, MARGIN_MM)
    pdf.set_font(FONT, "B", BODY_PT + 1.5)
    pdf.cell(half, 6, fitting(pdf, pdf.sheet_title, half))
    pdf.set_x(MARGIN_MM + pdf.epw - half)
    pdf.set_font(FONT, "", BODY_PT)
    pdf.cell(half, 6, fitting(pdf, printable(job_name), half), align="R")
    _rule(pdf, MARGIN_MM + 6.5)
    pdf.set_xy(MARGIN_MM, MARGIN_MM + _HEAD_MM)


def _foot(pdf, job_name, made_on):
    """Job name, date, what the numbers are worth, page n of m."""
    top, third = pdf.h - MARGIN_MM - 5.0, pdf.epw / 3
    _rule(pdf, top - 0.8)
    pdf.set_font(FONT, "B", SMALL_PT)  # another one first, so that the next line is written on this very page
    pdf.set_font(FONT, "", SMALL_PT)
    name = fitting(pdf, printable(job_name), third - 2)
    pages = f"page {pdf.page_no()} of {pdf.pages_count}"
    for place, (words, align) in enumerate(
        [(name, "L"), (f"{made_on.isoformat()} · computed, not certified", "C"), (pages, "R")]
    ):
        pdf.set_xy(MARGIN_MM + place * third, top)
        pdf.cell(third, 4.5, words, align=align)


def _rule(pdf, y):
    pdf.set_draw_color(INK)
    pdf.set_line_width(0.3)
    pdf.line(MARGIN_MM, y, MARGIN_MM + pdf.epw, y)
