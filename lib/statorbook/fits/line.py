"""Lines and curves through measured points: slope, its ±, one line a group, and what scatter is left.

Source of the lines and of their errors: Draper and Smith, Applied Regression Analysis (from memory).
Valid: exact abscissae, errors independent from point to point.
"""

import warnings
from dataclasses import dataclass
from math import sqrt

import numpy as np

from statorbook.errors import BadInput

# Few points can agree by luck: their scatter counts as at least this part of what the meter explains.
LEAST_SCATTER = 0.5


@dataclass(frozen=True, kw_only=True)
class Slope:
    """A slope through the origin and what its points say about it."""

    value: float  # unit of y per unit of x
    meter_error: float  # one sigma of the slope if the sigmas given are right, unit of the slope
    scatter: float  # root mean square residual in units of the sigmas given; 1 when they are right
    freedom: int  # points less one

    @property
    def standard_error(self):
        """One sigma of the slope from the scatter found [unit of y per unit of x]."""
        return self.scatter * self.meter_error

    @property
    def half_width_95(self):
        """95 % half-width by Student's t, the scatter taken as at least half a sigma [unit of y per unit of x]."""
        return students_t(0.975, self.freedom) * max(self.scatter, LEAST_SCATTER) * self.meter_error


def slope_through_origin(x, y, sigma=None):
    """Fit y = slope × x by weighted least squares, all sigmas 1 when None; a single point has no scatter."""
    # b = Σ w x y / Σ w x², w = 1/σ²; scatter² = Σ w (y − b x)² / (n − 1); meter error = 1/√(Σ w x²)
    x, y = np.asarray(x, float), np.asarray(y, float)
    weight = np.ones_like(x) if sigma is None else 1.0 / np.asarray(sigma, float) ** 2
    total = np.sum(weight * x * x)
    value, freedom = np.sum(weight * x * y) / total, len(x) - 1
    scatter = np.sqrt(np.sum(weight * (y - value * x) ** 2) / freedom) if freedom else 0.0
    return Slope(value=float(value), meter_error=float(total**-0.5), scatter=float(scatter), freedom=freedom)


def lines_by_group(groups, x, y, sigma):
    """A `Slope` for each group of rows, as a dict by group in the order in which they come."""
    groups = list(groups)
    own = {group: np.array([other == group for other in groups]) for group in dict.fromkeys(groups)}
    return {group: slope_through_origin(x[some], y[some], sigma[some]) for group, some in own.items()}


def pooled_scatter(lines):
    """Scatter of all rows in sigmas, each about the line of its own group, 0 with no row to spare; and its freedom."""
    lines = tuple(lines)
    freedom = sum(line.freedom for line in lines)
    return sqrt(sum(line.freedom * line.scatter**2 for line in lines) / freedom) if freedom else 0.0, freedom


def line_with_intercept(x, y, sigma, *, probability=0.975):
    """The intercept of y = a + b x by weighted least squares, and its half-width by Student's t at a lower tail."""
    # Three points or more, not all x alike; t(p, n − 2) × se, scatter at least half a sigma.
    x, y, weight = np.asarray(x, float), np.asarray(y, float), 1.0 / np.asarray(sigma, float) ** 2
    middle_x, middle_y = np.average(x, weights=weight), np.average(y, weights=weight)
    spread = np.sum(weight * (x - middle_x) ** 2)
    slope = np.sum(weight * (x - middle_x) * (y - middle_y)) / spread
    intercept = middle_y - slope * middle_x
    freedom = len(x) - 2
    scatter = np.sqrt(np.sum(weight * (y - intercept - slope * x) ** 2) / freedom)
    error = max(scatter, LEAST_SCATTER) * np.sqrt(1.0 / np.sum(weight) + middle_x**2 / spread)
    return float(intercept), float(students_t(probability, freedom) * error)


def students_t(probability, freedom):
    """Quantile of Student's t distribution for a lower-tail probability and at least one degree of freedom."""
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))


def curve_through(shape, x, y, sigma, guess, *, zero=None, **ways):
    """Fit a curve: its parameters, that numbered `zero` held at 0, their covariance, and Σ (residual / sigma)²."""
    # More rows than parameters; the covariance holds if the sigmas are right. `ways` go to scipy's curve_fit.
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
