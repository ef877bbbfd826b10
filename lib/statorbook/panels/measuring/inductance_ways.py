"""Panel of chapter 02: the inductance from an LCR meter or a loaded reading, beside that of the shorted log."""

from datetime import date

from statorbook.assembly import bench_logs, units_for
from statorbook.errors import BadInput
from statorbook.fits import combined, unusable_words
from statorbook.job import Drafts
from statorbook.job.parts import HenriesPart
from statorbook.panels.measuring.coil_constants import constants_at_leads
from statorbook.panels.measuring.inductance_found import set_aside, ways_to_inductance
from statorbook.panels.start import UnitsChoice
from statorbook.widgets import Answer, Form, Panel, Table
from statorbook.winding import StarEquivalent, coil_from_star

CAUTION = (
    "For a loaded reading a bank hangs on a turning machine: guard on, fuse in, and stop before you take anything off. "
    "For the LCR meter the rotor stands still. Resistors under load get hot enough to burn and to set wood alight: on "
    "tiles or brick, seconds only, and never loosen one while it turns: hundreds of volts stand at an open lead."
)
_GROUPS = {
    "LCR meter, rotor at rest": ("lcr_henry", "lcr_rotor"),
    "One loaded reading": ("load_rpm", "load_dc_amps", "load_dc_volts", "load_bank", "load_copper_c"),
    "Three equal resistors on the leads": (
        "res_rpm",
        "res_ohm",
        "res_joined",
        "res_line_amps",
        "res_line_volts",
        "res_copper_c",
    ),
}


class InductanceWaysPanel(Panel):
    """Find the inductance in other ways than the shorted log, and weigh all of them.

    Parameters
    ----------
    job : Job
        The reader's job.
    follows : sequence of LogPanel
        Panels of this page after whose changes all is weighed again.
    """

    def __init__(self, job, *, follows=()):
        self.job, self._followed = job.reopen(), tuple(follows)
        self.units = UnitsChoice(self.job, self.in_units)
        self.form = Form(
            HenriesPart,
            self.job.henries,
            save=self._save,
            groups=_GROUPS,
            save_words="Save these readings",
            system=units_for(self.job),
            drafts=Drafts(job.folder, "henries"),
        )
        actions = {"Write the weighted inductance to the job": self.write}
        super().__init__(system=units_for(self.job), inputs=[self.units, self.form], actions=actions, sentence_lines=4)
        for panel in follows:
            panel.follow(self.redraw)

    def _save(self, part):
        self.job.save_part("henries", part)
        self.redraw()
        for panel in self._followed:  # what stands below the logs takes a reading without them too
            panel.tell()

    def ways(self):
        """The henries of one star phase as estimates, by each way that was read and is not set aside."""
        return self._ways(self.job.read())

    @staticmethod
    def _ways(now):
        return ways_to_inductance(now, constants_at_leads(now, "inductance"))

    def answer(self):
        """Every way with its ±, and what they say together."""
        now = self.job.read()
        ways, aside = self._ways(now), set_aside(now)
        caution = " ".join(filter(None, (_unchecked(now), CAUTION)))
        if not ways:
            return Answer(sentence=" ".join(filter(None, (_nothing(now), aside))), caution=caution)
        together, apart = combined(ways)
        rows = tuple(
            (way, f"{henry.times(1000, unit='mH')}", "apart" if way in apart else "agrees")
            for way, henry in ways.items()
        )
        heads = ("way", "one phase, taken as star", "with the others")
        table = Table(columns=heads, rows=rows, caption="Each way by itself.")
        said = f"All together: {together.times(1000, unit='mH')} for one phase taken as star."
        odd = " and the ".join(apart)
        doubt = f" The {odd} and the rest do not agree within their ±: read it again." if apart else ""
        return Answer(sentence=" ".join(filter(None, (f"{said}{doubt}", aside))), table=table, caution=caution)

    def write(self):
        """Put the weighted inductance into the coil constants of the job; `BadInput` when one of the two is missing."""
        for panel in self._followed:
            panel.settle()
        now = self.job.read()
        ways = self._ways(now)
        if not ways or now.coil is None:
            raise BadInput(
                "there is no inductance to write" if not ways else "the job holds no coil constants yet",
                "readings and written constants are needed",
                "read one way, and write the constants below first",
                where="inductance",
            )
        together, _ = combined(ways)
        facts = now.stator
        unit = StarEquivalent(emf_v_per_rpm=1.0, ohm=1.0, henry=1.0)
        share = coil_from_star(facts.to_stator(), facts.to_found_grouping(), unit).henry
        one = together.times(share, how=f"one coil, worked out from the {together.how}"[:300])
        changed = {
            "henry": one.value,
            "henry_plus_minus": one.plus_minus,
            "henry_by_emf": one.moved_by.get("emf", 0.0),
            "henry_by_ohm": one.moved_by.get("ohm", 0.0),
            "henry_how": one.how,
            "henry_assumed": one.assumed,
            "date": date.today().isoformat(),
        }
        self.job.save_part("coil", type(now.coil)(**{**now.coil.model_dump(), **changed}))
        self.message.say(f"Saved in the job {self.job.name}: inductance of one coil {one.times(1000, unit='mH')}.")


def _unchecked(job):
    """Said when the volts of a loaded reading were held against no bank."""
    read = job.henries
    if read is None or not read.loaded or (job.bank is not None and read.load_bank == "bank of page 04"):
        return ""
    return (
        f"The {read.load_dc_volts:g} V of the loaded reading were not checked, since that bank is not "
        "described: see that they are what its label allows."
    )


def _nothing(job):
    """Why the shorted log above tells no inductance, and what else does."""
    logs = bench_logs(job)
    why = unusable_words(logs.shorted, "the shorted log above")
    if not why:
        fit = constants_at_leads(job, "inductance").inductance_fit
        why = " ".join((*(row.sentence for row in fit.odd_rows), *fit.warnings)).removesuffix(".")
    why = f"{why[:1].upper()}{why[1:]}"
    return f"No reading tells the inductance yet. {why}. Or save one of the readings that this panel asks for."
