"""A plan on paper: summary with cautions and materials, the drawing, steps to tick and meter checks to fill in."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from statorbook.errors import BadInput, count_of
from statorbook.rewiring import Plan
from statorbook.sheets.check_tables import check_pages
from statorbook.sheets.paper import (
    BODY_PT,
    FONT,
    LINE_MM,
    SMALL_LINE_MM,
    SMALL_PT,
    TITLE_PT,
    caution_box,
    drawing,
    finish,
    heading,
    new_document,
    new_page,
    paragraph,
)
from statorbook.sheets.step_table import step_pages
from statorbook.sheets.summary import Summary

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
    pdf = new_document(f"Rewiring sheets, {sheets.job_name}", sheets.job_name, sheets.made_on, paper)
    _summary_page(pdf, sheets)
    _drawing_page(pdf, sheets)
    step_pages(pdf, sheets)
    check_pages(pdf, sheets)
    finish(pdf, path, sheets.job_name, sheets.made_on)
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
    caution_box(pdf, "read this before the first cut", summary.cautions)
    pdf.ln(1.0)
    heading(pdf, "Materials")
    for text in summary.materials:
        pdf.cell(4.0, LINE_MM, "•")
        paragraph(pdf, text, indent_mm=4.0)
    if summary.assumed:
        heading(pdf, "Assumed, not measured")
        pdf.set_font(FONT, "", SMALL_PT)
        paragraph(pdf, f"{'; '.join(summary.assumed)}.", SMALL_LINE_MM)


def _drawing_page(pdf, sheets):
    counts = sheets.plan.counts
    new_page(pdf, "Drawing")
    paragraph(
        pdf,
        f"{sheets.plan.grouping.label}: {count_of(counts['cuts'], 'cut')}, {count_of(counts['joins'], 'jumper')}. "
        "Teeth are numbered clockwise from your mark. The steps on the next pages give the order of the work.",
    )
    pdf.ln(2.0)
    drawing(pdf, sheets.drawing_svg)
