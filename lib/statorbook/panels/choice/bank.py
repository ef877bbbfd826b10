"""Panel of chapter 04: the battery bank and what lies between it and the rectifier."""

from statorbook.bench import volts_shown
from statorbook.cautions import Exposure
from statorbook.job import Drafts
from statorbook.job.parts import BankPart
from statorbook.operation import grade_dc
from statorbook.panels.measuring.log_panel import FollowedPanel
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import say
from statorbook.widgets import Answer, Form, button, stacked

_AGAIN = "\nThe groupings below follow; every other line of the page shows the bank as it was: press “Run the page”."


class BankPanel(FollowedPanel):
    """Describe the bank and see its volts; a bank that is saved is one line, unfolded to change it.

    Parameters
    ----------
    job : Job
        The job that the bank is saved in.
    """

    def __init__(self, job):
        self.job, self._again = job, ""
        self.units = UnitsChoice(job, self.in_units)
        self.form = Form(
            BankPart,
            job.bank,
            save=self._save,
            on_change=lambda form: self.redraw(),
            save_words="Save the bank",
            system=self.units.system,
            now=None if job.notice else lambda: job.bank,
            drafts=Drafts(job.folder, "bank"),
        )
        super().__init__(system=self.units.system, inputs=[self.units, self.form], sentence_lines=3)
        # What was typed and is not saved must not come back unseen.
        closed = job.bank and not self.form.message.text
        # A button and not the stock fold, whose heading the Tab key passes by.
        self.fold = button("", self.guarded(lambda pressed: self._open(not self.is_open)))
        self.fold.add_class("statorbook-unfolds")
        self._inside = self.widget
        self.widget = stacked([self.fold, self._inside])
        self._open(not closed)

    @property
    def is_open(self):
        """True while the form can be seen."""
        return self._inside.layout.display is None

    def _open(self, is_open):
        """Unfold the form, or put it away behind its line."""
        self._inside.layout.display = None if is_open else "none"
        self.fold.description = f"{'▾' if is_open else '▸'} {bank_line(self.job.bank)}"

    def _save(self, part):
        self.job.save_part("bank", part)
        self._open(self.is_open)
        self._again = _AGAIN
        self.redraw()
        self.tell()

    def answer(self):
        """Say what the bank asks of a rectifier."""
        if self.form.fields["chemistry"].control.value is None:
            return Answer(sentence="Choose the chemistry first, then fill in what the label of the bank says.")
        bank = self.form.part().to_bank()
        touch = grade_dc(bank.charging_volts)
        danger = f"{bank.charging_volts:.0f} V DC at the terminals: {touch.word} ({touch.limit}); {touch.advice}."
        caution = f"{bank.caution} {danger}".strip()
        return Answer(sentence=f"{describe_bank(bank)}{self._again}", caution=caution, exposures=(Exposure.BANK,))


def bank_line(part):
    """The bank of a job in a line, or that it has none yet."""
    if part is None:
        return "The bank: say what its label says"
    bank = part.to_bank()
    return f"Bank: {bank.cells} cells of {bank.chemistry}, {bank.half_volts:.0f} V half full – change it here"


def describe_bank(bank):
    """A bank in a sentence: its volts, its inner resistance, and what a meter on it can show."""
    low, high = volts_shown(bank)
    return (
        f"{bank.cells} cells of {bank.chemistry}: {bank.empty_volts:.1f} V empty and rested, "
        f"{bank.half_volts:.1f} V half full, "
        f"{bank.charging_volts:.1f} V at the charging limit at {say(bank.temperature_c, '°C', form='g')}, all DC; "
        f"about {1000 * bank.internal_ohm:.1f} mΩ inside (typical, not measured). A meter on it shows "
        f"{low:.1f} to {high:.1f} V DC, from empty under load to equalising in the cold: a reading outside is set "
        "aside."
    )
