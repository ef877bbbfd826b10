"""Panel of chapter 03: what turns the machine, its best speed and its runaway speed."""

from statorbook.drives.water_jet import WaterJet
from statorbook.figures.drive_curves import draw_drive_curves
from statorbook.figures.kept import KeptFigure
from statorbook.job_parts import DrivePart
from statorbook.panels.form import Form
from statorbook.panels.frame import Answer, Panel

_OF_KIND = {
    "known speed": ("speed_rpm",),
    "water jet": ("head_m", "nozzle_mm", "flow_l_s", "jets", "pitch_diameter_mm", "efficiency"),
}


class DrivePanel(Panel):
    """Describe the drive and see its torque, power and speeds.

    Parameters
    ----------
    job : Job
        The job that the drive is saved in.
    """

    def __init__(self, job):
        self.job = job
        self._figure = KeptFigure(columns=2, height_in=3.6)
        self.form = Form(
            DrivePart, job.drive, save=self._save, on_change=lambda form: self.redraw(), save_words="Save the drive"
        )
        super().__init__(inputs=[self.form], picture_px=self._figure.height_px, sentence_lines=3)

    def _save(self, part):
        self.job.save_part("drive", part)

    def redraw(self, change=None):
        """Show only the fields of the kind chosen, and any other that has to be mended, then the answer.

        Parameters
        ----------
        change : object
            The event that started it; not used.
        """
        kind = self.form.fields["kind"].control.value
        for each, names in _OF_KIND.items():
            for name in names:
                field = self.form.fields[name]
                field.widget.layout.display = None if each == kind or not field.check() else "none"
        super().redraw(change)

    def answer(self):
        """Work out the drive's speeds and power.

        Returns
        -------
        Answer
            Sentence and picture.
        """
        if self.form.fields["kind"].control.value is None:
            return Answer(sentence="Choose the kind of drive first, then fill in what it asks for.")
        drive = self.form.part().to_drive()
        self._figure.draw(draw_drive_curves, drive)
        sentence = describe_drive(drive)
        return Answer(
            sentence=sentence,
            pictures=(self._figure.svg("Shaft power and torque against speed. " + sentence),),
            caution=f"Runaway: with the load gone it turns at {drive.runaway_speed_rpm:.0f} rpm. "
            "Guard the rotor, and keep "
            "a way to stop the source that needs nobody near it.",
        )


def describe_drive(drive):
    """A drive in a sentence or two.

    Parameters
    ----------
    drive : object
        A drive, see `drives`.

    Returns
    -------
    str
        Speeds, power and limits of the model.
    """
    if isinstance(drive, WaterJet):
        return (
            f"{drive.total_flow_l_s:.2f} L/s leave the nozzle at {drive.jet_m_s:.1f} m/s "
            f"with {drive.source_watts:.0f} W; the runner "
            f"gives at most {drive.best_shaft_watts:.0f} W at {drive.best_speed_rpm:.0f} rpm and runs away to "
            f"{drive.runaway_speed_rpm:.0f} rpm. {drive.limits}"
        )
    speeds = f"It holds {drive.best_speed_rpm:.0f} rpm and would run away to {drive.runaway_speed_rpm:.0f} rpm."
    return f"{speeds} {drive.limits}"
