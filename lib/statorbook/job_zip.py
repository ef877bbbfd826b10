"""A whole job as one zip: out as it is, in only after everything in it has been checked."""

import os
import shutil
import struct
import tempfile
import zipfile
import zlib
from io import BytesIO
from pathlib import Path

from statorbook.errors import BadInput
from statorbook.job import Job
from statorbook.job_document import parse_document
from statorbook.job_files import locked, read_file
from statorbook.job_places import base_folder, job_folder
from statorbook.log_columns import ALL_LOGS
from statorbook.log_text import parse_log

_DOCUMENT, _ABOUT = "job.json", "README.txt"
_FILES = (_DOCUMENT, *(f"{log}.csv" for log in ALL_LOGS))
MOST_FILE_BYTES, MOST_ZIP_BYTES = 5_000_000, 20_000_000
_STAMP = (1980, 1, 1, 0, 0, 0)  # the same job gives the same zip, whenever it is made
_ANOTHER = "choose a zip that this workbook made"
# Whatever a zip of nonsense may make the reader of zips stumble over.
_NOT_A_ZIP = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    NotImplementedError,
    RuntimeError,
    EOFError,
    KeyError,
    IndexError,
    OverflowError,
    ValueError,
    OSError,
)


def export_job(job):
    """Pack a job.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    bytes
        A zip of job.json and the logs as they are on the disk, without older versions.

    Raises
    ------
    BadInput
        When a file cannot be read.
    """
    about = f"The job {job.name} of a rewiring workbook: its parts in job.json, its readings as CSV.\n"
    packed = BytesIO()
    with locked(job.folder):
        files = {name: read_file(job.folder / name) for name in _FILES}
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as made:
        for name, data in {_ABOUT: about.encode(), **files}.items():
            if data is not None:
                info = zipfile.ZipInfo(name, _STAMP)
                info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
                made.writestr(info, data)
    return packed.getvalue()


def import_job(data, name, data_folder=None):
    """Make a new job from a zip.

    Parameters
    ----------
    data : bytes
        The zip.
    name : str
        Name of the new job.
    data_folder : Path or None
        Where jobs are kept; found by itself when None.

    Returns
    -------
    Job
        The new job, open. Logs with something odd in them are kept; `Job.log_notes` says what.

    Raises
    ------
    BadInput
        When the name is taken or not allowed, or anything in the zip is not as it should be; nothing is left behind.
    """
    base = base_folder(data_folder)
    folder = job_folder(base, name)
    if os.path.lexists(folder):
        raise BadInput(
            f"there is already a job {folder.name}",
            "a job is never written over by an import",
            f"give it another name, such as {_free(base, folder.name)}",
            where="name of the job",
        )
    _put(base, folder, _checked(data))
    return Job.open(folder.name, base)


def _put(base, folder, files):
    """Write the files beside, then give them their place in one step; whatever goes wrong leaves nothing behind."""
    scratch = Path(tempfile.mkdtemp(prefix=".import-", dir=base))
    try:
        for file, content in files.items():
            (scratch / file).write_bytes(content)
        scratch.chmod(0o755)
        with locked(base):
            if os.path.lexists(folder):
                given, allowed = "a job of that name was made meanwhile", "a new name is allowed"
                raise BadInput(given, allowed, "choose another", where="name of the job")
            os.rename(scratch, folder)
    except OSError as error:
        raise BadInput(
            f"the job cannot be written ({error.strerror or 'the system refused'})",
            "a data folder that you may write to, with room on the disk, is allowed",
            "make room or check who owns the folder, then try again",
            where="import",
        ) from None
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def _free(base, name):
    return next(f"{name[:36]}-{n}" for n in range(2, 1000) if not os.path.lexists(base / f"{name[:36]}-{n}"))


def _checked(data):
    """Names to contents, all of them such as a job may hold, none larger than it may be, each one readable."""
    if len(data) > MOST_ZIP_BYTES:
        raise _refusal(f"{len(data) / 1e6:.0f} MB were given", f"at most {MOST_ZIP_BYTES / 1e6:.0f} MB are allowed")
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            infos = packed.infolist()
            _require_names([info.filename for info in infos])
            files = {info.filename: _unpacked(packed, info) for info in infos}
    except _NOT_A_ZIP as error:
        if isinstance(error, BadInput):
            raise
        raise _refusal("this is no zip, or it is damaged", "an undamaged zip of a job is allowed") from None
    files.pop(_ABOUT, None)
    for name, content in files.items():
        if name == _DOCUMENT:
            parse_document(content, name)
        else:
            parse_log(name.removesuffix(".csv"), content, name)
    return files


def _require_names(names):
    strange = [name for name in names if name not in (*_FILES, _ABOUT)]
    if strange:
        given = f"the zip holds {strange[0][:40]!r}"
        raise _refusal(given, f"only {', '.join((*_FILES, _ABOUT))} are allowed, without folders")
    if len(set(names)) < len(names):
        raise _refusal("the zip holds a file twice", "each file is allowed once")
    if _DOCUMENT not in names:
        raise _refusal("the zip has no job.json", "a job with its job.json is allowed")


def _unpacked(packed, info):
    """Read no more than is allowed, whatever the zip says of the size; the checksum is checked on the way."""
    if info.flag_bits & 0x1:
        raise _refusal(f"{info.filename} is locked by a password", "a zip without password is allowed")
    with packed.open(info) as file:
        content = file.read(MOST_FILE_BYTES + 1)
        if len(content) > MOST_FILE_BYTES:
            raise _refusal(
                f"{info.filename} is larger than it may be", f"at most {MOST_FILE_BYTES / 1e6:.0f} MB a file is allowed"
            )
        file.read(1)  # reaching the end is what compares the checksum
    return content


def _refusal(given, allowed):
    return BadInput(given, allowed, _ANOTHER, where="zip of a job")
