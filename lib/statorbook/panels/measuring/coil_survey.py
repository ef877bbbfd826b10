"""Panel of chapter 01, for who wants it: volts and ohms coil by coil, before anything is cut."""

from dataclasses import dataclass

from statorbook.bench import read_coils, sessions_words
from statorbook.cautions import Exposure, Instruction, text_of, together
from statorbook.errors import BadInput
from statorbook.figures import draw_coil_bars
from statorbook.figures.canvas import KeptFigure
from statorbook.fits import Survey, fit_survey
from statorbook.panels.measuring.job_log import row_verdict
from statorbook.panels.measuring.log_panel import NO_STATOR, Judged, LogPanel, why_no_fit
from statorbook.quantities import holds_anything
from statorbook.widgets import Answer

NOT_NEEDED_YET = (
    "No coil is read yet, and none has to be: the survey is worth its hour before coils are put in parallel, or when "
    "the pairs of leads do not balance. Every cell is on the disk as soon as you leave it."
)
HOW = Instruction(
    "One coil after the other, leads open. Volts: with the rotor standing, clip the meter on the coil's two joints by "
    "insulated clips, step back, turn steadily, read AC rms, and let it stand before the clips are moved; an empty "
    "speed cell means the speed of the row above. Ohms: at rest, sharp probes on both joints, less the ohms of the "
    "touching probes; type OL where the meter shows it. Twelve coils in series already bite when turned by hand.",
    (Exposure.STANDING, Exposure.SHARP, Exposure.TURNING, Exposure.VOLTS),
)


@dataclass(frozen=True, kw_only=True)
class Surveyed(Judged):
    """The log of the coils as it stands, readings and what is missing as in `Judged`."""

    fit: Survey | None = None

    @property
    def verdicts(self):
        """What is to be said about each row, by its number."""
        odd = {coil.tooth: coil.sentence.text for coil in self.fit.odd} if self.fit else {}
        return {reading.row: row_verdict(reading, odd.get(reading.tooth)) for reading in self.readings}


class CoilSurveyPanel(LogPanel):
    """Log the coils one by one and see which of them do not belong.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    """

    log, draw, chooses_sessions = "coils", draw_coil_bars, False

    def __init__(self, job):
        super().__init__(job, figure=KeptFigure(rows=2, height_in=5.2, sharex=True), sentence_lines=5)
        self.keep_all.layout.display = "none"  # every usable row counts here; an odd coil is the finding

    def _in_turn(self):
        """A row for each tooth, one after the other."""
        part = self.job.stator
        return {"tooth": [str(tooth) for tooth in range(1, part.slots + 1)]} if part else {}

    def _look(self, rows):
        """Read the log and compare the coils."""
        if not holds_anything(rows):
            return Surveyed(missing=NOT_NEEDED_YET)
        part = self.job.stator
        if part is None:
            return Surveyed(missing=NO_STATOR)
        readings = read_coils(rows, part.to_stator())
        missing = why_no_fit(readings)
        if missing:
            return Surveyed(readings=readings, missing=missing)
        try:
            return Surveyed(
                readings=readings, fit=fit_survey(readings, part.to_stator(), found=part.to_found_grouping())
            )
        except BadInput as refusal:
            return Surveyed(readings=readings, missing=f"Your readings are kept, but cannot be compared – {refusal}")

    def _headline(self, fit):
        """The survey in sentences."""
        return together(*fit.sentences)

    def answer(self):
        """The survey of the log as it stands, with how it is done and its caution."""
        found = self.found
        said = found.missing or self._headline(found.fit)
        sentence = together(said, sessions_words(found.readings))
        self._figure.draw(type(self).draw, found.fit)
        picture = self._figure.svg(f"Coils log. {text_of(sentence)}")
        return Answer(
            sentence=sentence, pictures=(picture,), caution=" ".join((*self._notes, HOW.text)), exposures=HOW.exposures
        )
