"""The log files of a job: read, started empty, and replaced only by rows that began from what is in them."""

import hashlib

from statorbook.bench import LOGS, LogText, columns_of, format_log, parse_log
from statorbook.errors import BadInput
from statorbook.job.files import file_label, previous_of, read_file, replace_file


def load_log(folder, log):
    """A log as it is on the disk now.

    Parameters
    ----------
    folder : Path
        The job's folder.
    log : str
        One of `bench.ALL_LOGS`.

    Returns
    -------
    tuple of (LogText, bytes or None)
        The log, and the file's fingerprint, None when there is no file yet.

    Raises
    ------
    BadInput
        When the file is damaged, or gone while the version before is there.
    """
    path = _path(folder, log)
    data = read_file(path)
    if data is not None:
        return parse_log(log, data, file_label(path)), _fingerprint(data)
    if read_file(previous_of(path)) is not None:
        raise BadInput(
            "the file is missing",
            f"{previous_of(path).name} beside it holds the version before",
            f"make a copy of that file with the name {path.name}",
            where=file_label(path),
        )
    note = f"{file_label(path)} is not there yet; saving a reading makes it."
    return LogText(rows=[], units={}, notes=(note,)), None


def fingerprint_of(folder, log):
    """A mark of what a log's file holds, damaged or not, so that a change shows.

    Parameters
    ----------
    folder : Path
        The job's folder.
    log : str
        One of `bench.ALL_LOGS`.

    Returns
    -------
    bytes or None
        None when there is no file.
    """
    return _fingerprint(read_file(_path(folder, log)))


def replace_log(folder, log, rows, *, seen):
    """Write all rows of a log unless its fingerprint is no longer the one seen; return the new one. Hold the lock."""
    path = _path(folder, log)
    before, fingerprint = load_log(folder, log)
    if fingerprint != seen:
        raise BadInput(
            "the file was changed elsewhere since it was read here",
            "a log is replaced only by rows that began from what is in it",
            f'read it again with read_log("{log}"), then type your reading again',
            where=file_label(path),
        )
    data = format_log(log, rows, file_label(path), units=before.units)
    replace_file(path, data)
    return _fingerprint(data)


def start_logs(folder):
    """Write the logs that are not there yet, without a reading; hold the folder's lock."""
    for log in LOGS:
        path = _path(folder, log)
        if read_file(path) is None:
            replace_file(path, format_log(log, [], file_label(path)))


def _path(folder, log):
    columns_of(log)
    return folder / f"{log}.csv"


def _fingerprint(data):
    return None if data is None else hashlib.sha256(data).digest()
