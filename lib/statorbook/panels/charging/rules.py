"""Panel of chapter 07: the rules in words, a bench to try them on, and the logs in which the reader edits a copy."""

from statorbook.charging import (
    INPUT_WORDS,
    MEASURED,
    OUTPUT_NAMES,
    OUTPUTS,
    read_control,
    rows_of_relays,
    rows_of_rules,
    rule_words,
    rules_of,
)
from statorbook.errors import count_of
from statorbook.panels.charging.page import ChargingPanel
from statorbook.panels.charging.rule_bench import RuleBench
from statorbook.panels.measuring.job_log import log_grid, row_verdict
from statorbook.quantities import holds_anything, say
from statorbook.widgets import Answer, Table, button, html, require_own

RULES, RELAYS = "control_rules", "control_relays"
_HEADS = {"on_at": "Limit [V, A, °C or rpm]", "off_at": "Lets go at [same unit]", "only_if": "Only if [names, commas]"}
_COLUMNS = ("rule", "now", "what it does", "why")
_CAPTION = "Rules from top to bottom, as the controller works through them; bold: it holds at these readings."
LAW = (
    "Rules are no protection: fuses, the cylinder's own thermostat and pressure valve, the volts relay with wires of "
    "its own and the source's own stop act without them. Local electrical codes and a licensed electrician decide what "
    "has to be fitted."
)


class RulesPanel(ChargingPanel):
    """What the rules do in words, tried on a bench, and edited as a copy in two logs.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    message_lines = 3  # a rule refused for a name has a long sentence

    def __init__(self, page):
        self.page, self._begun = page, set()
        self._rows = {name: page.job.read_log(name) for name in (RULES, RELAYS)}
        self.bench = RuleBench(page.system, _first_readings(page.plan(ready=True)), self.redraw)
        words = {"output": OUTPUT_NAMES}
        self.grids = {
            RULES: log_grid(page.job, RULES, self._judged(RULES), words=words | {"input": INPUT_WORDS}, heads=_HEADS),
            RELAYS: log_grid(page.job, RELAYS, self._judged(RELAYS), words=words),
        }
        actions = {"Let the readings last again": self.again, "Switch the controller off and on": self.restart}
        super().__init__(page, inputs=[self.bench], actions=actions, table_px=420, sentence_lines=12)
        copy = button("Copy the ready rules into the logs", self.guarded(lambda pressed: self.copy_ready()))
        rules, relays = (self.grids[name].widget for name in (RULES, RELAYS))
        # A relay that goes makes its rules unusable: they stand below it, so that nothing moves under the hand.
        logs = [_heading("Your relays"), relays, _heading("Your rules, from top to bottom"), rules]
        self.widget.children = (*self.widget.children, copy, *logs)

    def answer(self):
        """The rules in words, and what holds at the readings of the bench."""
        plan = self.page.plan(ready=True)
        rules, assumed = rules_of(*self._both(), plan.rules)
        tried, on, readings = self.bench.take(rules)
        outputs = [OUTPUTS[name].words for name, is_on in on.items() if is_on]
        lines = (
            self.whose(_what_stands(rules)),
            f"{_at(readings, tried)}, for {self.bench.lasting_words}: {_listed(outputs)} on.",
            f"Assumed: {'; '.join(assumed)}." if assumed else "",
        )
        return Answer(
            sentence="\n".join(filter(None, lines)),
            headline={"on": ", ".join(outputs) or "nothing"},
            table=_table(rules, tried.held),
            caution=LAW,
        )

    def again(self):
        """Let the readings of the bench last once more."""
        self.bench.again()
        self.redraw()

    def restart(self):
        """Switch the controller of the bench off and on, and let the readings last."""
        self.bench.restart()
        self.redraw()

    def copy_ready(self):
        """Put the ready rules and their relays into the logs, in the place of what is there."""
        require_own(
            self.page.shown, "ready rules of your own plant", "fill in the pages before this one", "ready rules"
        )
        ready = self.page.plan(ready=True).rules
        said = "The ready rules stand here now; “Undo” brings back what was there."
        self.grids[RELAYS].add_rows(rows_of_relays(ready), said, replace=True)
        self.grids[RULES].add_rows(rows_of_rules(ready), said, replace=True)

    def in_units(self, system):
        """Tell everything in other units, bench and logs too.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.guarded(lambda: self.bench.in_units(system))()
        for grid in self.grids.values():
            grid.in_units(system)
        super().in_units(system)

    def _both(self):
        """Rows of both logs: the reader's own, or those of the job that is shown while nothing is typed."""
        typed = [self._rows[name] for name in (RULES, RELAYS)]
        if self.page.shown is not self.page.job and not any(map(holds_anything, typed)):
            typed = [self.page.now.read_log(name) for name in (RULES, RELAYS)]
        return typed

    def _judged(self, log):
        """What judges the rows of a log; what is said of the other one may change by it, and every panel may."""

        def judge(rows):
            self._rows[log] = rows
            read = read_control(*self._both(), self.page.plan(ready=True).rules)
            if log in self._begun:
                self._begun.clear()
                self._saved(all(reading.usable for reading in (*read.rules, *read.relays)))
                self.grids[RELAYS if log == RULES else RULES].judge()
                self._begun.update(self.grids)
            self._begun.add(log)
            return {reading.row: row_verdict(reading) for reading in (read.rules if log == RULES else read.relays)}

        return judge

    def _saved(self, usable):
        """Show what a saved cell changes; a row that is half typed yet is not told to the other panels."""
        if usable:
            self.page.tell()
        else:
            self.page.read()
        self.redraw()


def _first_readings(plan):
    """A quiet day: the bank between return and float, the source at work."""
    points, working = plan.points, plan.plant.working.speed_rpm
    return {
        "bank_volts": round(0.5 * (points.return_volts + points.float_volts), 1),
        "bank_amps": 0.0,
        "cell_c": 20.0,
        "water_c": 30.0,
        "air_c": 15.0,
        "speed_rpm": round(working) if working == working else 0,
    }


def _what_stands(rules):
    count = f"{count_of(len(rules.rules), 'rule')} for {count_of(len(rules.relays), 'relay')}."
    return f"{rules.words} {count}" if rules.words else f"Your own rules: {count}"


def _at(readings, tried):
    said = [
        f"{MEASURED[name].words} {say(value, MEASURED[name].unit, form='.5g')}"
        for name, value in readings.items()
        if name in MEASURED
    ]
    if "bank_volts" in readings and tried.rules.compensation_code:
        said.insert(1, f"as at 25 °C {tried.compensated_volts:.2f} V")
    return "At " + ", ".join(said) if said else "Now"


def _listed(words):
    """Such as "the inverter and the first dump load are"."""
    named = [f"the {word}" for word in words]
    if len(named) < 2:
        return f"{named[0] if named else 'nothing'} is"
    return f"{', '.join(named[:-1])} and {named[-1]} are"


def _table(rules, held):
    rows = tuple((rule.name, "holds" if held[rule.name] else "", rule_words(rule), rule.note) for rule in rules.rules)
    marks = tuple("chosen" if held[rule.name] else "" for rule in rules.rules)
    return Table(columns=_COLUMNS, rows=rows, marks=marks, caption=_CAPTION)


def _heading(words):
    return html(f"<h4>{words}</h4>")
