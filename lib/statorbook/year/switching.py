"""Two groupings and a contactor: at which speeds to change over without chatter, and the kilowatt-hours of that."""

from dataclasses import dataclass, replace
from math import inf, nan

import numpy as np

from statorbook.choice import MOST_AMPS_PER_MM2, half_width, windings_at_ends
from statorbook.year.energy import GroupingYear, grouping_years
from statorbook.year.switch_pairs import Pair, pairs_of

# Decisions of this workbook. A set speed and the speed that the rotor settles at after a change-over differ at least
# by the margin, for a speed is read off by a few per cent and no wind is steady.
SPEED_MARGIN = 0.05
WORTH_SHARE = 0.05  # a gain by less pays for no contactor and its faults
_PLAIN_ENOUGH = 0.01  # of the best fixed: a speed switch alone is taken where waiting gains no more
_KEEP = 1.0 - SPEED_MARGIN
_LOW, _EITHER, _HIGH = -1, 0, 1


@dataclass(frozen=True, kw_only=True)
class Switching:
    """One pair of groupings over a year, changed over at set speeds."""

    pair: Pair  # the two groupings
    low: GroupingYear  # the year with the grouping for low speed alone
    high: GroupingYear  # the year with the grouping for high speed alone
    best_fixed: GroupingYear  # of the one grouping that gives most without any switch, whatever its volts
    up_rpm: float  # at which it changes to the high-speed grouping; not a number where no speeds are stable
    down_rpm: float  # at which it changes back
    waits: bool  # whether the control must let the rotor settle after each change before it looks at the speed again
    rests: np.ndarray  # at each setting of the source, shape (k,): -1 low, 1 high, 0 in the one that it came from

    @property
    def is_stable(self):
        """False when no two speeds keep it from chattering and still use both groupings."""
        return self.up_rpm == self.up_rpm

    @property
    def bank_watts(self):
        """Into the bank, the worse grouping where it may rest in either, shape (k,) [W]."""
        return _watts(self.rests, self.low, self.high)

    @property
    def kwh_by_month(self):
        """Into the bank, shape (12,) [kWh]."""
        return self.low.hours @ self.bank_watts / 1000.0

    @property
    def kwh(self):
        """Into the bank over the whole year [kWh]."""
        return float(self.kwh_by_month.sum())

    @property
    def gain_kwh(self):
        """Over the best grouping without a switch [kWh]."""
        return self.kwh - self.best_fixed.kwh

    @property
    def gain_share(self):
        """The same as a share of what that gives; 0 where that gives nothing [-]."""
        return self.gain_kwh / self.best_fixed.kwh if self.best_fixed.kwh > 0.0 else 0.0

    @property
    def perfect_kwh(self):
        """What a change-over would give that always had the better of the two [kWh]."""
        better = np.maximum(self.low.bank_watts, self.high.bank_watts)
        return float((self.low.hours @ better).sum()) / 1000.0

    @property
    def could_be_worth_it(self):
        """True when always having the better of the two would gain what this workbook calls worth a contactor."""
        return self.perfect_kwh > (1.0 + WORTH_SHARE) * self.best_fixed.kwh

    @property
    def is_worth_it(self):
        """True when the speeds are stable and the gain is not below what this workbook calls worth a contactor."""
        return self.is_stable and self.gain_share >= WORTH_SHARE

    @property
    def high_h(self):
        """Hours in which it surely rests in the high-speed grouping [h]."""
        return self.low.hours_where(self.rests == _HIGH)

    @property
    def either_h(self):
        """Hours in which it rests in the grouping that it came from [h]."""
        return self.low.hours_where(self.rests == _EITHER)

    @property
    def hot_h(self):
        """Hours in which its coils carry more than copper stands for hours, as `bank_watts` for either [h]."""
        low, high = (year.amps_per_mm2 > MOST_AMPS_PER_MM2 for year in (self.low, self.high))
        return self.low.hours_where((low & (self.rests != _HIGH)) | (high & (self.rests != _LOW)))


def switchings(machine, source, years=None):
    """Every pair of groupings that contactors can change between, over a year.

    Parameters
    ----------
    machine : Machine
        Stator, coil, bank and setting; its drive is not used, those of the year are.
    source : SourceYear
        The year.
    years : sequence of GroupingYear or None
        From `grouping_years` with all groupings of the machine and this source; worked out when None.

    Returns
    -------
    tuple of Switching
        One for each pair, the most kilowatt-hours first.

    Notes
    -----
    Equation: kWh = Σ hours × watts of the grouping that the two set speeds let it rest in; where either can rest, the
        worse. Of all speeds between two settings, going up is at the one with most kWh, going back at the fastest
        that no settled speed after a change-over passes, 5 % spared.
    Valid: the rotor follows its source; without waiting also at the moment of the change, when it still has its speed;
        with waiting once it has settled. A rotor that could settle at two speeds is taken at the slower.
    Source: mechanics of steady operation.
    """
    years = grouping_years(machine, source) if years is None else years
    by_grouping = {year.grouping: year for year in years}
    best = max(years, key=lambda year: year.kwh)
    found = []
    for pair in pairs_of(machine.stator):
        low, high = by_grouping[pair.low], by_grouping[pair.high]
        plain, waiting = (_best_speeds(low, high, waits=waits) for waits in (False, True))
        waits = waiting[-1] > plain[-1] + _PLAIN_ENOUGH * best.kwh
        up, down, rests, _ = waiting if waits else plain
        speeds = {"up_rpm": up, "down_rpm": down, "waits": waits}
        found.append(Switching(pair=pair, low=low, high=high, best_fixed=best, rests=rests, **speeds))
    return tuple(sorted(found, key=lambda each: (not each.is_stable, -each.kwh, each.pair.leads)))


def gain_plus_minus_kwh(machine, source, found):
    """Half-width of a gain that the constants of the coils leave, the set speeds kept.

    Parameters
    ----------
    machine : Machine
        As given to `switchings`, with the ends of its constants.
    source : SourceYear
        The same year.
    found : Switching
        One of those pairs.

    Returns
    -------
    float
        95 %; 0 where no speeds are stable or no ends are known [kWh].

    Notes
    -----
    Equation: `choice.half_width` of the gain over the best single grouping, which stays the same one.
    Valid: one thing at a time; from year to year the source moves both alike.
    Source: see `choice.half_width`.
    """
    if not found.is_stable or not machine.ends:
        return 0.0
    of_each = [windings_at_ends(machine, year.grouping) for year in (found.low, found.high, found.best_fixed)]
    years = iter(grouping_years(machine, source, [winding for each in of_each for winding in each]))
    columns = [[next(years) for _ in each] for each in of_each]
    gains = []
    for low, high, fixed in zip(*columns, strict=True):
        rests = _rests(low, high, found.up_rpm, found.down_rpm)
        gains.append(replace(found, low=low, high=high, best_fixed=fixed, rests=rests).gain_kwh)
    return float(half_width(gains))


def _watts(rests, low, high):
    worse = np.minimum(low.bank_watts, high.bank_watts)
    return np.where(rests == _LOW, low.bank_watts, np.where(rests == _HIGH, high.bank_watts, worse))


def _rests(low, high, up_rpm, down_rpm):
    """Where it rests; a setting in which neither can counts as either, the worse of both."""
    stays_low, stays_high = low.speed_rpm < up_rpm, high.speed_rpm > down_rpm
    return np.where(stays_low & ~stays_high, _LOW, np.where(stays_high & ~stays_low, _HIGH, _EITHER))


def _best_speeds(low, high, *, waits):
    """Speeds to go up and down, where it rests, and the kWh; not a number and the better one alone when none hold."""
    hours = low.hours.sum(axis=0)
    best = (*_alone(low, high), -inf)
    for up in _between(low.speed_rpm):
        down = _down_rpm(low, high, up, waits=waits)
        rests = _rests(low, high, up, down)
        kwh = float(_watts(rests, low, high) @ hours) / 1000.0
        if kwh > best[-1] and _uses_both(rests, low, high, hours):
            best = (up, down, rests, kwh)
    return best


def _alone(low, high):
    return nan, nan, np.full(len(low.speed_rpm), _LOW if low.kwh >= high.kwh else _HIGH)


def _between(speed_rpm):
    """Middles between the speeds of neighbouring settings; a switch set there tells the two apart."""
    speeds = np.unique(speed_rpm[speed_rpm > 0.0])
    return (0.5 * (speeds[1:] + speeds[:-1])).tolist()


def _down_rpm(low, high, up_rpm, *, waits):
    """The fastest speed to change back at that cannot be met again after going up, or lead back up after going down."""
    goes_up = low.speed_rpm > _KEEP * up_rpm
    slowest = float(np.min(high.speed_rpm, where=goes_up, initial=inf))
    return _KEEP * (slowest if waits else min(slowest, up_rpm))


def _uses_both(rests, low, high, hours):
    charging = [(rests == place) & (year.bank_watts > 0.0) for place, year in ((_LOW, low), (_HIGH, high))]
    return all(hours[each].sum() > 0.0 for each in charging)
