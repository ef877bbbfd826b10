"""A whole job as one zip: out as it is, in only after everything in it has been checked."""

import os
import re
import shutil
import struct
import tempfile
import zipfile
import zlib
from io import BytesIO
from pathlib import Path

from statorbook.errors import BadInput
from statorbook.job.changes import JOB_FILES, parsed_file
from statorbook.job.drafts import DRAFTS, load_drafts, parse_drafts
from statorbook.job.files import DOCUMENT, locked, read_file, sync_folder, write_through
from statorbook.job.history import JobFolder
from statorbook.job.job import Job
from statorbook.job.places import base_folder, folders_in, job_folder

_ABOUT = "README.txt"
_FILES = (*JOB_FILES, DRAFTS)
MOST_FILE_BYTES, MOST_ZIP_BYTES = 5_000_000, 20_000_000
_STAMP = (1980, 1, 1, 0, 0, 0)  # the same job gives the same zip, whenever it is made
_PACKINGS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_SCRATCH, _SCRATCH_NAME = ".import-", re.compile(r"\.import-[a-z0-9_]{8}")
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
    """Pack a job, damaged or not: a copy of a damaged job may be the only one that its reader has.

    Parameters
    ----------
    job : Job or JobFolder
        The job.

    Returns
    -------
    bytes
        A zip of job.json, the logs and what is typed and not used yet, as they are on the disk, without older versions;
        a text in it says what is damaged or could not be read.

    Raises
    ------
    BadInput
        When the folder is gone or held by another notebook.
    """
    about = f"The job {job.name} of a rewiring workbook: its parts in job.json, its readings as CSV.\n"
    packed, files = BytesIO(), {}
    with locked(job.folder):
        for name in JOB_FILES:
            try:
                files[name] = read_file(job.folder / name)
            except BadInput:  # the damage below says why
                files[name] = None
        damage = list(JobFolder(folder=job.folder).damage.values())
        try:
            if load_drafts(job.folder):  # an older workbook takes the zip as well as long as nothing is half-typed
                files[DRAFTS] = read_file(job.folder / DRAFTS)
        except BadInput as refusal:  # left out: it would keep the whole copy from coming in
            damage.append(str(refusal))
        about += "".join(f"Damaged: {words}\n" for words in damage)
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
    _require_free(base, folder)
    _put(base, folder, _checked(data))
    return Job.open(folder.name, base)


def sweep_imports(base):
    """Take away what an import left behind that was cut off by a kill or a power cut.

    Parameters
    ----------
    base : Path
        The data folder.

    Raises
    ------
    BadInput
        When another notebook holds the data folder, or it cannot be written to.
    """
    with locked(base):  # an import under way holds this too, so whatever is there now is left over
        for scratch in base.glob(f"{_SCRATCH}*"):
            ours = _SCRATCH_NAME.fullmatch(scratch.name) and scratch.is_dir() and not scratch.is_symlink()
            if ours and set(os.listdir(scratch)) <= set(_FILES):
                shutil.rmtree(scratch, ignore_errors=True)


def _put(base, folder, files):
    """Write the files beside, then give them their place in one step; whatever goes wrong leaves nothing behind."""
    with locked(base):
        scratch = None
        try:
            scratch = Path(tempfile.mkdtemp(prefix=_SCRATCH, dir=base))
            for file, content in files.items():
                write_through(scratch / file, content)
            scratch.chmod(0o755)
            sync_folder(scratch)
            _require_free(base, folder)
            os.rename(scratch, folder)
            sync_folder(base)
        except OSError as error:
            raise BadInput(
                f"the job cannot be written ({error.strerror or 'the system refused'})",
                "a data folder that you may write to, with room on the disk, is allowed",
                "make room or check who owns the folder, then try again",
                where="import",
            ) from None
        finally:
            if scratch:
                shutil.rmtree(scratch, ignore_errors=True)


def _require_free(base, folder):
    """Two names that differ only in capitals are one folder on many computers."""
    taken = {other.name.lower(): other.name for other in folders_in(base)}
    if folder.name.lower() in taken or os.path.lexists(folder):
        names = (f"{folder.name[:36]}-{n}" for n in range(2, 1000))
        free = next(name for name in names if name.lower() not in taken and not os.path.lexists(base / name))
        raise BadInput(
            f"there is already a job {taken.get(folder.name.lower(), folder.name)}",
            "a job is never written over by an import",
            f"give it another name, such as {free}",
            where="name of the job",
        )


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
        if name == DRAFTS:
            parse_drafts(content, name)
        else:
            parsed_file(name, content)
    return files


def _require_names(names):
    strange = [name for name in names if name not in (*_FILES, _ABOUT)]
    if strange:
        given = f"the zip holds {strange[0][:40]!r}"
        raise _refusal(given, f"only {', '.join((*_FILES, _ABOUT))} are allowed, without folders")
    if len(set(names)) < len(names):
        raise _refusal("the zip holds a file twice", "each file is allowed once")
    if DOCUMENT not in names:
        raise _refusal("the zip has no job.json", "a job with its job.json is allowed")


def _unpacked(packed, info):
    """Read no more than is allowed, whatever the zip says of the size; the checksum is checked on the way."""
    if info.flag_bits & 0x1:
        raise _refusal(f"{info.filename} is locked by a password", "a zip without password is allowed")
    if info.compress_type not in _PACKINGS:
        kind = zipfile.compressor_names.get(info.compress_type, f"way {info.compress_type}")
        raise _refusal(f"{info.filename} is packed in an unusual way ({kind})", "stored or deflated files are allowed")
    try:
        with packed.open(info) as file:
            content = file.read(MOST_FILE_BYTES + 1)
            too_large = len(content) > MOST_FILE_BYTES
            if not too_large:
                file.read(1)  # reaching the end is what compares the checksum
    except (zipfile.BadZipFile, zlib.error, EOFError):
        given = f"{info.filename} in the zip is damaged: what comes out is not what went in"
        raise _refusal(given, "an undamaged zip of a job is allowed") from None
    if too_large:
        allowed = f"at most {MOST_FILE_BYTES / 1e6:.0f} MB a file is allowed"
        raise _refusal(f"{info.filename} is larger than it may be", allowed)
    return content


def _refusal(given, allowed):
    return BadInput(given, allowed, _ANOTHER, where="zip of a job")
