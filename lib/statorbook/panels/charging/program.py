"""Panel of chapter 07: the controller's program, its tables and its wiring sketch, to save and to print."""

from datetime import date
from hashlib import sha256
from html import escape

from statorbook.assembly import control_text_from
from statorbook.cautions import Exposure
from statorbook.charging import scaling_rows, scaling_words
from statorbook.drawings import ControlWiring
from statorbook.errors import count_of
from statorbook.job import locked, programmed_for, replace_file
from statorbook.job.parts import ControlPart, ProgramPart
from statorbook.panels.charging.page import ChargingPanel
from statorbook.sheets import PAPERS_MM, write_control_sheets
from statorbook.widgets import Answer, Fold, Table, choice, download_link, html, in_a_box, require_own, side_by_side

SKETCH, FILE = "Picture: wires of the controller", "charge_and_dump.st"
_PAPERS = {"metric": "A4", "US": "Letter"}
_TEXT_PX = 340
_CAUTION = (
    "Local electrical codes decide, and a licensed electrician, who tries every relay before the controller is "
    "trusted. A DC arc does not go out by itself. Charging cells give hydrogen: no relay near them. A cylinder keeps "
    "its own thermostat and pressure valve."
)
_UNGUARDED = "No volts relay of its own: when the controller is dead, nothing holds this bank."
_TEXT = "Text: the program, IEC 61131-3 Structured Text"
_ALONE = "Table: the same with relays alone, without a processor"
_SCALE = "Table: what the input for the bank's volts has to show"


class ProgramPanel(ChargingPanel):
    """Say what the controller is, read its program, save it and print it.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    part_name, save_words = "control", "Save the controller"
    picture_folds, table_fold = (SKETCH,), "Table: what is wired to the inputs and outputs"

    def __init__(self, page):
        self.form = self.form_for(page, ControlPart)
        self.paper, self.link = choice("Paper", list(PAPERS_MM), _PAPERS[page.system]), html()
        self.text, self.scale, self.alone = Fold(_TEXT), Fold(_SCALE), Fold(_ALONE)
        actions = {"Save the program": self.write, "Print it all": self.print_out}
        super().__init__(page, inputs=[self.form], actions=actions, sentence_lines=6)
        self.paper.observe(lambda change: self._forget_print(), "value")
        below = [self.text, side_by_side([self.paper, self.link]), self.scale, self.alone]
        self.widget.children = (*self.widget.children, *below)

    def in_units(self, system):
        """Tell all in other units, and take the paper that goes with them.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.paper.value = _PAPERS[system]
        super().in_units(system)

    @property
    def program_text(self):
        """The program that is shown."""
        return self._written.program.text

    def _forget_print(self):
        self.link.value = ""

    def answer(self):
        """What the controller must have, how its volts are scaled, and whether the program is saved."""
        self._forget_print()
        control = self._typed()
        # A plan hangs on no more of it, so that a divider is typed without working out another plan.
        planned = control and ControlPart(scan_ms=control.scan_ms, volts_relay=control.volts_relay)
        plan = self.page.plan(**({"control": planned} if planned else {}))
        written = control_text_from(self.page.now, plan, control)
        sketch = ControlWiring(
            inputs=written.inputs, outputs=written.outputs, volts_input=written.volts_input, guard=plan.guard
        )
        self._written = written
        self._show(written)
        sentence = "\n".join(filter(None, (_needs(written, plan), scaling_words(written.volts_input), self._saved())))
        program = written.program
        return Answer(
            sentence=self.whose(sentence),
            headline={"rules": f"{program.rules}", "timers": f"{program.timers}", "relays": f"{program.relays}"},
            folded={SKETCH: sketch.svg},
            table=_wired(written),
            caution=_CAUTION if plan.guard else f"{_UNGUARDED} {_CAUTION}",
            exposures=(Exposure.STANDING, Exposure.BANK),
        )

    def _typed(self):
        """The controller as typed; while the example is shown, its own."""
        return self.form.part() if self.page.shown is self.page.job else None

    def _show(self, written):
        look = "margin:0;overflow:visible;line-height:1.35;font-size:var(--jp-code-font-size, 13px);white-space:pre"
        text = f'<pre style="{look}">{escape(written.program.text)}</pre>'
        self.text.value = in_a_box(text, "Program, Structured Text", _TEXT_PX)
        self.scale.value = _scaled(written).in_its_own_box()
        self.alone.value = _alone(written).in_its_own_box()

    def _saved(self):
        """Whether the job holds this program."""
        kept, own = self.page.now.program, self.page.shown is self.page.job
        if kept is None or not own:
            return ""
        if kept.text_mark == _mark(self.program_text):
            return f"This program is saved in the job, on {kept.date}, as {kept.file_name}."
        return f"The program saved on {kept.date} is out of date: read what changed, then save it again."

    def write(self):
        """Save the program as a file in the job's folder, with what it was written for."""
        allowed = "a program is saved in the reader's own job"
        require_own(
            self.page.shown, allowed, "fill in pages 01 to 04 of your job, then press “Run the page”", "program"
        )
        if self.form.part() != (self.page.job.read().control or ControlPart()):
            self.form.save()
        job, program = self.page.job, self._written.program
        with locked(job.folder):
            replace_file(job.folder / FILE, program.text.encode("ascii"))
        made = ProgramPart(
            date=date.today().isoformat(),
            file_name=FILE,
            rules=program.rules,
            timers=program.timers,
            relays=program.relays,
            text_mark=_mark(program.text),
            worked_out_for=programmed_for(job.folder, self.page.now.parts),
        )
        self.page.save("program", made)
        self.message.say(f"Saved: {FILE} in the folder of the job {job.name}, {count_of(program.rules, 'rule')}.")

    def print_out(self):
        """Write the sheets as a PDF."""
        shown = self.page.shown
        path = write_control_sheets(shown, self.paper.value, self.page.plan())
        link = download_link(f"{shown.name}_{path.name}", path.read_bytes(), "application/pdf", verb="Save or print")
        self.link.value = f'<div style="font-size:1.1em">{link}</div>'
        self.message.say(f"Written: {path.name} in the folder of the job {shown.name}. The link saves a copy.")


def _mark(text):
    return sha256(text.encode()).hexdigest()[:16]


def _needs(written, plan):
    program = written.program
    analogue = sum(each.range_words != "yes or no" for each in written.inputs)
    return (
        f"The controller needs {count_of(program.timers, 'timer')} of the kind TON, {count_of(analogue, 'input')} for "
        f"numbers, {len(written.inputs) - analogue} for yes or no, and {count_of(program.relays, 'relay')}. It works "
        f"through {count_of(program.rules, 'rule')} once in {plan.rules.scan_ms} ms."
    )


def _wired(written):
    rows = [(i.variable, i.words, f"{i.number}; {i.range_words}", i.sensor) for i in written.inputs]
    rows += [
        (o.variable, f"relay K{o.number}", f"{o.contact}, load {o.dead_words} without current", o.words)
        for o in written.outputs
    ]
    return Table(columns=("in the program", "what", "number or contact", "wired to"), rows=tuple(rows))


def _scaled(written):
    columns = ("bank", "at the input", "it shows", "program's mV")
    return Table(
        columns=columns, rows=tuple(scaling_rows(written.volts_input)), caption="To compare while it is tried."
    )


def _alone(written):
    rows = tuple((s.rule, s.device, s.closes, s.opens, s.times, s.in_series, s.switches) for s in written.steps)
    columns = ("rule", "device", "closes", "opens", "times", "contacts in series", "switches")
    return Table(columns=columns, rows=rows, caption=" ".join(written.lost))
