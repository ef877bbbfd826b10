"""Where jobs live: the data folder, names that cannot leave it, the jobs in it and the current one."""

import os
import re
from pathlib import Path

from statorbook.bench import LOGS
from statorbook.errors import BadInput
from statorbook.job.files import DOCUMENT, file_label, previous_of, read_file

CURRENT_FILE = ".current_job"
EXAMPLES = ("spring_pipe", "ridge_rotor", "shed_pedals")
EXAMPLE = EXAMPLES[0]
_NAME = re.compile(r"[A-Za-z0-9_-]{1,40}")
_WINDOWS_DEVICES = ("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10)))


def data_folder():
    """The folder of all jobs: STATORBOOK_DATA when set, else ../data seen from notebooks/ or ./data from above it."""
    named, here = os.environ.get("STATORBOOK_DATA"), Path.cwd()
    root = here.parent if here.name == "notebooks" else here
    found = Path(named) if named else root / "data"
    if not found.is_dir() or not (named or (root / "notebooks").is_dir()):
        given = "STATORBOOK_DATA names a folder that does not exist" if named else "no data folder is seen from here"
        raise BadInput(
            given,
            "the folder data beside notebooks is used, or the one that STATORBOOK_DATA names",
            "start JupyterLab from the workbook's own folder, or correct STATORBOOK_DATA",
            where="data folder",
        )
    return found.absolute()


def checked_name(name):
    """A job's name unchanged; refused when it could leave the data folder or some computer cannot store it."""
    allowed = "1 to 40 letters a to z, digits, underscores and hyphens are allowed"
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        words = repr(name) if isinstance(name, str) else f"a {type(name).__name__}"
        given = words if len(words) <= 60 else f"{words[:60]}…"
        raise BadInput(f"{given} was given", allowed, "choose another name", where="job name")
    if name.lower() in _WINDOWS_DEVICES:
        raise BadInput(
            f"{name!r} was given, which some computers reserve for a device",
            allowed,
            "choose another name",
            where="job name",
        )
    return name


def job_folder(base, name):
    """Where a job lives, or would live, inside the data folder.

    Parameters
    ----------
    base : Path
        The data folder.
    name : str
        The job's name.

    Returns
    -------
    Path
        The folder, which need not exist.

    Raises
    ------
    BadInput
        When the name is not allowed or the folder is a link that leads elsewhere.
    """
    folder = base / checked_name(name)
    if folder.is_symlink() or (folder.exists() and folder.resolve().parent != base.resolve()):
        raise BadInput(
            f"{name!r} is a link to another place",
            "a job is a real folder inside the data folder",
            "copy the folder itself into the data folder",
            where="job name",
        )
    return folder


def base_folder(chosen):
    """The data folder to work in.

    Parameters
    ----------
    chosen : Path, str or None
        A folder; found by `data_folder` when None.

    Returns
    -------
    Path
        The folder.

    Raises
    ------
    BadInput
        When it does not exist.
    """
    if chosen is None:
        return data_folder()
    if not Path(chosen).is_dir():
        raise BadInput(
            "a folder that does not exist was given",
            "an existing folder is allowed",
            "make the folder first or leave it out",
            where="data folder",
        )
    return Path(chosen).absolute()


def folders_in(base):
    """The real folders in the data folder that could be jobs by their names, in alphabetical order."""
    try:
        return sorted(
            entry
            for entry in base.iterdir()
            if _NAME.fullmatch(entry.name) and entry.is_dir() and not entry.is_symlink()
        )
    except OSError as error:
        raise BadInput(
            f"the data folder cannot be read ({error.strerror})",
            "a folder that you may read is allowed",
            "check who owns it",
            where="data folder",
        ) from None


def job_names(base):
    """The names of the jobs in the data folder, in alphabetical order."""
    return [folder.name for folder in folders_in(base) if os.path.isfile(folder / DOCUMENT)]


def require_job(base, folder):
    """Refuse a job that is not there, and say which are, or that only its previous version is left."""
    names = job_names(base)
    if folder.name in names:
        return
    document = folder / DOCUMENT
    if os.path.isfile(previous_of(document)):
        raise BadInput(
            "the file is missing",
            "job.previous.json beside it holds the version before",
            "make a copy of that file with the name job.json",
            where=file_label(document),
        )
    raise BadInput(
        f"there is no job {folder.name!r}",
        f"the jobs here are {', '.join(names) or 'none yet'}",
        f'open one that is here, or make it with Job.create("{folder.name}")',
        where="job name",
    )


def current_name(base):
    """The name of the current job.

    Parameters
    ----------
    base : Path
        The data folder.

    Returns
    -------
    str
        From STATORBOOK_JOB, else from the hidden file beside the jobs; empty when nobody has chosen one.

    Raises
    ------
    BadInput
        When that file cannot be read.
    """
    named = os.environ.get("STATORBOOK_JOB")
    if named:
        return named
    kept = read_file(base / CURRENT_FILE)
    return kept.decode("utf-8-sig", errors="replace").strip() if kept else ""


def make_folder(base, folder):
    """Make a job's folder, or take over one that a job broke off in before it was complete; hold the base's lock."""
    # Two names that differ only in capitals are one folder on many computers.
    for other in folders_in(base):
        same = other.name.lower() == folder.name.lower()
        if same and (other.name != folder.name or _holds_more_than_logs(other)):
            raise BadInput(
                f"there is already a folder {other.name!r}",
                "each job has a name of its own, whatever the capitals",
                "choose another name, or open that one if it is your job",
                where="job name",
            )
    ensure_folder(folder)


def ensure_folder(folder):
    """Make a folder, checked by `job_folder`, when it is not there."""
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise BadInput(
            f"the folder cannot be made ({error.strerror})",
            "a data folder that you may write to is allowed",
            "check who owns it and whether the disk is full",
            where=folder.name,
        ) from None


def _holds_more_than_logs(folder):
    own = [f"{log}.csv" for log in LOGS]
    return any(name not in own and not name.startswith(".") for name in os.listdir(folder))
