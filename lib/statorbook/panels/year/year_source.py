"""Panel of the source over a year: what it does month by month, or by its mean, for the drive of the job."""

from contextlib import suppress
from math import isfinite

from statorbook.assembly import source_year_from, year_of, year_readings
from statorbook.errors import BadInput, count_of
from statorbook.figures import draw_year_hours
from statorbook.figures.canvas import KeptFigure
from statorbook.job import Drafts
from statorbook.job.parts import YearPart
from statorbook.panels.measuring.job_log import file_notes, log_grid, row_verdict
from statorbook.panels.measuring.log_panel import FollowedPanel
from statorbook.panels.start import UnitsChoice
from statorbook.panels.year.wind_series import WIND_SERIES, WindSeries
from statorbook.quantities import say
from statorbook.widgets import Answer, Form, stacked
from statorbook.year import HOURS_A_YEAR, mean_and_share_above, shaft_kwh_by_month

NO_DRIVE = (
    "The year goes with what turns the machine: fill in the drive on page 03_what_turns_it, then press “Run the page” "
    "here."
)

_NOT_YET = "Nothing is known of the year yet: fill in {wanted}. Every panel below shows the example meanwhile."


class YearSourcePanel(FollowedPanel):
    """Say what the source does over a year, and see its hours; what the drive of the job asks for is shown.

    Parameters
    ----------
    job : Job
        The job that the year is saved in.
    """

    inputs_beside = True

    def __init__(self, job):
        self.job = job.reopen()
        now = self.job.read()
        self._drive, self._notes = now.drive, ()
        self._log, self._grids, self._rows, self._bad = "", {}, {}, {}
        self.figure = KeptFigure(columns=2, height_in=3.2)
        self._log_box = stacked([])
        self.units = UnitsChoice(job, self.in_units)
        asked = YearPart.fields_for(now.drive.kind) if now.drive else ()
        self.form = Form(
            YearPart,
            now.year,
            save=self._save,
            on_change=lambda form: self.redraw(),
            save_words="Save the year",
            skip=[name for name in YearPart.model_fields if name not in asked],
            system=self.units.system,
            now=None if job.notice else lambda: job.year,
            drafts=Drafts(job.folder, "year"),
        )
        self.form.widget.layout.display = None if asked else "none"
        super().__init__(
            system=self.units.system, inputs=[self.units, self.form], picture_px=self.figure.height_px, sentence_lines=4
        )
        self.widget.children = (*self.widget.children, self._log_box)
        self._told_year = self._year_sign()

    @property
    def grid(self):
        """The log that goes with what is typed, a `LogGrid`; None where the fields are enough."""
        return self._grids.get(self._log)

    def in_units(self, system):
        """Tell everything in other units, every log too; nothing typed is lost.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        for grid in self._grids.values():
            grid.in_units(system)
        super().in_units(system)

    def redraw(self, change=None):
        """Show the fields and the log that the way chosen asks for, then the answer.

        Parameters
        ----------
        change : object
            The event that started it; not used.
        """
        if self._drive:
            typed = {name: field.control.value for name, field in self.form.fields.items()}
            self.form.show(YearPart.asked(self._drive.kind, typed))
            self.guarded(lambda: self._show_log(YearPart.log_asked(self._drive.kind, typed)))()
        super().redraw(change)

    def _show_log(self, log):
        if log == self._log:
            return
        self._log = log
        if log and log not in self._grids:
            self._grids[log] = self._new_grid(log)
        self._notes = file_notes(self.job, log) if log else ()
        self._log_box.children = (self._grids[log].widget,) if log else ()

    def _new_grid(self, log):
        if log == WIND_SERIES:
            return WindSeries(self.job, lambda rows: self._keep(log, rows))
        return log_grid(self.job, log, lambda rows: self._judge(log, rows))

    def _keep(self, log, rows):
        begun = log in self._rows
        self._rows[log] = rows
        if begun:
            self.redraw()
            self.tell()

    def _judge(self, log, rows):
        readings = year_readings(log, rows)
        self._bad[log] = sum(bool(reading.refusal) for reading in readings)
        self._keep(log, rows)
        return {reading.row: row_verdict(reading) for reading in readings}

    def tell(self):
        """Let the panels below follow once the year is another one; while it cannot be used they stay as they are."""
        # They take long to make anew, and what is typed into them meanwhile would be lost.
        sign = self._year_sign()
        if sign is not None and sign != self._told_year:
            self._told_year = sign
            super().tell()

    def _year_sign(self):
        """What tells one year from another; None for one that cannot be used."""
        with suppress(BadInput):
            year = source_year_from(self.job)
            return (year.words, year.drives, year.hours.tobytes(), year.assumed) if year else ()
        return None

    def _save(self, part):
        self.job.save_part("year", part)
        self.tell()

    def answer(self):
        """The year in words and pictures."""
        if self._drive is None:
            return Answer(sentence=NO_DRIVE)
        part = self.form.part() if self.form.fields else self.job.year or YearPart()
        source = year_of(self._drive, part, self._rows.get(self._log, []))
        if source is None:
            return Answer(sentence=self._wanted(part), caution=" ".join(self._notes))
        self.figure.draw(draw_year_hours, source)
        sentence = describe_year(source)
        return Answer(
            sentence=sentence,
            headline=year_headline(source),
            pictures=(self.figure.svg(f"Hours at or above each setting, and what each month has. {sentence}"),),
            caution=" ".join((*self._notes, *self._bad_words(), *source.gaps)),
        )

    def _bad_words(self):
        bad = self._bad.get(self._log, 0)
        if bad:
            verb, them = ("is", "it") if bad == 1 else ("are", "them")
            yield f"{count_of(bad, 'row')} of the log {verb} not used; the words below {them} say why."

    def _wanted(self, part):
        missing = part.missing_for(self._drive.kind)
        titles = [self.form.fields[name].name for name in missing]
        return _NOT_YET.format(wanted=" and ".join(titles) if titles else "the log below")


def year_headline(source):
    """The leading numbers of a year by name, as said; energy only where the power is known."""
    kwh = float(shaft_kwh_by_month(source).sum())
    energy = {"at the shaft": f"{kwh:.0f} kWh"} if isfinite(kwh) else {}
    return energy | {"hours": f"{source.hours_by_setting.sum():.0f} h"}


def describe_year(source):
    """A year in sentences: what it was made of, its hours, its mean, what the shaft has, and what is assumed."""
    hours, kwh = float(source.hours_by_setting.sum()), float(shaft_kwh_by_month(source).sum())
    known = f"It is there for {hours:.0f} of the year's {HOURS_A_YEAR:.0f} hours"
    if hours:
        mean, share = mean_and_share_above(source)
        known += f", with a mean {source.setting_name} of {_said(mean, source)}"
        known += f"; {100 * share:.0f} % of what the shaft has comes above that mean" if share > 0.0 else ""
    share = f" ± {100 * source.year_share:.0f} % from year to year" if source.year_share else ""
    shaft = f"Held at its best speed all the time the shaft would give {kwh:.0f} kWh{share}." if isfinite(kwh) else ""
    assumed = f"Assumed: {'; '.join(source.assumed)}." if source.assumed else ""
    return " ".join(filter(None, (source.words, f"{known}.", shaft, assumed)))


def _said(value, source):
    return say(value, source.setting_unit, name=source.setting_name)
