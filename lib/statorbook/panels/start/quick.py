"""Panel of the start page: a provisional answer from a handful of numbers."""

from statorbook.bank import Bank, cells_for, chemistries
from statorbook.choice import quick_look
from statorbook.figures import draw_one_curve
from statorbook.figures.canvas import KeptFigure
from statorbook.operation import one_curve
from statorbook.panels.start.carry import carry_quick_look
from statorbook.widgets import Answer, NumberField, Panel, Table, choice
from statorbook.winding import Stator


class QuickPanel(Panel):
    """Guess the best few groupings from a few numbers.

    Parameters
    ----------
    slots : int
        Shown at first [-].
    poles : int
        Shown at first [-].
    line_volts_rms : float
        AC between two leads, rms, shown at first [V].
    reading_rpm : float
        Speed of that reading, shown at first [rpm].
    line_ohm : float
        Ohms between two leads, shown at first [Ω].
    working_rpm : float
        Working speed hoped for, shown at first [rpm].
    start : StartPanel or None
        The panel that says which job is open; with it a button carries the numbers to that job.
    """

    inputs_beside = True

    def __init__(self, *, slots, poles, line_volts_rms, reading_rpm, line_ohm, working_rpm, start=None):
        self._figure, self._start = KeptFigure(height_in=4.2), start
        counts = {"whole": True, "at_most": 144, "next_step": "count them once round the ring, from a mark"}
        self.slots = NumberField("Slots (teeth)", "", slots, at_least=3, **counts)
        self.poles = NumberField("Poles, north and south", "", poles, at_least=2, **counts)
        self.volts = NumberField("AC volts, two leads, rms", "V", line_volts_rms, above=0, at_most=2000)
        self.at = NumberField("at a speed of", "rpm", reading_rpm, above=0, at_most=20_000)
        self.ohms = NumberField("Ohms between two leads", "Ω", line_ohm, at_least=0.001, at_most=1000)
        self.found = choice("Joined by the factory in", ["star", "delta"], "star")
        self.nominal = choice("Bank", [12, 24, 48], 48, unit="V")
        self.chemistry = choice("Bank chemistry", list(chemistries()), "LiFePO4")
        self.working = NumberField("Working speed, hoped", "rpm", working_rpm, above=0, at_most=20_000)
        super().__init__(
            inputs=[
                self.slots,
                self.poles,
                self.volts,
                self.at,
                self.ohms,
                self.found,
                self.nominal,
                self.chemistry,
                self.working,
            ],
            actions={"Carry these numbers to my job": self.carry} if start else None,
            picture_px=self._figure.height_px,
            sentence_lines=3,
        )

    def carry(self):
        """Carry counts, connection and bank to the open job, as a first guess that its pages show."""
        typed = {
            "stator": {"slots": self.slots, "poles": self.poles, "found_connection": self.found},
            "bank": {"nominal_volts": self.nominal, "chemistry": self.chemistry},
        }
        Stator(slots=self.slots.read(), poles=self.poles.read())  # what can be no machine is not carried
        self.message.say(carry_quick_look(self._start.job, typed))

    def answer(self):
        """Work the guess out for the inputs as they stand."""
        stator = Stator(slots=self.slots.read(), poles=self.poles.read())
        bank = Bank(chemistry=self.chemistry.value, cells=cells_for(self.chemistry.value, self.nominal.value))
        working = self.working.read()
        look = quick_look(
            stator,
            bank,
            line_volts_rms=self.volts.read(),
            reading_rpm=self.at.read(),
            line_ohm=self.ohms.read(),
            working_rpm=working,
            connection=self.found.value,
        )
        rows = look.comparison.rows
        picked = (look.best or rows)[0]
        curve = one_curve([row.winding for row in rows], working, bank.states[1], look.conditions)
        self._figure.draw(draw_one_curve, curve, rows, picked.grouping, speed_rpm=working)
        return Answer(
            sentence=f"{look.sentence} {stator.doubt}".strip(),
            pictures=(self._figure.svg(look.sentence),),
            table=best_few(look),
            caution=f"With the bank gone: {picked.runaway.sentence}" if look.best else "",
        )


def best_few(look):
    """The most promising groupings with their bands, at most three, as a table."""

    def line(row):
        least, most = look.watts[row.grouping]
        return (
            row.grouping.label,
            f"{least:.0f} to {most:.0f}",
            round(row.cut_in_rpm),
            round(row.runaway.dc_volts_peak),
            row.runaway.word,
        )

    return Table(
        columns=("grouping", "bank half full [W], assumed band", "cut-in [rpm]", "runaway [V DC peak]", "danger"),
        rows=tuple(line(row) for row in look.best),
    )
