"""The panel of the groupings below the bank that is typed on the same page."""

from statorbook.assembly import with_parts
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.widgets import MadeAnew


class ChooseForBank(MadeAnew):
    """The groupings for a job, made anew when its bank is saved above.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while a part of it is missing.
    bank : BankPanel
        The panel in which its bank is typed.
    """

    def __init__(self, job, bank):
        super().__init__(lambda: ChoosePanel(with_parts(job, "stator", "coil", "drive", "bank")), bank)
