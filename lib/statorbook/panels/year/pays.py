"""Panel of chapter 04b: cable and pipe by size, what each gives over the year, and which pays."""

from functools import lru_cache
from math import isfinite

import numpy as np

from statorbook.assembly import units_for, with_year, year_with_bore
from statorbook.cable import CONTINUOUS, carried_amps
from statorbook.drives import Pipe
from statorbook.errors import BadInput
from statorbook.figures import draw_pays
from statorbook.figures.canvas import KeptFigure
from statorbook.job import Drafts
from statorbook.job.parts import CablePart, PricesPart, SitePart
from statorbook.operation import most_amps
from statorbook.panels.year.offers import cable_offer, pipe_offer
from statorbook.panels.year.picked import PickedGrouping
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, Form, MadeAnew, Panel, Table, choice, job_prefix
from statorbook.year import SizeYears, cable_years, payback, pays_words, pipe_years, sizes_words

CABLE, PIPE = "cable from machine to bank", "pipe from intake to nozzle"
_PIPE_CAUTION = (
    "A wider pipe brings more water, and shut suddenly its water still hits: take the pressure class that the drop and "
    "the blow of page 03 ask for, and shut its valve slowly."
)
_NO_PRICES = (
    "Nothing says yet which pays: type prices, such as 16: 4.20, 25: 6.80, and what a kilowatt-hour is worth to you."
)


class PaysPanel(Panel):
    """See what other cables and pipes would give; the example's year is shown while the job's cannot be added up."""

    inputs_beside, table_fold = True, "Table: size by size"

    def __init__(self, job):
        self.job = with_year(job)
        self.now = self.job.read()
        system = units_for(self.now)
        with reader_units(system):
            self.picked = PickedGrouping(self.now)
        self.figure, self._piped = KeptFigure(columns=2, height_in=4.2), lru_cache(maxsize=64)(self._with_pipe)
        self.pipe = getattr(self.picked.machine.drive, "pipe", None)
        piped = isinstance(self.pipe, Pipe)
        self.what = choice("What is bought", [CABLE, PIPE] if piped else [CABLE], CABLE)
        self.form = self._kept(job, "prices", PricesPart, skip=() if piped else ("pipe_prices",))
        other = [name for name in CablePart.model_fields if name != "length_m"]
        self.run = self._kept(job, "cable", CablePart, skip=other, save_words="Save the length", now=lambda: job.cable)
        super().__init__(
            system=system,
            inputs=[self.what, self.run, self.form, self.picked.control],
            picture_px=self.figure.height_px,
            sentence_lines=10,
        )

    def _kept(self, job, name, part_class, *, save_words="Save the prices", **given):
        """The form of a part of the job; that of the shown one until there is one."""
        saved, example = getattr(job, name), getattr(self.now, name)
        if saved is None and example is not None and (hidden := given.get("skip")):
            # Of an example only what is seen is taken over.
            example = part_class(**{each: value for each, value in example if each not in (*hidden, "assumed")})
        return Form(
            part_class,
            saved or example or part_class(),
            save=lambda part: job.save_part(name, part),
            on_change=lambda form: self.redraw(),
            save_words=save_words,
            system=units_for(self.now),
            drafts=Drafts(job.folder, name),
            **given,
        )

    def _with_pipe(self, winding, bore_mm):
        """Kilowatt-hours and most amps with a pipe of this bore; none when the water cannot run through it."""
        try:
            found = pipe_years(self.picked.machine, lambda bore: year_with_bore(self.now, bore), winding, [bore_mm])
        except BadInput:
            return np.nan, np.nan
        return found.kwh[0], found.most_amps[0]

    def _looked_at(self, part):
        """The sizes with their prices, and what each gives."""
        machine, winding = self.picked.machine, self.picked.year.winding
        if self.what.value == CABLE:
            run, around = self.run.part().to_run(), machine.setting.conditions
            own_ohm = around.cable_ohm if run.is_dc else around.ac_cable_ohm
            offer = cable_offer(part, run, own_ohm)
            ohms = [own_ohm, *(run.ohm_of(area) for area in offer.sizes[1:])]
            return offer, cable_years(machine, self.picked.source, winding, ohms, offer.sizes, ac=not run.is_dc)
        offer = pipe_offer(part, self.pipe)
        kwh, amps = np.array([self._piped(winding, float(bore)) for bore in offer.sizes]).T
        return offer, SizeYears(sizes=offer.sizes, kwh=kwh, loss_kwh=np.full(len(kwh), np.nan), most_amps=amps)

    def _asked_amps(self):
        """What a cable has to carry: the most that can ever flow, a quarter on top."""
        now = self.picked.machine
        most = most_amps([(now.drive, self.picked.year.winding, now.bank, now.setting.cold)])[0]
        return CONTINUOUS * (most.dc_amps if self.run.part().to_run().is_dc else most.lead_amps_rms)

    def _carried(self, sizes):
        """What each size carries, laid as the run is."""
        run, site = self.run.part().to_run(), self.now.site or SitePart()
        laid = {"laid": run.laid, "insulation": run.insulation, "wires": run.wires}
        return carried_amps(sizes, around_c=site.hottest_c, **laid)

    def answer(self):
        """The sizes one by one, and which pays where prices are typed."""
        part = self.form.part()
        offer, found = self._looked_at(part)
        works = np.isfinite(found.kwh)
        is_cable, asked_amps = self.what.value == CABLE, self._asked_amps()
        if is_cable:
            works &= self._carried(offer.sizes) >= asked_amps
        paid = _Paid(part, offer, found, works)
        lines = [f"{job_prefix(self.job)}{sizes_words(offer.names, found.kwh, works)}", paid.words]
        if is_cable and self.run.part().assumes("length_m"):
            lines.append("The length of the run is assumed: type it, the sizes follow from it.")
        sentence = "\n".join(lines)
        self._draw(part, offer, found, paid, works)
        best = {} if paid.best is None else {"pays best": offer.names[paid.best]}
        return Answer(
            sentence=sentence,
            headline={"a year as it is": f"{found.kwh[0]:.0f} kWh", **best},
            pictures=(self.figure.svg("Kilowatt-hours a year by size. " + sentence),),
            table=_table(offer, found, paid, works, part.years),
            caution=_amps_caution(asked_amps, offer, works) if is_cable else _PIPE_CAUTION,
        )

    def _draw(self, part, offer, found, paid, works):
        shown, name = paid.left, f"Left over {part.years:g} years"
        if paid.best is None:
            shown, name = found.loss_kwh, "Lost in it [kWh a year]"
        self.figure.draw(draw_pays, found, offer.names, left=shown, left_name=name, own=0, works=works, best=paid.best)


class _Paid:
    """What the sizes that are for sale, and can be used, leave over the years."""

    def __init__(self, part, offer, found, works):
        self.left, self.steps, self.best = *np.full((2, len(works)), np.nan), None
        priced = np.isfinite(offer.prices)
        sold = np.flatnonzero(priced & works)
        if not priced.any() or part.kwh_price is None:
            self.words = _NO_PRICES
        elif not sold.size:
            self.words = "None of the sizes priced can be used here: price a larger one."
        else:
            prices, kwh, names = offer.prices[sold], found.kwh[sold], [offer.names[at] for at in sold]
            paid = payback(prices, kwh, kwh_price=part.kwh_price, years=part.years)
            self.words = pays_words(names, kwh, prices, paid, years=part.years)
            self.left[sold], self.steps[sold], self.best = paid.left_over, paid.step_years, int(sold[paid.best])


def _amps_caution(asked_amps, offer, works):
    """What decides before any price does."""
    thin = [name for name, can in zip(offer.names, works, strict=True) if not can]
    named = f" Left out as too thin: {', '.join(thin)}." if thin else ""
    return (
        f"Fuse and heat decide before any price: {asked_amps / CONTINUOUS:.0f} A can flow in each wire (bank empty, "
        f"machine cold, run away), so that it must carry {asked_amps:.0f} A for hours.{named} This is a cautious table "
        "and no sizing: page 06 sizes the cable; its maker and your local electrical code have the last word."
    )


def _table(offer, found, paid, works, years):
    """Size by size, the smallest first."""
    heads = (
        "size",
        "a year [kWh]",
        "lost in it [kWh]",
        "the run costs",
        "step pays back in [years]",
        f"left, {years:g} years",
    )
    columns = (offer.names, found.kwh, found.loss_kwh, offer.prices, paid.steps, paid.left)
    order = np.argsort(offer.sizes, kind="stable")
    rows = tuple((*(_cell(column[at]) for column in columns), "" if works[at] else "cannot be used") for at in order)
    marks = tuple("chosen" if at == paid.best else "" if works[at] else "quiet" for at in order)
    words = "Each size over the year; the step is that from the next cheaper size."
    return Table(columns=(*heads, "remark"), rows=rows, marks=marks, caption=words)


def _cell(value):
    if isinstance(value, str):
        return value
    if isfinite(value):
        return round(float(value), 1)
    return "never" if value > 0.0 else ""


class PaysOverYear(MadeAnew):
    """Cable and pipe that pay over the year, made anew when the year is saved above.

    Parameters
    ----------
    job : Job
        The reader's job.
    source : YearSourcePanel
        The panel in which its year is said.
    """

    def __init__(self, job, source):
        super().__init__(lambda: PaysPanel(job), source)
