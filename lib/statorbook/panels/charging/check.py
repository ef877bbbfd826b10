"""Panel of chapter 07: what becomes of the bank when one thing fails, and days that show each gap."""

from statorbook.charging import (
    OUTPUTS,
    SIDE_HEADS,
    SIDES,
    busiest_day,
    check_plan,
    check_words,
    fault_words,
    side_words,
    verdict_words,
)
from statorbook.figures import draw_charging_days
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.charging.page import ChargingPanel
from statorbook.quantities import say
from statorbook.widgets import Answer, Table, choice

SHOW = "Let two days show it"
_CAPTION = (
    "One thing fails at a time, beside an inverter that may be out and water and room that may be hot. Bold: as above. "
    "When the bank's fuse opens, the bank is out of it: what the volts at the machine do then stands on page 06."
)
LAW = (
    "Worked out, not tried: never bring a fault about to see it. A check finds what the rules leave open; it does not "
    "make them a protection: fuses, the cylinder's own thermostat and pressure valve, and a volts relay with wires of "
    "its own stay. Local electrical codes decide, and a licensed electrician."
)


class CheckPanel(ChargingPanel):
    """Hold the plan against every single fault, and let days show a gap.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    table_fold = "Table: every single fault"

    def __init__(self, page):
        self._plan, self._checked, self._days_shown, self._busiest = None, None, None, None
        self.figure = KeptFigure(rows=3, height_in=6.6, height_ratios=[2, 1, 2])
        self.fault = choice("What fails", [("–", 0)], 0)
        super().__init__(
            page,
            inputs=[self.fault],
            actions={SHOW: self.show_days},
            picture_px=self.figure.height_px,
            sentence_lines=9,
        )

    def show_days(self):
        """Let the days run that show the first gap of the fault that is chosen; none without one."""
        gaps = self._check().faults[self.fault.value].gaps
        if gaps:
            self._days_shown = self.fault.value, gaps[0].shown, gaps[0].simulated()
        else:
            self._days_shown = None
        self.redraw()

    def _check(self):
        """The check of the plan as saved, worked out once for the same plan; the list of faults follows it."""
        plan = self.page.plan()
        if plan is not self._plan:
            if plan != self._plan:
                self._checked, self._days_shown, self._busiest = check_plan(plan), None, None
                self._offer(self._checked)
            self._plan = plan
        return self._checked

    def _offer(self, checked):
        """Let the list hold every fault, those with a gap marked, the first of them chosen."""
        options = [(f"{'gap: ' if each.gaps else ''}{each.fault.words}", at) for at, each in enumerate(checked.faults)]
        first = next(
            (at for at, each in enumerate(checked.faults) if any(not gap.fault.is_unseen for gap in each.gaps)), 0
        )
        self.fault.options = options
        self.fault.value = first

    def answer(self):
        """How many faults are covered, the one that is chosen in words, and the table of all."""
        checked = self._check()
        each = checked.faults[self.fault.value]
        lines = [self.whose(check_words(checked)), fault_words(checked, each), *checked.remarks]
        pictures = ()
        if self._days_shown and self._days_shown[0] == self.fault.value:
            self.figure.draw(draw_charging_days, *self._days_shown[1:])
            lines.append(verdict_words(*self._days_shown[1:]))
            pictures = (self.figure.svg(f"Volts, charge and watts of days with this fault. {lines[-1]}"),)
        # What was told when the hand rested stays as long as it is true: the page must not jump at each choice.
        busiest = self._busiest and _busiest_words(self._busiest)
        return Answer(
            sentence="\n".join(filter(None, (*lines, busiest))),
            pictures=pictures,
            table=_table(checked, each),
            caution=LAW,
            later=None if self._busiest else self._tell_busiest,
        )

    def _tell_busiest(self):
        self._busiest = busiest_day(self._plan)
        return _busiest_words(self._busiest)


def _table(checked, told):
    rows = [(each.fault.words, *(side_words(checked, each, side) for side in SIDES)) for each in checked.faults]
    marks = tuple("chosen" if each is told else "" for each in checked.faults)
    return Table(columns=("what fails", *SIDE_HEADS), rows=tuple(rows), marks=marks, caption=_CAPTION)


def _busiest_words(found):
    if not found.a_day:
        return ""
    source = "the whole source" if found.share == 1.0 else f"{say(100.0 * found.share, '', figures=2)} % of the source"
    return (
        f"Switched most on a day with a full bank: the {OUTPUTS[found.output].words}, "
        f"{say(found.a_day, '', figures=2)} times, with {source}."
    )
