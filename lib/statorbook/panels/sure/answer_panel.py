"""Panel of chapter 09: what the answer of a job stands on, what makes up its ±, and what to measure first."""

from functools import lru_cache

from statorbook.assembly import ANSWERS, answers_words, deciding_words, how_sure, narrowing_words, with_parts
from statorbook.cautions import together
from statorbook.figures import draw_shares
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import filled, reader_units
from statorbook.sheets import PAPERS_MM, write_how_sure_sheet
from statorbook.widgets import Answer, Panel, Table, choice, download_link, html

_ALL_NUMBERS = "Table: every number behind the answer, and how it is known"
_PAPERS = {"metric": "A4", "US": "Letter"}
_EXACT = "taken as exact"


class SurePanel(Panel):
    """Choose one of the answers and see what its ± is made of; the example's is shown while the job has none.

    Parameters
    ----------
    job : Job
        The reader's job.
    """

    inputs_beside, table_fold = True, _ALL_NUMBERS

    def __init__(self, job):
        self.job = with_parts(job, "stator", "coil", "drive", "bank")
        self._sure = lru_cache(maxsize=2)(self._worked_out)
        self.units = UnitsChoice(job, self.in_units)
        sure = self._sure(self.units.system)
        options = [(ANSWERS[name], name) for name in sure.answers]
        self.answered = choice("Answer to look into", options, next(iter(sure.answers)))
        self.paper, self.link = choice("Paper", list(PAPERS_MM), _PAPERS[self.units.system]), html()
        self.paper.observe(lambda change: self._forget_print(), "value")
        self.figure = KeptFigure(height_in=4.0)
        super().__init__(
            system=self.units.system,
            inputs=[self.units, self.answered, self.paper, self.link],
            actions={"Print it": self.print_out},
            picture_px=self.figure.height_px,
            sentence_lines=14,
        )

    def _worked_out(self, system):
        with reader_units(system):
            return how_sure(self.job)

    def in_units(self, system):
        """Tell it in other units, and take the paper that goes with them.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.paper.value = _PAPERS[system]
        super().in_units(system)

    def _forget_print(self):
        self.link.value = ""

    def answer(self):
        """What decides first, then what to measure, then all answers."""
        self._forget_print()
        sure, name = self._sure(self.system), self.answered.value
        deciding = deciding_words(sure, name)
        said, ranked = f"{self.job.notice} {deciding}".strip(), sure.ranked(name)
        self.figure.draw(
            draw_shares,
            [each.words for each in ranked],
            [each.shares[name] for each in ranked],
            [each.known for each in ranked],
        )
        return Answer(
            sentence=together(said, narrowing_words(sure, name), answers_words(sure), between="\n"),
            headline={"answer": str(sure.answers[name]), "assumed": f"{sure.share_of('assumed', name):.0%}"},
            pictures=(self.figure.svg(f"Share of each number in the ±. {deciding}"),),
            table=_table(sure, name),
        )

    def print_out(self):
        """Write the sheet as a PDF."""
        path = write_how_sure_sheet(self.job, self.paper.value)
        link = download_link(f"{self.job.name}_{path.name}", path.read_bytes(), "application/pdf", verb="Save or print")
        self.link.value = f'<div style="font-size:1.1em">{link}</div>'
        self.message.say(f"Written: {path.name} in the folder of the job {self.job.name}. The link saves a copy.")


def _table(sure, answer):
    """What has a ± first, largest share first; then what is taken as exact."""
    ranked = sure.ranked(answer)
    rows = [(each.words, each.said, each.known, f"{each.shares[answer]:.0%}", filled(each.how)) for each in ranked]
    rows += [(each.words, each.said, each.known, _EXACT, each.how) for each in sure.given]
    marks = ["chosen" if each.known == "assumed" else "" for each in ranked] + ["quiet"] * len(sure.given)
    return Table(
        columns=("number", "value", "how it is known", "share of the ±, in squares", "where from"),
        rows=tuple(rows),
        marks=tuple(marks),
        caption=f"{ANSWERS[answer]}, {sure.answers[answer]}: what is assumed in bold, what is taken as exact below.",
    )
