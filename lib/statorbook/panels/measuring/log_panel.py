"""What the panels of the three bench logs share: each cell is saved, then judged, then fitted and drawn."""

from dataclasses import dataclass, field
from functools import cached_property

from statorbook.assembly import choose_sessions, sessions_used, units_for
from statorbook.bench import ALL_SESSIONS, session_options, sessions_words
from statorbook.cautions import text_of, together
from statorbook.errors import BadInput, count_of
from statorbook.fits import Fit
from statorbook.panels.measuring.job_log import file_notes, log_grid, row_verdict
from statorbook.widgets import Answer, OnceAtRest, Panel, Table, choice, tick

NO_STATOR = (
    "Your readings are kept as typed, but they cannot be judged before the slots and poles are known: fill "
    "them in on page 01_know_your_stator, then press “Run the page” here."
)
NOTHING_YET = "No reading yet: type the first row. Every cell is on the disk as soon as you leave it."


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A log as it stands: its readings, and the fit or what stands in its way."""

    readings: tuple = ()  # every row that holds anything, bad rows included
    fit: Fit | None = None
    missing: str = ""  # in plain words why there is no fit
    remarks: tuple = ()  # sentences that are no part of the fit, such as a session that is off
    ahead: dict = field(default_factory=dict)  # by row number, a caution about a reading that is not taken yet

    @property
    def verdicts(self):
        """What is to be said about each row, by its number."""
        odd = {row.row: row.sentence for row in self.fit.odd_rows} if self.fit else {}
        return {row.row: row_verdict(row, odd.get(row.row), self.ahead.get(row.row)) for row in self.readings}


class FollowedPanel(Panel):
    """A panel that lets others of its page know after each change."""

    _followers, _followed = (), ()

    def follow(self, call):
        """Call something after each change, once it is saved and shown here."""
        self._followers = (*self._followers, call)

    def tell(self):
        """Tell them once the hand rests: a row that is being typed must not wait for what stands below its panel."""
        self._telling.ask()

    def settle(self):
        """Tell now what waits for the hand to rest, from the top of the page down: a button below was pressed."""
        for panel in self._followed:
            panel.settle()
        self._telling.now()

    @cached_property
    def _telling(self):
        return OnceAtRest(self._tell_followers, lambda: (self,))

    def _tell_followers(self):
        for call in self._followers:
            call()


class LogPanel(FollowedPanel):
    """The grid of one log with its fit, `found`; subclass it, name its log, and write `_look` and `_headline`."""

    log, draw, chooses_sessions = "", None, True
    exposures = ()  # what taking a row exposes hands to

    def __init__(self, job, *, figure=None, follows=(), sentence_lines=3):
        self.job = job.reopen()
        self._figure, self._complete, self._offering = figure, False, False
        self.keep_all, self.sessions = use_every_row(), choice("Sessions used", [ALL_SESSIONS], ALL_SESSIONS)
        self._notes = file_notes(self.job, self.log)
        self.grid = log_grid(self.job, self.log, self._judge, in_turn=self._in_turn())
        self.keep_all.observe(self.guarded(lambda change: self.grid.judge()), "value")
        self.sessions.observe(self.guarded(self._choose_sessions), "value")
        super().__init__(
            system=units_for(self.job),
            inputs=[self.grid, [self.keep_all, self.sessions]],
            sentence_lines=sentence_lines,
            picture_px=figure.height_px if figure else 0,
        )
        self._complete = True
        self._followed = tuple(follows)
        for panel in follows:
            panel.follow(self.grid.judge)

    def _in_turn(self):
        """Words that new rows begin with one after the other, by column, where only the job knows them."""
        return {}

    def _look(self, rows):
        """Read and fit the log; every log panel writes its own."""
        raise NotImplementedError(f"{type(self).__name__} does not say how its log is read")

    def _headline(self, fit):
        """The result in a sentence; every log panel writes its own."""
        raise NotImplementedError(f"{type(self).__name__} does not say what its fit means")

    def answer(self):
        """The fit of the log as it stands."""
        found, pictures = self.found, ()
        said = found.missing or together(self._headline(found.fit), _rows_said(found, self.keep_all.value))
        sentence = together(said, sessions_words(found.readings))
        if self._figure:
            self._figure.draw(type(self).draw, found.readings, found.fit)
            pictures = (self._figure.svg(f"{self.log.capitalize()} log. {text_of(sentence)}"),)
        warnings = found.fit.warnings if found.fit else ()
        return Answer(
            sentence=sentence,
            pictures=pictures,
            table=balance_table(found.fit.pair_ratios) if found.fit else None,
            caution=" ".join((*self._notes, *warnings, *found.remarks)),
            exposures=self.exposures,
        )

    def _judge(self, rows):
        try:
            self.found = self._look(rows)
            self._offer_sessions()
        except BadInput as refusal:  # another file of the job is damaged; this log is saved all the same
            self.found = Judged(missing=f"Your readings are kept, but nothing can be worked out now – {refusal}")
        if self._complete:
            self.redraw()
            self.tell()
        return self.found.verdicts

    def _offer_sessions(self):
        """Let the reader choose among the sessions there are; what was chosen stays, whatever became of its rows."""
        chosen = sessions_used(self.job, self.log) if self.chooses_sessions else ALL_SESSIONS
        options = session_options(self.found.readings)
        options = options if chosen in options else [*options, chosen]
        self._offering = True
        try:
            if self.sessions.options != tuple((option, option) for option in options):
                self.sessions.options = [(option, option) for option in options]
            self.sessions.value = chosen
        finally:
            self._offering = False
        self.sessions.layout.display = None if self.chooses_sessions and len(options) > 1 else "none"

    def _choose_sessions(self, change):
        if not self._offering:
            choose_sessions(self.job, self.log, self.sessions.value)
            self.grid.judge()


def use_every_row():
    """The box that lets odd rows into the fit."""
    box = tick("Use every row, also the odd ones")
    box.indent, box.layout.width = False, "auto"
    return box


def why_no_fit(readings):
    """Why a log cannot be fitted yet, in a sentence; empty when at least one row can be used."""
    if any(reading.usable for reading in readings):
        return ""
    if not readings:
        return NOTHING_YET
    rows = count_of(len(readings), "row")
    return f"None of the {rows} can be used yet; the words below each row say why. Nothing is lost."


def balance_table(ratios):
    """How the pairs of leads compare, one line per pair; None when there are fewer than two."""
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
