"""Panel of chapter 04b: what the house needs against what comes, and what a larger bank would carry over."""

from dataclasses import replace
from functools import lru_cache

import ipywidgets as W
import numpy as np

from statorbook.assembly import need_from, units_for, with_year
from statorbook.figures import draw_need
from statorbook.figures.canvas import KeptFigure
from statorbook.job import Drafts
from statorbook.job.parts import NeedPart
from statorbook.panels.measuring.job_log import log_grid, row_verdict
from statorbook.panels.year.picked import PickedGrouping
from statorbook.quantities import WEATHER_HOURS, holds_anything, reader_units
from statorbook.widgets import Answer, Form, MadeAnew, Panel, Table, job_prefix, labelled, slider, stacked
from statorbook.year import (
    MONTHS,
    SIZES,
    bank_words,
    bank_years,
    capacity_caution,
    enough_kwh,
    is_drawn,
    lull_words,
    months_words,
    need_months,
    order_words,
    read_need_months,
    watts_by_hour,
)

LOG = "need_months"
_STOPS = {"base": 2, "min": -2, "max": 3, "step": 0.25, "value": 1.0, "readout_format": ".2f"}  # those of `SIZES`
_FIRST_KWH = 1.0  # shown until a need is typed
_NOT_TYPED = f"No need is typed yet: {_FIRST_KWH:g} kWh a day is shown meanwhile."


class NeedPanel(Panel):
    """Hold what the house needs against what comes; the example's year is shown while the job's cannot be added up."""

    inputs_beside, table_fold = True, "Table: month by month"

    def __init__(self, job):
        self.own, self.job, self._rows = job, with_year(job), None
        now = self.job.read()
        system = units_for(now)
        with reader_units(system):
            self.picked = PickedGrouping(now)
        self._flows, self._banks = lru_cache(maxsize=8)(self._come_watts), lru_cache(maxsize=8)(self._taken_through)
        self.figure = KeptFigure(columns=2, height_in=3.8)
        self.grid = log_grid(job, LOG, self._judge)
        self.form = Form(
            NeedPart,
            job.need,
            save=lambda part: job.save_part("need", part),
            on_change=lambda form: self.redraw(),
            save_words="Save the need",
            system=system,
            now=None if job.notice else lambda: job.need,
            drafts=Drafts(job.folder, "need"),
        )
        self.bank_times = W.FloatLogSlider(**_STOPS, **labelled("Bank, times the present", kind="slider"))
        self.weather = slider("Weather lasts (assumed)", WEATHER_HOURS.value, 2.0, 72.0, step=2.0, unit="h")
        turned = [self.bank_times, *([self.weather] if is_drawn(self.picked.source) else [])]
        super().__init__(
            system=system,
            inputs=[self.form, self.picked.control, *turned],
            picture_px=self.figure.height_px,
            sentence_lines=14,
        )
        self._log_box = stacked([self.grid.widget])
        self.widget.children = (*self.widget.children, self._log_box)
        self._show_log()

    def _judge(self, rows):
        begun, self._rows = self._rows is not None, rows
        readings = read_need_months(rows) if holds_anything(rows) else ()
        if begun:
            self.redraw()
        return {reading.row: row_verdict(reading) for reading in readings}

    def redraw(self, change=None):
        """Show the log when it is to say the need, then the answer."""
        super().redraw(change)
        self._show_log()

    def _show_log(self):
        if hasattr(self, "_log_box"):
            by_log = self.form.fields["need_from"].control.value == NeedPart.from_log
            self._log_box.layout.display = None if by_log else "none"

    def _part(self):
        """The need as typed, and a sentence when none is."""
        empty = not str(self.form.fields["need_kwh_a_day"].control.value).strip()
        if not empty or self.form.fields["need_from"].control.value == NeedPart.from_log:
            return self.form.part(), ""
        if self.job is not self.own and self.job.need:
            return self.job.need, ""
        return NeedPart(need_kwh_a_day=_FIRST_KWH), _NOT_TYPED

    def _come_watts(self, grouping, weather_hours):
        return watts_by_hour(self.picked.source, self.picked.year.bank_watts, weather_hours=weather_hours)

    def _taken_through(self, grouping, weather_hours, taken, usable_kwh, round_trip_share):
        come = self._flows(grouping, weather_hours)
        return bank_years(come, np.frombuffer(taken), usable_kwh * SIZES, round_trip_share=round_trip_share)

    def answer(self):
        """Need, months and banks for the inputs as they stand."""
        part, untyped = self._part()
        need = need_from(self.job, part, self._rows)
        year, times = self.picked.year, self.bank_times.value
        months = need_months(year.kwh_by_month, need)
        looked_at = replace(need, usable_kwh=times * need.usable_kwh)
        taken = need.hourly_bank_watts.tobytes()
        found = self._banks(year.grouping, self.weather.value, taken, need.usable_kwh, need.round_trip_share)
        chosen = found.only([int(np.abs(SIZES - size).argmin()) for size in (times, 2.0 * times)])
        known = self.picked.source.months_known
        bank = self.picked.machine.bank
        lines = (
            f"{job_prefix(self.job)}{untyped} {months_words(months, looked_at, months_known=known)}".strip(),
            bank_words(found, chosen, looked_at),
            lull_words(need, need.usable_kwh / bank.capacity_kwh, bank.half_volts),
            f"{order_words(self.picked.source, self.weather.value)} Assumed: {'; '.join(need.assumed)}.",
        )
        sentence = "\n".join(lines)
        enough = enough_kwh(found, found.need_kwh[0])
        self.figure.draw(draw_need, months, need, found, chosen, enough_kwh=enough)
        return Answer(
            sentence=sentence,
            headline={
                "every month carries": f"{months.every_month_kwh_a_day:.2g} kWh a day",
                "short hour by hour": f"{chosen.short_kwh[0]:.0f} kWh",
                "spilt": f"{chosen.spill_kwh[0]:.0f} kWh",
            },
            pictures=(self.figure.svg("Need against what comes by month, and short and spilt by bank. " + sentence),),
            table=_table(months, need, chosen),
            caution=capacity_caution(self.picked.source, year),
        )


def _table(months, need, chosen):
    """The months one by one."""
    columns = {
        "month": MONTHS,
        "comes into the bank [kWh]": months.come_kwh,
        "the house takes [kWh]": need.bank_kwh,
        "short [kWh]": months.short_kwh,
        "spilt [kWh]": months.spill_kwh,
        "carries [kWh a day]": months.carried_kwh_a_day,
        "short hour by hour [kWh]": chosen.short_kwh_by_month[:, 0],
    }
    rows = tuple(
        (name, *(round(float(value), 1) for value in values)) for name, *values in zip(*columns.values(), strict=True)
    )
    marks = tuple("chosen" if short > 0.05 else "" for short in months.short_kwh)
    words = "Each month by itself, all through the bank; the last column hour by hour with the bank looked at."
    return Table(columns=tuple(columns), rows=rows, marks=marks, caption=words)


class NeedOverYear(MadeAnew):
    """The need of the house against the year, made anew when the year is saved above.

    Parameters
    ----------
    job : Job
        The reader's job.
    source : YearSourcePanel
        The panel in which its year is said.
    """

    def __init__(self, job, source):
        super().__init__(lambda: NeedPanel(job), source)
