"""Panel of chapter 07: days of the plant, second by second, with what the reader lets go wrong on them."""

from dataclasses import replace

import ipywidgets as W

from statorbook.charging import (
    COLD,
    FLOW_WORDS,
    INPUTS,
    KINDS,
    MEASURED,
    NEED_INPUT,
    NEED_OUTPUT,
    OUTPUTS,
    TRIP,
    YES_NO,
    Event,
    comfort_words,
    event_words,
    flow_words,
    found_again,
    kind_words,
    kwh_words,
    simulate,
    switched_words,
    verdict_words,
)
from statorbook.figures import draw_charging_days
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.charging.page import ChargingPanel
from statorbook.quantities import reader_units, say
from statorbook.widgets import Answer, Table, button, choice, slider, stacked, when_at_rest

DROP, CLEAR = "Drop it in", "Take all out again"
LAW = (
    "Worked out, not tried: never bring any of this about to see it. What the days show holds for the plan as typed, "
    "and a second is the shortest that they know. Local electrical codes decide what is fitted, and a licensed "
    "electrician."
)
_MOST_DAYS, _FIRST_DAYS = 28, 3
_AT_ONCE_DAYS = 3  # worked out while the hand still moves
_KEPT = 6  # runs that are not worked out again
_COLDER_K = 20.0
_WORKING = "Being worked out anew; until then the days before the last change."
_COLUMNS = ("where it went", "watt-hours", "share of the source")


class DaysPanel(ChargingPanel):
    """Let some days run, drop in what goes wrong, and see what the bank does and where every watt-hour went.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    table_fold = "Table: where every watt-hour went"

    def __init__(self, page):
        self._events, self._runs, self._told, self._planned = (), [], None, (None, None, None)
        self.figure = KeptFigure(rows=3, height_in=6.6, height_ratios=[2, 1, 2])
        self.days = slider("Days", _FIRST_DAYS, 1, _MOST_DAYS, step=1)
        self.charge = slider("Charge at the start", 70, 0, 100, step=5, unit="%")
        with reader_units(page.system):
            self.kind = choice("Drop in", _kinds(), TRIP)
        self.target = choice("Of", [("–", "")], "")
        self.day = slider("On day", 1, 1, _MOST_DAYS, step=1)
        self.hour = slider("At", 14, 0, 23.5, step=0.5, unit="h", digits=1)
        self.lasts = slider("For", 2, 0.5, 72, step=0.5, unit="h", digits=1)
        self.kind.observe(lambda change: self._offer_targets(), "value")
        self._offer_targets()
        self.progress = W.FloatProgress(value=1.0, min=0.0, max=1.0, layout=W.Layout(width="auto", height="12px"))
        event = [self.kind, self.target, self.day, self.hour, self.lasts]
        # Beside what they act on: under the picture they would be out of sight.
        acts = {DROP: self.drop_in, CLEAR: self.take_out}
        pressed = {words: button(words, self.guarded(lambda at, call=call: call())) for words, call in acts.items()}
        super().__init__(
            page,
            inputs=[self.days, self.charge, *event, list(pressed.values()), stacked([self.progress])],
            picture_px=self.figure.height_px,
            sentence_lines=14,
        )
        self.buttons |= pressed

    def in_units(self, system):
        """Tell everything in other units.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        kept = self.kind.value, self.target.value
        with self.together(), reader_units(system):
            self.kind.options = _kinds()
            self.kind.value, self.target.value = kept
        self._told = None
        super().in_units(system)

    def _offer_targets(self):
        """Let the second list hold what the kind can be about."""
        targets = _targets(self.kind.value)
        if tuple(value for _, value in targets) != tuple(value for _, value in self.target.options):
            self.target.options = targets
            self.target.value = targets[0][1]
        self.target.layout.display = "none" if targets == _NOTHING else None

    def drop_in(self):
        """Add what is chosen to the days."""
        begin = ((self.day.value - 1) * 24 + self.hour.value) * 3600.0
        colder = _COLDER_K if self.kind.value == COLD else 0.0
        event = Event(
            kind=self.kind.value,
            target=self.target.value,
            from_s=begin,
            until_s=begin + 3600.0 * self.lasts.value,
            amount=colder,
        )
        self._events = tuple(dict.fromkeys((*self._events, event)))
        if self.day.value > self.days.value:
            self.days.value = self.day.value  # which redraws
        else:
            self.redraw()

    def take_out(self):
        """Let the days run without anything that goes wrong."""
        self._events = ()
        self.redraw()

    def _plan(self):
        """The plan of the page, the same object as long as nothing was saved."""
        now, system, plan = self._planned
        if now is not self.page.now or system != self.page.system:
            plan = self.page.plan()
            self._planned = self.page.now, self.page.system, plan
        return plan

    def _wanted(self):
        return self._plan(), self._events, int(self.days.value), self.charge.value / 100.0

    def _run(self, wanted):
        """The days that were worked out for what is wanted, or None."""
        return next((found for known, found in self._runs if known[0] is wanted[0] and known[1:] == wanted[1:]), None)

    def _work_out(self, wanted):
        plan, events, days, charge = wanted
        found = simulate(plan, events, days=days, start_charge=charge, on_progress=self._show_progress)
        self._runs = [*self._runs[1 - _KEPT :], (wanted, found)]

    def _show_progress(self, share):
        self.progress.value = share
        self.progress.layout.visibility = "visible" if share < 1.0 else "hidden"

    def _work_out_at_rest(self, wanted):
        """Work it out unless something else is wanted by now."""
        now = self._wanted()
        if now[0] is wanted[0] and now[1:] == wanted[1:] and self._run(wanted) is None:
            self._work_out(wanted)
            self.redraw()

    def answer(self):
        """The days as they were worked out; those that are not yet, once the hand rests."""
        wanted = self._wanted()
        if self._run(wanted) is None:
            if self._told is None or wanted[2] <= _AT_ONCE_DAYS:
                self._work_out(wanted)
            else:
                self._show_progress(0.0)
                when_at_rest(self.guarded(lambda: self._work_out_at_rest(wanted)))
        found = self._run(wanted)
        if found is None:
            return replace(self._told[1], sentence=f"{_WORKING}\n{self._told[1].sentence}")
        if self._told is None or self._told[0] is not found:
            self._told = found, self._answer_of(wanted[0], found)
        return self._told[1]

    def _answer_of(self, plan, found):
        lines = (
            verdict_words(plan, found),
            flow_words(found),
            comfort_words(plan, found),
            switched_words(found),
            _events_words(found),
            plan.course.words,
        )
        sentence = "\n".join(filter(None, lines))
        self.figure.draw(draw_charging_days, plan, found)
        return Answer(
            sentence=self.whose(sentence),
            headline={
                "highest": say(found.highest_bank_volts, "V", form=".1f"),
                "lowest": say(found.lowest_bank_volts, "V", form=".1f"),
                "source": kwh_words(found.wh["source"]),
            },
            pictures=(self.figure.svg(f"Volts, charge and watts over the days. {sentence}"),),
            table=_table(found),
            caution=LAW,
        )


_NOTHING = [("–", "")]


def _kinds():
    """What can be dropped in, in words."""
    colder = f", {say(_COLDER_K, 'K', form='.0f')} colder"
    return [(f"{kind_words(kind)}{colder if kind == COLD else ''}", kind) for kind in KINDS]


def _targets(kind):
    """What a kind can be about."""
    if kind in NEED_INPUT:
        return [((MEASURED.get(name) or YES_NO[name]).words, name) for name in INPUTS]
    return [(output.words, name) for name, output in OUTPUTS.items()] if kind in NEED_OUTPUT else _NOTHING


def _events_words(found):
    said = "; ".join(event_words(event) for event in found.events)
    return f"Dropped in: {said}." if said else ""


def _table(found):
    """Where every watt-hour went; the sum is that of the source."""
    source = found.wh["source"]
    rows = [
        (FLOW_WORDS[name], kwh_words(wh), f"{100.0 * wh / source:.0f} %" if source > 0.0 else "–")
        for name, wh in found_again(found)
    ]
    rows.append(("in all: the source", kwh_words(source), "100 %" if source > 0.0 else "–"))
    for name, words in (("unserved", "asked for and not served"), ("spilled", "not taken: source stopped")):
        rows.append((words, kwh_words(found.wh[name]), "–"))
    caption = "A minus is what the bank gave out of what it had. What is next to nothing is left out."
    return Table(columns=_COLUMNS, rows=tuple(rows), caption=caption)
