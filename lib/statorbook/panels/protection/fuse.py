"""Panel of chapter 06: the fuse and the switch in the bank's lead, and what the bank itself can do."""

from statorbook.cautions import together
from statorbook.figures import draw_break_times
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import FusePart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import FUSE_CODES, MISFIT, break_times, fuse_needs, fuse_words, ratings
from statorbook.widgets import Answer, Table

TIMES = "How soon it opens, against what the cable stands"


class FusePanel(ProtectionPanel):
    """See which fuse and switch the bank's lead needs, and type those at hand.

    Parameters
    ----------
    page : ProtectionPage
        What the panels of the page share.
    """

    part_name, save_words = "fuse", "Save fuse and switch"
    picture_folds, table_fold = (TIMES,), "Table: rating by rating"

    def __init__(self, page):
        self.figure = KeptFigure(height_in=4.4)
        self.form = self.form_for(page, FusePart)
        super().__init__(page, inputs=[self.form], sentence_lines=16)

    def answer(self):
        """What is needed and why, whether those at hand fit, and what is dangerous."""
        part = self.form.part()
        plant, switch = self.page.plant(fuse=part), part.to_switch()
        needs = fuse_needs(plant)
        return Answer(
            sentence=self.whose(together(fuse_words(plant, switch), assumed_words(self.page.now), between="\n")),
            headline={
                "fuse": f"{needs.switch_amps:.3g} A",
                "DC volts": f"{needs.dc_volts:.2g} V",
                "bank through a spanner": f"{needs.breaking_amps / 1000.0:.2g} kA",
            },
            folded={TIMES: lambda: self._draw(break_times(plant))},
            table=_table(ratings(plant, switch)),
            caution=FUSE_CODES,
        )

    def _draw(self, times):
        self.figure.draw(draw_break_times, times)
        return self.figure.svg(times.words)


def assumed_words(now):
    """What of place and cable is assumed, which the sizes hang on; empty when nothing is."""
    assumed = [
        noun
        for noun, part, field in (
            ("the cable's size", now.cable, "area_mm2"),
            ("the hottest air", now.site, "hottest_c"),
        )
        if part is None or part.assumes(field)
    ]
    return f"Assumed here: {' and '.join(assumed)}; type what yours has above." if assumed else ""


def _table(found):
    rows = tuple((row.part, row.what, row.needed, row.has or "–", row.verdict or "–") for row in found)
    marks = tuple("chosen" if row.verdict == MISFIT else "" for row in found)
    return Table(columns=("part", "rating", "needed", "yours", "verdict"), rows=rows, marks=marks)
