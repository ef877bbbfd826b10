"""Panel of chapter 01: slots, poles and the wiring as found, with the ring of coils drawn."""

from statorbook.assembly import WRITE_CONSTANTS, stale_words, units_for
from statorbook.cautions import exposures_of, text_of, together
from statorbook.drawings import StatorRing
from statorbook.errors import BadInput
from statorbook.job import Drafts
from statorbook.job.parts import StatorPart
from statorbook.panels.start import UnitsChoice
from statorbook.quantities import Fact, filled
from statorbook.rewiring.checks import DRY_IT
from statorbook.widgets import Answer, Form, Panel
from statorbook.winding import Grouping, Stator, found_from_words, naming_words

_GROUPS = {
    "Counted": ("slots", "poles"),
    "Wiring as found": ("found_connection", "found_parallel", "found_wiring"),
    "Wire and magnets": ("wire_diameter_mm", "wires_in_hand", "conductor", "magnet"),
    "Measured and noted": ("insulation_megohm", "diameter_mm", "mark_note", "notes"),
    "Only if you may join it in delta later, rotor turning (see 02_spin_and_log)": (
        "open_corner_volts_rms",
        "open_corner_rpm",
    ),
}
_EMPTY = "Type the slots and the magnet poles first: the ring of coils appears here."
LEAST_INSULATION_MEGOHM = Fact(
    value=1.0, unit="MΩ, low-voltage winding, least usual", low=0.5, high=5.0, source="common practice, no source"
)


class StatorPanel(Panel):
    """Describe the stator and see its coils.

    Parameters
    ----------
    job : Job
        The job that the stator facts are saved in.
    """

    inputs_beside = True

    def __init__(self, job):
        self.job = job.reopen()
        self.units = UnitsChoice(self.job, self.in_units)
        self.form = Form(
            StatorPart,
            self.job.stator,
            save=self._save,
            on_change=lambda form: self.redraw(),
            groups=_GROUPS,
            save_words="Save the stator facts",
            system=units_for(self.job),
            now=None if job.notice else lambda: job.stator,
            drafts=Drafts(job.folder, "stator"),
        )
        for name in ("mark_note", "notes", "found_wiring"):
            self.form.fields[name].control.layout.width = "calc(30ch + 40em)"
        for name in ("notes", "found_wiring"):
            self.form.fields[name].control.rows = 3
        super().__init__(system=units_for(self.job), inputs=[self.units, self.form], sentence_lines=3)

    def answer(self):
        """Work out what slots and poles say; the other fields need not be filled in yet."""
        fields = self.form.fields
        counts = [fields[name] for name in ("slots", "poles")]
        if not all(field.control.value.strip() for field in counts):
            return Answer(sentence=_EMPTY)
        try:
            stator = Stator(**{name: fields[name].read() for name in ("slots", "poles")})
        except BadInput as refusal:
            told = [field.check() for field in counts]  # every one is asked, so that each says its own
            if all(told):  # each is good by itself, so it is about how they go together
                fields["poles" if refusal.where == "poles" else "slots"].complain(str(refusal))
            raise
        for field in counts:
            field.check()
        stator = self._traced(stator)
        sentence = " ".join(filter(None, (describe_stator(stator), naming_words(stator))))
        caution = together(stator.doubt, self._insulation_warning())
        return Answer(
            sentence=sentence,
            pictures=(StatorRing(stator=stator).svg(),),
            caution=text_of(caution),
            exposures=exposures_of([caution]),
        )

    def _traced(self, stator):
        """The stator under the reader's names, once the wires are traced; what is wrong stands at their field."""
        fields = self.form.fields
        if not fields["found_wiring"].control.value.strip():
            return stator
        try:
            words, paths, connection = (fields[f"found_{name}"].read() for name in ("wiring", "parallel", "connection"))
            grouping = Grouping(series=max(1, stator.coils_per_phase // paths), parallel=paths, connection=connection)
            return found_from_words(stator, grouping, words).stator
        except BadInput:
            return stator

    def _insulation_warning(self):
        field = self.form.fields["insulation_megohm"]
        megohm = field.read() if field.check() else None
        least = LEAST_INSULATION_MEGOHM
        if megohm is None or megohm >= least.value:
            return ""
        low = f"{megohm:g} MΩ between leads and iron is low, at least {least.value:g} MΩ is usual ({least.source}): "
        return filled(DRY_IT).within(low, ", and measure again; do not spin it before.")

    def _save(self, part):
        self.job.save_part("stator", part)
        stale = (
            f" The coil constants were worked out for other facts: then press “{WRITE_CONSTANTS}” on page "
            "02_spin_and_log."
            if stale_words(self.job)
            else ""
        )
        self.message.say(
            f"Saved in the job {self.job.name}. Press “Run the page” so that everything below uses it.{stale}"
        )


def describe_stator(stator):
    """A stator in a sentence or two.

    Parameters
    ----------
    stator : Stator
        Slots and poles.

    Returns
    -------
    str
        Coils, winding factor, frequency, parallel paths and cogging steps.
    """
    paths = ", ".join(str(count) for count in sorted({g.parallel for g in stator.groupings()}))
    return (
        f"{stator.slots} slots with {stator.poles} poles: {stator.coils_per_phase} coils in each of three phases, "
        f"winding factor {stator.winding_factor:.3f}, {stator.electrical_hz(100):.1f} Hz electrical for every "
        f"100 rpm. A phase can be split into {paths} parallel paths. Turned by hand it clicks "
        f"{stator.cogging_steps_per_rev} times a turn (cogging steps)."
    )
