"""Panel of chapter 06: the list of what protects the plant, its diagram, and the sheets for the electrician."""

from datetime import date

from statorbook.assembly import assumed_in_list
from statorbook.cautions import Exposure
from statorbook.drawings import SingleLine
from statorbook.errors import BadInput, count_of
from statorbook.job import protected_for
from statorbook.job.parts import ProtectionPart
from statorbook.operation import grade
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import MISFIT, parts_to_buy, sized_words
from statorbook.quantities import reader_units
from statorbook.sheets import PAPERS_MM, write_protection_sheets
from statorbook.widgets import Answer, Table, choice, download_link, html, job_prefix, require_own, side_by_side

DIAGRAM = "Picture: single-line diagram of the plant"
_LOCAL = "Computed sizes, not an approved installation: your local electrical code and a licensed electrician decide."
_KILLS = 3  # the level of `grade` above which nothing may be built
_PAPERS = {"metric": "A4", "US": "Letter"}
_COLUMNS = ("", "part", "what it has to stand", "yours", "why")


class PartsPanel(ProtectionPanel):
    """What to buy, each part with its rating and why; saved as a list, printed as sheets.

    Parameters
    ----------
    page : ProtectionPage
        The page.
    """

    inputs_beside, picture_folds = False, (DIAGRAM,)

    def __init__(self, page):
        self.paper = choice("Paper", list(PAPERS_MM), _PAPERS[page.system])
        self.link = html()
        actions = {"Save the list": self.write, "Print it": self.print_out}
        super().__init__(page, inputs=(), actions=actions, sentence_lines=7)
        self.paper.observe(lambda change: self._forget_print(), "value")
        # The list is long: paper and link stand below it, beside the buttons.
        shown = list(self.widget.children)
        shown.insert(shown.index(self.message.widget), side_by_side([self.paper, self.link]))
        self.widget.children = shown

    def in_units(self, system):
        """Tell the list in other units, and take the paper that goes with them.

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
        """The list for the plant as it is saved."""
        self._forget_print()
        plant = self.page.plant()
        parts = self._parts(plant)
        return Answer(
            sentence=f"{job_prefix(self.page.shown)}{list_words(plant, parts)} {self._saved_words()}".rstrip(),
            headline={"amps": f"{plant.most.dc_amps:.0f} A", "runaway": f"{_runaway_dc_volts(plant):.0f} V"},
            table=_table(parts, assumed_in_list(self.page.now)),
            folded={DIAGRAM: SingleLine(plant=plant).svg},
            caution=_LOCAL,
            exposures=(Exposure.STANDING, Exposure.VOLTS, Exposure.BANK),
        )

    def _parts(self, plant):
        fuse = self.page.now.fuse
        return parts_to_buy(plant, fuse.to_switch() if fuse else None)

    def _saved_words(self):
        """Whether the job holds this list."""
        kept = self.page.now.protection
        if kept is None or self.page.shown is not self.page.job:
            return ""
        if kept.worked_out_for == protected_for(self.page.now.parts):
            return f"This list is saved in the job, on {kept.date}."
        return f"The list saved on {kept.date} is out of date: look at what changed, then save it again."

    def write(self):
        """Save the list with what it was worked out for."""
        allowed = "a list is saved for the grouping that the reader's job holds"
        next_step = "write a grouping on page 04_choose_a_grouping, press “Run the page” here, then save"
        require_own(self.page.shown, allowed, next_step, "list")
        now, plant = self.page.now, self.page.plant()
        if now.choice is None:
            raise BadInput(f"the job {now.name} has no grouping yet", allowed, next_step, where="list")
        line_volts, dc_volts = plant.open_volts(plant.runaway_rpm)
        with reader_units(self.system):
            parts = self._parts(plant)
        made = ProtectionPart(
            date=date.today().isoformat(),
            most_dc_amps=plant.most.dc_amps,
            runaway_line_volts_rms=line_volts,
            runaway_dc_volts_peak=dc_volts,
            items="\n".join(f"{part.name}: {part.rating}" for part in parts),
            worked_out_for=protected_for(now.parts),
        )
        self.page.save("protection", made)
        self.message.say(f"Saved in the job {now.name}: {count_of(len(parts), 'part')}.")

    def print_out(self):
        """Write the sheets as a PDF."""
        shown = self.page.shown
        path = write_protection_sheets(shown, self.paper.value)
        link = download_link(f"{shown.name}_{path.name}", path.read_bytes(), "application/pdf", verb="Save or print")
        self.link.value = f'<div style="font-size:1.1em">{link}</div>'
        self.message.say(f"Written: {path.name} in the folder of the job {shown.name}. The link saves a copy.")


def list_words(plant, parts):
    """What the list is sized by, what of the reader's own does not fit, and what speaks against building it at all."""
    wrong = [part.name.lower() for part in parts if MISFIT in part.yours]
    own = f" Yours does not fit: {', '.join(wrong)}." if wrong else ""
    return f"{count_of(len(parts), 'part')} for {plant.grouping.label}, {sized_words(plant)}.{own}{_against(plant)}"


def _against(plant):
    volts = grade(plant.open_volts(plant.runaway_rpm)[0])
    if volts.level > _KILLS:
        return f" That is {volts.word} ({volts.limit}): {volts.advice}."
    return "" if plant.most.dc_amps > 0.0 else " It never charges this bank: choose another grouping first."


def _runaway_dc_volts(plant):
    return plant.open_volts(plant.runaway_rpm)[1]


def _table(parts, assumed):
    rows = tuple(
        (str(number), part.name, part.rating, part.yours, part.why) for number, part in enumerate(parts, start=1)
    )
    not_typed = f" Assumed until you type it: {', '.join(assumed)}." if assumed else ""
    return Table(columns=_COLUMNS, rows=rows, caption=f"From the machine to the bank.{not_typed}")
