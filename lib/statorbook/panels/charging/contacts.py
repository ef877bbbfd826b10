"""Panel of chapter 07: what the contact of each relay has to break, whether its label says so, and how often."""

import ipywidgets as W

from statorbook.cautions import Exposure
from statorbook.charging import contact_labels, contact_words, dump_steps, judged_contacts, simulate
from statorbook.figures import draw_contacts
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.charging.page import ChargingPanel
from statorbook.widgets import Answer, Table, labelled

LOG = "control_relays"
LAW = (
    "Local electrical codes decide, and a licensed electrician. A DC arc burns on between contacts that open too "
    "little, melts them and sets the box alight: no contact by guess, a fuse in every load's wire, a box that does not "
    "burn. What hangs on the inverter is mains. Work on relays with the bank's fuse out, source shut and rotor tied."
)
COUNT = "Count the relays over a simulated week"
_FIRST_AMPS, _WEEK_DAYS = 10.0, 7
_COLUMNS = ("relay", "switches", "contact", "has to break", "label", "verdict", "worst times a day", "in the week")


class ContactsPanel(ChargingPanel):
    """Hold the contacts against what they switch; their labels stand in the log of the relays above.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    def __init__(self, page):
        self.figure = KeptFigure(height_in=3.6)
        stops = {"base": 10, "min": 0, "max": 2, "step": 0.1, "value": _FIRST_AMPS, "readout_format": ".0f"}
        self.ac_amps = W.FloatLogSlider(**stops, **labelled("A contact labelled for 250 V AC [A]", kind="slider"))
        self._counted = None, None  # the plan of the last simulated week, and how often its outputs came on
        super().__init__(
            page,
            inputs=[self.ac_amps],
            actions={COUNT: self.count},
            picture_px=self.figure.height_px,
            sentence_lines=11,
        )

    def count(self):
        """Let a week run as it stands, without a fault, and count how often each relay comes on."""
        plan = self.page.plan()
        self._counted = plan, simulate(plan, days=_WEEK_DAYS).operations
        self.redraw()

    def answer(self):
        """What each contact has to break, what its label says, and what steps do to it."""
        plan = self.page.plan()
        judged = judged_contacts(plan, contact_labels(self.page.now.read_log(LOG)))
        steps = dump_steps(plan)
        counted = self._counted[1] if self._counted[0] is plan else None
        sentence = contact_words(plan, judged, steps, ac_amps=self.ac_amps.value, operations=counted)
        self.figure.draw(draw_contacts, judged, self.ac_amps.value)
        relays = [each for each in judged if each.relay]
        fitting = sum(each.verdict == "fits" for each in relays)
        return Answer(
            sentence=self.whose(sentence),
            headline={"contacts that fit": f"{fitting} of {len(relays)}"},
            pictures=(self.figure.svg("Amps that a contact may break on DC, by volts. " + sentence),),
            table=_table(judged, counted or {}),
            caution=LAW,
            exposures=(Exposure.STANDING, Exposure.BANK),
        )


def _table(judged, counted):
    """Contact by contact."""
    rows = tuple(
        (
            f"{each.relay.number}" if each.relay else "guard",
            each.need.words,
            each.relay.contact if each.relay else "normally closed, in series",
            each.need.said + (f" (assumed: {each.need.assumed})" if each.need.assumed else ""),
            each.label.said or "not typed",
            f"{each.verdict}{': ' + each.why if each.why else ''}",
            f"{float(f'{each.worst_a_day:.2g}'):,.0f}" if each.worst_a_day else "",
            f"{counted[each.need.output]:,}" if each.need.output in counted else "",
        )
        for each in judged
    )
    marks = tuple("chosen" if each.verdict == "does not fit" else "" for each in judged)
    words = "Amps for hours with a quarter to spare, or those at switch-on, at the bank's highest volts."
    return Table(columns=_COLUMNS, rows=rows, marks=marks, caption=words)
