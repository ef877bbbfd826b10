"""Panel of chapter 08: the run log of the finished machine beside its promise, and the likeliest cause."""

from dataclasses import replace
from datetime import date

from statorbook.assembly import choice_of, machine_from, units_for
from statorbook.cautions import Exposure, text_of, together
from statorbook.choice import compare
from statorbook.figures import draw_first_run
from statorbook.figures.canvas import KeptFigure
from statorbook.first_run import (
    RunCase,
    Tells,
    headline,
    odd_rows,
    promise_of,
    read_run,
    refined,
    run_case,
    source_heading,
    undetectable_causes,
    verdict_on,
    verdict_words,
)
from statorbook.job.parts import meters_of
from statorbook.panels.measuring.job_log import file_notes, log_grid, row_verdict
from statorbook.panels.measuring.log_panel import NOTHING_YET, use_every_row
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, Panel, Table, job_prefix, require_own, stacked

CAUTION = "Never take the bank or its fuse off while it turns: the volts jump and the rotor runs away."
AT_INPUT = (
    "With the converter between, the DC volts and amps of a row are those at its input, where the rectifier ends: more "
    "volts than the bank has, so fix the meter's leads there while the rotor stands."
)
EXPOSURES = (Exposure.TURNING, Exposure.VOLTS, Exposure.BANK)
_SHOWN, _SHOWN_PAIRS = 6, 3


class FirstRunPanel(Panel):
    """Log the finished machine and hold it against its promise.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    today : date or None
        The date kept with refined constants; the day on the clock when None.
    """

    log = "run"

    def __init__(self, job, today=None):
        self.job = job.reopen()
        self._today, self._complete = today, False
        with reader_units(units_for(job)):
            self.machine, self.choice = machine_from(job), choice_of(job)
        self._figure = KeptFigure(rows=2, height_in=5.2, sharex=True)
        heads = {"drive_reading": source_heading(self.machine.drive) or "Source, none to read"}
        self._notes = file_notes(self.job, self.log)
        self.keep_all = use_every_row()
        self.grid = log_grid(self.job, self.log, self._judge, heads=heads)
        self.keep_all.observe(self.guarded(lambda change: self.grid.judge()), "value")
        super().__init__(
            system=units_for(job),
            inputs=[self.grid, stacked([self.keep_all])],
            actions={"Keep the refined constants beside the old ones": self.write},
            picture_px=self._figure.height_px,
            sentence_lines=6,
        )
        self._complete = True

    def _judge(self, rows):
        made = self.machine
        # Behind a converter the volts are those at its input, which are none of a bank's.
        bank = None if made.setting.conditions.converter else made.bank
        self._readings = read_run(rows, made.stator, made.drive, bank=bank, meters=meters_of(self.job))
        self.odd_rows, self._every = (), None
        if any(row.charging or row.open_leads for row in self._readings):
            self._every = run_case(self.machine, self.choice.to_grouping(), self._readings)
            self.odd_rows = () if self.keep_all.value else odd_rows(self._every, self.job.coil)
        if self._complete:
            self.redraw()
        odd = {row.row: row.sentence for row in self.odd_rows}
        return {reading.row: row_verdict(reading, odd.get(reading.row)) for reading in self._readings}

    def case(self):
        """The rows that are held against the promise: those that belong, or all when the reader says so."""
        every = self._every or run_case(self.machine, self.choice.to_grouping(), self._readings)
        return every.without([odd.row for odd in self.odd_rows])

    def answer(self):
        """How the machine does beside its promise, and why."""
        at_input = (AT_INPUT,) if self.machine.setting.conditions.converter else ()
        caution = " ".join((CAUTION, *at_input, self._open_leads(), *self._notes))
        if not self._readings:
            self._figure.draw(draw_first_run, None)
            words = f"{job_prefix(self.job)}{NOTHING_YET}"
            pictures = (self._figure.svg(words),)
            return Answer(sentence=words, pictures=pictures, caution=caution, exposures=EXPOSURES)
        case = self.case()
        promise, found = promise_of(case, self._every, self.odd_rows), verdict_on(case, self.job.coil)
        odd = (row.sentence for row in self.odd_rows)
        # The verdict is on the amps of the headline, so no row that is set aside may stand between the two.
        said = (
            headline(case, promise),
            verdict_words(found),
            undetectable_causes(case, self.job.coil) if found else "",
            *odd,
        )
        sentence = together(job_prefix(self.job).strip(), *said)
        self._figure.draw(draw_first_run, promise)
        picture = self._figure.svg(f"Amps of the run beside the promise. {text_of(sentence)}")
        told = {"sentence": sentence, "pictures": (picture,), "table": _table(found)}
        return Answer(**told, caution=caution, exposures=EXPOSURES)

    def _open_leads(self):
        """How a row at open leads is taken, and how fast the rotor turns at most."""
        tells = Tells(case=RunCase(machine=self.machine, grouping=self.choice.to_grouping(), readings=()))
        return tells.open_leads.within("For a row at open leads ", ".").text

    def write(self):
        """Keep the refined constants beside those of the bench."""
        next_step = "fill in what your job still lacks and press “Run the page”"
        require_own(self.job, "refined constants are kept only in the job that is open", next_step, "refined constants")
        made = refined(self.case(), self.job.coil, self._today or date.today())
        self.job.save_part("refined", made)
        said = ", ".join(f"{name} {each}" for name, each in zip(("EMF", "ohms", "inductance"), made.estimates.values()))
        kept = f"Kept beside the old ones in the job {self.job.name}: of one coil {said}."
        self.message.say(f"{kept} {self._promised_with(made)}")

    def _promised_with(self, made):
        """What the promise becomes with the refined constants."""
        now = self.machine
        best = {name: estimate.value for name, estimate in made.estimates.items()}
        found = compare(now.stator, replace(now.coil, **best), now.drive, now.bank, now.setting)
        at = found.find(self.choice.to_grouping()).point
        return (
            f"With them the promise is {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) at {at.speed_rpm:.0f} rpm; it was "
            f"{self.choice.dc_watts:.0f} W at {self.choice.speed_rpm:.0f} rpm."
        )


def _table(found):
    if found is None or not found.ranked:
        return None
    ranked = found.ranked[:_SHOWN] if not found.takes_two else (*found.same[:_SHOWN_PAIRS], *found.ranked[:_SHOWN])
    rows = tuple(
        (number, cause.words, f"{cause.misfit:.1f}", f"{cause.total:.1f}", cause.tell)
        for number, cause in enumerate(ranked, start=1)
    )
    marks = tuple("chosen" if cause in found.same else "" for cause in ranked)
    heads = ("", "what would have to be different", "left over", "with a penalty for the change", "what would prove it")
    caption = (
        f"Best first. “Left over” says how much stays unexplained (a sum of squares in sigma); chance alone "
        f"stays below {found.same[0].luck:.0f} in nineteen of twenty cases."
    )
    return Table(columns=heads, rows=rows, marks=marks, caption=caption)
