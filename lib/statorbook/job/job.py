"""The job: one folder that passes between the notebooks, each of which writes only its own part of it."""

from statorbook.bench import ALL_LOGS, columns_of
from statorbook.errors import BadInput
from statorbook.job.document import SCHEMA_VERSION, PartsByName, format_document, parse_document, with_part
from statorbook.job.files import DOCUMENT, file_label, locked, read_file, replace_file
from statorbook.job.logs import fingerprint_of, load_log, replace_log, start_logs
from statorbook.job.parts.base import part_from_fields
from statorbook.job.parts.fields import shown
from statorbook.job.parts.registry import PARTS
from statorbook.job.places import (
    CURRENT_FILE,
    EXAMPLE,
    base_folder,
    current_name,
    job_folder,
    job_names,
    make_folder,
    require_job,
)
from statorbook.job.progress import chapter_states
from statorbook.job.snapshot import JobSnapshot


class Job(PartsByName):
    """An open job; make one with `Job.open`, `Job.create` or `open_current`.

    Parameters
    ----------
    folder : Path
        The job's folder, checked.
    notice : str
        A sentence when another job was wanted than the one that is open, else empty.
    """

    def __init__(self, folder, *, notice=""):
        self.folder, self.notice = folder, notice
        self._document()  # a damaged job is reported on opening, not in the middle of the work
        self._seen = {log: fingerprint_of(self.folder, log) for log in ALL_LOGS}

    def __repr__(self):
        return f"Job {self.name!r}"

    @classmethod
    def create(cls, name, data_folder=None):
        """Make a new, empty job.

        Parameters
        ----------
        name : str
            1 to 40 letters, digits, underscores and hyphens.
        data_folder : Path or None
            Where jobs are kept; found by itself when None.

        Returns
        -------
        Job
            The new job, open.

        Raises
        ------
        BadInput
            When the name is not allowed or taken, or the disk refuses.
        """
        base = base_folder(data_folder)
        folder = job_folder(base, name)
        with locked(base):
            make_folder(base, folder)
            with locked(folder):
                start_logs(folder)
                # Written last: a folder is a job only once it is complete.
                replace_file(folder / DOCUMENT, format_document({"schema_version": SCHEMA_VERSION}))
        return cls(folder)

    @classmethod
    def open(cls, name, data_folder=None):
        """Open a job that exists.

        Parameters
        ----------
        name : str
            The job's name.
        data_folder : Path or None
            Where jobs are kept; found by itself when None.

        Returns
        -------
        Job
            The job.

        Raises
        ------
        BadInput
            When there is no such job, naming those that exist, or when its file is damaged.
        """
        base = base_folder(data_folder)
        folder = job_folder(base, name)
        require_job(base, folder)
        return cls(folder)

    @staticmethod
    def names(data_folder=None):
        """The jobs that exist.

        Parameters
        ----------
        data_folder : Path or None
            Where jobs are kept; found by itself when None.

        Returns
        -------
        list of str
            In alphabetical order.

        Raises
        ------
        BadInput
            When there is no data folder.
        """
        return job_names(base_folder(data_folder))

    @property
    def name(self):
        """The job's name, which is its folder's name."""
        return self.folder.name

    @property
    def parts(self):
        """The parts that are filled in, by name, as they are on the disk at this moment; checked."""
        return self._document().parts

    def read(self):
        """The job as it is at this moment, a `JobSnapshot`: for whatever needs more than one part of it."""
        return JobSnapshot(folder=self.folder, parts=self.parts, notice=self.notice)

    def reopen(self):
        """The same job read anew, for a panel with a log: rows may replace only those that this very panel has read."""
        return Job(self.folder, notice=self.notice)

    def has_log(self, log):
        """Whether a log was begun.

        Parameters
        ----------
        log : str
            One of `bench.ALL_LOGS`.

        Returns
        -------
        bool
            True once its file is there.
        """
        return (self.folder / f"{log}.csv").exists()

    def save_part(self, name, part):
        """Write one part, leaving every other part as it is on the disk at this moment.

        Parameters
        ----------
        name : str
            One of `job.parts.registry.PARTS`.
        part : Part
            The part of that name.

        Raises
        ------
        BadInput
            When it is no such part, the file is damaged, or the disk refuses; the file is then untouched.
        """
        model = PARTS.get(name) if isinstance(name, str) else None
        if model is None:
            raise BadInput(
                f"{shown(name)} was given", f"allowed are {', '.join(PARTS)}", "choose one of them", where="part"
            )
        if type(part) is not model:
            raise BadInput(
                f"a {type(part).__name__} was given",
                f"a {model.__name__} is allowed",
                f"make one with {model.__name__}(...)",
                where=model.part_title,
            )
        part = part_from_fields(model, part.model_dump())  # a copy with changed fields has not been checked yet
        with locked(self.folder):
            replace_file(self.folder / DOCUMENT, format_document(with_part(self._document(), name, part)))

    def read_log(self, log):
        """The rows of a log, as typed.

        Parameters
        ----------
        log : str
            One of `bench.ALL_LOGS`.

        Returns
        -------
        list of dict
            Text by column; empty when there is no reading yet.

        Raises
        ------
        BadInput
            When there is no such log, or the file is damaged or lost; names file and line.
        """
        found, self._seen[log] = load_log(self.folder, log)
        return found.rows

    def log_notes(self, log):
        """What was odd in a log's file and was kept all the same.

        Parameters
        ----------
        log : str
            One of `bench.ALL_LOGS`.

        Returns
        -------
        tuple of str
            One sentence each.

        Raises
        ------
        BadInput
            As for `read_log`.
        """
        return load_log(self.folder, log)[0].notes

    def save_log(self, log, rows):
        """Write all rows of a log.

        Parameters
        ----------
        log : str
            One of `bench.ALL_LOGS`.
        rows : list of dict
            Text by column, every column present.

        Raises
        ------
        BadInput
            When a row is no such row, the file is damaged, another notebook has written it since it was read here, or
            the disk refuses; the file is then untouched.
        """
        columns_of(log)
        with locked(self.folder):
            self._seen[log] = replace_log(self.folder, log, rows, seen=self._seen[log])

    def states(self):
        """How far each chapter has come: "done", or "started: …", "empty: …" or "out of date: …" with the reason."""
        return chapter_states(self.folder, self.parts)

    def make_current(self):
        """Let every notebook open this job from now on; refused when the disk does."""
        base = self.folder.parent
        with locked(base):
            replace_file(base / CURRENT_FILE, f"{self.name}\n".encode(), keep_previous=False)

    def _document(self):
        path = self.folder / DOCUMENT
        data = read_file(path)
        if data is None:
            require_job(self.folder.parent, self.folder)
        return parse_document(data or b"", file_label(path))


def open_current(data_folder=None):
    """Open the current job, or the example with a notice when that job is not there.

    Parameters
    ----------
    data_folder : Path or None
        Where jobs are kept; found by itself when None.

    Returns
    -------
    Job
        Its notice says when it is not the job that was wanted.

    Raises
    ------
    BadInput
        When the job's file is damaged, or not even the example is there.
    """
    base = base_folder(data_folder)
    notice = ""
    try:
        folder = job_folder(base, current_name(base) or EXAMPLE)
        require_job(base, folder)
    except BadInput as missing:
        notice = f"The example job {EXAMPLE} is open instead: {missing}"
        folder = base / EXAMPLE
        if EXAMPLE not in job_names(base):
            raise BadInput(
                f"neither the current job nor the example job {EXAMPLE} is in the data folder",
                f"the jobs here are {', '.join(job_names(base)) or 'none yet'}",
                'make the example again with statorbook.examples.write(), or open another job with Job.open("name")',
                where="current job",
            ) from None
    return Job(folder, notice=notice)
