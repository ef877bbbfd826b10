"""The six-diode bridge between two switchings: a linear circuit with signals in closed form.

Units: phase EMF peak and |R + jωL|, so that only voltage ratio, R/X and the DC-side resistance are left.
"""

from dataclasses import dataclass

import numpy as np

PHASE_ANGLE = 2.0 * np.pi / 3.0 * np.arange(3)


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Dimensionless bridge problems, one per row.

    Parameters
    ----------
    dc_ratio : ndarray
        DC volts plus two diode drops, over the phase EMF peak, shape (n,) [-].
    resistance : ndarray
        Phase resistance over |R + jωL|, shape (n,) [-].
    reactance : ndarray
        Phase reactance over |R + jωL|, shape (n,) [-].
    dc_resistance : ndarray
        Resistance of the DC side over |R + jωL|, shape (n,) [-].
    """

    dc_ratio: np.ndarray
    resistance: np.ndarray
    reactance: np.ndarray
    dc_resistance: np.ndarray

    def pick(self, rows):
        """Keep only some rows.

        Parameters
        ----------
        rows : ndarray
            Indices or a mask [-].

        Returns
        -------
        Problem
            Those rows.

        Notes
        -----
        Equation: none, a selection.
        Valid: indices of this problem.
        Source: definition.
        """
        return Problem(
            dc_ratio=self.dc_ratio[rows],
            resistance=self.resistance[rows],
            reactance=self.reactance[rows],
            dc_resistance=self.dc_resistance[rows],
        )

    @property
    def start_angle(self):
        """Angle at which conduction would begin from rest, shape (n,) [rad]."""
        return -np.arccos(np.clip(self.dc_ratio / np.sqrt(3.0), -1.0, 1.0))


@dataclass(frozen=True, kw_only=True)
class Segment:
    """Closed-form signals while the same diodes conduct, for n problems.

    Parameters
    ----------
    signs : ndarray
        +1 joined to plus, −1 to minus, 0 not conducting, shape (n, 3) [-].
    rates : ndarray
        Exponents 0, j, −j, −R/X and −R'/X, shape (n, 5) [1/rad].
    currents : ndarray
        Coefficients of the phase currents, shape (n, 3, 5) [E/|Z|].
    emf : ndarray
        Coefficients of the phase EMFs, shape (n, 3, 5) [E].
    direction : ndarray
        Direction in which the DC side acts on the currents, shape (n, 3) [-].
    """

    signs: np.ndarray
    rates: np.ndarray
    currents: np.ndarray
    emf: np.ndarray
    direction: np.ndarray

    @property
    def dc_current(self):
        """Coefficients of the DC current, half the sum of signed phase currents, shape (n, 5) [E/|Z|]."""
        return 0.5 * np.einsum("nk,nkm->nm", self.signs, self.currents)


def segment(problem, angle, signs, state):
    """Solve the circuit from an angle on, with the conducting diodes given.

    Parameters
    ----------
    problem : Problem
        n problems.
    angle : ndarray
        Start of the segment, shape (n,) [rad].
    signs : ndarray
        Conduction pattern, shape (n, 3) [-].
    state : ndarray
        Phase currents at the start, shape (n, 3) [E/|Z|].

    Returns
    -------
    Segment
        Signals as functions of the angle since the start.

    Notes
    -----
    Equation: X di/dθ = P(e − s V/2) − R i − (Rdc/4) w (w·i), w = P s, P = projection on currents that sum to 0.
    Valid: until the next diode switches; R > 0, X > 0.
    Source: Kirchhoff's laws; the rank-one DC term splits the solution into two scalar ones.
    """
    r, x, rdc = problem.resistance, problem.reactance, problem.dc_resistance
    on = np.abs(signs)
    count = np.maximum(on.sum(axis=1), 1.0)[:, None]
    w = (signs - signs.sum(axis=1, keepdims=True) / count) * on
    size = (w * w).sum(axis=1)
    safe = np.where(size > 0, size, 1.0)[:, None]
    r_dc = r + 0.25 * rdc * size
    emf = -0.5j * np.exp(1j * (angle[:, None] - PHASE_ANGLE))
    drive = (emf - (emf * on).sum(axis=1, keepdims=True) / count) * on
    along = (w * drive).sum(axis=1, keepdims=True) / safe * w
    sine = along / (r_dc + 1j * x)[:, None] + (drive - along) / (r + 1j * x)[:, None]
    constant = -(problem.dc_ratio / (2.0 * r_dc))[:, None] * w
    rest = (state - constant - 2.0 * sine.real) * on
    rest_along = (w * rest).sum(axis=1, keepdims=True) / safe * w
    currents = np.stack([constant + 0j, sine, sine.conj(), rest - rest_along + 0j, rest_along + 0j], axis=2)
    zero = np.zeros_like(emf)
    ones = np.ones_like(r)
    rates = np.stack([0j * ones, 1j * ones, -1j * ones, -r / x + 0j, -r_dc / x + 0j], axis=1)
    return Segment(
        signs=signs,
        rates=rates,
        currents=currents,
        direction=w,
        emf=np.stack([zero, emf, emf.conj(), zero, zero], axis=2),
    )


def value(coefficients, rates, delta):
    """Evaluate signals after an angle.

    Parameters
    ----------
    coefficients : ndarray
        Shape (n, ..., 5), any unit [-].
    rates : ndarray
        Shape (n, 5) [1/rad].
    delta : ndarray
        Angle since the start of the segment, shape (n,) [rad].

    Returns
    -------
    ndarray
        Real values, shape (n, ...) [-].

    Notes
    -----
    Equation: Re Σ c exp(λ Δ).
    Valid: within one segment.
    Source: definition.
    """
    growth = np.exp(rates * delta[:, None])
    return np.einsum("n...m,nm->n...", coefficients, growth).real


def integral_of_product(first, second, rates, delta):
    """Integrate the product of two signals over a segment, in closed form.

    Parameters
    ----------
    first : ndarray
        Coefficients, shape (n, k, 5) [-].
    second : ndarray
        Coefficients, shape (n, k, 5) [-].
    rates : ndarray
        Shape (n, 5) [1/rad].
    delta : ndarray
        Length of the segment, shape (n,) [rad].

    Returns
    -------
    ndarray
        Sum over k of the integrals, shape (n,) [rad].

    Notes
    -----
    Equation: ∫ Σ a b exp((λ + μ) θ) dθ, term by term.
    Valid: within one segment.
    Source: definition.
    """
    both = rates[:, :, None] + rates[:, None, :]
    small = np.abs(both) < 1e-12
    growth = np.where(small, delta[:, None, None], np.expm1(both * delta[:, None, None]) / np.where(small, 1.0, both))
    return np.einsum("nkp,nkq,npq->n", first, second, growth).real
