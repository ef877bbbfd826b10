"""Panel of chapter 06: say where the plant stands, and read what volts and amps a hand can meet there."""

from math import isfinite

from statorbook.cautions import Exposure, together
from statorbook.job.parts import SitePart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.panels.start import UnitsChoice
from statorbook.protection import BANK_LOST, CHARGING, RUN_AWAY, SPOTS, touch
from statorbook.quantities import say
from statorbook.widgets import Answer, Table

LAW = (
    "Local electrical codes decide, and a licensed electrician where they ask for one: these grades are arithmetic on "
    "a model of your machine, no approval."
)
_ASSUMED = "Taken as {place} until you say where it stands."
_AT_WORK = (
    "In US workplaces live parts at 50 V or more, AC or DC, must be guarded against touch (29 CFR 1910.303(g)(2)(i))."
)
_CAPTION = (
    "AC between two leads, rms; DC peak, between plus and minus or a lead and either. “touchable”: by its volts alone, "
    "at this place; “cover”: insulate or close it in; “as mains”: close it in, earth and protect it like mains."
)


class TouchPanel(ProtectionPanel):
    """Volts and amps wherever a hand can reach, for the place that the reader says.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on; the units chosen here are those of all its panels.
    """

    part_name, save_words = "site", "Save the place"

    def __init__(self, page):
        self.units = UnitsChoice(page.shown, page.in_units, whole_page=True)
        self.form = self.form_for(page, SitePart)
        super().__init__(page, inputs=[self.units, self.form], sentence_lines=10)

    def answer(self):
        """What a hand can meet at the place as typed."""
        site = self.form.part()
        found = touch(self.page.plant(site=site))
        assumed = _ASSUMED.format(place=site.place) if site.assumes("place") else ""
        at_work = _AT_WORK if self.system == "US" and found.guarded_at_us_work else ""
        return Answer(
            sentence=together(self.page.shown.notice, found.sentence, assumed, at_work),
            headline={name: found.state(name).worst.words for name in (CHARGING, BANK_LOST, RUN_AWAY)},
            table=_table(found),
            caution=LAW,
            exposures=(Exposure.BANK, Exposure.VOLTS),
        )


def _table(found):
    rows = tuple(
        (f"{state.name}, {state.speed_rpm:.0f} rpm", *map(_cell, state.spots), _amps(state, found.spanner_amps))
        for state in found.states
    )
    marks = tuple("chosen" if state is found.worst else "" for state in found.states)
    heads = ("state of the plant", *(where.removeprefix("the ") for where in SPOTS), "amps that flow")
    return Table(columns=heads, rows=rows, marks=marks, caption=_CAPTION)


def _cell(spot):
    return f"{spot.words}: {spot.grade.word}"


def _amps(state, spanner_amps):
    """The amps of a state in words."""
    said = [
        f"{say(amps, 'A', figures=2)} {where}"
        for amps, where in ((state.lead_amps_rms, "in each lead, rms"), (state.dc_amps, "into the bank"))
        if amps
    ]
    if said:
        return ", ".join(said)
    if state.speed_rpm:
        return "none; an arc where it was opened"
    most = f"up to {say(spanner_amps / 1000.0, 'kA', figures=2)}" if isfinite(spanner_amps) else "thousands of amps"
    return f"none; {most} through a spanner across the bank"
