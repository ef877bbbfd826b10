"""Panels of chapter 02: volts at known speed with open leads, and amps at known speed with shorted leads."""

from math import sqrt

from statorbook.assembly import bench_logs
from statorbook.cautions import SPUN, SPUN_HOT, together
from statorbook.figures import draw_shorted_fit, draw_spin_fit
from statorbook.figures.canvas import KeptFigure
from statorbook.fits import (
    fit_emf,
    more_rows_words,
    more_shorted_words,
    session_warnings,
    shorted_checks,
    shorted_rows_of,
    spin_checks,
    spin_where,
    terminal_constants,
    volts_limit,
    warmth_words,
)
from statorbook.job.parts import meters_of
from statorbook.panels.measuring.log_panel import NO_STATOR, NOTHING_YET, Judged, LogPanel, why_no_fit
from statorbook.quantities import say

_NEEDS_THE_REST = (
    "Your readings are kept. The inductance follows once the spin log above and the ohms log in "
    "01_know_your_stator hold at least one usable row each."
)


class SpinPanel(LogPanel):
    """Log volts at known speed and see the line through them.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    follows : sequence of Panel
        The meters' panel of the same page, when there is one.
    """

    log, draw, table_fold = "spin", draw_spin_fit, "Balance of the pairs"
    exposures = SPUN

    def __init__(self, job, *, follows=()):
        super().__init__(job, figure=_figure(), follows=follows, sentence_lines=6)

    def _look(self, rows):
        """Read and fit the log; the ohms log gives the machine's temperature."""
        part = self.job.stator
        if part is None:
            return Judged(missing=NO_STATOR if rows else NOTHING_YET)
        logs, stator, keep_all = bench_logs(self.job, part, spin=rows), part.to_stator(), self.keep_all.value
        missing, fit, remarks, self._warmth = why_no_fit(logs.spin), None, (), warmth_words(logs.ohms)
        if not missing and why_no_fit(logs.ohms):
            fit = fit_emf(logs.spin, stator, magnet=part.magnet, keep_all=keep_all)
        elif not missing:
            metals = {"conductor": part.conductor, "magnet": part.magnet}
            fit = terminal_constants(logs, stator, **metals, keep_all=keep_all).emf_fit
        if fit:
            remarks = session_warnings(spin_checks(logs.spin, fit))
        limit = volts_limit(logs.spin, fit, stator, meters_of(self.job).volts)
        ahead = {row.row: said for row in logs.spin if (said := limit.ahead_words(row, stator))}
        return Judged(
            readings=logs.spin, fit=fit, missing=missing, remarks=(*ahead.values(), limit.words, *remarks), ahead=ahead
        )

    def _headline(self, fit):
        """The volts per rpm, what would halve their ±, and whence the magnets' temperature, in sentences."""
        where = spin_where(self.found.readings, fit.used_rows)
        return together(describe_emf(fit), more_rows_words(self.log, fit, fit.shared_share, where), self._warmth)


class ShortedPanel(LogPanel):
    """Log amps with all three leads joined and see the inductance that holds them back.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    follows : sequence of Panel
        The meters' and the spin panel of the same page, when there are any.
    """

    log, draw = "shorted", draw_shorted_fit
    exposures = SPUN_HOT

    def __init__(self, job, *, follows=()):
        super().__init__(job, figure=_figure(), follows=follows, sentence_lines=6)

    def _look(self, rows):
        """Read and fit the log; volts and ohms come from the other two."""
        part = self.job.stator
        if part is None:
            return Judged(missing=NO_STATOR if rows else NOTHING_YET)
        logs = bench_logs(self.job, part, shorted=rows)
        missing = why_no_fit(logs.shorted)
        if not missing and (why_no_fit(logs.spin) or why_no_fit(logs.ohms)):
            missing = _NEEDS_THE_REST
        if missing:
            return Judged(readings=logs.shorted, missing=missing)
        stator, metals = part.to_stator(), {"conductor": part.conductor, "magnet": part.magnet}
        found = terminal_constants(logs, stator, **metals, keep_all=self.keep_all.value)
        self._warmth = warmth_words(logs.ohms)
        self._rows, fit = shorted_rows_of(logs, found, stator, **metals), found.inductance_fit
        return Judged(
            readings=logs.shorted, fit=fit, remarks=session_warnings(shorted_checks(self._rows, fit.used_rows))
        )

    def _headline(self, fit):
        """The henries, what would halve their ±, and whence the machine's temperature, in sentences."""
        return together(describe_inductance(fit), more_shorted_words(self._rows, fit), self._warmth)


def describe_emf(fit):
    """The EMF of one phase, rms, and line volts at 100 rpm, in a sentence."""
    at_100 = fit.estimate.times(100 * sqrt(3), unit="V AC line rms")
    return (
        f"One phase, taken as star, makes {fit.estimate} rms with the magnets at {say(20, '°C')}, so {at_100} between "
        "two leads at 100 rpm."
    )


def describe_inductance(fit):
    """The synchronous inductance of one phase in a sentence."""
    henry = fit.estimate.times(1000, unit="mH")
    return f"One phase, taken as star, has an inductance of {henry}, the share of the other phases included."


def _figure():
    return KeptFigure(rows=2, height_in=3.8, sharex=True, height_ratios=[2.1, 1])
