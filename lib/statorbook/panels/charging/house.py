"""Panel of chapter 07: what the house takes, what feeds it, and how long the bank carries it."""

from dataclasses import replace

import numpy as np

from statorbook.charging import (
    autonomy_of,
    balance_words,
    beyond_words,
    days_words,
    heater_watts_of,
    house_day,
    house_from_rows,
    peak_words,
    read_house_loads,
)
from statorbook.figures import draw_house_day
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import InverterPart
from statorbook.panels.charging.page import ChargingPanel
from statorbook.panels.measuring.job_log import log_grid, row_verdict
from statorbook.quantities import holds_anything
from statorbook.widgets import Answer, Table

LOG = "house_loads"
LAW = (
    "Sockets behind an inverter kill like any others, also with the source at rest: local electrical codes decide how "
    "they are wired, protected and earthed, and a licensed electrician where they ask for one. Its DC leads carry what "
    "a bank can drive and need a fuse of their own, as its manual says."
)
_COLUMNS = ("appliance", "watts", "at the start", "hours", "minutes of each", "Wh a day")


class HousePanel(ChargingPanel):
    """Type what the house takes and what feeds it, and see the day, the surplus, and how long the bank lasts.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    part_name, save_words = "inverter", "Save the inverter"
    table_fold = "Table: appliance by appliance"

    def __init__(self, page):
        self._rows = None
        self.figure = KeptFigure(height_in=4.2)
        self.grid = log_grid(page.job, LOG, self._judge)
        self.form = self.form_for(page, InverterPart)
        super().__init__(page, inputs=[self.form], picture_px=self.figure.height_px, sentence_lines=16)
        self.widget.children = (*self.widget.children, self.grid.widget)

    def answer(self):
        """The day of the house, and what source, inverter and bank make of it."""
        part = self.form.part()
        plan = self._with_own_rows(self.page.plan(inverter=part), part)
        need = self.page.now.need
        found = autonomy_of(plan, need.usable_share if need else None)
        lines = (
            balance_words(found),
            peak_words(found),
            beyond_words(found),
            days_words(found, part.days_alone),
            self._assumed_words(part, plan),
        )
        sentence = self.whose("\n".join(filter(None, lines)))
        self.figure.draw(draw_house_day, found.day, _by_clock(found), plan.inverter)
        return Answer(
            sentence=sentence,
            headline={
                "the house takes": f"{found.day.kwh:.2g} kWh a day",
                "carried alone": f"{found.days_alone:.2g} days",
            },
            pictures=(self.figure.svg(f"Watts of the house through a day. {sentence}"),),
            table=_table(found.day),
            caution=LAW,
        )

    def _assumed_words(self, part, plan):
        """What of house and inverter nobody typed."""
        rows = self._rows if holds_anything(self._rows or ()) else self.page.now.read_log(LOG)
        house = () if holds_anything(rows) or not part.has_sockets else ("the appliances of the house",)
        assumed = (*house, *part.assumed_words(plan.inverter))
        return f"Assumed: {'; '.join(assumed)}." if assumed else ""

    def _with_own_rows(self, plan, part):
        """The plan with the reader's own rows where the example is shown."""
        if self.page.shown is self.page.job or not part.has_sockets or not holds_anything(self._rows or ()):
            return plan
        house = house_from_rows(self._rows)
        heater_watts = heater_watts_of(plan.cylinder, plan.room)
        made = part.to_inverter(plan.points, house_day(house), self.page.now.need, heater_watts=heater_watts)
        return replace(plan, house=house, inverter=made)

    def _judge(self, rows):
        begun, self._rows = self._rows is not None, rows
        readings = read_house_loads(rows)
        if begun:
            self._saved(all(reading.usable for reading in readings))
        return {reading.row: row_verdict(reading) for reading in readings}

    def _saved(self, usable):
        """Show what a saved cell changes; a row that is half typed yet is not told to the other panels."""
        if usable:
            self.page.tell()
        else:
            self.page.read()
        self.redraw()


def _by_clock(found):
    """What the source carries at the sockets, mean of each hour of the clock, shape (24,) [W]."""
    watts, inverter = found.source_watts_by_hour, found.charging_plan.inverter
    days = len(watts) // 24
    mean = watts[: 24 * days].reshape(days, 24).mean(axis=0)
    return np.maximum((mean - inverter.idle_watts) * inverter.efficiency if inverter else mean, 0.0)


def _table(day):
    """Appliance by appliance."""
    rows = tuple(
        (
            load.name,
            load.watts,
            load.surge_watts,
            f"{load.from_hour} to {load.to_hour}",
            load.minutes,
            load.watts * load.minutes / 60.0 * (load.to_hour - load.from_hour),
        )
        for load in day.house
    )
    words = "Each runs in the first minutes of every hour between its two; what begins in the same hour begins at once."
    return Table(columns=_COLUMNS, rows=rows, caption=words)
