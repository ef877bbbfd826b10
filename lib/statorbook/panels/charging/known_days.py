"""Runs of days that are not worked out again, with the answers that were written for them."""

from statorbook.charging import DayRun

MOST_DAYS_KEPT = 112  # of all runs together; a day takes a third of a megabyte
_MOST_RUNS = 40


class _Run(DayRun):
    """A run of days, and its answers by the number of days."""

    def __init__(self, plan, events, **given):
        super().__init__(plan, events, **given)
        self.plan, self.answers = plan, {}


class KnownDays:
    """Finds the run of a plan, its events and a charge at the start, begun when there is none; the oldest go."""

    def __init__(self, most_days):
        self._most_days, self.runs = most_days, []

    def of(self, plan, events, charge):
        """The run, of which no day may be worked out yet."""
        wanted = events, charge
        run = next((r for r in self.runs if r.plan is plan and (r.events, r.start_charge) == wanted), None)
        if run is None:
            run = _Run(plan, events, most_days=self._most_days, start_charge=charge)
        self.runs = [*(other for other in self.runs if other is not run), run]
        while len(self.runs) > _MOST_RUNS or (sum(r.days for r in self.runs) > MOST_DAYS_KEPT and self.runs[1:]):
            del self.runs[0]
        return run

    def forget_answers(self):
        """Let all answers be written anew, since they speak in other units."""
        for run in self.runs:
            run.answers.clear()
