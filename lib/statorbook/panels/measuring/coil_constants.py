"""Panel of chapter 02: what one coil does, from the spin, shorted and ohms logs, written to the job."""

from datetime import date

from statorbook.assembly import WRITE_CONSTANTS, bench_logs, stale_words, units_for
from statorbook.errors import BadInput
from statorbook.fits import coil_estimates, terminal_constants, unusable_words, warmth_words
from statorbook.job.parts import CoilPart, facts_worked_out_for
from statorbook.panels.measuring.inductance_found import with_other_ways
from statorbook.panels.measuring.log_panel import use_every_row
from statorbook.quantities import filled, say
from statorbook.widgets import Answer, Panel, Table

_WHOLE = 3  # rows that a log needs, so that one wrong row can be told from the others


class CoilPanel(Panel):
    """Work out the constants of one coil and write them to the job; by itself while nobody wrote any.

    Parameters
    ----------
    job : Job
        The job with the spin, shorted and ohms logs.
    follows : sequence of LogPanel
        Panels of this page after whose changes the constants are worked out again.
    """

    table_fold = "Where each constant comes from"

    def __init__(self, job, *, follows=()):
        self.job, self._worked_out, self._wrote = job.reopen(), None, None
        self._follows_logs = not job.notice and self.job.coil is None
        self.keep_all, self._followed = use_every_row(), tuple(follows)
        super().__init__(
            system=units_for(self.job), inputs=[self.keep_all], actions={WRITE_CONSTANTS: self.write}, sentence_lines=6
        )
        for panel in follows:
            panel.follow(self.redraw)

    def estimates(self):
        """What one coil does and what the leads show, as the logs stand on the disk, or `BadInput`."""
        return self._estimates(self.job.read())

    def _estimates(self, now):
        found = with_other_ways(now, constants_at_leads(now, "coil constants", keep_all=self.keep_all.value))
        part = now.stator
        metals = {"conductor": part.conductor, "magnet": part.magnet}
        return coil_estimates(part.to_stator(), part.to_found_grouping(), found, **metals), found

    def redraw(self, change=None):
        """Show the constants, and write them where the job has none or those that this panel wrote by itself.

        Parameters
        ----------
        change : object
            The event that started it; not used.
        """
        super().redraw(change)
        self.guarded(self._follow_logs)()

    def _follow_logs(self):
        if not self._follows_logs or not self._worked_out:
            return
        now, coil, found = self._worked_out
        if now.coil != self._wrote:  # somebody else wrote constants meanwhile: theirs stay until the press
            self._follows_logs = False
        elif _is_whole(bench_logs(now), found) and not _same(now.coil, coil):
            self._wrote = self._save(now, coil)
            super().redraw()
            self.message.say(
                f"Written to the job {self.job.name} without a press, since it held no constants: the three logs are "
                "whole. They follow the logs while this page is open; next comes 03_what_turns_it."
            )

    def answer(self):
        """Show the constants, or say what is still missing."""
        now, self._worked_out = self.job.read(), None
        missing = missing_for_constants(now)
        self.keep_all.disabled = bool(missing)
        if missing:
            return Answer(sentence=f"No constants yet: {missing}.")
        coil, found = self._estimates(now)
        self._worked_out = now, coil, found
        fits = [fit for fit in (found.emf_fit, found.ohms_fit, found.inductance_fit) if fit]
        odd = [row.sentence for fit in fits for row in fit.odd_rows]
        warnings = [words for fit in fits for words in fit.warnings]
        if found.inductance_fit is None and found.henry.assumed:
            warnings.append(found.sentences[-1])
        grouping = now.stator.to_found_grouping()
        warmth = warmth_words(bench_logs(now).ohms)
        said = (describe_coil(coil), f"The wiring as found is {grouping.label}.", *odd, warmth, _kept(now, coil))
        sentence = " ".join(filter(None, said))
        return Answer(sentence=sentence, table=coil_table(coil), caution=" ".join(warnings))

    def write(self):
        """Save the constants as they stand, dated today."""
        for panel in self._followed:
            panel.settle()
        now = self.job.read()
        coil, _ = self._estimates(now)
        self._follows_logs = False  # from now on they are the reader's
        self._save(now, coil)
        self.redraw()
        self.message.say(
            f"Saved in the job {self.job.name}. Press “Run the page” to let the numbers of the page "
            "follow; next comes 03_what_turns_it."
        )

    def _save(self, now, coil):
        worked_out_for = facts_worked_out_for(now.stator)
        part = CoilPart(**coil.fields, **worked_out_for, date=date.today().isoformat())
        self.job.save_part("coil", part)
        return part


def _is_whole(logs, found):
    """Whether each of the three logs has rows enough, and none that has to be mended or looked at first."""
    if any(reading.refusal for log in (logs.spin, logs.shorted, logs.ohms) for reading in log):
        return False
    fits = (found.emf_fit, found.ohms_fit, found.inductance_fit)
    return all(fit and len(fit.used_rows) >= _WHOLE and not fit.odd_rows for fit in fits)


def _same(kept, coil):
    return kept is not None and all(getattr(kept, name) == value for name, value in coil.fields.items())


def constants_at_leads(job, where, *, keep_all=False):
    """What the leads show by the three logs of a job; `BadInput` at `where` says what is missing."""
    missing = missing_for_constants(job)
    if missing:
        raise BadInput(
            missing,
            "stator facts, a usable spin row and a usable ohms row are needed",
            "fill in what is missing",
            where=where,
        )
    part = job.stator
    return terminal_constants(
        bench_logs(job, part), part.to_stator(), conductor=part.conductor, magnet=part.magnet, keep_all=keep_all
    )


def missing_for_constants(job):
    """What a job still lacks for the constants of a coil, in plain words; empty when nothing is missing."""
    if job.stator is None:
        return "the slots and poles are not known (01_know_your_stator)"
    logs = bench_logs(job)
    named = {"spin": "the spin log above", "ohms": "the ohms log (01_know_your_stator)"}
    return " and ".join(filter(None, (unusable_words(getattr(logs, log), words) for log, words in named.items())))


def _kept(job, coil):
    kept = job.coil
    if kept is None:
        return "The job holds no constants yet: press the button below."
    if stale_words(job):
        then, now = kept.changes(job.stator)
        return (
            f"The job holds constants worked out for {then}, but the stator facts now say {now}: press the "
            "button to renew them."
        )
    if _same(kept, coil):
        return "The job holds these constants."
    return "The job holds other constants: press the button to renew them."


def describe_coil(coil):
    """The constants of one coil in a sentence.

    Parameters
    ----------
    coil : CoilEstimates
        The constants.

    Returns
    -------
    str
        EMF, ohms and inductance with their ±.
    """
    henry = coil.henry.times(1000, unit="mH")
    return f"One coil makes {coil.emf_v_per_rpm} rms and has {coil.ohm} at {say(20, '°C')} and {henry}."


def coil_table(coil):
    """The constants of one coil with where they come from, one line for each."""
    lines = (
        ("EMF, rms [V/rpm]", coil.emf_v_per_rpm),
        (f"resistance at {say(20, '°C')} [Ω]", coil.ohm),
        ("inductance [mH]", coil.henry.times(1000, unit="mH")),
    )
    rows = tuple((name, f"{found.value:.4g}", f"{found.plus_minus:.2g}", filled(found.how)) for name, found in lines)
    return Table(columns=("of one coil", "value", "± 95 %", "where it comes from"), rows=rows)
