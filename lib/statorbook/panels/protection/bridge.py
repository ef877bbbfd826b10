"""Panel of chapter 06: what the rectifier has to carry, stand and get rid of, and whether the reader's own fits."""

from math import isinf

from statorbook.cautions import Exposure
from statorbook.figures import draw_rectifier
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import RectifierPart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import OPEN_AIR, degrees, diode_waves, rectifier_fit, rectifier_needs, rectifier_words
from statorbook.quantities import rounded_down, say
from statorbook.widgets import Answer, Table

CAUTION = (
    "A diode that breaks down joins the poles of the bank, and only the fuse at the bank ends that; local electrical "
    "codes and a licensed electrician decide what may be fitted, covered and earthed."
)


class BridgePanel(ProtectionPanel):
    """Size the rectifier, and judge the one on the reader's label.

    Parameters
    ----------
    page : ProtectionPage
        The page's job and plant.
    """

    part_name, save_words = "rectifier", "Save this rectifier"
    table_fold = "Table: amps, watts and temperatures"

    def __init__(self, page):
        self.figure = KeptFigure(rows=2, height_in=6.4, height_ratios=[1.2, 1.0])
        self.form = self.form_for(page, RectifierPart)
        super().__init__(page, inputs=[self.form], picture_px=self.figure.height_px, sentence_lines=12)

    def answer(self):
        """Verdict, what to shop for and why, for the label as it is typed."""
        self._show_asked()
        plant = self.page.plant(rectifier=self.form.part())
        needs = rectifier_needs(plant)
        fit, waves = rectifier_fit(plant, needs), diode_waves(plant)
        said = rectifier_words(plant, needs, fit)
        self.figure.draw(draw_rectifier, waves, needs, fit)
        return Answer(
            sentence=self.whose(said),
            headline={"heat sink": _at_most(fit.needed_k_per_w), "loss": _watts(needs.watts)},
            pictures=(self.figure.svg(f"Current of a diode over a period, and temperatures. {said}"),),
            table=_table(needs, fit),
            caution=CAUTION,
            exposures=(Exposure.STANDING, Exposure.BANK, Exposure.HEAT),
        )

    def _show_asked(self):
        fields = self.form.fields
        idle = {"sharing": fields["side_by_side"].control.value.strip() in ("", "1")}
        idle["box_cm2"] = fields["enclosure"].control.value == OPEN_AIR
        self.form.show([name for name in fields if not idle.get(name)])


def _at_most(k_per_w):
    return "none" if isinf(k_per_w) else f"{rounded_down(max(k_per_w, 0.0)):g} K/W"


def _watts(watts):
    return say(watts, "W", figures=2)


def _table(needs, fit):
    of_diode = (("average", "mean_amps"), ("rms", "amps_rms"), ("peak", "amps_peak"))
    rows = [("amps of the bridge, DC", *(_amps(of.dc_amps) for of in (needs.working, needs.most)), "")]
    rows += [
        (f"amps of a diode, {word}", *(_amps(getattr(of, name)) for of in (needs.working, needs.most)), "")
        for word, name in of_diode
    ]
    rows.append(("lost in all six", _watts(needs.working_watts), _watts(needs.watts), ""))
    rows += [
        (step.name, *(_celsius(each) for each in (step.working_c, step.most_c, step.limit_c))) for step in fit.steps
    ]
    caption = "Temperatures in the hottest air; the most amps flow at runaway into the empty bank, everything cold."
    return Table(columns=("", "at work", "at the most", "limit"), rows=tuple(rows), caption=caption)


def _amps(amps):
    return say(amps, "A", figures=2)


def _celsius(degrees_c):
    return "" if degrees_c is None else degrees(degrees_c)
