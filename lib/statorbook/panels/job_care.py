"""Panel of the start page: look back on a job, restore a version, take a copy out, bring one in."""

import ipywidgets as W

from statorbook.errors import BadInput
from statorbook.job_history import history, restore
from statorbook.job_zip import export_job, import_job
from statorbook.log_columns import ALL_LOGS
from statorbook.panels.controls import button, choice, download_link, labelled
from statorbook.panels.frame import Answer, Panel
from statorbook.panels.job_log import file_notes
from statorbook.panels.table import Table

_SHOWN = 20
_NOTHING = ("nothing to restore yet", "")


class JobCare(Panel):
    """Keep a job safe: its history, a copy as a zip, and the way back in.

    Parameters
    ----------
    start : StartPanel
        The panel that says which job is open.
    """

    def __init__(self, start):
        self._start = start
        self.version = choice("Go back to", [_NOTHING], "")
        self.link = W.HTML()
        self.upload = W.FileUpload(accept=".zip", multiple=False, description="Choose a zip")
        self.name = W.Text(
            continuous_update=False, placeholder="letters, digits, - and _", **labelled("Its name here", 18)
        )
        pack = button("Make a copy to keep", self.guarded(lambda pressed: self.pack()))
        bring = button("Bring this job in", self.guarded(lambda pressed: self.bring()))
        back = button("Restore this version", self.guarded(lambda pressed: self.back()))
        super().__init__(
            inputs=[[self.version, back], [pack, self.link], [self.upload, self.name, bring]], sentence_lines=2
        )
        start.jobs.observe(self.redraw, "value")

    def at_hand(self):
        """The job at hand.

        Returns
        -------
        Job
            As the start panel has it.

        Raises
        ------
        BadInput
            When none is open.
        """
        if self._start.job is None:
            raise BadInput("no job is open", "an open job is needed", "open or create one above", where="job")
        return self._start.job.opened_anew()

    def answer(self):
        """What was changed last in the job at hand.

        Returns
        -------
        Answer
            A sentence, and a table of the newest changes.
        """
        job = self.at_hand()
        self.link.value = ""
        found = history(job, most=_SHOWN)
        options = [(f"before {_when(each)}: {each.words[:60]}", each) for each in found] or [_NOTHING]
        self.version.options = options
        if not found:
            words = f"Nothing was changed yet in the job {job.name}; each change from now on can be undone."
            return Answer(sentence=words)
        rows = tuple((_when(each), each.words) for each in found)
        return Answer(
            sentence=f"Last change in the job {job.name}, {_when(found[0])} UTC: {found[0].words}. Every version "
            "before is kept; restoring one keeps the present one too.",
            table=Table(columns=("when, UTC", "what was changed"), rows=rows, caption="The newest changes first."),
        )

    def back(self):
        """Restore the version chosen.

        Raises
        ------
        BadInput
            When there is none, or it is damaged.
        """
        if not self.version.value:
            raise BadInput("no version was chosen", "a version from the list is needed", "choose one", where="history")
        said = restore(self.at_hand(), self.version.value)
        self.redraw()
        self.message.say(f"{said} On the other pages press “Run the page”.")

    def pack(self):
        """Offer the job as a zip."""
        job = self.at_hand()
        self.link.value = download_link(f"{job.name}.zip", export_job(job), "application/zip")
        self.message.say(f"The link saves a copy of the job {job.name}: its parts and all its readings.")

    def bring(self):
        """Make a new job from the zip chosen, and open it.

        Raises
        ------
        BadInput
            When no zip is chosen, the name is taken, or the zip holds anything that a job may not.
        """
        if not self.upload.value:
            raise BadInput(
                "no zip was chosen", "a zip made by this workbook is needed", "choose one", where="zip of a job"
            )
        made = import_job(bytes(self.upload.value[0]["content"]), self.name.value.strip(), self._start.job_folder)
        notes = " ".join(note for log in ALL_LOGS for note in file_notes(made, log))
        self.upload.value, self.name.value = (), ""
        self._start.take_in(made)
        self.redraw()
        self.message.say(f"The job {made.name} is here and open. {notes}".strip())


def _when(version):
    return version.until.strftime("%Y-%m-%d %H:%M:%S")
