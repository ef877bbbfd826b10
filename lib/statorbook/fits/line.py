"""Lines and curves through measured points: slope, its ±, and the points that do not belong."""

import warnings
from dataclasses import dataclass

import numpy as np

from statorbook.errors import BadInput

# Chance that a clean log has any row named at all.
_FAMILY_RISK = 0.05
_LEAST_SHARE_OFF = 0.03
_FEWEST_LEFT = 3
# Few points can agree by luck: their scatter counts as at least this part of what the meter explains.
_LEAST_SCATTER = 0.5


@dataclass(frozen=True, kw_only=True)
class Slope:
    """A slope through the origin and what its points say about it.

    Parameters
    ----------
    value : float
        The slope [unit of y per unit of x].
    meter_error : float
        One sigma of the slope if the sigmas given are right [unit of y per unit of x].
    scatter : float
        Root mean square residual in units of the sigmas given; 1 when they are right [-].
    freedom : int
        Points less one [-].
    """

    value: float
    meter_error: float
    scatter: float
    freedom: int

    @property
    def standard_error(self):
        """One sigma of the slope from the scatter found [unit of y per unit of x]."""
        return self.scatter * self.meter_error

    @property
    def half_width_95(self):
        """95 % half-width by Student's t, the scatter taken as at least half a sigma [unit of y per unit of x]."""
        return students_t(0.975, self.freedom) * max(self.scatter, _LEAST_SCATTER) * self.meter_error


def slope_through_origin(x, y, sigma=None):
    """Fit y = slope × x by weighted least squares.

    Parameters
    ----------
    x : ndarray
        Abscissae [unit of x].
    y : ndarray
        Ordinates [unit of y].
    sigma : ndarray or None
        Likely error of each ordinate, one sigma; all 1 when None [unit of y].

    Returns
    -------
    Slope
        The slope; a single point has no scatter.

    Notes
    -----
    Equation: b = Σ w x y / Σ w x², w = 1/σ²; scatter² = Σ w (y − b x)² / (n − 1); meter error = 1/√(Σ w x²).
    Valid: exact abscissae, errors independent from point to point.
    Source: Draper and Smith, Applied Regression Analysis (from memory).
    """
    x, y = np.asarray(x, float), np.asarray(y, float)
    weight = np.ones_like(x) if sigma is None else 1.0 / np.asarray(sigma, float) ** 2
    total = np.sum(weight * x * x)
    value, freedom = np.sum(weight * x * y) / total, len(x) - 1
    scatter = np.sqrt(np.sum(weight * (y - value * x) ** 2) / freedom) if freedom else 0.0
    return Slope(value=float(value), meter_error=float(total**-0.5), scatter=float(scatter), freedom=freedom)


def line_with_intercept(x, y, sigma, *, probability=0.975):
    """Fit y = intercept + slope × x by weighted least squares and judge the intercept.

    Parameters
    ----------
    x : ndarray
        Abscissae, at least three, not all alike [unit of x].
    y : ndarray
        Ordinates [unit of y].
    sigma : ndarray
        Likely error of each ordinate, one sigma [unit of y].
    probability : float
        Lower-tail probability of the half-width, 0.975 for 95 % [-].

    Returns
    -------
    tuple of float
        Intercept and its half-width [unit of y].

    Notes
    -----
    Equation: the normal equations of the straight line; half-width t(p, n − 2) × se, scatter at least half a sigma.
    Valid: exact abscissae, errors independent from point to point.
    Source: Draper and Smith, Applied Regression Analysis (from memory).
    """
    x, y, weight = np.asarray(x, float), np.asarray(y, float), 1.0 / np.asarray(sigma, float) ** 2
    middle_x, middle_y = np.average(x, weights=weight), np.average(y, weights=weight)
    spread = np.sum(weight * (x - middle_x) ** 2)
    slope = np.sum(weight * (x - middle_x) * (y - middle_y)) / spread
    intercept = middle_y - slope * middle_x
    freedom = len(x) - 2
    scatter = np.sqrt(np.sum(weight * (y - intercept - slope * x) ** 2) / freedom)
    error = max(scatter, _LEAST_SCATTER) * np.sqrt(1.0 / np.sum(weight) + middle_x**2 / spread)
    return float(intercept), float(students_t(probability, freedom) * error)


def points_that_do_not_belong(x, y, sigma, share_off):
    """Find the points that a line through the origin and through the others does not explain.

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

    Returns
    -------
    list of int
        Indices of the points, in the order found; at most a third of all.

    Notes
    -----
    Equation: externally studentised residual above Student's t at 0.05 / (2 n), and more than 3 % off; then pairs that
        hide each other, tested against the rest; repeated until none. A point within 3 % of the final line goes back.
    Valid: errors nearly normal; one or two bad points at a time among six or more, one among four or more.
    Source: Cook and Weisberg, Residuals and Influence in Regression (from memory); 3 % is common practice, no source.
    """
    x, y, sigma = (np.asarray(values, float) for values in (x, y, sigma))
    odd, most = [], len(x) // 3
    while len(odd) < most:
        kept = [i for i in range(len(x)) if i not in odd]
        found = _one_odd(x, y, sigma, share_off, kept) or _two_odd(x, y, sigma, share_off, kept)
        if not found or len(odd) + len(found) > most:
            break
        odd += found
    kept = [i for i in range(len(x)) if i not in odd]
    off = np.abs(share_off(slope_through_origin(x[kept], y[kept], sigma[kept]).value))
    return [i for i in odd if off[i] > _LEAST_SHARE_OFF]


def students_t(probability, freedom):
    """Quantile of Student's t distribution.

    Parameters
    ----------
    probability : float
        Lower-tail probability [-].
    freedom : int
        Degrees of freedom, at least 1 [-].

    Returns
    -------
    float
        The quantile [-].

    Notes
    -----
    Equation: inverse of the cumulative distribution.
    Valid: at least 1 degree of freedom.
    Source: scipy.special.
    """
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))


def _one_odd(x, y, sigma, share_off, kept):
    if len(kept) <= _FEWEST_LEFT:
        return []
    strangers = []
    for i in kept:
        off, t_value = _against_the_rest([i], x, y, sigma, share_off, kept)
        if t_value > students_t(1.0 - _FAMILY_RISK / (2 * len(kept)), len(kept) - 2) and off > _LEAST_SHARE_OFF:
            strangers.append((t_value, i))
    return [max(strangers)[1]] if strangers else []


def _two_odd(x, y, sigma, share_off, kept):
    if len(kept) <= _FEWEST_LEFT + 2:
        return []
    off = np.abs(share_off(np.median(y[kept] / x[kept])))
    pair = sorted(kept, key=lambda i: off[i])[-2:]
    pairs_possible = len(kept) * (len(kept) - 1) / 2
    least_off, least_t = _against_the_rest(pair, x, y, sigma, share_off, kept)
    limit = students_t(1.0 - _FAMILY_RISK / (2 * pairs_possible), len(kept) - 3)
    return pair if least_t > limit and least_off > _LEAST_SHARE_OFF else []


def _against_the_rest(some, x, y, sigma, share_off, kept):
    """The least share off and the least studentised residual of some points, judged by the line through the others."""
    rest = [i for i in kept if i not in some]
    line = slope_through_origin(x[rest], y[rest], sigma[rest])
    expected_error = max(line.scatter, _LEAST_SCATTER) * np.hypot(sigma[some], x[some] * line.meter_error)
    t_values = np.abs(y[some] - line.value * x[some]) / expected_error
    return np.min(np.abs(share_off(line.value)[some])), np.min(t_values)


def curve_through(shape, x, y, sigma, guess, *, zero=None, **ways):
    """Fit a curve of a known shape to rows by weighted least squares.

    Parameters
    ----------
    shape : callable
        From abscissae and parameters to ordinates.
    x : ndarray
        Abscissae, more than there are parameters [unit of x].
    y : ndarray
        Ordinates [unit of y].
    sigma : ndarray
        Likely error of each ordinate, one sigma [unit of y].
    guess : sequence of float
        Parameters near the right ones.
    zero : int or None
        Index of a parameter that is held at 0; none when None [-].
    **ways : object
        Passed on to `scipy.optimize.curve_fit`, such as a loss that bears wild rows.

    Returns
    -------
    tuple
        Parameters, their covariance if the sigmas are right, and the sum of squared residuals in units of sigma.

    Raises
    ------
    BadInput
        When no curve of this shape comes near the rows.
    """
    from scipy.optimize import OptimizeWarning, curve_fit

    free = [i for i in range(len(guess)) if i != zero]
    values, covariance = np.zeros(len(guess)), np.zeros((len(guess), len(guess)))

    def freed(abscissae, *some):
        values[free] = some
        return shape(abscissae, *values)

    def slopes(abscissae, *some):  # steps of their own, since a parameter may be 0
        steps = np.diag(1e-6 * np.maximum(1.0, np.abs(some)))
        here = freed(abscissae, *some)
        return np.column_stack([(freed(abscissae, *(some + step)) - here) / step.max() for step in steps])

    start, ways = [guess[i] for i in free], {"absolute_sigma": True, "jac": slopes, **ways}
    try:
        with warnings.catch_warnings(action="error", category=OptimizeWarning):
            found, covariance[np.ix_(free, free)] = curve_fit(freed, x, y, start, sigma, **ways)
    except (RuntimeError, OptimizeWarning):
        raise BadInput("the rows lie on no smooth curve", "one run is allowed", "measure once more") from None
    values[free] = found
    return values, covariance, float(np.sum(((y - shape(x, *values)) / sigma) ** 2))
