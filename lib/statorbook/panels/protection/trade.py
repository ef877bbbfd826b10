"""Panel of chapter 06: power against the volts with the bank gone, and what a guard buys."""

from statorbook.cautions import Exposure
from statorbook.figures import draw_trade
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.choice.accepted_volts import AcceptedVolts
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import BARE, LOAD, trade
from statorbook.quantities import ELV_DC_VOLTS
from statorbook.widgets import Answer, Table, job_prefix

_NOT_CHOSEN_HERE = (
    "Nothing is chosen here: a grouping is written to the job on page 04, with its dangers in sight. Whether a load is "
    "quick and strong enough stands under “The bank comes off”; local electrical codes and a licensed electrician have "
    "the last word."
)


class TradePanel(ProtectionPanel):
    """See what each grouping gives for the volts with the bank gone, without a guard and with one.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    """

    table_fold = "Table: all groupings with their volts"

    def __init__(self, page):
        self.figure = KeptFigure(height_in=4.6)
        self.accepted = AcceptedVolts(page.plant().machine.setting.limit_dc_volts)
        super().__init__(page, inputs=[self.accepted], picture_px=self.figure.height_px, sentence_lines=7)

    def answer(self):
        """What there is within the volts that the slider shows."""
        plant, accepted = self.page.plant(), self.accepted.value
        found = trade(plant)
        self.figure.draw(draw_trade, found, accepted, _limits(plant))
        sentence = f"{job_prefix(self.page.shown)}{found.sentence(accepted)}"
        most = {words: found.most(accepted, guard) for words, guard in (("unguarded", BARE), ("with a load", LOAD))}
        return Answer(
            sentence=sentence,
            headline={words: f"{point.watts:.0f} W" if point else "nothing" for words, point in most.items()},
            pictures=(self.figure.svg("Power into the bank against the volts with the bank gone. " + sentence),),
            table=_table(found),
            caution=_NOT_CHOSEN_HERE,
            exposures=(Exposure.VOLTS,),
        )


def _limits(plant):
    """Other limits beside what the reader accepts, in volts DC, with their words."""
    exposed = plant.machine.setting.exposed
    stands = exposed["device_max_volts"]
    device = [(float(stands), f"{exposed['device']} {stands:g} V")] if stands else []
    return (*device, (ELV_DC_VOLTS.value, f"extra-low {ELV_DC_VOLTS.value:g} V"))


def _table(found):
    guarded = (f"{found.guard_words} works [V DC]",) if found.guard_words else ()
    columns = ("grouping", "nothing guards [V DC]", *guarded, "load holds [V DC]", "power [W]", "not built because")
    rows = tuple(
        (
            point.grouping.label,
            round(point.bare_dc_volts),
            *((round(point.drives_guard_dc_volts),) if guarded else ()),
            round(point.held_dc_volts),
            round(point.watts),
            point.fault,
        )
        for point in found.points
    )
    marks = tuple("chosen" if point is found.own else "quiet" if point.fault else "" for point in found.points)
    return Table(columns=columns, rows=rows, marks=marks, caption="Bank gone and run away, DC peak; most power first.")
