"""The versions before: what of a job was changed when, and the way back to any of them."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from statorbook.cells import cell_text
from statorbook.errors import BadInput
from statorbook.job_document import parse_document
from statorbook.job_fields import facts_of
from statorbook.job_files import HISTORY, file_label, locked, read_file, replace_file
from statorbook.job_parts import PARTS
from statorbook.log_columns import ALL_LOGS, HEADINGS
from statorbook.log_text import parse_log

_DOCUMENT = "job.json"
_STAMP = "%Y%m%dT%H%M%S.%f"
_FEW = 3


@dataclass(frozen=True, kw_only=True)
class Version:
    """One file of a job as it was until it was changed.

    Parameters
    ----------
    until : datetime
        When it was replaced, UTC.
    file : str
        "job.json", or a log's file such as "spin.csv".
    path : Path
        Where it is kept.
    words : str
        What was changed then.
    """

    until: datetime
    file: str
    path: Path
    words: str = ""


def history(job, most=None):
    """What of a job was changed when.

    Parameters
    ----------
    job : Job
        The job.
    most : int or None
        At most so many, the newest; all when None [-].

    Returns
    -------
    tuple of Version
        The newest first.
    """
    kept = _kept(job.folder)
    newest = {}
    for version in sorted(kept, key=lambda each: each.path.name, reverse=True):
        newest.setdefault(version.file, []).append(version)
    found = []
    for file, versions in newest.items():
        after = _content(job.folder / file)
        for version in versions:
            before = _content(version.path)
            found.append(Version(until=version.until, file=file, path=version.path, words=_change(file, before, after)))
            after = before
    found.sort(key=lambda each: each.path.name, reverse=True)
    return tuple(found[:most])


def restore(job, version):
    """Put an older version in the place of the present one, which itself becomes a version before.

    Parameters
    ----------
    job : Job
        The job.
    version : Version
        From `history`.

    Returns
    -------
    str
        What was done, in a sentence.

    Raises
    ------
    BadInput
        When that version is damaged or gone, or the disk refuses; nothing is changed then.
    """
    with locked(job.folder):
        data = read_file(version.path)
        if data is None:
            raise BadInput(
                "that version is no longer kept",
                "the versions of the list are allowed",
                "run the page again and choose another",
                where=file_label(job.folder / version.file),
            )
        _parsed(version.file, data)
        replace_file(job.folder / version.file, data)
    when = version.until.strftime("%Y-%m-%d %H:%M:%S")
    return f"{version.file} is again as it was until {when} UTC; what it was just now is in the list too."


def _kept(folder):
    place = folder / HISTORY
    names = sorted(path.name for path in place.iterdir()) if place.is_dir() and not place.is_symlink() else []
    files = {_DOCUMENT, *(f"{log}.csv" for log in ALL_LOGS)}
    for name in names:
        stamp, _, file = name.partition("-")
        if file in files and not (place / name).is_symlink():
            try:
                until = datetime.strptime(stamp[:22], _STAMP).replace(tzinfo=UTC)
            except ValueError:
                continue  # not one of ours
            yield Version(until=until, file=file, path=place / name)


def _content(path):
    """The parsed file; None when it is not there or damaged."""
    try:
        data = read_file(path)
        return None if data is None else _parsed(path.name.rpartition("-")[2], data)
    except BadInput:
        return None


def _parsed(file, data):
    if file == _DOCUMENT:
        return parse_document(data, file).parts
    return parse_log(file.removesuffix(".csv"), data, file).rows


def _change(file, before, after):
    if before is None or after is None:
        return f"{file}: this version is damaged" if before is None else f"{file}: the next version was damaged"
    said = _parts_changed(before, after) if file == _DOCUMENT else _rows_changed(before, after)
    what = "the job" if file == _DOCUMENT else f"{file.removesuffix('.csv')} log"
    return f"{what}: {_listed(said)}"


def _listed(said):
    more = f" and {len(said) - _FEW} more" if len(said) > _FEW else ""
    return f"{'; '.join(said[:_FEW])}{more}" if said else "nothing that counts was changed"


def _parts_changed(before, after):
    said = []
    for name, model in PARTS.items():
        old, new = before.get(name), after.get(name)
        if old == new:
            continue
        if old is None or new is None:
            said.append(f"{model.part_title} {'added' if old is None else 'taken out'}")
            continue
        said += [
            f"{facts.title} {_shown(getattr(old, facts.name))} → {_shown(getattr(new, facts.name))}"
            for facts in facts_of(model)
            if facts.name != "assumed" and getattr(old, facts.name) != getattr(new, facts.name)
        ]
    return said


def _rows_changed(before, after):
    said = []
    for number in range(1, max(len(before), len(after)) + 1):
        old, new = (rows[number - 1] if number <= len(rows) else None for rows in (before, after))
        if old is None or new is None:
            said.append(f"row {number} {'added' if old is None else 'taken out'}")
            continue
        said += [
            f"row {number}, {HEADINGS.get(name, name)} {_shown(old.get(name, ''))} → {_shown(cell)}"
            for name, cell in new.items()
            if name is not None and cell_text(old.get(name, "")) != cell_text(cell)
        ]
    return said


def _shown(value):
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"“{text[:30]}{'…' if len(text) > 30 else ''}”" if text and value is not None else "nothing"
