"""Panel of chapter 07: the set-points of the bank, per cell and for the whole bank, each with its range and source."""

from statorbook.cautions import together
from statorbook.charging import POINT_NAMES, point_cautions, point_facts, point_words
from statorbook.figures import draw_set_points
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import SetPointsPart
from statorbook.panels.charging.page import ChargingPanel
from statorbook.quantities import say, say_pair
from statorbook.widgets import Answer, Table

_COLUMNS = ("set-point", "a cell", "the bank", "usual for the bank", "from")
_OTHERS = {
    "compensation_v_per_k": "compensation",
    "least_charging_c": "no charging below",
    "most_charging_c": "no charging above",
}


class SetPointsPanel(ChargingPanel):
    """See the volts between which the bank is held, and type its maker's.

    Parameters
    ----------
    page : ChargingPage
        What the panels of the page share.
    """

    part_name, save_words = "set_points", "Save the set-points"
    table_fold = "Table: per cell and for the bank, with range and source"

    def __init__(self, page):
        self.figure = KeptFigure(height_in=4.6)
        self.form = self.form_for(page, SetPointsPart)
        super().__init__(page, inputs=[self.form], picture_px=self.figure.height_px, sentence_lines=18)

    def guarded_save(self, page):
        """What the form's button does: what crosses is refused before it is written.

        Parameters
        ----------
        page : ChargingPage
            The page.

        Returns
        -------
        callable
            Takes the `SetPointsPart`.
        """

        def save(part):
            part.to_points(page.plant().bank)
            page.save(self.part_name, part)

        return save

    def answer(self):
        """What to set for the bank, with what is typed."""
        part, bank = self.form.part(), self.page.plant().bank
        points = part.to_points(bank)
        assumed = f"Assumed, usual for its chemistry: {', '.join(part.left_usual)}." if part.left_usual else ""
        words = together(point_words(bank, points), assumed, between="\n")
        self.figure.draw(draw_set_points, bank, points)
        return Answer(
            sentence=self.whose(words),
            headline={
                name: f"{round(getattr(points, field), 2):g} V"
                for field, name in POINT_NAMES.items()
                if field in ("absorption_volts", "float_volts", "cut_off_volts")
            },
            pictures=(self.figure.svg("Rest volts of the bank by its charge, and its set-points. " + words),),
            table=_table(part, bank, points),
            caution=point_cautions(bank),
        )


def _table(part, bank, points):
    """Set-point by set-point; what is typed is marked."""
    facts = point_facts(bank)
    names = [name for name in (*POINT_NAMES, *_OTHERS) if name in facts]
    rows, marks = [], []
    for name in names:
        value, typed = getattr(points, name), getattr(part, name) is not None
        cell, whole = _said(name, value, bank)
        usual = _usual(name, facts[name], bank)
        rows.append((POINT_NAMES.get(name) or _OTHERS[name], cell, whole, usual, facts[name].source))
        marks.append("chosen" if typed else "quiet" if value is None else "")
    caption = f"As at {say(25.0, '°C', form='g')}. Bold: typed by you; the source is that of the usual range."
    return Table(columns=_COLUMNS, rows=tuple(rows), marks=tuple(marks), caption=caption)


def _said(name, value, bank):
    """A set-point for a cell and for the bank, as cells of the table."""
    if value is None:
        return "–", "never"
    if name.endswith("_c"):
        return say(value, "°C", form="g"), "–"
    if name.endswith("_per_k"):
        return f"{1000.0 * value / bank.cells:.2g} mV/K", f"{1000.0 * value:.2g} mV/K"
    return f"{value / bank.cells:.2f} V", f"{round(value, 2):g} V"


def _usual(name, fact, bank):
    if name.endswith("_c"):
        return say_pair(fact.low, fact.high, "°C", form="g")
    if name.endswith("_per_k"):
        low, high = (f"{1000.0 * bank.cells * end:.2g}" for end in (fact.low, fact.high))
        return f"{low} to {high} mV/K" if fact.value else "0"
    return f"{bank.cells * fact.low:.1f} to {bank.cells * fact.high:.1f} V"
