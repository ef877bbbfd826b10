"""Panel of chapter 06: what happens if something goes wrong, one mishap in words and all of them in a table."""

from statorbook.cautions import Exposure
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import MISHAPS, what_if
from statorbook.widgets import Answer, Table, choice, job_prefix

_COLUMNS = ("what happens if …", "volts", "amps", "how soon", "who or what is hurt", "the guard")
_CAPTION = "One mishap at a time, at the worst that this plant can do; bold: the one that is told above."
_LOCAL = (
    "Reckoned, not tried out: never bring any of this about to see it. Your local electrical code and a licensed "
    "electrician decide what has to be fitted."
)


class WhatIfPanel(ProtectionPanel):
    """What happens if something goes wrong.

    Parameters
    ----------
    page : ProtectionPage
        The page.
    """

    inputs_beside = False

    def __init__(self, page):
        self.mishap = choice("What happens if …", [(name, row) for row, name in enumerate(MISHAPS)], 0)
        super().__init__(page, inputs=[self.mishap], sentence_lines=8)

    def answer(self):
        """The mishap that is chosen, and the table of all."""
        rows = what_if(self.page.plant())
        told = rows[self.mishap.value]
        return Answer(
            sentence=f"{job_prefix(self.page.shown)}{told.sentence}",
            table=Table(
                columns=_COLUMNS,
                rows=tuple((r.name, r.volts_words, r.amps_words, r.soon_words, r.hurt, r.guard) for r in rows),
                marks=tuple("chosen" if row is told else "" for row in rows),
                caption=_CAPTION,
            ),
            caution=_LOCAL,
            exposures=(Exposure.STANDING, Exposure.VOLTS, Exposure.BANK),
        )
