"""Matches a whole sentence of the library, not a part of it."""

import re

from statorbook.quantities import reader_units


def exactly(sentence):
    """A pattern for `pytest.raises(match=…)` that matches this sentence alone, or with the caution of its next step."""
    return f"^{re.escape(sentence)}(?: Caution: [^.]+\\.)?$"


def uncautioned(sentence):
    """A refusal without the caution that its next step may bring along."""
    return re.sub(r" Caution: [^.]+\.$", "", sentence)


def in_us(function, *values, **options):
    """What a function says to a reader of US units."""
    with reader_units("US"):
        return function(*values, **options)
