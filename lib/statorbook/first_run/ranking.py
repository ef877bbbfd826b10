"""Which cause explains best how the finished machine differs from its promise, one alone or two together."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from statorbook.cautions import together
from statorbook.first_run.causes import OHMS, WARMTH, Cause, causes_for
from statorbook.first_run.misfit import misfits
from statorbook.first_run.refine import least_misfit
from statorbook.first_run.solver import fit_causes

_AS_PROMISED = 0.05  # a healthy machine is told so at least this often by chance alone
_ALIKE = 4.0  # two sigma, squared
_SEEN = 0.7  # sigma: a move below it is no cause of its own
_FAR = 16.0  # four sigma, squared: a move of a cause beyond it is not named beside a likelier one


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """A cause, or two together, as the readings see them."""

    causes: tuple[Cause, ...]  # one or two
    values: tuple[float, ...]  # where each fits best, in the unit of its field
    misfit: float  # Σ ((read − predicted) / sigma)² there
    total: float  # the same with what the moves themselves cost
    luck: float  # what luck alone exceeds once in twenty, for so many readings and causes

    @property
    def words(self):
        """The causes with their sizes, in words."""
        return " together with ".join(cause.said(value) for cause, value in zip(self.causes, self.values, strict=True))

    @property
    def tell(self):
        """The readings that prove or clear them, an Instruction."""
        return together(*dict.fromkeys(cause.tell for cause in self.causes), between="; and ")

    @property
    def names(self):
        """The names of the causes, as a tuple."""
        return tuple(cause.name for cause in self.causes)

    @property
    def least_move(self):
        """How far the cause that moved least did so, in its own sigma [-]."""
        pairs = zip(self.causes, self.values, strict=True)
        return min(abs(value - cause.rest) / cause.sigma for cause, value in pairs)

    @property
    def price(self):
        """What the moves cost, in squared sigma [-]."""
        return self.total - self.misfit

    @property
    def explains(self):
        """True when what is left over may well be luck."""
        return self.misfit <= self.luck


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """What explains a run, and how sure that is."""

    ranked: tuple[Ranked, ...]  # single causes, best first; empty when these rows feel none
    same: tuple[Ranked, ...]  # not to be told from the best: single causes, or pairs when it takes two
    rivals: tuple[Ranked, ...]  # pairs that would fit as well and name another cause than these, best first

    @property
    def takes_two(self):
        """True when no cause alone explains the readings and two together do it better by more than luck."""
        return bool(self.same) and len(self.same[0].causes) == 2

    @property
    def explained(self):
        """True when what is left over may well be luck."""
        return bool(self.same) and self.same[0].explains

    @property
    def sure(self):
        """True when one cause explains the readings and nothing else does it as well."""
        return len(self.same) == 1 and not self.takes_two and not self.rivals and self.explained


def as_promised(case, coil_part=None):
    """Whether the readings lie within their own errors and the ± of the coil constants, exact when None."""
    # χ² of the misfits, the constants free within their ± at its price, against its 95 % point: JCGM 100 (from memory).
    return least_misfit(case, coil_part) <= left_by_luck(len(misfits(case)))


def left_by_luck(freedom):
    """What chi-square with so many degrees of freedom exceeds once in twenty."""
    from scipy.special import chdtri

    return float(chdtri(max(freedom, 1), _AS_PROMISED))


def rank_causes(case, coil_part=None):
    """Fit each cause alone, at the price of its move, and put the best first; none when these rows feel no cause."""
    # Maximum a posteriori, Sivia and Skilling, Data Analysis: A Bayesian Tutorial (from memory).
    singles = ("singles", coil_part)
    return case.kept(singles, lambda case: _ranked(case, [(cause,) for cause in causes_for(case, coil_part)]))


def rank_pairs(case, coil_part=None):
    """Fit every two causes together, as `rank_causes` does one, and put the best first."""
    causes, singles = causes_for(case, coil_part), {one.names[0]: one for one in rank_causes(case, coil_part)}
    # Warm copper and a bad joint do the same to the ohms, so they are not paired.
    pairs = [pair for pair in combinations(causes, 2) if {cause.name for cause in pair} != {WARMTH, OHMS}]
    starts = [_start(pair, *(singles[cause.name] for cause in pair)) for pair in pairs]
    return _ranked(case, pairs, np.array(starts), within=_ALIKE)


def _start(pair, one, other):
    """A pair begins where the better of the two is by itself, with nothing different in the other."""
    first = one.total <= other.total
    return (one.values[0] if first else pair[0].rest, pair[1].rest if first else other.values[0])


def _ranked(case, sets, starts=None, **ways):
    if not sets:
        return ()
    found, luck = fit_causes(case, sets, starts, **ways), left_by_luck(len(misfits(case)) - len(sets[0]))
    rows = zip(sets, found.values, found.totals, found.prices, strict=True)
    ranked = (
        Ranked(causes=causes, values=tuple(map(float, at)), misfit=float(total - price), total=float(total), luck=luck)
        for causes, at, total, price in rows
    )
    return tuple(sorted(ranked, key=lambda one: one.total))


def alike(ranked):
    """The causes that these readings cannot tell from the best one, which comes first: by total, or by misfit."""
    best = ranked[0]
    return tuple(
        other
        for other in ranked
        if other.total - best.total < _ALIKE or (other.misfit - best.misfit < _ALIKE and other.price < _FAR)
    )


def verdict_on(case, coil_part=None):
    """What explains the run: nothing different, one cause, or two.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        The bench's constants with their ±.

    Returns
    -------
    Verdict or None
        None when all is as promised; without any cause when these rows feel none.

    Notes
    -----
    Equation: two causes are named when the best of one leaves a chi-square that luck exceeds less than once in twenty
        and the best pair, its price included, is better by more than 4 (two sigma); a pair that fits within 4 of a
        single cause is named beside it.
    Valid: errors independent of each other; three causes at once are not looked for.
    Source: maximum a posteriori, Sivia and Skilling, Data Analysis: A Bayesian Tutorial; chi-square test, JCGM 100
        (both from memory).
    """
    if as_promised(case, coil_part):
        return None
    ranked, pairs = rank_causes(case, coil_part), rank_pairs(case, coil_part)
    if not ranked:
        return Verdict(ranked=(), same=(), rivals=())
    best = ranked[0]
    if pairs and not best.explains and pairs[0].total < best.total - _ALIKE:
        return Verdict(ranked=ranked, same=alike(pairs), rivals=())
    # A pair whose second cause hardly moves is the first one over again.
    near = (pair for pair in pairs if pair.total < best.total + _ALIKE and pair.least_move >= _SEEN)
    same = alike(ranked)
    named = {name for cause in same for name in cause.names}
    rivals = tuple(pair for pair in near if not set(pair.names) <= named)
    return Verdict(ranked=ranked, same=same, rivals=rivals)
