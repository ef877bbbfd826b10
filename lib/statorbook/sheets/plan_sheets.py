"""A plan on paper: summary with cautions and materials, the drawing, steps to tick and meter checks to fill in."""

from dataclasses import dataclass
from datetime import date
from io import BytesIO
from pathlib import Path

from statorbook.errors import BadInput, count_of
from statorbook.job import locked, replace_file
from statorbook.rewiring import Plan
from statorbook.sheets.check_tables import check_pages
from statorbook.sheets.paper import (
    BODY_PT,
    FONT,
    LIGHT_GREY,
    LINE_MM,
    SMALL_PT,
    TITLE_PT,
    finish,
    new_document,
    new_page,
    paragraph,
    printable,
)
from statorbook.sheets.step_table import step_pages
from statorbook.sheets.summary import Summary

_SVG_FONTS = "DejaVu Sans, Verdana, sans-serif"
_SMALL_LINE_MM, _BOX_LINE_MM = 4.0, 4.3
_BOX_BORDER_MM = 1.2
_LABEL_MM = 24.0


@dataclass(frozen=True, kw_only=True)
class PlanSheets:
    """Everything that is printed for the bench."""

    job_name: str
    made_on: date  # on every page
    plan: Plan
    steps: tuple  # of Step
    checks: tuple  # of MeterCheck
    drawing_svg: str  # the bench drawing
    summary: Summary  # the words of the first page
    check_note: str = ""  # what the numbers of the checks hold for, such as the winding's temperature

    def __post_init__(self):
        if not isinstance(self.made_on, date):
            allowed = "a date of the calendar is allowed"
            raise BadInput(f"{self.made_on!r} was given", allowed, "give a datetime.date", where="date of the sheets")
        if not self.steps:
            raise BadInput("no steps were given", "at least one is needed", "write the plan out first", where="sheets")
        if "<svg" not in self.drawing_svg:
            raise BadInput("no drawing was given", "an SVG picture is needed", "draw the plan first", where="sheets")
        for check in self.checks:
            if not 0 <= check.step <= len(self.steps):
                raise BadInput(
                    f"check {check.name} belongs after step {check.step}",
                    f"the plan has steps 1 to {len(self.steps)}",
                    "make the checks again from this plan",
                    where="sheets",
                )


def write_pdf(sheets, path, paper="A4"):
    """Write the sheets as one PDF, in one step: at every moment the old or the new file is whole."""
    path = Path(path)
    if path.suffix.lower() != ".pdf":
        raise BadInput(
            f"the name {path.name!r} was given", "a name that ends in .pdf is allowed", "name it so", where="sheets"
        )
    pdf = new_document(sheets.job_name, sheets.made_on, paper)
    _summary_page(pdf, sheets)
    _drawing_page(pdf, sheets)
    step_pages(pdf, sheets)
    check_pages(pdf, sheets)
    made = finish(pdf, sheets.job_name, sheets.made_on)
    with locked(path.parent):
        replace_file(path, made, keep_previous=False)
    return path


def _summary_page(pdf, sheets):
    new_page(pdf, "Summary and cautions")
    summary = sheets.summary
    pdf.set_font(FONT, "B", TITLE_PT)
    paragraph(pdf, "Rewiring the stator, step by step", 8.0)
    pdf.set_font(FONT, "", BODY_PT)
    for word, text in (("As found", summary.found), ("Wanted", summary.wanted), ("Promised", summary.promise)):
        pdf.ln(1.0)
        pdf.set_font(FONT, "B", BODY_PT)
        pdf.cell(_LABEL_MM, LINE_MM, word)
        pdf.set_font(FONT, "", BODY_PT)
        paragraph(pdf, text, indent_mm=_LABEL_MM)
    pdf.ln(3.0)
    _caution_box(pdf, summary.cautions)
    pdf.ln(1.0)
    _heading(pdf, "Materials")
    for text in summary.materials:
        pdf.cell(4.0, LINE_MM, "•")
        paragraph(pdf, text, indent_mm=4.0)
    if summary.assumed:
        _heading(pdf, "Assumed, not measured")
        pdf.set_font(FONT, "", SMALL_PT)
        paragraph(pdf, f"{'; '.join(summary.assumed)}.", _SMALL_LINE_MM)


def _caution_box(pdf, cautions):
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
        box.row(["⚠ CAUTION: read this before the first cut"])
        for text in texts:
            box.row([text])
    pdf.set_font(FONT, "", BODY_PT)


def _drawing_page(pdf, sheets):
    """The drawing as large as the page lets it be; the pictures' own font is the one of the sheets."""
    counts = sheets.plan.counts
    new_page(pdf, "Drawing")
    paragraph(
        pdf,
        f"{sheets.plan.grouping.label}: {count_of(counts['cuts'], 'cut')}, {count_of(counts['joins'], 'jumper')}. "
        "Teeth are numbered clockwise from your mark. The steps on the next pages give the order of the work.",
    )
    pdf.ln(2.0)
    picture = BytesIO(sheets.drawing_svg.replace(_SVG_FONTS, FONT).encode("utf-8"))
    room = pdf.page_break_trigger - pdf.y - 1.0
    pdf.image(picture, x=pdf.l_margin, y=pdf.y, w=pdf.epw, h=room, keep_aspect_ratio=True)


def _heading(pdf, words, keep_mm=3 * LINE_MM):
    """A heading that is never the last line of a page."""
    if pdf.will_page_break(keep_mm):
        pdf.add_page()
    pdf.ln(2.0)
    pdf.set_font(FONT, "B", BODY_PT + 0.5)
    paragraph(pdf, words)
    pdf.set_font(FONT, "", BODY_PT)
