"""What the panels of the three bench logs share: each cell is saved, then judged, then fitted and drawn."""

from dataclasses import dataclass, field

from statorbook.assembly import choose_sessions, sessions_used, units_for
from statorbook.bench import ALL, session_options, sessions_words
from statorbook.cautions import text_of, together
from statorbook.errors import BadInput
from statorbook.fits import Fit, rows_in_words
from statorbook.panels.measuring.job_log import file_notes, log_grid, row_verdict
from statorbook.widgets import Answer, Panel, Table, choice, stacked, tick

NO_STATOR = (
    "Your readings are kept as typed, but they cannot be judged before the slots and poles are known: fill "
    "them in on page 01_know_your_stator, then press “Run the page” here."
)
NOTHING_YET = "No reading yet: type the first row. Every cell is on the disk as soon as you leave it."


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A log as it stands: its readings, and the fit or what stands in its way.

    Parameters
    ----------
    readings : tuple of Reading
        Every row that holds anything, bad rows included.
    fit : Fit or None
        The fit; None when there is none yet.
    missing : str
        In plain words why there is no fit; empty when there is one.
    remarks : tuple of str
        Sentences about the log that are no part of the fit, such as a session that is off.
    ahead : dict of int to str
        By row number, a caution about a reading that is not taken yet.
    """

    readings: tuple = ()
    fit: Fit | None = None
    missing: str = ""
    remarks: tuple = ()
    ahead: dict = field(default_factory=dict)

    @property
    def verdicts(self):
        """What is to be said about each row, by its number."""
        odd = {row.row: row.sentence for row in self.fit.odd_rows} if self.fit else {}
        return {each.row: row_verdict(each, odd.get(each.row), self.ahead.get(each.row)) for each in self.readings}


class LogPanel(Panel):
    """The grid of one log with its fit; subclass it, name its log, and write `look` and `headline`.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    figure : KeptFigure or None
        Drawn by `draw`; no picture when None.
    follows : sequence of Panel
        Panels of this page whose logs or meters the fit uses too.
    sentence_lines : int
        Lines kept for the sentence and the caution [-].
    """

    log, draw, chooses_sessions = "", None, True
    exposures = ()  # what taking a row exposes hands to

    def __init__(self, job, *, figure=None, follows=(), sentence_lines=3):
        self.job = job.reopen()
        self._figure, self._followers, self._complete, self._offering = figure, [], False, False
        self.keep_all, self.sessions = use_every_row(), choice("Sessions used", [ALL], ALL)
        self._notes = file_notes(self.job, self.log)
        self.grid = log_grid(self.job, self.log, self._judge)
        self.keep_all.observe(self.guarded(lambda change: self.grid.judge()), "value")
        self.sessions.observe(self.guarded(self._choose_sessions), "value")
        super().__init__(
            system=units_for(self.job),
            inputs=[self.grid, stacked([self.keep_all, self.sessions])],
            sentence_lines=sentence_lines,
            picture_px=figure.height_px if figure else 0,
        )
        self._complete = True
        for panel in follows:
            panel.follow(self.grid.judge)

    def look(self, rows):
        """Read and fit the log; every log panel writes its own.

        Parameters
        ----------
        rows : list of dict of str to str
            The log as typed.

        Returns
        -------
        Judged
            Readings and fit.
        """
        raise NotImplementedError(f"{type(self).__name__} does not say how its log is read")

    def headline(self, fit):
        """The result in a sentence; every log panel writes its own.

        Parameters
        ----------
        fit : Fit
            The fit.

        Returns
        -------
        str
            A sentence with numbers and units.
        """
        raise NotImplementedError(f"{type(self).__name__} does not say what its fit means")

    def follow(self, call):
        """Let something else know after each change.

        Parameters
        ----------
        call : callable
            Called without arguments once the change is saved and shown here.
        """
        self._followers.append(call)

    def answer(self):
        """The fit of the log as it stands.

        Returns
        -------
        Answer
            Sentence, picture, balance of the pairs, warnings.
        """
        found = self._found
        pictures = ()
        said = found.missing or together(self.headline(found.fit), _rows_said(found, self.keep_all.value))
        sentence = together(said, sessions_words(found.readings))
        if self._figure:
            self._figure.draw(type(self).draw, found.readings, found.fit)
            pictures = (self._figure.svg(f"{self.log.capitalize()} log. {text_of(sentence)}"),)
        if found.fit is None:
            return Answer(
                sentence=sentence,
                pictures=pictures,
                caution=" ".join((*self._notes, *found.remarks)),
                exposures=self.exposures,
            )
        return Answer(
            sentence=sentence,
            pictures=pictures,
            table=balance_table(found.fit.pair_ratios),
            caution=" ".join((*self._notes, *found.fit.warnings, *found.remarks)),
            exposures=self.exposures,
        )

    def _judge(self, rows):
        try:
            self._found = self.look(rows)
            self._offer_sessions()
        except BadInput as refusal:  # another file of the job is damaged; this log is saved all the same
            self._found = Judged(missing=f"Your readings are kept, but nothing can be worked out now – {refusal}")
        if self._complete:
            self.redraw()
            for call in self._followers:
                call()
        return self._found.verdicts

    def _offer_sessions(self):
        """Let the reader choose among the sessions there are; what was chosen stays, whatever became of its rows."""
        chosen = sessions_used(self.job, self.log) if self.chooses_sessions else ALL
        options = session_options(self._found.readings)
        options = options if chosen in options else [*options, chosen]
        self._offering = True
        try:
            if self.sessions.options != tuple((each, each) for each in options):
                self.sessions.options = [(each, each) for each in options]
            self.sessions.value = chosen
        finally:
            self._offering = False
        self.sessions.layout.display = None if self.chooses_sessions and len(options) > 1 else "none"

    def _choose_sessions(self, change):
        if not self._offering:
            choose_sessions(self.job, self.log, self.sessions.value)
            self.grid.judge()


def use_every_row():
    """The box that lets odd rows into the fit.

    Returns
    -------
    ipywidgets.Checkbox
        Not ticked.
    """
    box = tick("Use every row, also the odd ones")
    box.indent, box.layout.width = False, "auto"
    return box


def why_no_fit(readings):
    """Say why a log cannot be fitted yet.

    Parameters
    ----------
    readings : sequence of Reading
        Every row that holds anything.

    Returns
    -------
    str
        A sentence; empty when at least one row can be used.
    """
    if any(reading.usable for reading in readings):
        return ""
    if not readings:
        return NOTHING_YET
    rows = rows_in_words(len(readings))
    return f"None of the {rows} can be used yet; the words below each row say why. Nothing is lost."


def balance_table(ratios):
    """How the pairs of leads compare.

    Parameters
    ----------
    ratios : dict of str to Estimate
        From `Fit.pair_ratios`.

    Returns
    -------
    Table or None
        One line per pair; None when there are fewer than two.
    """
    if not ratios:
        return None
    rows = tuple(
        (pair, f"{100 * (ratio.value - 1):+.1f}", f"{100 * ratio.plus_minus:.1f}")
        for pair, ratio in sorted(ratios.items())
    )
    return Table(
        columns=("pair of leads", "off the mean of the pairs [%]", "± 95 % [%]"),
        rows=rows,
        caption="Balance of the pairs: more than 3 % and more than its ± points at a fault.",
    )


def _rows_said(found, keep_all):
    """Which rows went into the fit, and what the others would change."""
    fit, count = found.fit, len(found.readings)
    chosen = "every usable row is used, as you ticked" if keep_all else f"{len(fit.used_rows)} of {count} rows are used"
    odd = fit.sentences[: len(fit.sentences) - len(fit.warnings)]
    return " ".join((f"{chosen[:1].upper()}{chosen[1:]}.", *odd))
