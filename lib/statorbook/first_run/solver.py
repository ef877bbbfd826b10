"""Several sets of causes fitted to a run log at once, each cause held back by what its move costs."""

from dataclasses import dataclass, fields
from functools import reduce

import numpy as np

from statorbook.first_run.flows import Moved
from statorbook.first_run.misfit import misfit_table

_ROUNDS = 14
_STEP = 0.01  # of a sigma, for differences in place of derivatives
_EASE, _PUSH, _MOST_DAMPED = 0.2, 8.0, 1e6  # damping after a round that helped and one that did not
_TRUST = 3.0  # how many times the gain that its slopes promise a set may yet make
_STILL = 1e-3  # of a sigma
_CLOSE = 1e-3  # of the total, far below the four that tell two causes apart


@dataclass(frozen=True, kw_only=True)
class Settled:
    """Sets of causes at some values, and how the readings look from there.

    Parameters
    ----------
    values : ndarray
        Of each set's causes, shape (sets, causes), in the unit of each cause's field [unit].
    misfits : ndarray
        How many sigma each reading is off there, shape (sets, readings) [-].
    prices : ndarray
        What the moves cost, in squared sigma, shape (sets,) [-].
    slopes : ndarray
        Change of each misfit with each cause's value, shape (sets, readings, causes), per its unit [1/unit].
    """

    values: np.ndarray
    misfits: np.ndarray
    prices: np.ndarray
    slopes: np.ndarray

    @property
    def totals(self):
        """What is left over together with the price, shape (sets,) [-]."""
        return np.sum(self.misfits**2, axis=1) + self.prices

    def renewed(self, which, other):
        """The same with some sets taken from another.

        Parameters
        ----------
        which : ndarray of int
            Their places here [-].
        other : Settled
            Holds as many sets as there are places.

        Returns
        -------
        Settled
            All sets.
        """
        made = {each.name: getattr(self, each.name).copy() for each in fields(self)}
        for name, array in made.items():
            array[which] = getattr(other, name)
        return Settled(**made)

    def only(self, which):
        """Some of the sets.

        Parameters
        ----------
        which : ndarray of int or of bool
            Which [-].

        Returns
        -------
        Settled
            Those.
        """
        return Settled(**{each.name: getattr(self, each.name)[which] for each in fields(self)})


def settle(case, sets, starts=None, *, within=np.inf):
    """Find where each set of causes fits best, all sets of one size together.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    sets : sequence of tuple of Cause
        Each set is moved on its own; all of one size.
    starts : ndarray or None
        Values to begin at, shape (sets, causes), in the unit of each cause's field; nothing different when None [unit].
    within : float
        A set is left where it is once even some times the gain that its slopes promise would not bring its total this
        near to the best one [-].

    Returns
    -------
    Settled
        Values, what is left over, and the slopes there.

    Notes
    -----
    Equation: least of Σ misfit² + Σ ((value − rest) / sigma)² between the lowest and highest plausible values; damped
        Gauss-Newton steps, a value at its bound held there while the step points outward.
    Valid: one valley, which amps, volts and speeds that only rise or only fall with each cause have.
    Source: Levenberg-Marquardt, Press et al., Numerical Recipes, 15.5 (from memory).
    """
    low, high, rest, sigma = (np.array([[getattr(c, n) for c in s] for s in sets]) for n in _BOUNDS)
    found = look_from(case, sets, np.clip(rest if starts is None else starts, low, high))
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
        there = look_from(case, [sets[i] for i in going], np.clip(here.values + step, *bounds[:2]))
        better = there.totals < here.totals
        found = found.renewed(going[better], there.only(better))
        damp[going] *= np.where(better, _EASE, _PUSH)
        # A step that did not help is tried shorter before a set counts as settled.
        still = (better & (here.totals - there.totals < _CLOSE)) | (damp[going] > _MOST_DAMPED)
        going = going[~(still | (np.abs(step) < _STILL * bounds[3]).all(axis=1))]
    return found


_BOUNDS = ("low", "high", "rest", "sigma")


def look_from(case, sets, at):
    """See the readings from some values of some causes.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    sets : sequence of tuple of Cause
        All of one size.
    at : ndarray
        Values, shape (sets, causes), in the unit of each cause's field [unit].

    Returns
    -------
    Settled
        With slopes by differences.
    """
    rest, sigma = (np.array([[getattr(c, n) for c in s] for s in sets]) for n in _BOUNDS[2:])
    moves, step = [], _STEP * sigma
    for causes, values, steps in zip(sets, at, step, strict=True):
        moves += [together(causes, nudged) for nudged in (values, *(values + np.diag(steps)))]
    table = misfit_table(case, moves).reshape(len(sets), at.shape[1] + 1, -1)
    rise = (table[:, 1:] - table[:, :1]) / step[:, :, None]
    prices = np.sum(((at - rest) / sigma) ** 2, axis=1)
    return Settled(values=at, misfits=table[:, 0], prices=prices, slopes=np.swapaxes(rise, 1, 2))


def together(causes, values):
    """Several causes at once.

    Parameters
    ----------
    causes : sequence of Cause
        The causes.
    values : sequence of float
        Of each, in the unit of its field [unit].

    Returns
    -------
    Moved
        All that they make different.
    """
    return reduce(Moved.joined, (each.moved(float(at)) for each, at in zip(causes, values, strict=True)), Moved())


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
