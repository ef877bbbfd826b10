"""Panel of chapter 03: what turns the machine, its best speed and its runaway speed."""

from statorbook.assembly import units_for
from statorbook.drives import PipedJet
from statorbook.figures import draw_drive_curves, draw_jet_and_bucket, draw_nozzle_power
from statorbook.figures.canvas import KeptFigure
from statorbook.job import Drafts
from statorbook.job.parts import DrivePart
from statorbook.panels.drive.drive_words import describe_drive, drive_cautions, drive_headline
from statorbook.panels.start import UnitsChoice
from statorbook.widgets import Answer, Form, Panel

_ALWAYS_SHOWN = ("kind",)
_NOT_HERE = ("rotor_kg", "rotor_ring_mm")  # asked for beside the coast-down

NOZZLE, BUCKET = "Which nozzle gives the most", "Runner, jet and bucket to scale"


class DrivePanel(Panel):
    """Describe the drive and see its torque, power and speeds.

    Parameters
    ----------
    job : Job
        The job that the drive is saved in.
    """

    inputs_beside, picture_folds = True, (NOZZLE, BUCKET)

    def __init__(self, job):
        self.job = job
        self.curves = KeptFigure(columns=2, height_in=3.6)
        self._nozzle = KeptFigure(columns=2, height_in=3.6)
        self._bucket = KeptFigure(columns=2, height_in=4.0)
        self.units = UnitsChoice(job, self.in_units)
        self.form = Form(
            DrivePart,
            job.drive,
            save=self._save,
            on_change=lambda form: self.redraw(),
            save_words="Save the drive",
            skip=_NOT_HERE,
            system=units_for(job),
            now=None if job.notice else lambda: job.drive,
            drafts=Drafts(job.folder, "drive"),
            shown=_ALWAYS_SHOWN,  # the rest comes with the first answer
        )
        super().__init__(
            system=units_for(job), inputs=[self.units, self.form], picture_px=self.curves.height_px, sentence_lines=5
        )

    def _save(self, part):
        self.job.save_part("drive", part)

    def redraw(self, change=None):
        """Show only the fields that this kind of drive asks for, and any other that has to be mended, then the answer.

        Parameters
        ----------
        change : object
            The event that started it; not used.
        """
        typed = {name: field.control.value for name, field in self.form.fields.items()}
        self.form.show((*_ALWAYS_SHOWN, *DrivePart.asked(typed)))
        super().redraw(change)

    def answer(self):
        """The drive's speeds and power, pictures and cautions."""
        if self.form.fields["kind"].control.value is None:
            return Answer(sentence="Choose the kind of drive first, then fill in what it asks for.")
        part = self.form.part()
        drive = part.to_drive()
        besides = "; ".join(part.assumed_besides)
        sentence = " ".join(filter(None, (describe_drive(drive), besides and f"Also assumed: {besides}.")))
        self.curves.draw(draw_drive_curves, drive)
        return Answer(
            sentence=sentence,
            headline=drive_headline(drive),
            pictures=(self.curves.svg(f"Shaft power and torque against speed. {sentence}"),),
            folded=self._folded_for(part, drive, sentence),
            caution=drive_cautions(part, drive),
        )

    def _folded_for(self, part, drive, sentence):
        """For water the choice of the nozzle and the runner to scale as well."""
        folded = {}
        if isinstance(drive, PipedJet):
            words = f"Shaft power and the pipe's share against the nozzle. {sentence}"
            folded[NOZZLE] = lambda: self._nozzle.draw(draw_nozzle_power, drive).svg(words)
        if part.kind == "water jet":
            width_mm = part.bucket_width_mm
            folded[BUCKET] = lambda: self._bucket.draw(draw_jet_and_bucket, drive, width_mm).svg(
                f"{BUCKET}. {sentence}"
            )
        return folded
