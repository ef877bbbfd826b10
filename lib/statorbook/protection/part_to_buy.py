"""A part of the plant as a shop is asked for it: what it has to stand, and why."""

from dataclasses import dataclass
from math import ceil, floor, log10

from statorbook.quantities import say


@dataclass(frozen=True, kw_only=True)
class PartToBuy:
    """A part of the plant with what it has to stand."""

    key: str  # which part, such as "fuse": by it a drawing finds it
    name: str
    rating: str  # what it has to stand, in the words for a shop
    why: str
    brief: str  # the rating in a few words, for a drawing; empty where none stands there
    yours: str = ""  # what the label of the one that the reader has says to it; empty while none is typed


def at_least(value, unit):
    """A size as it is asked for: rounded up to two figures, and to whole ones."""
    step = max(1.0, 10.0 ** (floor(log10(value)) - 1)) if value > 0.0 else 1.0
    return say(ceil(value / step - 1e-9) * step, unit, form=".0f")
