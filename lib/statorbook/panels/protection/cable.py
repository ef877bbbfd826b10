"""Panel of chapter 06: the cable between machine and bank, what it carries and loses, and whose ohms count."""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from statorbook.assembly import source_year_from
from statorbook.cautions import Exposure, together
from statorbook.errors import BadInput
from statorbook.figures import draw_cable_distances, draw_cable_sizes
from statorbook.figures.canvas import KeptFigure
from statorbook.job import inputs_fingerprint
from statorbook.job.parts import CablePart, PricesPart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import (
    MOST_OHM,
    cable_distances,
    cable_needs,
    cable_words,
    distance_words,
    ohms_words,
    year_words,
)
from statorbook.widgets import Answer, Table, job_prefix
from statorbook.year import cable_years, payback, pays_words

DISTANCES = "Picture: watts by the length of the run"
LOCAL = "Cautious tables, no approval: the cable's maker, your local electrical code and a licensed electrician decide."
_AC_RUN = (
    "An AC run is live as long as the rotor turns, also with the bank's fuse out, and no fuse at the bank protects it."
)
_COLUMNS = ("size", "carries [A]", "lost [%]", "lost [W]", "into the bank [W]", "")


class CablePanel(ProtectionPanel):
    """Describe the cable, see what it carries and loses, and put its ohms where all pages take them from.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    """

    part_name, save_words = "cable", "Save the cable"
    picture_folds, table_fold = (DISTANCES,), "Table: the sizes that are sold"

    def __init__(self, page):
        self._sizes, self._lengths = KeptFigure(height_in=4.2), KeptFigure(height_in=4.2)
        # Kept while plant, year, prices and units stay.
        self._over_year = lru_cache(maxsize=8)(lambda plant, *marks: _year_of(plant, page.now))
        self._far = lru_cache(maxsize=8)(cable_distances)
        self._told = None, ""
        # Its ohms go into the bank part, so it is saved by a press alone.
        self.form = self.form_for(page, CablePart, now=None)
        super().__init__(page, inputs=[self.form], picture_px=self._sizes.height_px, sentence_lines=17)

    def guarded_save(self, page):
        """What the form's button does: the ohms go into the bank first, so that all panels then show them.

        Parameters
        ----------
        page : ProtectionPage
            The page.

        Returns
        -------
        callable
            Takes the `CablePart`.
        """

        def save(part):
            bank = page.job.read().bank
            if bank is not None and (new := part.put_into(bank)) != bank:
                page.job.save_part("bank", new)
            page.save(self.part_name, part)

        return save

    def answer(self):
        """What the cable as typed carries and loses, and what else would do."""
        part = self.form.part()
        plant = self.page.plant(cable=part)
        needs = cable_needs(plant)
        own = needs.own
        assumed = [field.name for name, field in self.form.fields.items() if part.assumes(name)]
        said = (cable_words(needs), ohms_words(plant.run, plant.conditions, self.save_words))
        still = f"Still assumed: {', '.join(assumed)}." if assumed else ""
        least = needs.least_that_will_do
        # What was told when the hand rested stays as long as it is true: the page must not jump at each save.
        told_for = plant, inputs_fingerprint(self.page.now), self.page.now.prices, self.system
        told = self._told[1] if self._told[0] == told_for else ""
        return Answer(
            sentence="\n".join(filter(None, (f"{job_prefix(self.page.shown)}{said[0]}", said[1], still, told))),
            headline={"lost": f"{own.drop_percent:.2g} %", "smallest that will do": least.name if least else "none"},
            pictures=(self._sizes.draw(draw_cable_sizes, needs).svg("Volts lost in each size of cable. " + said[0]),),
            folded={DISTANCES: lambda: self._draw_far(plant)},
            table=_table(needs),
            caution=LOCAL if plant.run.is_dc else f"{LOCAL} {_AC_RUN}",
            exposures=(Exposure.STANDING, Exposure.BANK),
            later=None if told else lambda: self._tell_later(told_for),
        )

    def _tell_later(self, told_for):
        """What the cable loses over the year, and from which distance on something else gives more."""
        plant = told_for[0]
        self._told = told_for, str(together(self._over_year(*told_for), distance_words(self._far(plant))))
        return self._told[1]

    def _draw_far(self, plant):
        found = self._far(plant)
        self._lengths.draw(draw_cable_distances, found, plant.run.length_m)
        return self._lengths.svg("Watts into the bank by the length of the run. " + distance_words(found))


def _year_of(plant, job):
    """What the cable loses over the year, where the job has one that can be used."""
    try:
        source = source_year_from(job)
    except BadInput:
        return ""
    if source is None:
        return ""
    run, machine = plant.run, plant.with_conditions(**plant.run.ohms).machine
    prices = job.prices or PricesPart()
    priced = {area: sold for area, sold in prices.prices("cable_prices").items() if run.ohm_of(area) <= MOST_OHM}
    areas = [run.area_mm2, *priced]
    ohms = [run.ohm_of(area) for area in areas]
    found = cable_years(machine, source, plant.winding, ohms, areas, ac=not run.is_dc)
    return together(year_words(found, 0, prices.kwh_price), _pays_words(plant, prices, priced, found.kwh[1:]))


def _pays_words(plant, prices, priced, kwh):
    """Which of the sizes priced on page 04b pays, of those that carry what they must."""
    needs, run = cable_needs(plant), plant.run
    usable = [
        place
        for place, area in enumerate(priced)
        if replace(run, area_mm2=area).carries_amps(needs.around_c) >= needs.asked_amps
    ]
    if not usable or not prices.kwh_price:
        return "Page 04b takes prices of cable that carries enough, and this then says which size pays."
    names, metres = zip(*(list(priced.values())[place] for place in usable), strict=True)
    whole = np.array(metres) * run.length_m * run.wires / 2.0  # a price is that of a pair
    paid = payback(whole, kwh[usable], kwh_price=prices.kwh_price, years=prices.years)
    return pays_words(names, kwh[usable], whole, paid, years=prices.years)


def _table(needs):
    """Size by size."""
    rows = tuple(
        (
            size.name,
            f"{size.carries_amps:.0f}",
            f"{size.drop_percent:.2g}",
            f"{size.lost_watts:.2g}",
            f"{size.bank_watts:.0f}",
            "too thin" if not size.carries else "" if size.keeps_drop else "loses more than wished",
        )
        for size in needs.sold
    )
    best = needs.least_that_will_do
    marks = tuple("chosen" if size is best else "" if size.will_do else "quiet" for size in needs.sold)
    words = "Amps that each wire carries for hours, and what is lost where the drive settles on the half-full bank."
    return Table(columns=_COLUMNS, rows=rows, marks=marks, caption=words)
