"""Panel of chapter 07: days of the plant, second by second, with what the reader lets go wrong on them."""

from dataclasses import replace
from functools import partial

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
    switched_words,
    verdict_words,
)
from statorbook.figures import draw_charging_days
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.charging.known_days import KnownDays
from statorbook.panels.charging.page import ChargingPanel
from statorbook.panels.charging.slices import Slices
from statorbook.quantities import reader_units, say
from statorbook.widgets import Answer, Table, button, choice, slider, stacked

DROP, CLEAR = "Drop it in", "Take all out again"
LAW = (
    "Worked out, not tried: never bring any of this about to see it. What the days show holds for the plan as typed, "
    "and a second is the shortest that they know. Local electrical codes decide what is fitted, and a licensed "
    "electrician."
)
MOST_DAYS, _FIRST_DAYS = 28, 3
_CHARGE_STEP = 5  # percent
AHEAD_DAYS = 28  # worked out for the next stops of the charge
_REST_S = 0.3  # nobody who is still moving a slider pauses longer
_SAID = 20  # times that the progress is told
_COLDER_K = 20.0
_WORKING = "Being worked out anew; until then the days before the last change."
_SO_FAR = "The days after day {} are being worked out; until then what holds so far."
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
        self._events, self._told, self._planned = (), None, (None, None, None)
        self._stood, self._stride = None, (0, 0)  # charge and days, and how far the last move went
        self.known, self.slices = KnownDays(MOST_DAYS), Slices(partial(self.message.guarded, on_failure=self._say))
        self.figure = KeptFigure(rows=3, height_in=6.6, height_ratios=[2, 1, 2])
        self.days = slider("Days", _FIRST_DAYS, 1, MOST_DAYS, step=1)
        self.charge = slider("Charge at the start", 70, 0, 100, step=_CHARGE_STEP, unit="%")
        with reader_units(page.system):
            self.kind = choice("Drop in", _kinds(), TRIP)
        self.target = choice("Of", [("–", "")], "")
        self.day = slider("On day", 1, 1, MOST_DAYS, step=1)
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
        self.known.forget_answers()
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

    def _run(self, charge):
        """The days from a charge at the start, of which some may be worked out."""
        return self.known.of(self._plan(), self._events, charge / 100.0)

    def _steps(self, run, days):
        """Go on with a run up to some days, a few hours at each step, and show how far it is."""
        while run.days < days:
            run.go_on()
            self._show_progress(min(1.0, run.done_s / (days * 86_400)))
            yield

    def _work_out(self, run, days):
        """The steps to what is wanted, and then show it."""
        yield from self._steps(run, days)
        self.redraw()

    def _show_progress(self, share):
        share = int(share * _SAID) / _SAID
        self.progress.value = share
        self.progress.layout.visibility = "visible" if share < 1.0 else "hidden"

    def answer(self):
        """The days as they are known; those that are not yet are worked out between the moves, the last wanted only."""
        with self.slices.lock:
            self.slices.drop()
            charge, days = int(self.charge.value), int(self.days.value)
            run, following = self._run(charge), self._following(charge, days)
            if self._told is None:
                for _ in self._steps(run, days):
                    pass
            elif run.days < days:
                self._show_progress(run.done_s / (days * 86_400))
                self.slices.begin(self._work_out(run, days))
            if run.days < days:
                return self._meanwhile(run, days)
            self._show_progress(1.0)
            self._told = run, days, self._whole(run, days)
            self.slices.begin_ahead(self._ahead(charge, days, following))
            return self._told[2]

    def _following(self, charge, days):
        """Charge and days after one more move like the last one; None where that is none."""
        if self._stood and self._stood != (charge, days):
            self._stride = charge - self._stood[0], days - self._stood[1]
        self._stood = charge, days
        following = charge + self._stride[0], days + self._stride[1]
        return following if 0 <= following[0] <= 100 and 1 <= following[1] <= MOST_DAYS else None

    def _ahead(self, charge, days, following):
        """What the next move may ask for: one more like the last, then other days, then other charges at the start."""
        run = self._run(charge)
        if following:
            yield from self._reached(self._run(following[0]), following[1])
        while run.days < MOST_DAYS:
            run.go_on()
            yield
        yield _REST_S  # a picture takes longer than a moving hand should wait
        for other in sorted(range(1, MOST_DAYS + 1), key=lambda other: abs(other - days)):
            yield from self._reached(run, other)
        stops = sorted(range(0, 101, _CHARGE_STEP), key=lambda stop: abs(stop - charge))
        for stop in stops[1 : 1 + AHEAD_DAYS // days]:
            yield from self._reached(self._run(stop), days)

    def _reached(self, run, days):
        """The steps until the answer for some days is there."""
        while run.days < days:
            run.go_on()
            yield
        if days not in run.answers:
            self._whole(run, days)
            yield

    def _meanwhile(self, run, days):
        """What is known before all that is wanted is: the first days, or else those before the change, greyed."""
        old, old_days, told = self._told
        if run.days:
            found = run.first(run.days)
            sentence = f"{_SO_FAR.format(run.days)}\n{self._words(run, found)}"
            return replace(told, sentence=sentence, pictures=(self._picture(run, found, sentence, days),), busy=True)
        sentence = f"{_WORKING}\n{told.sentence}"
        pictures = told.pictures if old_days == days else (self._picture(old, old.first(old_days), sentence, days),)
        return replace(told, sentence=sentence, pictures=pictures, busy=True, aged=True)

    def _words(self, run, found):
        lines = (
            verdict_words(run.plan, found),
            flow_words(found),
            comfort_words(run.plan, found),
            switched_words(found),
            _events_words(found),
            run.plan.course.words,
        )
        return self.whose("\n".join(filter(None, lines)))

    def _picture(self, run, found, sentence, days=None):
        self.figure.draw(draw_charging_days, run.plan, found, days=days)
        return self.figure.svg(f"Volts, charge and watts over the days. {sentence}")

    def _whole(self, run, days):
        """The answer for days that are worked out, written once."""
        if days not in run.answers:
            found = run.first(days)
            sentence = self._words(run, found)
            run.answers[days] = Answer(
                sentence=sentence,
                headline={
                    "highest": say(found.highest_bank_volts, "V", form=".1f"),
                    "lowest": say(found.lowest_bank_volts, "V", form=".1f"),
                    "source": kwh_words(found.wh["source"]),
                },
                pictures=(self._picture(run, found, sentence),),
                table=_table(found),
                caution=LAW,
            )
        return run.answers[days]


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
