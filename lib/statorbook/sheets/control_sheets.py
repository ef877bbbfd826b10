"""The controller on paper: cautions, wiring sketch, tables of inputs and outputs, the program, and relays alone."""

from datetime import date
from textwrap import wrap

from statorbook.assembly import charging_from, control_text_from, units_for
from statorbook.cautions import Exposure
from statorbook.charging import scaling_rows, scaling_words
from statorbook.drawings import ControlWiring
from statorbook.quantities import reader_units
from statorbook.sheets.paper import (
    BODY_PT,
    FONT,
    LIGHT_GREY,
    SMALL_LINE_MM,
    SMALL_PT,
    TITLE_PT,
    caution_box,
    drawing,
    finish,
    font_files,
    heading,
    new_document,
    new_page,
    paragraph,
    printable,
)

_CAUTIONS = (
    "Computed, not certified: your local electrical code decides, and where it asks for a licensed electrician, one "
    "wires this and tries it before it is trusted.",
    "A DC arc does not go out by itself. A contact that breaks the bank's amps must be made for DC, at the bank's "
    "highest volts and for the amps of its load; a relay for AC welds or burns.",
    "Every wire from the bank has its fuse at the bank's plus. The volts relay has its own wires and its own fuse: it "
    "must work when the controller is dead.",
    "A cylinder keeps its own thermostat and its own pressure valve, whatever this program does. Dump loads glow: "
    "fire-proof mounting, a cage, nothing that burns near them.",
    "Charging lead-acid cells give hydrogen: no relay, no contact and no flame in the room of the cells or above them.",
)
_EXPOSED = (Exposure.STANDING, Exposure.BANK, Exposure.HEAT, Exposure.MAINS)
_MONO, _MONO_PT, _MONO_MM, _MONO_LETTERS = "mono", 7.0, 3.0, 116


def write_control_sheets(job, paper="A4", plan=None):
    """Write the controller's sketch, tables and program into a job's folder as a PDF.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    paper : str
        "A4" or "Letter".
    plan : ChargingPlan or None
        The job's plan where it is made already.

    Returns
    -------
    Path
        The PDF.

    Raises
    ------
    BadInput
        When the paper is unknown, a part or a rule cannot be used, or the disk refuses.
    """
    now, path = job.read(), job.folder / f"controller_{paper}.pdf"
    with reader_units(units_for(now)):
        plan, made_on = plan or charging_from(now), date.today()
        written = control_text_from(now, plan)
        pdf = new_document(f"Controller, {job.name}", job.name, made_on, paper)
        pdf.add_font(_MONO, "", font_files()[""].replace("DejaVuSans.ttf", "DejaVuSansMono.ttf"))
        _first_page(pdf, plan, written)
        _sketch_page(pdf, plan, written)
        _tables_page(pdf, written)
        _program_pages(pdf, written)
        _relays_page(pdf, written)
        finish(pdf, path, job.name, made_on)
    return path


def _first_page(pdf, plan, written):
    new_page(pdf, "The controller")
    pdf.set_font(FONT, "B", TITLE_PT)
    paragraph(pdf, "Controller of the bank", 8.0)
    pdf.set_font(FONT, "", BODY_PT)
    program, bank = written.program, plan.bank
    paragraph(
        pdf,
        f"{bank.cells} cells of {bank.chemistry}, {bank.capacity_ah:g} Ah. {program.rules} rules, {program.timers} "
        f"timers, {program.relays} relays, one scan in {plan.rules.scan_ms} ms at most.",
    )
    pdf.ln(2.0)
    caution_box(pdf, "read this before you wire anything", (*_CAUTIONS, *(e.sentence for e in _EXPOSED)))
    heading(pdf, "Relays")
    rows = [(f"K{o.number}", o.words, o.contact, o.dead_words, o.variable) for o in written.outputs]
    columns = ("Relay", "Switches", "Contact", "Load without current in the coil", "In the program")
    _table(pdf, columns, rows, (12, 52, 36, 44, 36))
    if plan.guard is None:
        heading(pdf, "No volts relay of its own")
        paragraph(pdf, "When the controller is dead, nothing holds this bank. Put a volts relay beside it first.")


def _sketch_page(pdf, plan, written):
    new_page(pdf, "Wiring sketch")
    sketch = ControlWiring(
        inputs=written.inputs, outputs=written.outputs, volts_input=written.volts_input, guard=plan.guard
    )
    drawing(pdf, sketch.svg())


def _tables_page(pdf, written):
    new_page(pdf, "Inputs and outputs")
    heading(pdf, "What it reads")
    rows = [(i.variable, i.words, i.number, i.range_words, i.sensor) for i in written.inputs]
    _table(pdf, ("In the program", "Reads", "Number", "Sound sensor", "Wired to"), rows, (34, 32, 40, 26, 48))
    heading(pdf, "The input for the bank's volts")
    paragraph(pdf, scaling_words(written.volts_input))
    _table(
        pdf, ("Bank", "At the input", "It shows", "Program's mV"), scaling_rows(written.volts_input), (30, 30, 30, 30)
    )


def _program_pages(pdf, written):
    new_page(pdf, "Program, IEC 61131-3 Structured Text")
    pdf.set_font(_MONO, "", _MONO_PT)
    for row in written.program.text.splitlines():
        for line in wrap(row, _MONO_LETTERS, drop_whitespace=False, subsequent_indent="        ") or [""]:
            pdf.cell(0, _MONO_MM, line.replace(" ", "\xa0"), new_x="LMARGIN", new_y="NEXT")
    pdf.set_font(FONT, "", BODY_PT)


def _relays_page(pdf, written):
    new_page(pdf, "The same without a processor")
    paragraph(pdf, "Built of relays and volt-sensing modules. What is lost stands below.")
    rows = [(s.rule, s.device, s.closes, s.opens, s.times, s.in_series, s.switches) for s in written.steps]
    columns = ("Rule", "Device", "Closes", "Opens", "Times", "Contacts in series", "Switches")
    _table(pdf, columns, rows, (24, 22, 22, 22, 28, 36, 26))
    heading(pdf, "What such relays cannot do")
    for words in written.lost:
        paragraph(pdf, words)


def _table(pdf, columns, rows, widths):
    from fpdf.fonts import FontFace

    pdf.set_font(FONT, "", SMALL_PT - 1.0)
    with pdf.table(
        align="LEFT",
        col_widths=widths,
        width=min(pdf.epw, sum(widths)),
        headings_style=FontFace(emphasis="BOLD", fill_color=LIGHT_GREY),
        line_height=SMALL_LINE_MM,
        padding=(0.8, 1.0, 0.8, 1.0),
        text_align="LEFT",
    ) as table:
        for row in (columns, *rows):
            table.row([printable(cell) for cell in row])
    pdf.set_font(FONT, "", BODY_PT)
