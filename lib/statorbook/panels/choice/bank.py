"""Panel of chapter 04: the battery bank and what lies between it and the rectifier."""

from statorbook.bench import volts_shown
from statorbook.job import Drafts
from statorbook.job.parts import BankPart
from statorbook.operation import grade_dc
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import say
from statorbook.widgets import Answer, Form, Panel


class BankPanel(Panel):
    """Describe the bank and see its volts.

    Parameters
    ----------
    job : Job
        The job that the bank is saved in.
    """

    def __init__(self, job):
        self.job = job
        self.units = UnitsChoice(job, self.in_units)
        self.form = Form(
            BankPart,
            job.bank,
            save=lambda part: job.save_part("bank", part),
            on_change=lambda form: self.redraw(),
            save_words="Save the bank",
            system=self.units.system,
            now=None if job.notice else lambda: job.bank,
            drafts=Drafts(job.folder, "bank"),
        )
        super().__init__(system=self.units.system, inputs=[self.units, self.form], sentence_lines=3)

    def answer(self):
        """Say what the bank asks of a rectifier."""
        if self.form.fields["chemistry"].control.value is None:
            return Answer(sentence="Choose the chemistry first, then fill in what the label of the bank says.")
        bank = self.form.part().to_bank()
        touch = grade_dc(bank.charging_volts)
        danger = f"{bank.charging_volts:.0f} V DC at the terminals: {touch.word} ({touch.limit}); {touch.advice}."
        return Answer(sentence=describe_bank(bank), caution=f"{bank.caution} {danger}".strip())


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
