"""The six-diode bridge between two switchings: a linear circuit with signals in closed form.

Units: phase EMF peak and |R + jωL|, so that only voltage ratio, R/X and the DC-side resistance are left.
"""

from dataclasses import dataclass

import numpy as np

PHASE_ANGLE = 2.0 * np.pi / 3.0 * np.arange(3)


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Dimensionless bridge problems, one per row; each array of shape (n,)."""

    dc_ratio: np.ndarray  # DC volts plus two diode drops, over the phase EMF peak
    resistance: np.ndarray  # of a phase, over |R + jωL|, as the next two
    reactance: np.ndarray
    dc_resistance: np.ndarray  # of the DC side

    def pick(self, rows):
        """Some of its rows, by indices or a mask."""
        return Problem(**{name: values[rows] for name, values in vars(self).items()})

    @property
    def start_angle(self):
        """Angle at which conduction would begin from rest, shape (n,) [rad]."""
        return -np.arccos(np.clip(self.dc_ratio / np.sqrt(3.0), -1.0, 1.0))


@dataclass(frozen=True, kw_only=True)
class Segment:
    """Closed-form signals while the same diodes conduct, for n problems."""

    signs: np.ndarray  # +1 joined to plus, −1 to minus, 0 not conducting, shape (n, 3)
    rates: np.ndarray  # exponents 0, j, −j, −R/X and −R'/X, shape (n, 5) [1/rad]
    currents: np.ndarray  # coefficients of the phase currents, shape (n, 3, 5) [E/|Z|]
    emf: np.ndarray  # coefficients of the phase EMFs, shape (n, 3, 5) [E]
    direction: np.ndarray  # direction in which the DC side acts on the currents, shape (n, 3)

    @property
    def dc_current(self):
        """Coefficients of the DC current, half the sum of signed phase currents, shape (n, 5) [E/|Z|]."""
        return 0.5 * np.einsum("nk,nkm->nm", self.signs, self.currents)


def segment(problem, angle, signs, state):
    """Signals from an angle on, with conducting diodes and phase currents given, until the next switching."""
    # Kirchhoff: X di/dθ = P(e − s V/2) − R i − (Rdc/4) w (w·i), w = P s, P = projection on currents that sum to 0;
    # the rank-one DC term splits the solution into two scalar ones. R > 0, X > 0.
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
    currents = np.stack([constant, sine, sine.conj(), rest - rest_along, rest_along], axis=2)
    zero = np.zeros_like(emf)
    return Segment(
        signs=signs,
        rates=rates_of(-r / x, -r_dc / x),
        currents=currents,
        direction=w,
        emf=np.stack([zero, emf, emf.conj(), zero, zero], axis=2),
    )


def rates_of(one, other):
    """The exponents 0, j, −j and two that decay, shape (n, 5) [1/rad]."""
    rates = np.zeros((len(one), 5), dtype=complex)
    rates[:, 1], rates[:, 2], rates[:, 3], rates[:, 4] = 1j, -1j, one, other
    return rates


def value(coefficients, rates, delta):
    """Signals after an angle within one segment, Re Σ c exp(λ Δ)."""
    growth = np.exp(rates * delta[:, None])
    return np.einsum("n...m,nm->n...", coefficients, growth).real


def integral_of_product(first, second, rates, delta):
    """Product of two signals, summed over their components and integrated over a segment: ∫ Σ a b exp((λ + μ) θ) dθ."""
    return np.einsum("nkp,nkq,npq->n", first, second, _grown(rates, delta)).real


def integral_of_products(first, second, rates, delta):
    """Products of two signals, each component by itself, integrated over a segment: ∫ a b exp((λ + μ) θ) dθ."""
    return ((first @ _grown(rates, delta)) * second).sum(axis=2).real


def _grown(rates, delta):
    both = rates[:, :, None] + rates[:, None, :]
    small = np.abs(both) < 1e-12
    return np.where(small, delta[:, None, None], np.expm1(both * delta[:, None, None]) / np.where(small, 1.0, both))
