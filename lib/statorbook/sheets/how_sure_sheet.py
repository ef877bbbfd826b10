"""How sure an answer is, on paper: the answers with their ±, what to measure first, and every number behind them."""

from datetime import date

from statorbook.assembly import answers_words, deciding_words, how_sure, narrowing_words, units_for
from statorbook.cautions import exposures_of, text_of
from statorbook.quantities import filled, reader_units
from statorbook.sheets.paper import (
    BODY_PT,
    FONT,
    LIGHT_GREY,
    SMALL_LINE_MM,
    SMALL_PT,
    TICK_BOX,
    TITLE_PT,
    caution_box,
    finish,
    heading,
    new_document,
    new_page,
    paragraph,
    printable,
)

# Answers that are told at length, with the head of their column of shares.
_TOLD = {"kwh": "kWh", "bank_watts": "watts", "runaway_dc_volts_peak": "volts"}


def write_how_sure_sheet(job, paper="A4"):
    """Write what a job's answer stands on into its folder.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    paper : str
        "A4" or "Letter".

    Returns
    -------
    Path
        The PDF.

    Raises
    ------
    BadInput
        When the paper is unknown, a part is missing, or the disk refuses.
    """
    now, path = job.read(), job.folder / f"how_sure_{paper}.pdf"
    with reader_units(units_for(now)):
        sure, made_on = how_sure(now), date.today()
        pdf = new_document(f"How sure this is, {job.name}", job.name, made_on, paper)
        told = {name: head for name, head in _TOLD.items() if name in sure.answers}
        _answers_page(pdf, sure, told)
        _numbers_page(pdf, sure, told)
        finish(pdf, path, job.name, made_on)
    return path


def _answers_page(pdf, sure, told):
    new_page(pdf, "How sure is this?")
    pdf.set_font(FONT, "B", TITLE_PT)
    paragraph(pdf, "How sure the answer is", 8.0)
    pdf.set_font(FONT, "", BODY_PT)
    paragraph(pdf, answers_words(sure))
    ways = [narrowing_words(sure, name) for name in told]
    exposed = exposures_of(ways)
    if exposed:
        pdf.ln(2.0)
        caution_box(pdf, "read this before you measure", [exposure.sentence for exposure in exposed])
    for name, way in zip(told, ways, strict=True):
        heading(pdf, f"{TICK_BOX} Measure first for the {told[name]}")
        paragraph(pdf, deciding_words(sure, name))
        pdf.ln(1.0)
        paragraph(pdf, text_of(way))


def _numbers_page(pdf, sure, told):
    new_page(pdf, "Every number behind it")
    paragraph(pdf, "Share: what each number has in the square of the ± of an answer. What is assumed stands in bold.")
    pdf.ln(2.0)
    first = next(iter(told))
    rows = [
        [_marked(each), each.said, each.known, *(f"{each.shares[name]:.0%}" for name in told), filled(each.how)]
        for each in sure.ranked(first)
    ]
    _table(pdf, ["Number", "Value", "Known", *told.values(), "Where from"], rows, (36, 38, 17, *[13] * len(told), 70))
    heading(pdf, "Taken as exact")
    rows = [[_marked(each), each.said, each.known, each.how] for each in sure.given]
    _table(pdf, ["Number", "Value", "Known", "Where from"], rows, (56, 44, 22, 68))


def _marked(each):
    return f"**{each.words}**" if each.known == "assumed" else each.words


def _table(pdf, columns, rows, widths):
    """Rows, each whole on its page, the heading on every page."""
    from fpdf.fonts import FontFace

    pdf.set_font(FONT, "", SMALL_PT)
    with pdf.table(
        align="LEFT",
        col_widths=widths,
        headings_style=FontFace(emphasis="BOLD", fill_color=LIGHT_GREY),
        line_height=SMALL_LINE_MM,
        markdown=True,
        padding=(0.7, 1.0, 0.7, 1.0),
        text_align="LEFT",
    ) as table:
        for row in (columns, *rows):
            table.row([printable(cell) for cell in row])
    pdf.set_font(FONT, "", BODY_PT)
