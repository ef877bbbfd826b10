"""What the workbook says, for the tests: its wording by subject, and how a whole sentence is matched."""

import re
import tomllib
from pathlib import Path

from statorbook.quantities import reader_units

WORDING = Path(__file__).with_name("wording")


def sentences_of(subject):
    """The wording of a subject, from its file in `wording/`: give the key of a sentence, get the sentence."""
    return tomllib.loads((WORDING / f"{subject}.toml").read_text(encoding="utf-8")).__getitem__


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
