"""Panel of what would suit when no grouping does: another speed, a rewinding, another bank."""

from statorbook.assembly import machine_from, units_for
from statorbook.choice import COUNT_TURNS, needs_another_way, other_ways
from statorbook.job import Drafts
from statorbook.panels.choice.groupings import above_words
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, NumberField, Panel, Table, job_prefix, keep_fields

_COLUMNS = {
    "what is changed": lambda way: way.change,
    "grouping": lambda way: way.row.grouping.label,
    "half full [W]": lambda way: round(way.row.point.bank_watts),
    "gain [W]": lambda way: round(way.gain_watts) if way.sound else "",
    "runaway [V DC peak]": lambda way: round(way.row.runaway.dc_volts_peak),
    "danger": lambda way: way.row.runaway.word,
    "what it takes": lambda way: way.costs,
    "in words": lambda way: way.words,
}


class OtherWaysPanel(Panel):
    """See what another speed, other turns or another bank would do.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    """

    def __init__(self, job):
        read = job.read()
        self.job, self.system = job, units_for(read)
        with reader_units(self.system):
            self.machine = now = machine_from(read)
            self.found = now.compared()
        self.turns = NumberField(
            "Turns counted in one coil, if any", "", whole=True, at_least=1, at_most=2000, next_step=COUNT_TURNS
        )
        keep_fields({"turns": self.turns}, Drafts(job.folder, "other ways"), self.guarded)
        super().__init__(system=self.system, inputs=[self.turns], sentence_lines=5)

    def answer(self):
        """Whether another way is worth a look, the most useful one in words, and all of them in a table."""
        turns = self.turns.read() if self.turns.value.strip() else None
        ways = other_ways(self.machine, self.found, turns=turns)
        needed, why = needs_another_way(self.found, ways)
        best = next((way for way in ways if way.sound and way.gain_watts > 0.0), None)
        if not ways[0].sound:
            offer = "No other way that was tried works either."
        elif best is None:
            offer = "No other way that was tried gives more."
        else:
            lead = "Most useful" if needed else "If you want more all the same"
            only = "" if best.within or not ways[0].within else ", though only above the volts that you accept"
            offer = f"{lead}{only}: {best.words}"
        return Answer(
            sentence=f"{job_prefix(self.job)}{why} {offer}",
            table=ways_table(ways, self.found.setting.limit_dc_volts, marked=best if needed else None),
            caution=self._caution(best or ways[0]),
        )

    def _caution(self, offered):
        """Danger of the way offered, then all that was assumed: nothing here is a promise."""
        danger = f"With the bank gone: {offered.row.runaway.sentence}" if offered.sound else ""
        assumed = f"This is worked out, not promised. Assumed, not measured: {'; '.join(self.machine.assumed)}."
        return " ".join(filter(None, (danger, self.machine.doubt, assumed)))


def ways_table(ways, limit_dc_volts, *, marked=None):
    """Every other way in a table: within the accepted volts, a line, above them, then those not sound, pale."""
    rows = tuple(tuple(cell(way) for cell in _COLUMNS.values()) for way in ways)
    marks = tuple("quiet" if not way.sound else "chosen" if way is marked else "" for way in ways)
    words = "Other ways, the most useful first on each side of the line; gain over the best grouping as it stands."
    above = [number for number, way in enumerate(ways) if way.sound and not way.within]
    wall = (above[0], above_words(limit_dc_volts)) if above else ()
    return Table(columns=tuple(_COLUMNS), rows=rows, marks=marks, caption=words, wall=wall)
