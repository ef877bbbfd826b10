"""A job as it was at one moment, for a page, a sheet or a check that reads several of its parts."""

from dataclasses import dataclass
from pathlib import Path

from statorbook.job.document import PartsByName
from statorbook.job.logs import load_log
from statorbook.job.progress import chapter_states


@dataclass(frozen=True, kw_only=True)
class JobSnapshot(PartsByName):
    """A job's parts from one reading of job.json, so that they belong together whoever saves meanwhile; only read."""

    folder: Path
    parts: dict  # by name: those that are filled in, checked
    notice: str = ""  # as `Job.notice`

    @property
    def name(self):
        """The job's name, which is its folder's name."""
        return self.folder.name

    def read(self):
        """Itself, so that a function can be given either a job or what was read of it."""
        return self

    def read_log(self, log):
        """The rows of a log as they are on the disk now; only rows that a `Job` has read may be replaced by it."""
        return load_log(self.folder, log)[0].rows

    def states(self):
        """How far each chapter has come, as `Job.states`."""
        return chapter_states(self.folder, self.parts)
