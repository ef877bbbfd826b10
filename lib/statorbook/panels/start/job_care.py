"""Panel of the start page: look back on a job, restore a version, take a copy out, bring one in."""

import ipywidgets as W

from statorbook.bench import ALL_LOGS
from statorbook.errors import BadInput, count_of
from statorbook.job import (
    DAMAGED,
    DOCUMENT,
    JOB_FILES,
    Job,
    export_job,
    import_job,
    no_history_words,
    restore,
    told,
    versions,
)
from statorbook.panels.measuring.job_log import file_notes
from statorbook.panels.start.version_choice import VersionChoice
from statorbook.widgets import Answer, Panel, Table, button, download_link, html, labelled

_SHOWN = 20


class JobCare(Panel):
    """Keep a job safe: its history, a copy as a zip, and the way back in.

    Parameters
    ----------
    start : StartPanel
        The panel that says which job is open.
    """

    def __init__(self, start):
        self.start = start
        self.version = VersionChoice(self.guarded)
        self.link = html()
        self.upload = W.FileUpload(accept=".zip", multiple=False, description="Choose a zip")
        self.name = W.Text(
            continuous_update=False, placeholder="letters, digits, - and _", **labelled("Its name here", 18, "text")
        )
        pack = button("Make a copy to keep", self.guarded(lambda pressed: self.pack()))
        bring = button("Bring this job in", self.guarded(lambda pressed: self.bring()))
        back = button("Restore this version", self.guarded(lambda pressed: self.back()))
        super().__init__(
            inputs=[[self.version, back], [pack, self.link], [self.upload, self.name, bring]], sentence_lines=2
        )
        start.follow(self.redraw)

    def current(self):
        """The current job as a `JobFolder`, damaged or not; refused when there is none."""
        found = self.start.current
        if found is None or not found.folder.is_dir():
            raise BadInput("no job is open", "an open job is needed", "open or create one above", where="job")
        return found

    def answer(self):
        """What was changed last in the current job, or what of it is damaged and can be restored."""
        self.link.value = ""
        try:
            job = self.current()
        except BadInput:
            self.version.offer(())
            return Answer(sentence="No job is open, so there is none to look back on: open, create or bring in one.")
        damage = job.damage
        kept = versions(job, tuple(damage) or JOB_FILES)
        self.version.offer(kept)
        found = [version for version in told(kept[:_SHOWN]) if DAMAGED not in version.words]
        table = Table(
            columns=("when, UTC", "what was changed"),
            rows=tuple((_when(version), version.words) for version in found),
            caption=f"The newest {len(found)} of {count_of(len(kept), 'version')}; all of them stand in the lists "
            "above.",
        )
        table, caution = table if found else None, " ".join((*damage.values(), no_history_words(job.folder))).strip()
        return Answer(sentence=_words(job, damage, found, len(kept)), table=table, caution=caution)

    def back(self):
        """Restore the version chosen, and open the job when that is what was damaged."""
        if not self.version.value:
            raise BadInput("no version was chosen", "a version from the list is needed", "choose one", where="history")
        job, version = self.current(), self.version.value
        said = restore(job, version)
        if DOCUMENT not in job.damage:
            self.start.take_in(Job.open(job.name, self.start.job_folder), "Restored")
        else:
            self.redraw()
        self.message.say(f"{said} On the other pages press “Run the page”.")

    def pack(self):
        """Offer the job as a zip, damaged or not."""
        job = self.current()
        self.link.value = download_link(f"{job.name}.zip", export_job(job), "application/zip")
        if job.damage:
            self.message.remark(
                f"The link saves a copy of the job {job.name} as it is, its damage included, so that nothing gets "
                "lost; it can be brought in only once it is restored or mended."
            )
        else:
            self.message.say(f"The link saves a copy of the job {job.name}: its parts and all its readings.")

    def bring(self):
        """Make a new job from the zip chosen, and open it."""
        if not self.upload.value:
            raise BadInput(
                "no zip was chosen", "a zip made by this workbook is needed", "choose one", where="zip of a job"
            )
        made = import_job(bytes(self.upload.value[0]["content"]), self.name.value.strip(), self.start.job_folder)
        notes = " ".join(note for log in ALL_LOGS for note in file_notes(made, log))
        self.upload.value, self.name.value = (), ""
        self.start.take_in(made, "Brought in")
        self.message.say(f"The job {made.name} is here and open. {notes}".strip())


def _words(job, damage, found, count):
    """What there is to look back on."""
    if damage:
        files = " and ".join(damage)
        way = "choose a version and press “Restore this version”" if count else "no older version of it is kept"
        return f"In the job {job.name} {files} cannot be used: {way}. The damaged file is never deleted."
    if not count:
        return f"Nothing was changed yet in the job {job.name}; each change from now on can be undone."
    last = f"Last change in the job {job.name}, {_when(found[0])} UTC: {found[0].words}. " if found else ""
    return (
        f"{last}{count_of(count, 'version')} before "
        f"{'is' if count == 1 else 'are'} kept, each can be put back; restoring one keeps the present one too."
    )


def _when(version):
    return version.until.strftime("%Y-%m-%d %H:%M:%S")
