"""Several sets of causes fitted to a run log at once, each cause held back by what its move costs.

All sets move in one batch, since the bridge of many differences costs hardly more than that of one. Measured against
`scipy.optimize.least_squares`, set by set, its slopes in one batch a set: eight rows at the bank and one at open leads,
processor time of one core, median of seven runs (least to most). Nine single causes take 26 ms (23 to 33) in a batch
and 218 ms (209 to 230) by scipy; 35 pairs 84 ms (81 to 104) and 734 ms (688 to 833), or 25 ms (21 to 29) when those
that cannot come within 4 of the best are left; all causes together, a single set, 14 ms (13 to 16) and 48 ms (29 to
51). The best totals agree to four digits behind the point. Batching pays, so it stays.
"""

from dataclasses import dataclass, fields
from functools import reduce

import numpy as np

from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import misfit_table

_BOUNDS = ("low", "high", "rest", "sigma")
_ROUNDS = 14
_STEP = 0.01  # of a sigma, for differences in place of derivatives
_EASE, _PUSH, _MOST_DAMPED = 0.2, 8.0, 1e6  # damping after a round that helped and one that did not
_TRUST = 3.0  # how many times the gain that its slopes promise a set may yet make
_STILL = 1e-3  # of a sigma
_CLOSE = 1e-3  # of the total, far below the four that tell two causes apart


@dataclass(frozen=True, kw_only=True)
class Linearised:
    """Sets of causes at some values, and how the readings look from there."""

    values: np.ndarray  # in the unit of each cause's field, shape (sets, causes)
    misfits: np.ndarray  # in sigma, shape (sets, readings)
    prices: np.ndarray  # what the moves cost, in squared sigma, shape (sets,)
    slopes: (
        np.ndarray
    )  # change of each misfit with each cause's value, shape (sets, readings, causes), per its unit [1/unit]

    @property
    def totals(self):
        """What is left over together with the price, shape (sets,) [-]."""
        return np.sum(self.misfits**2, axis=1) + self.prices

    def renewed(self, which, other):
        """The same with some sets taken from another."""
        made = {field.name: getattr(self, field.name).copy() for field in fields(self)}
        for name, array in made.items():
            array[which] = getattr(other, name)
        return Linearised(**made)

    def only(self, which):
        """Some of the sets."""
        return Linearised(**{field.name: getattr(self, field.name)[which] for field in fields(self)})


def fit_causes(case, sets, starts=None, *, within=np.inf):
    """Find where each set of causes, all of one size, fits best; one that cannot come `within` the best is left."""
    # Least of Σ misfit² + Σ ((value − rest) / sigma)² between the lowest and highest plausible values; damped
    # Gauss-Newton steps, a value at its bound held there while the step points outward. Valid: one valley, which
    # amps, volts and speeds that only rise or only fall with each cause have.
    # Levenberg-Marquardt, Press et al., Numerical Recipes, 15.5 (from memory).
    low, high, rest, sigma = (np.array([[getattr(c, n) for c in s] for s in sets]) for n in _BOUNDS)
    found = linearise_at(case, sets, np.clip(rest if starts is None else starts, low, high))
    damp, going = np.full(len(sets), 1e-3), np.arange(len(sets))
    for _ in range(_ROUNDS):
        if not len(going):
            break
        bounds = (low[going], high[going], rest[going], sigma[going])
        here = found.only(going)
        step, gain = _step(here, damp[going], *bounds)
        worth = here.totals - _TRUST * gain <= found.totals.min() + within
        if not worth.all():
            going = going[worth]
            continue
        there = linearise_at(case, [sets[i] for i in going], np.clip(here.values + step, *bounds[:2]))
        better = there.totals < here.totals
        found = found.renewed(going[better], there.only(better))
        damp[going] *= np.where(better, _EASE, _PUSH)
        # A step that did not help is tried shorter before a set counts as settled.
        still = (better & (here.totals - there.totals < _CLOSE)) | (damp[going] > _MOST_DAMPED)
        going = going[~(still | (np.abs(step) < _STILL * bounds[3]).all(axis=1))]
    return found


def linearise_at(case, sets, at):
    """See the readings from some values of some causes, shape (sets, causes), with slopes by differences."""
    rest, sigma = (np.array([[getattr(c, n) for c in s] for s in sets]) for n in _BOUNDS[2:])
    deviations, step = [], _STEP * sigma
    for causes, values, steps in zip(sets, at, step, strict=True):
        deviations += [joint_deviation(causes, nudged) for nudged in (values, *(values + np.diag(steps)))]
    table = misfit_table(case, deviations).reshape(len(sets), at.shape[1] + 1, -1)
    rise = (table[:, 1:] - table[:, :1]) / step[:, :, None]
    prices = np.sum(((at - rest) / sigma) ** 2, axis=1)
    return Linearised(values=at, misfits=table[:, 0], prices=prices, slopes=np.swapaxes(rise, 1, 2))


def joint_deviation(causes, values):
    """What several causes make different at once, each at its value."""
    single = (cause.deviation(float(at)) for cause, at in zip(causes, values, strict=True))
    return reduce(Deviation.joined, single, Deviation())


def _step(here, damp, low, high, rest, sigma):
    """One damped Gauss-Newton step of every set, shape (sets, causes), and the gain it promises, shape (sets,)."""
    at, slopes = here.values, here.slopes
    downhill = -np.einsum("srk,sr->sk", slopes, here.misfits) - (at - rest) / sigma**2
    held = ((at <= low) & (downhill < 0.0)) | ((at >= high) & (downhill > 0.0)) | (low == high)
    free = np.where(held, 0.0, 1.0)
    curve = np.einsum("srk,srl->skl", slopes, slopes) * free[:, :, None] * free[:, None, :]
    own = np.einsum("skk->sk", curve) + free / sigma**2
    # A held value keeps a one on the diagonal, so that the equations have a solution in which it stays.
    diagonal = free / sigma**2 + damp[:, None] * own + held
    curve = curve + diagonal[:, :, None] * np.eye(at.shape[1])
    step = np.linalg.solve(curve, (downhill * free)[:, :, None])[:, :, 0]
    return step, np.sum(downhill * free * step, axis=1)
