"""Panel of chapter 04b: what may stand between machine and bank, and what it makes of the year."""

from dataclasses import replace

import numpy as np

from statorbook.assembly import machine_from, source_year_from, with_year
from statorbook.cautions import Exposure, together
from statorbook.figures import draw_between
from statorbook.figures.canvas import KeptFigure
from statorbook.job import Drafts
from statorbook.job.parts import ConverterPart
from statorbook.operation import LETS_GO, Converter, best_dc_volts, volts_to_hold
from statorbook.panels.measuring.log_panel import FollowedPanel
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, Form, MadeAnew, Table, choice, job_prefix
from statorbook.year import between_years, describe_between

INVENTED = (
    "The bank stands straight on the bridge. To show what a converter would bring, one is invented here that seeks "
    "from {low:.0f} to {high:.0f} V DC and survives {survives:.0f} V: choose “step-down converter” and type what yours "
    "has."
)
_LOW, _HIGH, _SURVIVES = 1.15, 4.0, 5.0  # times the bank's charging volts; invented, to show something
_SPEEDS, _PAIRS = 40, 6
_COLUMNS = {
    "grouping": lambda year: year.grouping.label,
    # Danger stands before the numbers: on a small page what follows is reached by scrolling sideways.
    "run away, the converter": lambda year: year.survival.outcome,
    "run away [V DC peak] (guard fails)": lambda year: (
        f"{year.survival.dc_volts_peak:.0f} ({year.survival.unguarded_dc_volts_peak:.0f})"
    ),
    "converter [kWh]": lambda year: round(year.through.kwh),
    "straight [kWh]": lambda year: round(year.straight.kwh),
    "gain [kWh]": lambda year: f"{year.gain_kwh:+.0f}",
    "volts to hold, DC [V]": lambda year: _range_of(year),
    "charging [h]": lambda year: round(year.through.charging_h),
    "at a limit [h]": lambda year: round(year.limited_h),
    "at the window's edge [h]": lambda year: round(year.edge_h),
    "destroyed at work [h]": lambda year: round(year.over_h),
}


class ConverterPanel(FollowedPanel):
    """Say what stands between rectifier and bank, and see its year; the example's is shown while the job has none."""

    inputs_beside, table_fold = True, "Table: all groupings with the converter and without"

    def __init__(self, job):
        self.job, self._worked_out = job, (None, None)
        self.units = UnitsChoice(job, self.in_units)
        self.shown = with_year(job)
        now = self.shown.read()
        with reader_units(self.units.system):
            self.machine, self.source = machine_from(now), source_year_from(now)
        self.figure = KeptFigure(rows=2, height_in=7.4, height_ratios=[1.0, 1.5])
        self.form = Form(
            ConverterPart,
            job.converter,
            save=self._save,
            on_change=lambda form: self.redraw(),
            save_words="Save what stands between",
            system=self.units.system,
            now=None if job.notice else lambda: job.converter,
            drafts=Drafts(job.folder, "converter"),
        )
        options = [(grouping.label, grouping) for grouping in self.machine.stator.groupings()]
        self.grouping = choice("Grouping whose volts are drawn", options, None)
        inputs = [self.units, self.form, self.grouping]
        super().__init__(system=self.units.system, inputs=inputs, picture_px=self.figure.height_px, sentence_lines=18)

    def _save(self, part):
        self.job.save_part("converter", part)
        self.tell()

    def _show_asked(self):
        between = self.form.fields["between"].control.value
        asked = ConverterPart.model_fields if between != ConverterPart().between else ("between",)
        self.form.show([name for name in asked if name != "assumed"])

    def _years(self, converter):
        """All groupings with and without it, kept until it or its efficiency changes."""
        if self._worked_out[0] != converter:
            self._worked_out = converter, between_years(self.machine, self.source, converter)
        return self._worked_out[1]

    def answer(self):
        """The year with the converter, dangers first."""
        self._show_asked()
        given = self.form.part().to_converter()
        converter = given or invented(self.machine.bank)
        years = self._years(converter)
        picked = self._picked(years)
        sides = self._curves(picked, converter)
        self.figure.draw(draw_between, years, picked, *sides)
        lead, said = "" if given else invented_words(converter), describe_between(years)
        notice = self.shown.notice if self.shown is not self.job else job_prefix(self.job).strip()
        sentence = together(notice, lead, said, curve_words(picked, sides[0]))
        return Answer(
            sentence=sentence,
            headline={"through the converter": f"{picked.through.kwh:.0f} kWh", "gain": f"{picked.gain_kwh:.0f} kWh"},
            pictures=(self.figure.svg(f"Volts to hold against speed, and kilowatt-hours a year. {said}"),),
            table=_table(years, picked),
            caution=LETS_GO,
            exposures=(Exposure.STANDING, Exposure.BANK),
        )

    def _picked(self, years):
        if self.grouping.value is not None:
            return next(year for year in years if year.grouping == self.grouping.value)
        kept = [year for year in years if not year.destroyed] or years
        return max(kept, key=lambda year: year.through.kwh)

    def _curves(self, picked, converter):
        """Volts to hold over the settings of the year, and at held speeds."""
        conditions = replace(self.machine.setting.conditions, converter=converter)
        state, winding = self.machine.bank.states[1], picked.through.winding
        top = max(float(picked.through.speed_rpm.max()), 1.0)
        at_once = best_dc_volts(winding, np.linspace(0.02, 1.1, _SPEEDS) * top, state, conditions)
        return volts_to_hold(self.source.drives, winding, state, conditions), at_once


class BetweenOverYear(MadeAnew):
    """The panel of what stands between, made anew when the year is saved above.

    Parameters
    ----------
    job : Job
        The reader's job.
    source : YearSourcePanel
        The panel in which its year is said.
    """

    def __init__(self, job, source):
        super().__init__(lambda: ConverterPanel(job), source)


def invented(bank):
    """A converter to show what one would bring, sized by the bank alone."""
    low, high, survives = (round(times * bank.charging_volts) for times in (_LOW, _HIGH, _SURVIVES))
    return Converter(low_volts=low, high_volts=high, survives_dc_volts=survives)


def invented_words(converter):
    """That the converter shown is an invented one, and what to do about it."""
    volts = {"low": converter.low_volts, "high": converter.high_volts, "survives": converter.survives_dc_volts}
    return INVENTED.format(**volts)


def curve_words(picked, to_hold):
    """The curve that an input for turbines is told, as a few pairs of volts and watts."""
    works = np.flatnonzero(np.isfinite(to_hold.dc_volts) & (to_hold.bank_watts > 0.0))
    if not works.size:
        return f"{picked.grouping.label} never charges through it."
    few = works[np.unique(np.linspace(0, works.size - 1, _PAIRS).round().astype(int))]
    pairs = dict.fromkeys(f"{to_hold.dc_volts[at]:.0f} V at {to_hold.bank_watts[at]:.0f} W" for at in few)
    return (
        f"For an input made for turbines, the curve of {picked.grouping.label}: {', '.join(pairs)}. One made for solar "
        "panels seeks faster than a rotor answers and can stall it."
    )


def _range_of(year):
    volts = year.through.held_dc_volts[year.through.dc_amps > 0.0]
    return f"{volts.min():.0f} to {volts.max():.0f}" if volts.size else "never charges"


def _table(years, picked):
    rows = sorted(years, key=lambda year: (year.destroyed, -year.through.kwh))
    marks = tuple("chosen" if year is picked else "quiet" if year.destroyed else "" for year in rows)
    words = "What survives the rotor running away first, then by kilowatt-hours through the converter."
    cells = tuple(tuple(cell(year) for cell in _COLUMNS.values()) for year in rows)
    return Table(columns=tuple(_COLUMNS), rows=cells, marks=marks, caption=words)
