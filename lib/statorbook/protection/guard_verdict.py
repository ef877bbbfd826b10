"""Whether an over-voltage load at hand is one: its set-point, its ohms and watts, and whether it is quick enough."""

from dataclasses import dataclass
from math import inf

from statorbook.protection.guard_needs import WATTS_SPARE, guard_needs
from statorbook.protection.heat_at_work import two_figures
from statorbook.protection.load_lost import LoadLost, load_lost
from statorbook.quantities import say

_AS_GOOD = 1.01  # a label rounded to two figures is as good as what was asked for
_MOST_VOLTS = 2000  # above it something has flashed over, and no number is worth its figures


@dataclass(frozen=True, kw_only=True)
class GuardVerdict:
    """What becomes of the plant with a load, and why the load does not do."""

    lost: LoadLost
    faults: tuple  # words, such as "too weak: …"; empty when it does

    @property
    def fits(self):
        """Whether it keeps the limit, lasts, and stays off in everyday work."""
        return not self.faults


def judged_guard(plant, load, *, drives_guard=False):
    """Hold an over-voltage load against what the plant needs.

    Parameters
    ----------
    plant : Plant
        The plant.
    load : OverVoltageLoad
        The load; the plant's own is not looked at.
    drives_guard : bool
        Whether the drive's own guard works; it does not, to be safe.

    Returns
    -------
    GuardVerdict
        The run with it, and what is wrong with it.
    """
    needs, lost = guard_needs(plant, drives_guard=drives_guard), load_lost(plant, load=load, drives_guard=drives_guard)
    limit = needs.limit_dc_volts
    faults = (
        _set_fault(needs, load),
        _speed_fault(lost, limit),
        _ohms_fault(lost, load, limit),
        _watts_fault(lost, load),
    )
    return GuardVerdict(lost=lost, faults=tuple(filter(None, faults)))


def _set_fault(needs, load):
    everyday = needs.everyday_dc_volts
    if load.set_dc_volts <= everyday:
        return f"set too low: the rectifier has up to {_volts(everyday)} in everyday work, so it would be on then"
    if load.set_dc_volts >= needs.limit_dc_volts:
        return f"set too high: {_volts(needs.limit_dc_volts)} is {needs.limit_words}"
    return ""


def _speed_fault(lost, limit):
    before = lost.dc_volts[lost.time_s < lost.acts_s]
    if not before.size or before.max() <= limit or lost.acts_s == inf:
        return ""
    return f"too slow: {_volts(before.max())} are there before its current flows"


def _ohms_fault(lost, load, limit):
    if lost.acts_s == inf or lost.ends_dc_volts <= limit:
        return ""
    return f"too weak: {two_figures(load.ohm, 'Ω')} let it end at {_volts(lost.ends_dc_volts)}"


def _watts_fault(lost, load):
    if WATTS_SPARE.value * lost.load_watts <= _AS_GOOD * load.watts:
        return ""
    takes = two_figures(lost.load_watts, "W")
    return f"too small: it takes {takes} for as long as it turns, and its label needs half as much again"


def _volts(dc_volts):
    return say(dc_volts, "V", form=".0f") if dc_volts < _MOST_VOLTS else f"more than {_MOST_VOLTS} V"
