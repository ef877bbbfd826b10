"""Does a line through readings hold: zero at the start, no bend, days that agree, and no more scatter than due.

Source where none is named: Draper and Smith, Applied Regression Analysis (from memory).
Valid: errors nearly normal, sigmas right.
"""

from math import hypot, sqrt

import numpy as np

from statorbook.fits.line import (
    LEAST_SCATTER,
    line_with_intercept,
    lines_by_group,
    pooled_scatter,
    slope_through_origin,
    students_t,
)
from statorbook.fits.odd_rows import points_that_do_not_belong
from statorbook.quantities import Estimate

# Chance that a check of a healthy log raises an alarm.
FALSE_ALARM = 0.01
# From a 95 % half-width to the 99 % one of a check, normal errors.
TO_99 = 2.576 / 1.96
_MANY = 1000  # degrees of freedom that count as known


def zero_offset(x, y, sigma):
    """Where the line through the rows meets the start, and its 99 % half-width."""
    return line_with_intercept(x, y, sigma, probability=1.0 - FALSE_ALARM / 2.0)


def bend(x, y, sigma):
    """How far y per x changes from the least to the greatest x, as a share of it, and its 99 % half-width."""
    # y = b x + c x², so y / x² = c + b / x: the intercept of a straight line in 1 / x; change = c (x₂ − x₁) / b̄.
    # Valid: a small bend.
    curved, half = line_with_intercept(1.0 / x, y / x**2, sigma / x**2, probability=1.0 - FALSE_ALARM / 2.0)
    scale = (np.max(x) - np.min(x)) / slope_through_origin(x, y, sigma).value
    return float(curved * scale), float(half * abs(scale))


def session_gaps(names, x, y, sigma, *, power=1.0, shifted=()):
    """How far the slope of each session is off that of all others, as a share with 99 % ±; empty with one session."""
    # (b_k / b_rest)^power − 1; ± from the scatter pooled within the sessions, Student's t at 1 % over the number of
    # comparisons, at most what one sigma as given makes, and what `shifted` ordinates change (those with what all rows
    # share at the end of its ±), in quadrature. A row that is odd within its own session is left out, and a session
    # whose slope is not above 0. Valid: small gaps; with one row a session the meter's own sigma stands in for the
    # scatter. Propagation of error, JCGM 100 (from memory); comparisons, Bonferroni (from memory).
    names, sigma = np.asarray(names), np.asarray(sigma, float)
    kept = _without_slips(names, x, y, sigma)
    sessions = sorted(set(names[kept]))
    if len(sessions) < 2:
        return {}
    reach = _reach(names[kept], x[kept], y[kept], sigma[kept], 1 if len(sessions) == 2 else len(sessions))
    found = {}
    for name in sessions:
        own, rest = kept & (names == name), kept & (names != name)
        one, others = (slope_through_origin(x[some], y[some], sigma[some]) for some in (own, rest))
        if min(one.value, others.value) <= 0.0:
            continue
        random = reach * hypot(one.meter_error / one.value, others.meter_error / others.value)
        gap = (one.value / others.value) ** power - 1.0
        moved = [TO_99 * (_gap(own, rest, x, other, sigma, power) - gap) for other in shifted]
        found[name] = Estimate(
            value=gap,
            plus_minus=hypot(power * random * (1.0 + gap), *moved),
            unit="of the others",
            how=f"session {name} against the others",
        )
    return found


def levelled(groups, x, y, sigma):
    """Abscissae, ordinates and sigmas with each group brought to the slope of all."""
    lines, groups = lines_by_group(groups, x, y, sigma), list(groups)
    scale = np.array([slope_through_origin(x, y, sigma).value / lines[group].value for group in groups])
    return x, y * scale, sigma * scale


def scatter_within(groups, x, y, sigma):
    """Scatter of the rows about a line for each group, in sigmas, the most that chance allows, and its freedom."""
    # s² = Σ (residual / σ)² / ν against χ²(0.99, ν) / ν
    from scipy.special import chdtri

    scatter, freedom = pooled_scatter(lines_by_group(groups, x, y, sigma).values())
    return scatter, sqrt(float(chdtri(freedom, FALSE_ALARM)) / freedom) if freedom else float("inf"), freedom


def scatter_about(columns, y, sigma):
    """How far rows scatter, in sigmas, about the best sum of some shapes, fewer than there are rows."""
    table, level = np.column_stack(columns) / sigma[:, None], y / sigma
    left = level - table @ np.linalg.lstsq(table, level, rcond=None)[0]
    return float(np.sqrt(np.sum(left**2) / max(1, len(y) - len(columns))))


def _gap(own, rest, x, y, sigma, power):
    one, others = (slope_through_origin(x[some], y[some], sigma[some]).value for some in (own, rest))
    return (one / others) ** power - 1.0 if min(one, others) > 0.0 else 0.0


def _without_slips(names, x, y, sigma):
    """Rows that belong to their own session, whatever the other sessions say."""
    middle = {name: np.median((y / x)[names == name]) for name in set(names)}
    scale = np.array([middle[name] for name in names])
    if np.any(scale <= 0.0):
        return np.ones(len(names), bool)
    level = y / scale
    odd = points_that_do_not_belong(x, level, sigma / scale, lambda slope: level / (slope * x) - 1.0)
    return ~np.isin(np.arange(len(names)), odd)


def _reach(names, x, y, sigma, comparisons):
    pooled, freedom = pooled_scatter(lines_by_group(names, x, y, sigma).values())
    probability = 1.0 - FALSE_ALARM / (2.0 * comparisons)
    by_meter = max(pooled, 1.0) * students_t(probability, _MANY)
    # A handful of rows tells little about its own scatter; the meters' share is known without them.
    return min(by_meter, max(pooled, LEAST_SCATTER) * students_t(probability, freedom)) if freedom else by_meter
