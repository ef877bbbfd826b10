"""Readings that do not belong to the others: one rule for lines, curves and runs, and the sentence that names a row.

Rule: the externally studentised residual of a reading, seen from the fit through the others, above Student's t at
0.05 / (2 n), and more than 3 % off; then two that hide each other, each tested against the rest without both; repeated
until none. At most a third of the readings, none of fewer than four.
Valid: errors nearly normal; one or two bad readings at a time among six or more, one among four or more.
Source: Cook and Weisberg, Residuals and Influence in Regression (from memory).
"""

from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import comb, inf, sqrt

import numpy as np

from statorbook.fits.line import LEAST_SCATTER, slope_through_origin, students_t

# Chance that a clean log has any row named at all, shared among its rows after Bonferroni (from memory).
FAMILY_RISK = 0.05
# No reading nearer than this is named, however well the others agree: common practice, no source.
LEAST_SHARE_OFF = 0.03
FEWEST_LEFT = 3
# How far a slip of a known kind throws a reading; the second kind is one of AC alone.
_POINT_MOVED = dict.fromkeys((10.0, 0.1), "a decimal point looks moved")
_PHASE_FOR_LINE = dict.fromkeys((sqrt(3.0), 1 / sqrt(3.0)), "line and phase look confused")


@dataclass(frozen=True, kw_only=True)
class OddRow:
    """A usable row that does not belong to the others; set aside, never deleted."""

    row: int  # as the reader sees it
    percent_off: float  # what the other rows say
    sentence: str  # the same in words, with what to do next


def beyond_luck(off_sigma, scatter, share_off, *, chances, freedom):
    """How far a reading lies beyond what luck makes.

    Parameters
    ----------
    off_sigma : float
        Distance from the fit through the others, over what meter and fit explain, one sigma [-].
    scatter : float
        Root mean square residual of the others in the same sigmas [-].
    share_off : float
        The same distance as a share of what the reading should be [-].
    chances : int
        How many readings, or groups of them, are tried [-].
    freedom : float
        Degrees of freedom of the scatter [-].

    Returns
    -------
    float
        Sigmas beyond Student's t; minus infinity for a reading within it or within 3 % [-].
    """
    studentised = off_sigma / max(scatter, LEAST_SCATTER)
    limit = students_t(1.0 - FAMILY_RISK / (2 * chances), freedom)
    return studentised - limit if studentised > limit and abs(share_off) > LEAST_SHARE_OFF else -inf


def odd_among(everyone, beyond, pair_in=None):
    """The readings that do not belong: one at a time, then two that hide each other, until none.

    Parameters
    ----------
    everyone : sequence
        What tells the readings apart.
    beyond : callable
        Of a group of one or two, the readings kept so far and how many groups are tried, to the least of its
        `beyond_luck` as seen from the kept ones without the group.
    pair_in : callable or None
        Of the readings kept so far to the one pair to try; every pair is tried when None.

    Returns
    -------
    list
        At most a third of all, in the order found.
    """
    odd, most = [], len(everyone) // 3 if len(everyone) > FEWEST_LEFT else 0
    while len(odd) < most:
        kept = [one for one in everyone if one not in odd]
        for size in (1, 2)[: most - len(odd)]:
            groups = [tuple(pair_in(kept))] if size == 2 and pair_in else list(combinations(kept, size))
            worst, group = max((beyond(group, kept, comb(len(kept), size)), group) for group in groups)
            if worst > 0.0:
                odd += group
                break
        else:
            break
    return odd


def odd_in_fit(count, through, share_off, pair_in, *, parameters):
    """Places of readings that no line or curve through the others explains, in the order found."""
    # `through` makes of places the parameters and Σ (residual / sigma)², `share_off` of parameters the share of each
    # reading, `pair_in` is as for `odd_among`. What comes within 3 % of the final fit goes back.

    @cache
    def fitted(kept):
        return through(list(kept))

    def beyond(group, kept, chances):
        rest = tuple(i for i in kept if i not in group)
        freedom = len(rest) - parameters
        if freedom < 1:
            return -inf
        values, squares = fitted(rest)
        off, scatter, found = share_off(values), sqrt(squares / freedom), []
        for i in group:
            # What a row adds to the sum of squares is the square of its externally studentised residual.
            added = fitted(tuple(j for j in kept if j == i or j not in group))[1] - squares
            found.append(beyond_luck(sqrt(max(added, 0.0)), scatter, off[i], chances=chances, freedom=freedom))
        return min(found)

    odd = odd_among(range(count), beyond, pair_in)
    off = np.abs(share_off(fitted(tuple(i for i in range(count) if i not in odd))[0]))
    return [i for i in odd if off[i] > LEAST_SHARE_OFF]


def points_that_do_not_belong(x, y, sigma, share_off):
    """Places of points off a line through the origin; `share_off` makes of a slope the share of each reading."""
    x, y, sigma = (np.asarray(values, float) for values in (x, y, sigma))

    def through(kept):
        line = slope_through_origin(x[kept], y[kept], sigma[kept])
        return line.value, line.freedom * line.scatter**2

    def pair_in(kept):
        off = np.abs(share_off(np.median(y[kept] / x[kept])))
        return sorted(kept, key=lambda i: off[i])[-2:]

    return odd_in_fit(len(x), through, share_off, pair_in, parameters=1)


def odd_points(x, y, sigma, share_off, *, names=None):
    """The same in row order; a pair of leads off in all of its rows, two or more, is a fault to see and no slip."""
    odd = points_that_do_not_belong(x, y, sigma, share_off)
    for name in set(names or ()):
        of_pair = [i for i, other in enumerate(names) if other == name]
        if len(of_pair) > 1 and set(of_pair) <= set(odd):
            odd = [i for i in odd if i not in of_pair]
    return sorted(odd)


def odd_row(reading, share_off, others, hint="", *, alternating=True):
    """Name a row that does not belong.

    Parameters
    ----------
    reading : Reading
        The row.
    share_off : float
        How far it is off, as a share of what it should be [-].
    others : int
        How many rows say so [-].
    hint : str
        A guess at the slip; one from its size when empty.
    alternating : bool
        False for a reading of DC, where no line is confused with a phase.

    Returns
    -------
    OddRow
        Row, percent and sentence.
    """
    side = "above" if share_off > 0 else "below"
    slips = _POINT_MOVED | (_PHASE_FOR_LINE if alternating else {})
    sizes = [words for ratio, words in slips.items() if abs((1.0 + share_off) / ratio - 1.0) < 0.03]
    guess = hint or (sizes[0] if sizes else "")
    sentence = (
        f"{reading.where}: {100 * abs(share_off):.1f} % {side} what the other {others} rows say; "
        f"it is set aside, not deleted; {guess + ', so ' if guess else ''}take that reading again."
    )
    return OddRow(row=reading.row, percent_off=100.0 * float(share_off), sentence=sentence)
