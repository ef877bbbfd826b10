"""From rows to a fit: which rows are used, which are set aside in the open, and whether the three phases agree."""

from dataclasses import dataclass, field
from math import hypot, sqrt

import numpy as np

from statorbook.errors import BadInput, count_of
from statorbook.fits.line import points_that_do_not_belong, students_t
from statorbook.fits.line_groups import lines_by_group, pooled_scatter
from statorbook.quantities import Estimate, Fact

__all__ = [
    "BALANCE_SHARE",
    "ONE_READING_SHARE",
    "UNKNOWN_ROOM_K",
    "Fit",
    "OddRow",
    "balance_warnings",
    "odd_points",
    "odd_row",
    "pair_balance",
    "random_half_width",
    "rows_in_words",
    "usable_rows",
]

_SHARE, _TRADE = "of the value, 95 %", "common practice, no source"
ONE_READING_SHARE = Fact(value=0.05, unit=_SHARE, source=f"hand-held speed and meter, {_TRADE}", low=0.03, high=0.1)
UNKNOWN_ROOM_K = Fact(value=10.0, unit="K, 95 %", source=f"room or yard, {_TRADE}", low=5, high=20)
BALANCE_SHARE = 0.03
# How far a slip of a known kind throws a reading.
_SLIPS = {
    10.0: "a decimal point looks moved",
    0.1: "a decimal point looks moved",
    sqrt(3.0): "line and phase look confused",
    1 / sqrt(3.0): "line and phase look confused",
}


@dataclass(frozen=True, kw_only=True)
class OddRow:
    """A usable row that does not belong to the others; set aside, never deleted.

    Parameters
    ----------
    row : int
        Row number as the reader sees it [-].
    percent_off : float
        How far the reading is off what the other rows say [%].
    sentence : str
        The same in words, with what to do next.
    """

    row: int
    percent_off: float
    sentence: str


@dataclass(frozen=True, kw_only=True)
class Fit:
    """What one log says, and how.

    Parameters
    ----------
    estimate : Estimate
        The constant with its 95 % ±, from the rows used.
    estimate_all_rows : Estimate
        The same from every usable row, odd ones included.
    used_rows : tuple of int
        Row numbers used [-].
    odd_rows : tuple of OddRow
        Rows set aside.
    residual_percent : dict of int to float
        By row number, how far each usable reading is off the fit [%].
    pair_ratios : dict of str to Estimate
        By pair of leads, its constant over the mean of all pairs.
    warnings : tuple of str
        Sentences about the fit as a whole.
    shared_share : float
        The part of the ± that no further row would make smaller, such as the meter's class, over the value [-].
    """

    estimate: Estimate
    estimate_all_rows: Estimate
    used_rows: tuple
    odd_rows: tuple = ()
    residual_percent: dict = field(default_factory=dict)
    pair_ratios: dict = field(default_factory=dict)
    warnings: tuple = ()
    shared_share: float = 0.0

    @property
    def sentences(self):
        """Odd rows first, with what they would change, then the warnings."""
        change = f"The fit says {self.estimate} without the rows set aside, {self.estimate_all_rows} with them."
        return (*(odd.sentence for odd in self.odd_rows), *((change,) if self.odd_rows else ()), *self.warnings)


def usable_rows(readings, log, next_step):
    """The readings that go into a fit.

    Parameters
    ----------
    readings : sequence of Reading
        All rows of one log.
    log : str
        Its name, for the sentence.
    next_step : str
        What to log when there is none.

    Returns
    -------
    list of Reading
        The usable ones.

    Raises
    ------
    BadInput
        When no row is usable.
    """
    usable = [reading for reading in readings if reading.usable]
    if not usable:
        given = f"none of its {rows_in_words(len(readings))} can be used" if readings else "no reading is in it"
        raise BadInput(given, "at least one usable row is needed", next_step, where=f"{log} log")
    return usable


def odd_points(x, y, sigma, share_off, *, names=None):
    """Points that do not belong, unless they are all there is of one pair of leads.

    Parameters
    ----------
    x : ndarray
        Abscissae [unit of x].
    y : ndarray
        Ordinates [unit of y].
    sigma : ndarray
        Likely error of each ordinate, one sigma [unit of y].
    share_off : callable
        From a slope to how far off each reading is, as a share of what it should be [-].
    names : sequence of str or None
        Pair of leads of each point; a pair off in all of its rows, two or more, is a fault to see and not a slip.

    Returns
    -------
    list of int
        Indices, in row order.
    """
    odd = points_that_do_not_belong(x, y, sigma, share_off)
    for name in set(names or ()):
        of_pair = [i for i, other in enumerate(names) if other == name]
        if len(of_pair) > 1 and set(of_pair) <= set(odd):
            odd = [i for i in odd if i not in of_pair]
    return sorted(odd)


def odd_row(reading, share_off, others, hint=""):
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

    Returns
    -------
    OddRow
        Row, percent and sentence.
    """
    side = "above" if share_off > 0 else "below"
    sizes = [words for ratio, words in _SLIPS.items() if abs((1.0 + share_off) / ratio - 1.0) < 0.03]
    guess = hint or (sizes[0] if sizes else "")
    sentence = (
        f"{reading.where}: {100 * abs(share_off):.1f} % {side} what the other {others} rows say; "
        f"it is set aside, not deleted; {guess + ', so ' if guess else ''}take that reading again."
    )
    return OddRow(row=reading.row, percent_off=100.0 * float(share_off), sentence=sentence)


def pair_balance(names, x, y, sigma):
    """Compare the slopes of the pairs of leads with their mean.

    Parameters
    ----------
    names : sequence of str
        Pair of leads of each point.
    x : ndarray
        Abscissae [unit of x].
    y : ndarray
        Ordinates [unit of y].
    sigma : ndarray
        Likely error of each ordinate, one sigma [unit of y].

    Returns
    -------
    dict of str to Estimate
        Ratio to the mean of the pairs, with 95 % ±; empty with fewer than two pairs.

    Notes
    -----
    Equation: b_k / mean(b), variance (1 − 1/m)² v_k + Σ v_others / m², scatter pooled within the pairs, Student's t.
    Valid: ratios near 1; with one row per pair the meter's own sigma stands in for the scatter.
    Source: propagation of error, JCGM 100 (from memory).
    """
    pairs = sorted(set(names))
    if len(pairs) < 2:
        return {}
    lines = lines_by_group(names, x, y, sigma)
    lines = {pair: lines[pair] for pair in pairs}
    pooled, freedom = pooled_scatter(lines.values())
    reach = max(pooled, 0.5) * students_t(0.975, freedom) if freedom else students_t(0.975, 1000)
    mean, count = np.mean([line.value for line in lines.values()]), len(pairs)
    ratios = {}
    for pair, line in lines.items():
        others = [other.meter_error / count for name, other in lines.items() if name != pair]
        error = reach * hypot((1.0 - 1.0 / count) * line.meter_error, *others) / mean
        ratios[pair] = Estimate(
            value=float(line.value / mean),
            plus_minus=float(error),
            unit="of the mean",
            how=f"pair {pair} against all pairs",
        )
    return ratios


def balance_warnings(ratios, what, hint):
    """Sentences about pairs that differ by more than 3 % and more than their ±.

    Parameters
    ----------
    ratios : dict of str to Estimate
        From `pair_balance`.
    what : str
        The quantity, for the sentence.
    hint : str
        Likely causes and what to check.

    Returns
    -------
    list of str
        One sentence per pair that is off.
    """
    off = {
        pair: ratio for pair, ratio in ratios.items() if abs(ratio.value - 1.0) > max(BALANCE_SHARE, ratio.plus_minus)
    }
    return [
        f"{what} of pair {pair} is {100 * (ratio.value - 1):+.1f} ± {100 * ratio.plus_minus:.1f} % off the mean of "
        f"the pairs; {hint}."
        for pair, ratio in off.items()
    ]


def random_half_width(slope):
    """95 % half-width from scatter, or the share assumed for a single reading.

    Parameters
    ----------
    slope : Slope
        The line.

    Returns
    -------
    float
        Half-width [unit of the slope].
    """
    return slope.half_width_95 if slope.freedom else ONE_READING_SHARE.value * abs(slope.value)


def unusable_words(readings, log):
    """Say that a log holds no usable row, and whether it holds any.

    Parameters
    ----------
    readings : sequence of Reading
        Every row that holds anything.
    log : str
        What the log is called in the sentence.

    Returns
    -------
    str
        A clause; empty when a row can be used.
    """
    if any(reading.usable for reading in readings):
        return ""
    if not readings:
        return f"no row is in {log} yet"
    if len(readings) == 1:
        return f"the only row of {log} cannot be used (the words below it say why)"
    return f"none of the {rows_in_words(len(readings))} of {log} can be used (the words below each say why)"


def rows_in_words(count):
    """A count of rows in words.

    Parameters
    ----------
    count : int
        How many [-].

    Returns
    -------
    str
        Such as "1 row" or "13 rows".
    """
    return count_of(count, "row")
