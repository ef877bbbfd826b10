"""Panels of chapter 05: the plan with its drawing and meter checks, and the sheets for printing."""

from datetime import date

from statorbook.assembly import choice_of, choice_words, plan_of, survey_words, units_for
from statorbook.errors import BadInput, count_of
from statorbook.job import planned_for
from statorbook.job.parts import PlanPart
from statorbook.panels.rewiring.bench_view import BenchView
from statorbook.panels.rewiring.fault_answer import faults_answer
from statorbook.panels.rewiring.meter_checks import MeterChecks
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import say
from statorbook.rewiring import LAYOUTS, steps
from statorbook.sheets import PAPERS_MM, write_sheets
from statorbook.widgets import Answer, Panel, Table, choice, download_link, html, job_prefix, require_own

_LAYOUT_WORDS = {
    "neighbours together, fewest cuts": "neighbours",
    "spread round the ring, for a rotor that runs off centre": "spread",
}


class CutPanel(Panel):
    """Plan the cuts and joins for the job's grouping; `view`, `checks` and `sheets` follow the layout chosen here.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    """

    inputs_beside, table_fold = True, "Table: both layouts"

    def __init__(self, job):
        now = job.read()
        self.job, self.choice, self.system, kept = job, choice_of(now), units_for(now), now.plan
        self.units = UnitsChoice(job, self.in_units)
        self.layout = choice("Layout of the paths", list(_LAYOUT_WORDS.items()), kept.layout if kept else LAYOUTS[0])
        self.view = BenchView(self.plan(), self.system)
        self.checks = MeterChecks(job, self.plan())
        self.checks.finder = self._faults  # it asks the panel for temperature and speed, so the panel comes first
        self.checks.redraw()
        self.sheets = SheetsPanel(self)
        actions = {"Save this plan to the job": self.write}
        super().__init__(system=self.system, inputs=[self.units, self.layout], actions=actions, sentence_lines=4)
        self.layout.observe(self.guarded(lambda change: self._follow()), "value")

    def plan(self):
        """The plan for the layout as it stands."""
        return plan_of(self.job, self.choice, self.layout.value)

    def _faults(self, readings):
        now = self.job.read()
        coil = now.coil.to_coil(now.stator)
        at_bench = (self.checks.copper.read(), self.checks.speed.read())
        return faults_answer(self.view.plan.wired, coil, *at_bench, readings)

    def _follow(self):
        plan = self.plan()
        for panel in (self.view, self.checks):
            panel.show(plan)
        self.sheets.redraw()

    def answer(self):
        """What the layout chosen takes, beside the other one."""
        now = self.job.read()
        plans = {layout: plan_of(now, self.choice, layout) for layout in LAYOUTS}
        return Answer(
            sentence=f"{job_prefix(self.job)}{plan_words(plans[self.layout.value])}",
            caution=" ".join(filter(None, (choice_words(now), self._survey(now, plans[self.layout.value])))),
            table=self._both(plans),
        )

    def _survey(self, now, plan):
        return survey_words(now, plan, self.choice.speed_rpm, self.checks.limit.share)

    def _both(self, plans):
        heads = ("layout", "cuts", "jumpers", "ends brought to leads and star point", "jumper wire", "bus wire")
        rows = [(words, *self._counted(plans[layout])) for words, layout in _LAYOUT_WORDS.items()]
        marks = tuple("chosen" if layout == self.layout.value else "" for layout in LAYOUTS)
        return Table(columns=heads, rows=tuple(rows), marks=marks, caption="The same grouping in both layouts.")

    def _counted(self, plan):
        counts = plan.counts
        lengths = [counts["jumper_mm"], counts["bus_mm"]]
        said = ["diameter not given" if mm is None else say(mm / 1000.0, "m") for mm in lengths]
        return (counts["cuts"], counts["joins"], sum(map(len, plan.new_on_bus.values())), *said)

    def write(self):
        """Save the layout, and the temperature and speed that the meter checks are worked out for."""
        allowed = "a plan is saved for the grouping that the reader's job holds"
        next_step = "write a grouping on page 04_choose_a_grouping, press “Run the page” here, then save"
        require_own(self.job, allowed, next_step, "plan")
        now = self.job.read()
        if now.choice is None:
            raise BadInput(f"the job {self.job.name} has no grouping yet", allowed, next_step, where="plan")
        made = PlanPart(
            date=date.today().isoformat(),
            layout=self.layout.value,
            copper_c=self.checks.copper.read(),
            hand_rpm=self.checks.speed.read(),
            planned_for=planned_for(now.parts),
        )
        self.job.save_part("plan", made)
        self.message.say(f"Saved in the job {self.job.name}: {self.choice.to_grouping().label}, {made.layout}.")


def plan_words(plan):
    """A plan in a sentence: from what, to what, how many cuts, jumpers and steps."""
    proven = " No other way to share out the coils needs fewer cuts." if plan.fewest_proven else ""
    return (
        f"From {plan.found.grouping.label} to {plan.grouping.label}: {count_of(len(plan.cuts), 'cut')}, "
        f"{len(plan.kept)} factory wires from coil to coil kept, {count_of(len(plan.joins), 'new jumper')}, "
        f"{len(steps(plan))} steps.{proven}"
    )


class SheetsPanel(Panel):
    """Write the sheets of a plan as a PDF into the job's folder, and offer it for saving and printing."""

    def __init__(self, planned):
        self._planned = planned
        self.paper = choice("Paper", list(PAPERS_MM), "Letter" if planned.system == "US" else "A4")
        self.link = html()
        super().__init__(
            system=planned.system,
            inputs=[self.paper, self.link],
            actions={"Write the sheets": self.write},
            sentence_lines=2,
        )

    def answer(self):
        """What will be printed."""
        self.link.value = ""
        plan = self._planned.plan()
        return Answer(
            sentence=f"{self.paper.value} sheets for the job {self._planned.job.name}: summary with cautions and what "
            f"to buy, the drawing, {len(steps(plan))} steps with tick boxes, and the meter checks with room to write.",
            caution=choice_words(self._planned.job),
        )

    def write(self):
        """Write the PDF."""
        planned = self._planned
        checks = planned.checks
        path = write_sheets(planned.job, planned.plan(), self.paper.value, checks.checks, checks.copper.read())
        name = f"{planned.job.name}_{path.name}"
        link = download_link(name, path.read_bytes(), "application/pdf", verb="Save or print")
        self.link.value = f'<div style="font-size:1.1em">{link}</div>'
        self.message.say(
            f"Written: {path.name} in the folder of the job {planned.job.name}. The link above saves a copy."
        )
