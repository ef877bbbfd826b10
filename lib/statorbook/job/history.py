"""The versions before: what of a job was changed when, and the way back to any of them, from damage too."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from statorbook.errors import BadInput
from statorbook.job.changes import JOB_FILES, change_in_words, parsed_file
from statorbook.job.document import parse_document
from statorbook.job.files import DOCUMENT, HISTORY, file_label, locked, previous_of, put_aside, read_file, replace_file
from statorbook.job.logs import load_log
from statorbook.job.places import folders_in

_STAMP = "%Y%m%dT%H%M%S.%f"


@dataclass(frozen=True, kw_only=True)
class Version:
    """One file of a job as it was until it was changed."""

    until: datetime  # when it was replaced, UTC
    file: str  # "job.json", or a log's file such as "spin.csv"
    path: Path  # where it is kept
    words: str = ""  # what was changed then; empty until `told`
    after: Path | None = None  # where what came after it is kept


@dataclass(frozen=True, kw_only=True)
class JobFolder:
    """A job's folder, whether or not the job in it can be opened.

    Parameters
    ----------
    folder : Path
        The folder, checked by `job.places.job_folder`.
    """

    folder: Path

    @property
    def name(self):
        """The job's name, which is its folder's name."""
        return self.folder.name

    @property
    def damage(self):
        """What is wrong with each file that cannot be used, as a dict of str to str: a sentence with its line."""
        found = {file: _damage(self.folder, file) for file in JOB_FILES}
        return {file: words for file, words in found.items() if words}


def versions(job, files=JOB_FILES):
    """Every version that is kept, quickly: none is read, so none has words yet.

    Parameters
    ----------
    job : Job or JobFolder
        The job.
    files : sequence of str
        The files that it is about, such as "job.json" and "spin.csv"; all when left out.

    Returns
    -------
    tuple of Version
        The newest first.
    """
    newer, found = {}, []
    kept = [version for version in _kept(job.folder) if version.file in files]
    for version in sorted(kept, key=lambda version: (version.until, version.path.name), reverse=True):
        found.append(replace(version, after=newer.get(version.file, job.folder / version.file)))
        newer[version.file] = version.path
    return tuple(found)


def told(found):
    """The same versions with what was changed, which needs each of them and the one after it read.

    Parameters
    ----------
    found : sequence of Version
        From `versions`.

    Returns
    -------
    tuple of Version
        In the same order.
    """
    contents, said = {}, []
    for version in found:
        for path in (version.path, version.after):
            if path not in contents:
                contents[path] = _content(path, version.file)
        words = change_in_words(version.file, contents[version.path], contents[version.after])
        said.append(replace(version, words=words))
    return tuple(said)


def history(job, most=None, files=JOB_FILES):
    """What of a job was changed when, the newest first: at most so many `Version`s with words, all when None."""
    return told(versions(job, files)[:most])


def restore(job, version):
    """Put an older version in the place of the present one, which itself becomes a version before.

    Parameters
    ----------
    job : Job or JobFolder
        The job.
    version : Version
        From `history`.

    Returns
    -------
    str
        What was done, in a sentence; a damaged file is kept beside it under a name of its own.

    Raises
    ------
    BadInput
        When that version is damaged or gone, or the disk refuses; nothing is changed then.
    """
    path = job.folder / version.file
    with locked(job.folder):
        data = read_file(version.path)
        if data is None:
            raise BadInput(
                "that version is no longer kept",
                "the versions of the list are allowed",
                "run the page again and choose another",
                where=file_label(path),
            )
        parsed_file(version.file, data)
        lost = not path.exists()
        aside = put_aside(path) if not lost and _damage(job.folder, version.file) else ""
        # The version before a damaged file is the last good one: it stays.
        replace_file(path, data, keep_previous=not aside)
    kept = f"the damaged file is kept as {aside}" if aside else "what it was just now is in the list too"
    kept = "it was gone" if lost else kept
    return f"{version.file} is again as it was until {version.until:%Y-%m-%d %H:%M:%S} UTC; {kept}."


def lost_jobs(base):
    """The jobs whose job.json is gone while versions of it are kept.

    Parameters
    ----------
    base : Path
        The data folder.

    Returns
    -------
    list of str
        Their names, in alphabetical order.

    Raises
    ------
    BadInput
        When the data folder cannot be read.
    """
    return [
        folder.name
        for folder in folders_in(base)
        if not (folder / DOCUMENT).exists() and any(version.file == DOCUMENT for version in _kept(folder))
    ]


def no_history_words(folder):
    """Why a job has no history, when the disk keeps none.

    Parameters
    ----------
    folder : Path
        The job's folder.

    Returns
    -------
    str
        A sentence; empty when older versions are kept.
    """
    place = folder / HISTORY
    if place.is_symlink() or (place.exists() and not place.is_dir()):
        return f"Only the version before the last change is kept: {place.name} in {folder.name} is a link or a file."
    return ""


def _kept(folder):
    place, known = folder / HISTORY, set()
    names = sorted(path.name for path in place.iterdir()) if place.is_dir() and not place.is_symlink() else []
    for name in names:
        stamp, _, file = name.partition("-")
        if file in JOB_FILES and not (place / name).is_symlink():
            try:
                until = datetime.strptime(stamp[:22], _STAMP).replace(tzinfo=UTC)
            except ValueError:
                continue  # not one of ours
            known.add(file)
            yield Version(until=until, file=file, path=place / name)
    for file in JOB_FILES:  # a disk that keeps no history keeps the version before all the same
        path = previous_of(folder / file)
        if file not in known and path.is_file() and not path.is_symlink():
            yield Version(until=datetime.fromtimestamp(path.stat().st_mtime, UTC), file=file, path=path)


def _damage(folder, file):
    path = folder / file
    try:
        if file != DOCUMENT:
            load_log(folder, file.removesuffix(".csv"))
            return ""
        data = read_file(path)
        if data is None:
            raise BadInput(
                "the file is missing", "a job keeps its parts in it", "restore a version of it", where=file_label(path)
            )
        parse_document(data, file_label(path))
        return ""
    except BadInput as refusal:
        return str(refusal)


def _content(path, file):
    """The parsed file; None when it is not there or damaged."""
    try:
        data = read_file(path)
        return None if data is None else parsed_file(file, data)
    except BadInput:
        return None
