"""A year that follows a change of its drive, with what the year itself sets left as it is."""

from dataclasses import fields, replace

import numpy as np

from statorbook.errors import BadInput

_NO_SUCH_FIELD = object()
_FEW = 16  # settings that are enough to tell by how much a change moves the energy


def carried(source, before, after):
    """The year of a drive that was changed.

    Parameters
    ----------
    source : SourceYear
        The year as it was made.
    before : Drive
        The drive that it was made of.
    after : Drive
        The same with some fields changed.

    Returns
    -------
    SourceYear
        Each changed field in every setting, when all of them had it from the drive; a field that the year itself sets,
        such as the wind, stays. The year itself when nothing of it changes.

    Raises
    ------
    BadInput
        When a setting cannot be with the new value.

    Notes
    -----
    Equation: none.
    Valid: the hours of the settings do not hang on the drive.
    Source: none.
    """
    changed = {}
    for field in fields(before):
        then, now = (getattr(drive, field.name) for drive in (before, after))
        if then != now and all(getattr(drive, field.name, _NO_SUCH_FIELD) == then for drive in source.drives):
            changed[field.name] = now
    if not changed:
        return source
    return replace(source, drives=tuple(replace(drive, **changed) for drive in source.drives))


def misread(source, before, after):
    """The year when the drive's own reading was wrong by as much as two drives differ, besides what `carried` does."""
    name = before.quantities[0].field
    factor = getattr(after, name) / getattr(before, name)
    rest = carried(source, before, replace(after, **{name: getattr(before, name)}))
    if factor == 1.0:
        return rest
    return replace(rest, drives=tuple(_scaled(drive, name, factor) for drive in rest.drives))


def _scaled(drive, name, factor):
    value = getattr(drive, name, None)
    if value is None:
        return drive
    try:
        return replace(drive, **{name: factor * value})
    except BadInput:  # a flow that was measured in full pipe cannot come from less head, so there it was not less
        return drive


def thinned(source):
    """The same year in fewer settings, the hours of those left out shared by distance; itself when it has few."""
    setting, step = source.setting, -(-len(source.setting) // _FEW)
    if step < 2 or np.any(np.diff(setting) <= 0.0):
        return source
    kept = np.unique([*range(0, len(setting), step), len(setting) - 1])
    share = np.array([np.interp(setting, setting[kept], row) for row in np.eye(len(kept))])
    return replace(
        source,
        drives=tuple(source.drives[number] for number in kept),
        hours=source.hours @ share.T,
        other_hours=tuple((words, hours @ share.T) for words, hours in source.other_hours),
        setting=setting[kept],
    )
