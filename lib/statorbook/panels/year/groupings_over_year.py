"""Panel of chapter 04b: all groupings over the year, with the volts of each when the bank is gone."""

from dataclasses import replace

from statorbook.assembly import fuel_words, machine_from, source_year_from, units_for, with_year
from statorbook.figures import draw_year_bars, draw_year_months, draw_year_power
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.choice.accepted_volts import AcceptedVolts
from statorbook.panels.choice.by_year import YearOfPage
from statorbook.panels.choice.grouping_slider import GroupingSlider
from statorbook.panels.drive.drive_sliders import DriveSliders
from statorbook.panels.year.year_table import groupings_over_year
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, MadeAnew, Panel, button, job_prefix
from statorbook.year import faster_words, spread_words

_LINES = 22  # room for the longest answer and its caution, so that the page does not jump
HOURS_FOLD, MONTHS_FOLD = "When the kilowatt-hours come: power and hours", "Month by month"


class YearPanel(Panel):
    """Compare the groupings of a job over its year; the job has stator, coil, drive, bank and year filled in."""

    inputs_beside, picture_folds, table_fold = True, (HOURS_FOLD, MONTHS_FOLD), "Table: all groupings over the year"

    def __init__(self, job):
        now = job.read()
        self.job, self._now, system = job, now, units_for(now)
        with reader_units(system):
            self.machine, self.source = machine_from(now), source_year_from(now)
            self._year = YearOfPage(now, self.machine)
        self.bars, self.months = KeptFigure(height_in=4.8), KeptFigure(height_in=3.8)
        self.hours = KeptFigure(rows=2, height_in=5.0, sharex=True)
        self.accepted = AcceptedVolts(self.machine.setting.limit_dc_volts)
        self.grouping = GroupingSlider(self.machine)
        self.drive = DriveSliders(self.machine.drive, system)
        self.turned, self._whisker_kwh = self._turned(), 0.0
        back = button(
            "Back to the recommended one", self.guarded(lambda _: self.grouping.follow(self.compared()[2].by_year))
        )
        super().__init__(
            system=system,
            inputs=[self.accepted, self.grouping, back, *self.turned.values()],
            picture_px=self.bars.height_px,
            sentence_lines=_LINES,
        )

    def _turned(self):
        """Sliders of what the year leaves to the drive: the rotor, but not the wind, which the year sets itself."""
        values = {name: getattr(self.machine.drive, name) for name in self.drive.sliders}
        left = [n for n, value in values.items() if all(getattr(d, n, None) == value for d in self.source.drives)]
        return {name: self.drive.sliders[name] for name in left}

    def compared(self):
        """Machine with the sliders' values, its year, and the verdict."""
        setting = replace(self.machine.setting, accepted_dc_volts=self.accepted.value)
        now = replace(self.machine, drive=self.drive.drive(), setting=setting)
        return now, self._year.source(now), self._year.judged(now)[1]

    def answer(self):
        """Add up the year for the inputs as they stand; every ± and the table once the hand rests."""
        now, source, verdict = self.compared()
        self.grouping.show(verdict.by_year)
        row, year = verdict.by_year.find(self.grouping.grouping), verdict.of(self.grouping.grouping)
        said = f"{job_prefix(self.job)}{verdict.by_year.words_of(row)}\n{verdict.sentence}\n{hours_words(year)}"
        quick = Answer(
            sentence=said,
            headline={
                "grouping": row.grouping.label,
                "over the year": self.as_before("over the year", row.worth.given, row.worth.words),
                "bank gone": f"{row.runaway.dc_volts_peak:.0f} V DC peak",
            },
            # The whisker keeps its width until the new one is known, so that the words behind the bars stand still.
            pictures=(self._draw_bars(verdict, row.grouping, self._whisker_kwh, said),),
            folded=self._folds(source, year, said),
            caution=_caution(now, source, row),
        )
        return replace(quick, whole=lambda: self._whole(quick, now, source, verdict, row, year))

    def _whole(self, quick, now, source, verdict, row, year):
        """The answer with every ± and the table."""
        spread = self._year.spreads(now, row.grouping)
        words = (
            job_prefix(self.job) + verdict.by_year.words_of(row, spread),
            verdict.sentence,
            f"{hours_words(year)} The kilowatt-hours: {spread_words(spread['worth'], source)}.",
            fuel_words(self._now, now.drive, year),
        )
        sentence = "\n".join(filter(None, words))
        self._whisker_kwh = spread["worth"].plus_minus
        return replace(
            quick,
            sentence=sentence,
            headline=quick.headline | {"over the year": spread["worth"]},
            pictures=(self._draw_bars(verdict, row.grouping, self._whisker_kwh, sentence),),
            folded=self._folds(source, year, sentence),
            table=groupings_over_year(verdict, row.grouping, months_known=source.months_known),
            whole=None,
            later=lambda: self._year.firmness(now),
        )

    def _folds(self, source, year, sentence):
        folded = {HOURS_FOLD: lambda: self._draw_hours(source, year, sentence)}
        if source.months_known:
            folded[MONTHS_FOLD] = lambda: self._draw_months(year, sentence)
        return folded

    def _draw_bars(self, verdict, picked, plus_minus_kwh, sentence):
        once = verdict.at_once.recommended
        remarks = {once.grouping: "one setting chose it"} if once and verdict.differs else {}
        rows = verdict.by_year.rows
        self.bars.draw(draw_year_bars, rows, verdict.years, picked, plus_minus_kwh=plus_minus_kwh, remarks=remarks)
        return self.bars.svg("Kilowatt-hours over the year by grouping. " + sentence)

    def _draw_hours(self, source, year, sentence):
        self.hours.draw(draw_year_power, source, year)
        return self.hours.svg("Power into the bank, and the hours of the year behind it. " + sentence)

    def _draw_months(self, year, sentence):
        self.months.draw(draw_year_months, year.kwh_by_month)
        return self.months.svg("Kilowatt-hours into the bank, month by month. " + sentence)


def hours_words(year):
    """What a grouping does with the hours of the year, in a sentence."""
    said = [f"charges for {year.charging_h:.0f} h"]
    if year.idle_h >= 1.0:
        said.append(f"turns for {year.idle_h:.0f} h without enough volts to charge")
    if year.still_h >= 1.0:
        said.append(f"cannot be turned for {year.still_h:.0f} h")
    rest = year.hours.sum()
    return f"Of the {rest:.0f} h that the source is there it {', '.join(said)}."


def _caution(now, source, row):
    """The volts with the bank gone, what the year adds to them, then what speaks against coils or bank."""
    said = (row.runaway.sentence, faster_words(now.drive, source), now.doubt, now.bank.caution)
    return " ".join(filter(None, said))


class AddedUp(MadeAnew):
    """The groupings over the year, made anew when the year is changed above.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while a part of it, or its year, is missing.
    source : YearSourcePanel
        The panel in which its year is typed.
    """

    def __init__(self, job, source):
        super().__init__(lambda: YearPanel(with_year(job)), source)
