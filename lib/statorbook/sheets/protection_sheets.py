"""What protects a plant, on paper: what to buy, the single-line diagram, and questions to the electrician."""

from datetime import date

from statorbook.assembly import assumed_for_plant, plant_from, units_for
from statorbook.cautions import Exposure
from statorbook.drawings import SingleLine
from statorbook.operation import grade
from statorbook.protection import parts_to_buy, questions, sized_words, touch
from statorbook.quantities import reader_units, say
from statorbook.sheets.paper import (
    BODY_PT,
    FONT,
    LIGHT_GREY,
    LINE_MM,
    SMALL_LINE_MM,
    SMALL_PT,
    TICK_BOX,
    TITLE_PT,
    caution_box,
    drawing,
    finish,
    heading,
    new_document,
    new_page,
    paragraph,
    printable,
)

_EXPOSED = (Exposure.STANDING, Exposure.VOLTS, Exposure.BANK, Exposure.HEAT)
_LOCAL = (
    "These are computed sizes, not an approved installation: your local electrical code decides, and where it asks for "
    "a licensed electrician, ask one before you buy."
)
_OPENED = (
    "Never open a fuse, a switch or a plug while it charges: the bank is gone at once, and the rotor runs away on what "
    "is left."
)
_ANSWER_MM = 7.0  # room to write an answer by hand


def write_protection_sheets(job, paper="A4"):
    """Write the list, the diagram and the questions of a job's plant into its folder.

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
    now, path = job.read(), job.folder / f"protect_{paper}.pdf"
    with reader_units(units_for(now)):
        plant, made_on = plant_from(now), date.today()
        pdf = new_document(f"Protection sheets, {job.name}", job.name, made_on, paper)
        _list_page(pdf, plant, now.fuse.to_switch() if now.fuse else None)
        _diagram_page(pdf, plant)
        _questions_page(pdf, plant, assumed_for_plant(now))
        finish(pdf, path, job.name, made_on)
    return path


def _list_page(pdf, plant, switch):
    new_page(pdf, "What to buy")
    pdf.set_font(FONT, "B", TITLE_PT)
    paragraph(pdf, "What protects this plant", 8.0)
    pdf.set_font(FONT, "", BODY_PT)
    words = sized_words(plant)
    paragraph(
        pdf,
        f"{words[0].upper()}{words[1:]}. Its coils: {plant.grouping.label}. The bank: {plant.bank.half_volts:.0f} V "
        f"half full. Its place: {plant.site.place}, air up to {say(plant.site.hottest_c, '°C', form='g')}.",
    )
    pdf.ln(2.0)
    caution_box(pdf, "read this before you buy or touch anything", _cautions(plant))
    pdf.ln(3.0)
    _table(pdf, parts_to_buy(plant, switch))


def _cautions(plant):
    """Who decides, what a hand can meet at the worst, what is destroyed, what never to do."""
    line_volts = plant.open_volts(plant.runaway_rpm)[0]
    destroyed = grade(line_volts, **plant.machine.setting.exposed).device_exceeded
    said = (_LOCAL, touch(plant).sentence, destroyed, _OPENED, *(exposure.sentence for exposure in _EXPOSED))
    return tuple(filter(None, said))


def _table(pdf, parts):
    """A row for each part, whole on its page, the heading on every page."""
    from fpdf.fonts import FontFace

    pdf.set_font(FONT, "", SMALL_PT)
    with pdf.table(
        align="LEFT",
        col_widths=(8, 30, 71, 71),
        headings_style=FontFace(emphasis="BOLD", fill_color=LIGHT_GREY),
        line_height=SMALL_LINE_MM,
        markdown=True,
        padding=(1.0, 1.2, 1.0, 1.2),
        text_align=("CENTER", "LEFT", "LEFT", "LEFT"),
    ) as table:
        table.row([TICK_BOX, "Part", "What it has to stand", "Why"])
        for number, part in enumerate(parts, start=1):
            yours = f"\n**Yours: {printable(part.yours)}**" if part.yours else ""
            row = (TICK_BOX, f"**{number} {part.name}**", f"{printable(part.rating)}{yours}", printable(part.why))
            table.row(row)
    pdf.set_font(FONT, "", BODY_PT)


def _diagram_page(pdf, plant):
    new_page(pdf, "Single-line diagram")
    paragraph(pdf, "One line stands for all wires that run side by side. It shows what is joined to what, not where.")
    pdf.ln(2.0)
    drawing(pdf, SingleLine(plant=plant).svg())


def _questions_page(pdf, plant, assumed):
    new_page(pdf, "Ask the electrician")
    paragraph(pdf, "What no calculation can know. Take these pages along, and write down what is said.")
    for number, words in enumerate(questions(plant), start=1):
        if pdf.will_page_break(2 * LINE_MM + _ANSWER_MM):
            pdf.add_page()
        pdf.ln(2.0)
        pdf.cell(7.0, LINE_MM, f"{number}")
        paragraph(pdf, words, indent_mm=7.0)
        pdf.ln(_ANSWER_MM)
        pdf.line(pdf.l_margin + 7.0, pdf.y, pdf.l_margin + pdf.epw, pdf.y)
    heading(pdf, "Assumed, not measured")
    pdf.set_font(FONT, "", SMALL_PT)
    paragraph(pdf, f"{'; '.join(assumed)}.", SMALL_LINE_MM)
