"""Panel of chapter 08: the run log of the finished machine beside its promise, and the likeliest cause."""

from dataclasses import replace
from datetime import date

import numpy as np

from statorbook.bank import BankState
from statorbook.chosen import choice_of
from statorbook.comparison import compare
from statorbook.figures.first_run import draw_first_run, speeds_for
from statorbook.figures.kept import KeptFigure
from statorbook.first_run import amps_at, amps_sigma
from statorbook.machine import machine_from
from statorbook.panels.frame import Answer, Panel
from statorbook.panels.job_log import log_grid, row_verdict
from statorbook.panels.log_panel import NOTHING_YET
from statorbook.panels.own_job import require_own, whose
from statorbook.panels.table import Table
from statorbook.run_causes import alike, as_promised, rank_causes
from statorbook.run_refine import refined
from statorbook.run_rows import read_run, run_case, source_heading
from statorbook.sweep import sweep
from statorbook.uncertainty import half_width, windings_at_ends

CAUTION = (
    "Guard on, sleeves tied back, and never take the bank or its fuse off while it turns: the volts jump and the rotor "
    "runs away."
)
_SHOWN = 6


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
        self.job = job.opened_anew()
        self._today, self._complete = today, False
        self.machine, self.choice = machine_from(job), choice_of(job)
        self._figure = KeptFigure(rows=2, height_in=5.2, sharex=True)
        heads = {"drive_reading": source_heading(self.machine.drive) or "Source, none to read"}
        self.grid = log_grid(self.job, self.log, self._judge, heads=heads)
        super().__init__(
            inputs=[self.grid],
            actions={"Keep the refined constants beside the old ones": self.write},
            picture_px=self._figure.height_px,
            sentence_lines=6,
        )
        self._complete = True

    def _judge(self, rows):
        self._readings = read_run(rows, self.machine.stator, self.machine.drive)
        if self._complete:
            self.redraw()
        return {each.row: row_verdict(each) for each in self._readings}

    def case(self):
        """The rows that can be held against the promise.

        Returns
        -------
        RunCase
            Machine, grouping and usable rows.

        Raises
        ------
        BadInput
            When there are none.
        """
        return run_case(self.machine, self.choice.to_grouping(), self._readings)

    def answer(self):
        """How the machine does beside its promise, and why.

        Returns
        -------
        Answer
            Sentence, picture, ranking of causes.
        """
        if not self._readings:
            self._figure.draw(draw_first_run, None, (), (), None)
            words = f"{whose(self.job)}{NOTHING_YET}"
            return Answer(sentence=words, pictures=(self._figure.svg(words),), caution=CAUTION)
        case = self.case()
        ranked = () if as_promised(case, self.job.coil) else rank_causes(case, self.job.coil)
        sentence = f"{whose(self.job)}{headline(case)} {cause_words(ranked)}"
        self._draw(case)
        picture = self._figure.svg(f"Amps of the run beside the promise. {sentence}")
        return Answer(sentence=sentence, pictures=(picture,), table=_table(ranked), caution=CAUTION)

    def _draw(self, case):
        rows = case.charging
        if not rows:
            self._figure.draw(draw_first_run, None, (), (), None)
            return
        speeds = speeds_for(case)
        volts = float(np.mean([each.dc_volts for each in rows]))
        bank = BankState(name="as read", volts=volts, ohm=0.0)
        windings = windings_at_ends(self.machine, case.grouping)
        amps = sweep(windings, speeds, bank, self.machine.setting.conditions).dc_amps
        width = half_width(amps)
        promise = (speeds, np.maximum(amps[0] - width, 0.0), amps[0] + width)
        self._figure.draw(draw_first_run, case, amps_at(case), amps_sigma(case), promise)

    def write(self):
        """Keep the refined constants beside those of the bench.

        Raises
        ------
        BadInput
            When the page shows another job than the reader's, or no row can be compared.
        """
        next_step = "fill in what your job still lacks and press “Run the page”"
        require_own(
            self.job, "refined constants are kept only in the job that is open", next_step, "refined constants"
        )
        made = refined(self.case(), self.job.coil, self._today or date.today())
        self.job.save_part("refined", made)
        said = ", ".join(f"{name} {each}" for name, each in zip(("EMF", "ohms", "inductance"), made.estimates.values()))
        kept = f"Kept beside the old ones in the job {self.job.name}: of one coil {said}."
        self.message.say(f"{kept} {self._promised_with(made)}")

    def _promised_with(self, made):
        """What the promise becomes with the refined constants."""
        now = self.machine
        best = {name: each.value for name, each in made.estimates.items()}
        found = compare(now.stator, replace(now.coil, **best), now.drive, now.bank, now.setting)
        at = found.find(self.choice.to_grouping()).point
        return (
            f"With them the promise is {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) at {at.speed_rpm:.0f} rpm; it was "
            f"{self.choice.dc_watts:.0f} W at {self.choice.speed_rpm:.0f} rpm."
        )


def headline(case):
    """How far the run is off its promise.

    Parameters
    ----------
    case : RunCase
        Machine and rows.

    Returns
    -------
    str
        A sentence.
    """
    rows = case.charging
    if not rows:
        return f"{len(case.open_leads)} rows at open leads, none with current into the bank yet."
    share = np.array([each.dc_amps for each in rows]) / np.maximum(amps_at(case), 1e-9)
    best = max(rows, key=lambda each: each.dc_amps * each.dc_volts)
    return (
        f"At most {best.dc_amps * best.dc_volts:.0f} W were read ({best.dc_amps:.1f} A at {best.speed_rpm:.0f} rpm). "
        f"At the speeds and bank volts read, the amps are {100 * (float(np.median(share)) - 1):+.1f} % off the promise "
        f"({len(rows)} rows)."
    ).replace(" -", " −")


def cause_words(ranked):
    """What explains the difference, in words.

    Parameters
    ----------
    ranked : tuple of Ranked
        From `rank_causes`; empty when all is as promised.

    Returns
    -------
    str
        Sentences with the reading that settles it.
    """
    if not ranked:
        return "That lies within the errors of the readings and of the promise: all is as promised."
    same = alike(ranked)
    best = same[0]
    if len(same) == 1:
        return f"It is best explained by the {best.words}. To prove it, read {best.cause.tell}."
    others = ", or ".join(each.words for each in same)
    return f"These readings cannot tell apart: {others}. To settle it, read {best.cause.tell}."


def _table(ranked):
    if not ranked:
        return None
    same = len(alike(ranked))
    rows = tuple(
        (number, each.words, f"{each.misfit:.1f}", f"{each.total:.1f}", each.cause.tell)
        for number, each in enumerate(ranked[:_SHOWN], start=1)
    )
    marks = tuple("chosen" if place < same else "" for place in range(len(rows)))
    heads = ("", "what would have to be different", "left over", "with the price of the move", "what would prove it")
    return Table(columns=heads, rows=rows, marks=marks, caption="One cause at a time, best first.")
