"""Panel of chapter 01: ohms between the leads, machine at rest."""

from statorbook.assembly import sessions_used
from statorbook.bench import leave_out, read_ohms
from statorbook.cautions import STILL, together
from statorbook.fits import fit_ohms, more_rows_words, ohms_checks, session_warnings
from statorbook.job.parts import meters_of
from statorbook.panels.measuring.log_panel import NOTHING_YET, Judged, LogPanel, why_no_fit
from statorbook.quantities import holds_anything, say


class OhmsPanel(LogPanel):
    """Log the winding's ohms and see them fitted.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    """

    log, exposures = "ohms", STILL

    def __init__(self, job):
        super().__init__(job, sentence_lines=2)

    def _look(self, rows):
        """Read and fit the log; slots and poles play no part."""
        if not holds_anything(rows):
            return Judged(missing=NOTHING_YET)
        readings = leave_out(read_ohms(rows, meters=meters_of(self.job)), sessions_used(self.job, self.log))
        part = self.job.stator
        missing = why_no_fit(readings)
        if missing:
            return Judged(readings=readings, missing=missing)
        conductor = part.conductor if part else "copper"
        fit = fit_ohms(readings, conductor=conductor, keep_all=self.keep_all.value)
        return Judged(
            readings=readings, fit=fit, remarks=session_warnings(ohms_checks(readings, fit, conductor=conductor))
        )

    def _headline(self, fit):
        """The ohms at 20 °C, and what would halve their ±, in sentences."""
        assumed = "" if self.job.stator else " (Copper wire is assumed until the stator facts are saved.)"
        return together(f"{describe_ohms(fit)}{assumed}", more_rows_words(self.log, fit, fit.shared_share))


def describe_ohms(fit):
    """The fitted ohms in a sentence.

    Parameters
    ----------
    fit : Fit
        From `fit_ohms`.

    Returns
    -------
    str
        Ohms of one phase and between two leads, at 20 °C.
    """
    return (
        f"One phase, taken as star, has {fit.estimate} at {say(20, '°C')}, so {fit.estimate.times(2)} between two "
        "leads, probes taken off."
    )
