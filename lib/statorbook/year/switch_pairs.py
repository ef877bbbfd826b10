"""Pairs of groupings that contactors can change between at work, with the leads and contacts that each takes."""

from dataclasses import dataclass
from itertools import permutations
from math import sqrt

from statorbook.winding import Grouping

# Parts that a path is cut into at most: with four, 21 leads a machine; a decision of this workbook.
MOST_BLOCKS = 3


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two groupings of one stator: star and delta of the same paths, or the same connection with more paths."""

    low: Grouping  # for low speed: more volts for each rpm
    high: Grouping  # for high speed

    @property
    def label(self):
        """Both in few words, the one for low speed first."""
        if self.is_star_delta:
            return f"star and delta, {self.low.series} in series, {_paths(self.low)}"
        return f"{self.low.parallel} and {_paths(self.high)}, {self.low.connection}"

    @property
    def is_star_delta(self):
        """True for star and delta of the same paths."""
        return self.low.connection != self.high.connection

    @property
    def blocks(self):
        """Parts of each path that are joined in series below and in parallel above; 1 for star and delta [-]."""
        return self.high.parallel // self.low.parallel

    @property
    def leads(self):
        """Leads to bring out of the machine: both ends of each phase, or what is joined for good and cut ends [-]."""
        return 6 if self.is_star_delta else 3 * (2 * self.blocks - 1)

    @property
    def low_poles(self):
        """Contacts closed at low speed: the star point, or the links in series [-]."""
        return 3 if self.is_star_delta else 3 * (self.blocks - 1)

    @property
    def high_poles(self):
        """Contacts closed at high speed: the corners of the delta, or two for each link that opens [-]."""
        return 3 if self.is_star_delta else 6 * (self.blocks - 1)

    def low_contact_amps(self, lead_amps):
        """Current in one contact that is closed at low speed, rms [A]."""
        # A star's contact, or a link in series, carries a whole phase.
        return lead_amps / (sqrt(3.0) if self.low.connection == "delta" else 1.0)

    def high_contact_amps(self, lead_amps):
        """Current in one contact that is closed at high speed, rms [A]."""
        # A corner of a delta carries the phase; of blocks in parallel each contact carries one.
        return lead_amps / (sqrt(3.0) if self.high.connection == "delta" else 1.0) / self.blocks


def pairs_of(stator):
    """Every pair of a stator that contactors can sensibly change between."""
    groupings = stator.groupings()
    pairs = [Pair(low=low, high=high) for low, high in permutations(groupings, 2) if _fits(low, high)]
    return tuple(sorted(pairs, key=lambda pair: not pair.is_star_delta))


def _paths(grouping):
    return "1 path" if grouping.parallel == 1 else f"{grouping.parallel} paths"


def _fits(low, high):
    """Star to delta with the same paths, or more paths made of whole parts of the fewer."""
    if low.parallel == high.parallel:
        return (low.connection, high.connection) == ("star", "delta")
    times, left = divmod(high.parallel, low.parallel)
    return low.connection == high.connection and not left and 2 <= times <= MOST_BLOCKS
