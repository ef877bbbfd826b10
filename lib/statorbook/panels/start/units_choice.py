"""The choice of metric or US units, kept in the job."""

from statorbook.assembly import own_job
from statorbook.job.parts import ReaderPart, units_of
from statorbook.quantities import SYSTEMS
from statorbook.widgets import MessageLine, choice, stacked


class UnitsChoice:
    """A list to choose the units from; saved in the job at once.

    Parameters
    ----------
    job : Job
        The job shown; the reader's own remembers the choice.
    on_change : callable
        Called with "metric" or "US" after it is saved.
    whole_page : bool
        Whether that lets every panel of the page follow.
    """

    def __init__(self, job, on_change, *, whole_page=False):
        self.job, self._on_change, self.message = own_job(job), on_change, MessageLine(lines=0)
        self._whole_page = whole_page
        self._follows = False
        self.control = choice("Units", list(SYSTEMS), units_of(self.job))
        self.control.observe(self.message.guarded(self._chosen), "value")
        self.widget = stacked([self.control, self.message.widget])

    @property
    def system(self):
        """The units chosen: "metric" or "US"."""
        return self.control.value

    def follow(self, job):
        """Show the choice of another job; that is not a choice of the reader's.

        Parameters
        ----------
        job : Job
            The job shown from now on.
        """
        self.job, self._follows = own_job(job), True
        try:
            self.control.value = units_of(self.job)
        finally:
            self._follows = False
        self.message.clear()

    def _chosen(self, change):
        if self._follows:
            return
        self.message.clear()
        self._on_change(self.system)  # shown even when the disk then refuses to remember it
        self.job.save_part("reader", ReaderPart(units=self.system))
        if not self._whole_page:
            self.message.remark("“Run the page” lets every other panel of a page follow.")
