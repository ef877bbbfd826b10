"""Whether the pairs of leads agree: the slope of each over the mean of all, and words for those that are off."""

from math import hypot

import numpy as np

from statorbook.fits.line import LEAST_SCATTER, lines_by_group, pooled_scatter, students_t
from statorbook.quantities import Estimate

BALANCE_SHARE = 0.03


def pair_balance(names, x, y, sigma):
    """The slope of each pair of leads over the mean of the pairs, by pair with 95 % ±; empty with fewer than two."""
    # b_k / mean(b), variance (1 − 1/m)² v_k + Σ v_others / m², scatter pooled within the pairs, Student's t; ratios
    # near 1; with one row a pair the meter's own sigma stands in for the scatter. JCGM 100 (from memory).
    pairs = sorted(set(names))
    if len(pairs) < 2:
        return {}
    lines = lines_by_group(names, x, y, sigma)
    lines = {pair: lines[pair] for pair in pairs}
    pooled, freedom = pooled_scatter(lines.values())
    reach = max(pooled, LEAST_SCATTER) * students_t(0.975, freedom) if freedom else students_t(0.975, 1000)
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
    """A sentence for each pair that is off by more than 3 % and more than its ±."""
    off = {
        pair: ratio for pair, ratio in ratios.items() if abs(ratio.value - 1.0) > max(BALANCE_SHARE, ratio.plus_minus)
    }
    return [
        f"{what} of pair {pair} is {100 * (ratio.value - 1):+.1f} ± {100 * ratio.plus_minus:.1f} % off the mean of "
        f"the pairs; {hint}."
        for pair, ratio in off.items()
    ]
