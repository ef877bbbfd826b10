"""The panel of the groupings below the bank that is typed on the same page."""

from statorbook.assembly import with_parts
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.widgets import stacked


class ChooseForBank:
    """The groupings for a job, made anew when its bank is saved above: no second run of the page is needed.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while a part of it is missing.
    bank : BankPanel
        The panel in which its bank is typed.
    """

    def __init__(self, job, bank):
        self._job, self.widget = job, stacked([])
        self.renew()
        bank.follow(bank.guarded(self.renew))

    def renew(self):
        """Show the groupings for the job as it is on the disk now."""
        self.panel = ChoosePanel(with_parts(self._job, "stator", "coil", "drive", "bank"))
        self.widget.children = (self.panel.widget,)

    @property
    def sentence(self):
        """What the panel says now."""
        return self.panel.sentence

    def _repr_mimebundle_(self, include=None, exclude=None):
        bundle = self.widget._repr_mimebundle_(include=include, exclude=exclude)
        return {**bundle, "text/plain": self.sentence}
