"""Panel of chapter 07: dump loads on the bank, hot water and the room behind the inverter."""

from statorbook.cautions import Exposure
from statorbook.charging import dump_words, element_groups, judged_dumps, water_words
from statorbook.figures import draw_dump_watts
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import DumpPart, WaterPart
from statorbook.panels.charging.page import ChargingPanel
from statorbook.widgets import Answer, Table

LAW = (
    "Local electrical codes decide, and a licensed electrician. A DC arc does not go out by itself: no plug, no switch "
    "for AC and no water thermostat breaks the bank's amps. An element in air glows: fire-proof mounting, a cage, "
    "nothing that burns near it. A cylinder keeps its own thermostat and its own pressure valve, with an open drain, "
    "whatever a controller does; one that boils bursts. What hangs on the inverter is mains."
)
_COLUMNS = ("elements", "joined", "how many", "ohms [Ω]", "takes [W]", "each takes at most [W]", "each stands [W]")


class DumpPanel(ChargingPanel):
    """Say what takes the surplus, and see whether it is enough, also when one is dead or the inverter has tripped.

    Parameters
    ----------
    page : ChargingPage
        The page that it stands on.
    """

    part_name, save_words = "dump", "Save the dump loads"
    table_fold = "Table: heating elements that make one such load"

    def __init__(self, page):
        self.figure = KeptFigure(height_in=4.0)
        self.form = self.form_for(page, DumpPart)
        self.water = self.form_for(page, WaterPart, name="water", save_words="Save water and room")
        super().__init__(page, inputs=[self.form, self.water], picture_px=self.figure.height_px, sentence_lines=23)

    def in_units(self, system):
        """Tell everything in other units, both forms too.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.water.in_units(system)
        super().in_units(system)

    def answer(self):
        """Whether the loads as typed take what the source gives, and what the water takes."""
        part = self.form.part()
        plan = self.page.plan(**self._typed(part))
        typed = bool(part.to_dumps() or (self.page.shown is not self.page.job and self.page.now.dump))
        judged = judged_dumps(plan.plant, plan.points, plan.dumps)
        sentence = "\n".join(filter(None, (dump_words(plan, typed=typed), water_words(plan))))
        self.figure.draw(draw_dump_watts, judged)
        return Answer(
            sentence=self.whose(sentence),
            headline={"they take": f"{100 * judged.share:.0f} %", "one dead": f"{100 * _left(judged):.0f} %"},
            pictures=(self.figure.svg("Watts of the dump loads by the bank's volts. " + sentence),),
            table=_table(judged, self.system),
            caution=LAW,
            exposures=(Exposure.STANDING, Exposure.BANK, Exposure.HEAT),
        )

    def _typed(self, part):
        """The parts as typed; while the example is shown an empty form leaves the example's own."""
        water, shown_else = self.water.part(), self.page.shown is not self.page.job
        parts = {"dump": part if part.to_dumps() or not shown_else else None}
        parts["water"] = water if water.litres or water.air_heater_watts or not shown_else else None
        return {name: each for name, each in parts.items() if each is not None}


def _left(judged):
    return judged.left_amps / judged.needs.source_amps


def _table(judged, system):
    """Groups of like elements that make one load by itself, or all together where there is only one."""
    needs = judged.needs
    most_ohm = needs.alone_ohm if len(judged.dumps) != 1 else needs.ohm
    groups = element_groups(most_ohm, needs.top_volts, system=system)
    rows = tuple(
        (
            group.label,
            group.joined,
            group.pieces,
            float(f"{group.ohm:.2g}"),
            round(needs.held_volts**2 / group.ohm),
            round(needs.top_volts**2 / group.ohm / group.pieces),
            round(group.each_watts),
        )
        for group in groups
    )
    words = (
        f"Each row is one load of {most_ohm:.2g} Ω or less at {needs.held_volts:.1f} V, of elements as they are sold "
        "(common practice, no source); none of them takes more than it stands at the bank's highest volts."
    )
    return Table(columns=_COLUMNS, rows=rows, caption=words)
