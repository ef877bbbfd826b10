"""Panel of chapter 05: what the meter should say at every step, and the log of what it did say."""

from html import escape

from statorbook.assembly import BENCH_C, HAND_RPM, checks_for, units_for
from statorbook.cautions import exposures_of, text_of, together
from statorbook.errors import BadInput
from statorbook.job import Drafts
from statorbook.panels.measuring.job_log import file_notes, log_grid
from statorbook.panels.rewiring.check_table import check_table
from statorbook.quantities import holds_anything
from statorbook.rewiring import ParallelLimit
from statorbook.rewiring.checks import (
    check_groups,
    compare_readings,
    doubts,
    latest_of,
    numbered,
    read_checks,
    stops,
    verdict_words,
)
from statorbook.rewiring.faults import place_named, places_to_measure
from statorbook.widgets import Answer, NumberField, Panel, html, keep_fields

NO_PLAN = (
    "No plan yet: choose a grouping on page 04_choose_a_grouping and plan its cuts and joins. "
    "What you type below is kept all the same."
)
NO_COIL = (
    "The checks are worked out from the coil's constants: fill in page 02_spin_and_log first. "
    "What you type below is kept all the same."
)
CAUTION = "Turn by hand or by a slow drill only; coils in series bite at any speed: clip on at rest, then hands off."
_PLAN_TABLE_PX = 420


class MeterChecks(Panel):
    """The checks of a plan, and the log of the readings; `finder` makes an `Answer` of those of the new winding."""

    log = "checks"
    table_fold = "What the readings of the new winding leave open"

    def __init__(self, job, plan=None, *, finder=None):
        self.job = job.reopen()
        self.finder, self._plan, self._complete = finder, plan, False
        kept, system = self.job.plan, units_for(self.job)
        warmth = kept.copper_c if kept else BENCH_C
        limits = {"at_least": -20, "at_most": 60, "system": system}
        self.copper = NumberField("Winding temperature today", "°C", warmth, **limits)
        self.speed = NumberField("Hand speed", "rpm", kept.hand_rpm if kept else HAND_RPM, at_least=5, at_most=600)
        self.plan_table = html()
        self._readings, self._compared, self._refusal = (), (), ""
        keep_fields({"copper_c": self.copper, "hand_rpm": self.speed}, Drafts(job.folder, self.log), self.guarded)
        self._prepare()
        self._notes = file_notes(self.job, self.log)
        self.grid = log_grid(self.job, self.log, self._judge)
        for field in (self.copper, self.speed):
            field.observe(self.guarded(lambda change: self._renew()), "value")
        super().__init__(
            system=system, inputs=[[self.copper, self.speed], self.plan_table, self.grid], sentence_lines=5
        )
        self._complete = True

    def show(self, plan):
        """Take another plan; None when there is none."""
        self._plan = plan
        self._renew()

    def answer(self):
        """How many readings agree, which do not, and whether it is safe to go on."""
        notes = " ".join(self._notes)
        if not self.checks:
            return Answer(sentence=self._missing(), caution=notes)
        if self._refusal:
            raise self._refusal
        stop, doubt = (tell(self._compared, self.limit.share) for tell in (stops, doubts))
        said, table = [self._count(), self._next(stop, doubt)], None
        telling = self._telling()
        if self.finder and telling:
            found = self.finder(telling)
            said.append(found.sentence)
            table = found.table
        return Answer(
            sentence=together(*said),
            table=table,
            caution=" ".join((*map(text_of, stop), *doubt, CAUTION, notes)).strip(),
            exposures=exposures_of(stop),
        )

    def _missing(self):
        return NO_PLAN if self._plan is None else NO_COIL

    def _prepare(self):
        """Work out the checks anew."""
        self.checks, self._by_hz, self.limit, self._refusal, self._groups = (), (), ParallelLimit(), "", ()
        now = self.job.read()
        if self._plan is None or now.coil is None or now.stator is None:
            return
        try:
            at = (self.copper.read(), self.speed.read())
        except BadInput as refusal:
            self._refusal, at = refusal, (BENCH_C, HAND_RPM)
        self._rpm = at[1]
        made = checks_for(now, self._plan, *at)
        self.checks, self._by_hz, self.limit = made.checks, made.by_hz, made.limit
        self._groups = check_groups(self.checks, self._plan.wired)

    def _renew(self):
        self._prepare()
        self.grid.judge()

    def _judge(self, rows):
        self._readings, self._compared = (), ()
        if self._plan is not None and holds_anything(rows):
            self._readings = read_checks(rows, self._plan.wired)
        if self.checks:
            self._compared = compare_readings(self.checks, self._readings, self._rpm, checks_by_hz=self._by_hz)
        limit = self.limit.reason if self._groups and self._plan.grouping.parallel > 1 else ""
        shown = check_table(self._groups, latest_of(self._compared), _PLAN_TABLE_PX) if self._groups else ""
        self.plan_table.value = shown + (f"<div>Paths side by side: {escape(limit)}</div>" if limit else "")
        if self._complete:
            self.redraw()
        return {reading.row: verdict_words(reading, self._compared) for reading in self._readings}

    def _telling(self):
        """Readings of the winding to be: not as found, not across an open joint, not to the iron."""
        as_found = {verdict.reading.row for verdict in self._compared if verdict.check.step == 0}
        wired = self._plan.wired
        known = places_to_measure(wired)
        usable = [reading for reading in self._readings if reading.usable and reading.row not in as_found]
        return tuple(reading for reading in usable if place_named(wired, reading.probe.name).name in known)

    def _count(self):
        asked = [number for number, _ in numbered(self.checks) if number]
        latest = latest_of(self._compared)
        off = [verdict for verdict in latest if not verdict.good]
        bad = sum(not reading.usable for reading in self._readings)
        said = f"{len(latest)} of {len(asked)} checks are read, {len(latest) - len(off)} agree."
        if len(latest) == len(asked) and not off:
            said = f"All {len(asked)} checks agree."
        if off:
            said += f" Not as they should be: {'; '.join(verdict.words for verdict in off)}."
        if bad:
            said += f" {bad} {'row' if bad == 1 else 'rows'} cannot be used; the words below each say why."
        return f"{said} {self.limit.reason}" if off and self._plan.grouping.parallel > 1 else said

    def _next(self, stop, doubt):
        if stop:
            return "Stop: read the warning below before anything more is joined."
        if doubt:
            return "Settle the doubt below before anything more is joined."
        if any(not verdict.good for verdict in self._compared):
            return "Find the reason before the next step."
        done = {verdict.check.key for verdict in self._compared}
        left = [check for number, check in numbered(self.checks) if number and check.key not in done]
        if not left:
            return "Take the first spin as the end of the table says."
        when = "before the first cut" if left[0].step == 0 else f"after step {left[0].step}"
        return f"Nothing read so far speaks against going on. Next, {when}: {left[0].name}, {left[0].expects}."
