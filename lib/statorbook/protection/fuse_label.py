"""Whether a fuse and a switch at hand are the ones that the bank's lead needs, rating by rating."""

from dataclasses import dataclass
from functools import partial
from math import isinf

from statorbook.protection.fuse import fuse_needs, short_circuits
from statorbook.quantities import rounded_down, rounded_up, say

FITS, MISFIT, UNKNOWN = "fits", "does not fit", "not known"
_ARC = "its arc may go on burning inside it, and AC volts on a label say nothing of DC"


@dataclass(frozen=True, kw_only=True)
class Rating:
    """One rating of a label against what is needed."""

    part: str  # "Fuse" or "Switch"
    what: str  # such as "rated amps"
    needed: str  # in words, with its unit
    has: str  # likewise; empty where nothing was typed
    verdict: str  # FITS, MISFIT or UNKNOWN; empty where nothing was typed
    danger: str  # what happens when it does not fit


def ratings(plant, switch=None):
    """Every rating of fuse and switch, with what those at hand have.

    Parameters
    ----------
    plant : Plant
        The plant, with the fuse that the reader has, or without.
    switch : Switch or None
        The switch that the reader has.

    Returns
    -------
    list of Rating
        Those of the fuse, of the wire behind it, of the switch.

    Notes
    -----
    Equation: as `fuse_needs`; what is just as much as needed fits.
    Valid: as `fuse_needs`.
    Source: as `fuse_needs`.
    """
    needs = fuse_needs(plant)
    return [*_of_the_fuse(plant, needs), *_of_the_switch(plant.fuse, switch, needs)]


def _of_the_fuse(plant, needs):
    fuse = plant.fuse
    amps, volts, breaks = (fuse.amps, fuse.dc_volts, fuse.breaking_amps) if fuse else (None, None, None)
    rating = partial(_rating, "Fuse", fuse)
    yield rating("rated amps", amps, needs.least_amps, "A", "it may open by itself while the machine charges")
    if not isinf(needs.cable_amps):
        yield rating("rated amps", amps, needs.cable_amps, "A", "the cable gets too hot before it opens", at_most=True)
    yield rating("rated DC volts", volts, needs.dc_volts, "V", _ARC)
    yield rating("DC breaking capacity", breaks, needs.breaking_amps, "A", "it may burst instead of opening")
    if plant.run.is_dc:
        short = short_circuits(plant, fuse) if fuse else needs.short
        melts = "a short circuit melts its insulation before the fuse opens"
        yield rating("wire behind it", plant.run.area_mm2 if fuse else None, short.area_mm2, "mm²", melts)


def _of_the_switch(fuse, switch, needs):
    amps, volts = (switch.amps, switch.dc_volts) if switch else (None, None)
    least = max(needs.switch_amps, fuse.amps) if fuse else needs.switch_amps
    yield _rating("Switch", switch, "rated amps", amps, least, "A", "it gets too hot before the fuse opens")
    yield _rating("Switch", switch, "rated DC volts", volts, needs.dc_volts, "V", _ARC)


def _rating(part, given, what, has, needed, unit, danger, *, at_most=False):
    """One row: what is needed is said rounded to the safe side and judged as it is."""
    if has is None:
        verdict = UNKNOWN if given else ""
    else:
        verdict = FITS if (has <= needed if at_most else has >= needed) else MISFIT
    said = f"at most {amount(rounded_down(needed), unit)}" if at_most else f"at least {no_less(needed, unit)}"
    has_words = "" if has is None else amount(has, unit)
    return Rating(part=part, what=what, needed=said, has=has_words, verdict=verdict, danger=danger)


def no_less(value, unit):
    """A number that something has to reach, in words: rounded up to two figures."""
    return amount(value if isinf(value) else rounded_up(value), unit)


def amount(value, unit):
    """A number as a label has it, thousands of amps in kA."""
    return say(value / 1000.0, "kA") if unit == "A" and value >= 2000.0 else say(value, unit)
