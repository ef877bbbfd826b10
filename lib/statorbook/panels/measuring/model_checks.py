"""Panel of chapter 02: what must hold for the logs to be believed, one line for each check."""

from statorbook.assembly import bench_logs, units_for
from statorbook.cautions import SPUN_HOT, Exposure
from statorbook.fits import log_checks
from statorbook.panels.measuring.coil_constants import missing_for_constants
from statorbook.widgets import Answer, Panel, Table


class ModelChecksPanel(Panel):
    """Hold the spin, shorted and ohms logs against the model.

    Parameters
    ----------
    job : Job
        The job with the spin, shorted and ohms logs.
    follows : sequence of LogPanel
        Panels of this page after whose changes the checks are made again.
    """

    def __init__(self, job, *, follows=()):
        self.job = job.reopen()
        super().__init__(system=units_for(self.job), inputs=[], sentence_lines=3)
        for panel in follows:
            panel.follow(self.redraw)

    def answer(self):
        """Every check with what was found, or what is still missing."""
        now = self.job.read()
        missing = missing_for_constants(now)
        if missing:
            return Answer(sentence=f"Nothing to check yet: {missing}.")
        part = now.stator
        checks = log_checks(bench_logs(now), part.to_stator(), conductor=part.conductor, magnet=part.magnet)
        rows = tuple((check.name, check.found or "–", check.verdict) for check in checks)
        marks = tuple("chosen" if check.holds is False else "quiet" if check.holds is None else "" for check in checks)
        heads = ("what must hold", "what was found (± 99 % where chance can play a part)", "verdict")
        table = Table(columns=heads, rows=rows, marks=marks)
        return Answer(sentence=checks_words(checks), table=table, exposures=(*SPUN_HOT, Exposure.SOLDER))


def checks_words(checks):
    """Which checks do not hold, or else what to log next, in sentences; one short sentence when all is well."""
    off = [check for check in checks if check.holds is False]
    unknown = [check for check in checks if check.holds is None]
    if off:
        return " ".join(f"Not as it should be – {check.name}: {check.found}; {check.words}." for check in off)
    if not unknown:
        return f"All {len(checks)} checks are as they should be."
    good = len(checks) - len(unknown)
    return f"{good} of {len(checks)} checks are as they should be. For the others next: {unknown[0].words}."
