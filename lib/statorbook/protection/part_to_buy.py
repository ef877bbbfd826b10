"""A part of the plant as a shop is asked for it: what it has to stand, and why."""

from dataclasses import dataclass
from math import ceil

from statorbook.protection.rectifier import rounded_down, rounded_up
from statorbook.quantities import say

DOES_NOT_FIT = "does not fit"  # so begins what a label says when it is not what is asked for


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
