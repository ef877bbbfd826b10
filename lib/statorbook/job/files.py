"""Files of a job: read without following links, replaced in one step, locked while that happens."""

import os
import time
from contextlib import contextmanager, suppress

from statorbook.errors import BadInput

DOCUMENT = "job.json"
LOCK_SECONDS = 5.0
# Where older versions of a job's files are kept, and how many of each.
HISTORY, MOST_VERSIONS = ".history", 300
_POLL_SECONDS = 0.02


def file_label(path):
    """A file's name for sentences, such as "spring_pipe/job.json": never where it is on this computer."""
    return f"{path.parent.name}/{path.name}"


def previous_of(path):
    """Where the version before the present one is kept, such as job.previous.json beside job.json."""
    return path.with_name(f"{path.stem}.previous{path.suffix}")


def read_file(path):
    """The bytes of a file, None when there is none; a link, a folder and what cannot be read are refused."""
    try:
        if path.is_symlink() or (path.exists() and not path.is_file()):
            raise BadInput(
                "it is a link or a folder",
                "a plain file is allowed",
                "put the file itself there",
                where=file_label(path),
            )
        return _patiently(path.read_bytes)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise BadInput(
            f"the file cannot be read ({error.strerror})",
            "a file that you may read is allowed",
            "check who owns it and whether the disk is still there",
            where=file_label(path),
        ) from None


def replace_file(path, data, *, keep_previous=True):
    """Replace a file in one step, so that at every moment either the old or the new one is whole.

    Parameters
    ----------
    path : Path
        The file; hold `locked` on its folder.
    data : bytes
        The new contents.
    keep_previous : bool
        True keeps the old contents as `previous_of` the file.

    Raises
    ------
    BadInput
        When the disk refuses; the old file is then untouched.
    """
    old = read_file(path)
    if old == data:
        return
    fresh, kept = (path.with_name(f".{path.name}.{word}.tmp") for word in ("new", "old"))
    try:
        write_through(fresh, data)
        if keep_previous and old is not None:
            write_through(kept, old)
            _patiently(os.replace, kept, previous_of(path))
        _patiently(os.replace, fresh, path)
        sync_folder(path.parent)
        if keep_previous and old is not None:
            _remember(path, old)
    except OSError as error:
        raise BadInput(
            f"the file cannot be written ({error.strerror or 'the system refused'})",
            "a folder that you may write to, with room on the disk, is allowed",
            "make room or check who owns the folder, then save again; the old file is untouched",
            where=file_label(path),
        ) from None
    finally:
        for left_over in (fresh, kept):
            with suppress(OSError):
                left_over.unlink(missing_ok=True)


def now_stamp():
    """UTC for a file's name, such as "20260531T101500.000000000", of one reading of one clock; later sorts later."""
    seconds, rest = divmod(time.time_ns(), 1_000_000_000)
    return f"{time.strftime('%Y%m%dT%H%M%S', time.gmtime(seconds))}.{rest:09d}"


def put_aside(path):
    """Keep a damaged file byte for byte under a name of its own, which is returned; hold `locked` on its folder."""
    aside = path.with_name(f"{path.stem}.damaged-{now_stamp().replace('.', '-')}{path.suffix}")
    try:
        write_through(aside, read_file(path))
        sync_folder(path.parent)
    except OSError as error:
        aside.unlink(missing_ok=True)
        raise BadInput(
            f"the damaged file cannot be kept aside ({error.strerror or 'the system refused'})",
            "a folder that you may write to, with room on the disk, is allowed",
            "make room or check who owns the folder, then do it again; nothing was changed",
            where=file_label(path),
        ) from None
    return aside.name


def _remember(path, old):
    """Let the version before live on in the history; when the disk will not, the save counts all the same."""
    # A second name for the file that is kept anyway costs neither room nor a write; it goes on when that one is
    # replaced. Some disks, such as memory sticks, know no second names: there it is a copy.
    folder = path.parent / HISTORY
    with suppress(OSError):
        if not folder.is_symlink():
            folder.mkdir(exist_ok=True)
            _second_name(previous_of(path), folder / f"{now_stamp()}-{path.name}", old)
            kept = sorted(name for name in os.listdir(folder) if name.endswith(f"-{path.name}"))
            for outdated in kept[:-MOST_VERSIONS]:
                (folder / outdated).unlink(missing_ok=True)


def _second_name(path, name, data):
    try:
        os.link(path, name)
    except OSError:
        part = name.with_name(".part.tmp")
        try:
            write_through(part, data)
            os.replace(part, name)
        finally:
            part.unlink(missing_ok=True)


@contextmanager
def locked(folder):
    """Hold a folder against every other notebook while a file in it is read and replaced.

    Parameters
    ----------
    folder : Path
        The job's folder.

    Yields
    ------
    None
        While held; the system lets go by itself when a notebook dies, so a lock that was left behind hinders nobody.

    Raises
    ------
    BadInput
        When another notebook holds it too long, or the folder is gone or cannot be locked.
    """
    try:
        flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
        handle = os.open(folder / ".lock", flags, 0o666)
    except OSError as error:
        raise BadInput(
            f"the folder cannot be written to ({error.strerror})",
            "a folder that you may write to is allowed",
            "check that the folder is still there and who owns it",
            where=folder.name,
        ) from None
    try:
        _wait_for(handle, folder.name)
        yield
    finally:
        os.close(handle)  # closing lets go of the lock on every system


def _wait_for(handle, label):
    """Take the lock of an open file, or refuse once it was waited for long enough."""
    # filelock's lock of an open file: its FileLock would make a folder anew that is gone, and not say what refused.
    from filelock import lock_descriptor

    give_up = time.monotonic() + LOCK_SECONDS
    try:
        while not lock_descriptor(handle, blocking=False):
            if time.monotonic() > give_up:
                raise BadInput(
                    f"another notebook has held this job for {LOCK_SECONDS:g} s",
                    "one writes at a time",
                    "wait a moment and save again, or close the other notebook",
                    where=label,
                )
            time.sleep(_POLL_SECONDS)
    except OSError as error:
        raise BadInput(
            f"this disk cannot lock files ({error.strerror})",
            "a disk of this computer is allowed",
            "move the workbook to one and start again",
            where="data folder",
        ) from None


def write_through(path, data):
    """Write a new file down to the disk, or raise OSError; a left-over or a link of that name goes first."""
    path.unlink(missing_ok=True)
    with open(path, "xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _patiently(act, *arguments):
    """Run a file action; on Windows wait a little for whoever has the file open just now."""
    for _ in range(20 if os.name == "nt" else 0):
        try:
            return act(*arguments)
        except PermissionError:
            time.sleep(_POLL_SECONDS)
    return act(*arguments)


def sync_folder(folder):
    """Make the renaming itself last; Windows has no such call and needs none."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        pass  # some disks cannot; the files themselves are already written through
    finally:
        os.close(handle)
