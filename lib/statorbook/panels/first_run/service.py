"""Panel of chapter 08: what the bearings carry, the log of looking at them, and what is due when."""

from datetime import date

from statorbook.assembly import choice_of, machine_from, units_for
from statorbook.cautions import Exposure, Instruction, together
from statorbook.errors import BadInput
from statorbook.job import Drafts
from statorbook.job.parts import ServicePart
from statorbook.panels.measuring.job_log import file_notes, log_grid
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import RAD_S_PER_RPM
from statorbook.service import STOP, WORDS, due_items, findings, life_words, limit_words, read_service
from statorbook.widgets import Answer, Form, Panel, Table

CAUTION = Instruction(
    "Stop the source, tie the rotor and take the bank off at rest before you feel for play: magnets pull the ring over "
    "and crush fingers.",
    (Exposure.BANK, Exposure.TURNING),
)
NO_PART = "Save what the bearings carry and the first day at work above, and the dates of the next looks stand here."
_GROUPS = {
    "The machine": ("installed_on", "hours_per_day", "bearing_size", "shaft", "turning_kg"),
    "What pulls at the shaft": ("pull_radius_mm", "pull_factor", "magnet_pull_n", "overhang"),
    "How often": ("look_hours", "look_days", "renew_hours", "renew_days", "renewed_on", "renewed_at_hours"),
}


class ServicePanel(Panel):
    """Keep the service log and see what is due.

    Parameters
    ----------
    job : Job
        The reader's job.
    today : date or None
        The day that overdue is counted from; the day on the clock when None.
    """

    log = "service"

    def __init__(self, job, today=None):
        self.job = job.reopen()
        self._today, self._complete = today, False
        self.units = UnitsChoice(self.job, self.in_units)
        self.form = Form(
            ServicePart,
            self.job.service,
            save=self._save,
            groups=_GROUPS,
            save_words="Save the service",
            system=units_for(self.job),
            drafts=Drafts(job.folder, self.log),
        )
        self._notes = file_notes(self.job, self.log)
        self.grid = log_grid(self.job, self.log, self._judge, words=WORDS)
        super().__init__(system=units_for(self.job), inputs=[self.units, self.form, self.grid], sentence_lines=5)
        self._complete = True

    def _judge(self, rows):
        verdicts = {reading.row: _verdict(reading) for reading in read_service(rows)}
        if self._complete:
            self.redraw()
        return verdicts

    def _save(self, part):
        self.job.save_part("service", part)
        self.redraw()

    def answer(self):
        """What is due, and how long the bearing lasts at best."""
        part, caution = self.job.service, " ".join((CAUTION.text, *self._notes))
        if part is None:
            return Answer(sentence=NO_PART, caution=caution, exposures=CAUTION.exposures)
        items = due_items(self.job, self._today or date.today())
        sentence = together(due_words(items), self._life(part))
        return Answer(sentence=sentence, table=_table(items), caution=caution, exposures=CAUTION.exposures)

    def _life(self, part):
        try:
            choice, runaway_rpm = choice_of(self.job), machine_from(self.job).drive.runaway_speed_rpm
        except BadInput:
            return "The life of the bearing at best follows once chapters 01 to 04 are filled in."
        # What goes into the bank passes the shaft; losses on the way are small beside the other guesses.
        torque_nm = choice.dc_watts / (choice.speed_rpm * RAD_S_PER_RPM) if choice.speed_rpm else 0.0
        limits = limit_words(part, torque_nm, runaway_rpm)
        return f"{life_words(part, torque_nm, choice.speed_rpm)} {limits}".rstrip()


def due_words(items):
    """What is due, in a sentence."""
    late = [item for item in items if item.overdue_days > 0]
    if late:
        said = (_bare(item.words).within("", f" (since {item.on_date.isoformat()})") for item in late)
        return together(*said, between="; ").within("Overdue: ", ".")
    return items[0].words.within(f"Next, on {items[0].on_date.isoformat()}: ") if items else ""


def _bare(words):
    """An instruction without its full stop."""
    return words.told(lambda text: text.rstrip("."))


def _verdict(reading):
    if reading.refusal:
        return f"bad: {reading.refusal}"
    found = findings(reading)
    words = str(together(*(finding.words for finding in found if finding.urgency != "fine"), *reading.warnings))
    if any(finding.urgency == STOP for finding in found):
        return f"bad: {words}"
    return f"odd: {words}" if words else "good"


def _table(items):
    rows = tuple(
        (item.on_date.isoformat(), item.words, f"{item.overdue_days} days late" if item.overdue_days > 0 else "")
        for item in items
    )
    marks = tuple("chosen" if item.overdue_days > 0 else "" for item in items)
    return Table(
        columns=("by", "what", ""), rows=rows, marks=marks, caption="Due by hours or by calendar, whichever is first."
    )
