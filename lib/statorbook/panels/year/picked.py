"""Which grouping a panel over the year looks at: the one written to the job, else what the year recommends."""

from statorbook.assembly import machine_from, source_year_from
from statorbook.widgets import choice
from statorbook.year import grouping_years, year_verdict


class PickedGrouping:
    """The groupings of a job over its year, and the list that one is picked from."""

    def __init__(self, job):
        self.machine, self.source = machine_from(job), source_year_from(job)
        self._years = {year.grouping: year for year in grouping_years(self.machine, self.source)}
        ranked = sorted(self._years.values(), key=lambda year: -year.kwh)
        options = [(f"{year.grouping.label}: {year.kwh:.0f} kWh", year.grouping) for year in ranked]
        self.control = choice("Grouping", options, self._first(job))

    def _first(self, job):
        written = job.choice.to_grouping() if job.choice else None
        if written in self._years:
            return written
        return year_verdict(self.machine.compared(), list(self._years.values())).by_year.shown.grouping

    @property
    def year(self):
        """The `GroupingYear` of the grouping picked."""
        return self._years[self.control.value]
