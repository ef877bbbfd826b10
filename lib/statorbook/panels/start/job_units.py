"""Panel of the start page: metric or US units for the current job."""

from statorbook.errors import BadInput
from statorbook.panels.start.units_choice import UnitsChoice
from statorbook.widgets import Answer, Panel, stacked

_IN_WORDS = {"metric": "m, mm, L/s, m/s, N·m, kg, °C", "US": "ft, in, gpm, mph, ft·lb, lb, °F"}


class UnitsPanel(Panel):
    """Choose the units that every page of a job is told in.

    Parameters
    ----------
    start : StartPanel
        The panel that says which job is open.
    """

    def __init__(self, start):
        self._start, self.units, self._place = start, None, stacked([])
        super().__init__(inputs=[self._place], sentence_lines=2)
        start.jobs.observe(self.redraw, "value")

    def answer(self):
        """Say what the units of the current job are."""
        job = self._start.job
        if job is None:
            raise BadInput("no job is open", "an open job is needed", "open or create one above", where="units")
        if self.units is None:
            self.units = UnitsChoice(job, self.in_units)
            self._place.children = (self.units.widget,)
        elif self.units.job.folder != job.folder:
            self.units.follow(job)
        chosen = self.units.system
        return Answer(
            sentence=f"The job {job.name} is shown in {chosen} units: {_IN_WORDS[chosen]}. Volts, amps, ohms, watts "
            "and rpm are the same in both, a wire keeps its mm, and any usual unit may be typed whatever is chosen."
        )
