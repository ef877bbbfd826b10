"""A part of the plant as a shop is asked for it: what it has to stand, and why."""

from dataclasses import dataclass
from math import ceil

from statorbook.protection.fuse_label import FITS, MISFIT, UNKNOWN
from statorbook.quantities import rounded_down, rounded_up, say


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
    return say(ceil(rounded_up(value) - 1e-9), unit, form=".0f")


def at_most(value, unit):
    """A size that must not be passed: rounded down to two figures."""
    return say(rounded_down(value), unit, figures=2)


def verdict(what, reasons, unknown=()):
    """What a label says to what is asked for, in a few words; what is not known never fits."""
    if reasons:
        return f"{what} {MISFIT}: {'; '.join(reasons)}".lstrip()
    return f"{what} {UNKNOWN}: {', '.join(unknown)}".lstrip() if unknown else f"{what} {FITS}".lstrip()
