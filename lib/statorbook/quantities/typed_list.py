"""Several quantities typed into one field."""

import re

from statorbook.errors import BadInput
from statorbook.quantities.typed_quantity import parse_quantity

_BETWEEN = re.compile(r"\s*;\s*|\s*,\s+|\s+and\s+|\s*\n\s*")
_UNIT_BEHIND = re.compile(r"[0-9.]\s*([^\W\d_][\w/²³]*|\")\s*$")


def parse_quantities(text, unit, name, *, above=None, at_most=None, next_step=""):
    """Read what was typed as several numbers in the field's own unit.

    Parameters
    ----------
    text : str
        Such as "10, 12, 14", "3/8 in, 1/2 in" or "10 mm; 12,5 mm"; a unit behind the last one alone is that of all.
    unit : str
        The field's own unit, taken where none is typed.
    name : str
        The field's name as the reader knows it.
    above : float or None
        Exclusive lower limit of each, in the field's unit.
    at_most : float or None
        Inclusive upper limit of each, in the field's unit.
    next_step : str
        What to do when one is outside the limits; a general hint when empty.

    Returns
    -------
    tuple of float
        In rising order, each once, in the field's unit; none for an empty text.

    Raises
    ------
    BadInput
        Names the entry that cannot be read.
    """
    entries = [entry for entry in _BETWEEN.split(str(text).strip()) if entry]
    found = []
    last = _UNIT_BEHIND.search(entries[-1]) if entries else None
    bare = last and not any(map(_UNIT_BEHIND.search, entries[:-1]))
    for place, entry in reversed([*enumerate(entries, 1)]):  # the unit behind the last is judged where it stands
        where = f"{name}, entry {place}"
        if "," in entry and ";" not in str(text):
            raise BadInput(
                f"“{entry[:40]}” can mean one number or several",
                "a blank behind each comma between two numbers is allowed",
                "type it again, with a point for decimals",
                where=where,
            )
        typed = f"{entry} {last[1]}" if bare and place < len(entries) else entry
        found.append(parse_quantity(typed, unit, where, above=above, at_most=at_most, next_step=next_step))
    return tuple(sorted(set(found)))
