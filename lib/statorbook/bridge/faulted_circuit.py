"""Three unlike phases on a bridge with faults, between two switchings: a linear circuit with signals in closed form.

Units as in `circuit`; "on" is a leg that is joined to a rail, whether by a diode that conducts or by a shorted one.
"""

from dataclasses import dataclass, fields
from itertools import permutations

import numpy as np

from statorbook.bridge.circuit import rates_of
from statorbook.bridge.faults import SHORTED, SOUND

PAIRS = tuple(permutations(range(3), 2))  # leads that can wake together, the one on plus first


def _bases():
    """For each set of legs that are on: currents that sum to 0, how to read them, and places that are not used."""
    spread, pick = np.zeros((8, 3, 2)), np.zeros((8, 2, 3))
    for mask in range(8):
        on = [leg for leg in range(3) if mask >> leg & 1]
        for column, leg in enumerate(on[:-1]):
            spread[mask, leg, column], spread[mask, on[-1], column], pick[mask, column, leg] = 1.0, -1.0, 1.0
    return spread, pick, np.eye(2) * (~pick.any(axis=2))[:, :, None]


_SPREAD, _PICK, _UNUSED = _bases()


@dataclass(frozen=True, kw_only=True)
class Legs:
    """Problems, one per row: a source of three legs, the diodes and the DC side."""

    emf: np.ndarray  # complex, e = Im(emf exp(jθ)), shape (n, 3)
    resistance: np.ndarray  # shape (n, 3), as the next
    reactance: np.ndarray
    slots: np.ndarray  # what stands in the place of each diode, shape (n, 2, 3)
    blocking: np.ndarray  # diodes that a machine can put reverse volts on, shape (n, 2, 3)
    loose: np.ndarray  # as in `faults.Source`, shape (n, 3)
    gap: np.ndarray  # shape (n, 2, 3)
    slope: np.ndarray  # of a conducting diode, shape (n,), as the next three
    drop: np.ndarray
    dc_ratio: np.ndarray  # DC volts over the phase EMF peak
    dc_resistance: np.ndarray

    def pick(self, rows):
        """Some of its rows, by indices or a mask."""
        return Legs(**{field.name: getattr(self, field.name)[rows] for field in fields(self)})

    @property
    def tied(self):
        """+1 where a shorted diode joins a leg to plus, −1 to minus, 0 elsewhere, shape (n, 3)."""
        shorted = self.slots == SHORTED
        return shorted[:, 0].astype(float) - shorted[:, 1]


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """Closed-form signals while the same diodes conduct, for n problems."""

    signs: np.ndarray  # +1 joined to plus, −1 to minus, 0 to none, shape (n, 3)
    rates: np.ndarray  # exponents 0, j, −j and two that decay, shape (n, 5) [1/rad]
    currents: np.ndarray  # coefficients, out of the leads, shape (n, 3, 5)
    emf: np.ndarray  # coefficients of the EMFs, shape (n, 3, 5)
    leads: np.ndarray  # coefficients of the leads' volts against the star point, shape (n, 3, 5)
    plus: np.ndarray  # coefficients of the plus rail against the star point, shape (n, 5), as the next two
    dc_amps: np.ndarray
    dc_volts: np.ndarray  # between the rails
    modes: np.ndarray  # what a change of the currents becomes, one matrix for each decay, shape (n, 2, 3, 3)


def on_mask(signs):
    """Number of the set of legs that are on, shape (n,)."""
    return (signs != 0.0) @ np.array([1, 2, 4])


def stretch(legs, angle, signs, state):
    """Signals from an angle on, with joined legs and currents given, until the next switching."""
    # Kirchhoff, with i = B c for currents that sum to 0 over the legs that are on, p = 1 on plus:
    # BᵀXB c' = Bᵀe − (BᵀRB + Rdc g gᵀ) c − V g − Bᵀ(s Vd), g = Bᵀp. Both matrices are symmetric and positive, so the
    # two decays are real.
    mask, drop, ohm = _carrying(legs, signs)
    spread, pick = _SPREAD[mask], _PICK[mask]
    back = spread.transpose(0, 2, 1)
    on_plus = (signs > 0.0).astype(float)
    push = np.einsum("nki,nk->ni", spread, on_plus)
    mass = back @ (legs.reactance[:, :, None] * spread) + _UNUSED[mask]
    loss = back @ (ohm[:, :, None] * spread) + _UNUSED[mask]
    loss = loss + legs.dc_resistance[:, None, None] * push[:, :, None] * push[:, None, :]
    emf = -0.5j * legs.emf * np.exp(1j * angle)[:, None]
    against = legs.dc_ratio[:, None] * push + np.einsum("nki,nk->ni", spread, drop)
    constant = -_solved(loss, against)
    sine = _solved(loss + 1j * mass, np.einsum("nki,nk->ni", spread, emf))
    rest = np.einsum("nik,nk->ni", pick, state) - constant - 2.0 * sine.real
    slow, fast, modes = _decays(mass, loss)
    parts = np.einsum("nmij,nj->nim", modes, rest)
    own = np.concatenate([np.stack([constant, sine, sine.conj()], axis=2), parts], axis=2)
    emfs = np.concatenate([np.stack([0 * emf, emf, emf.conj()], axis=2), np.zeros((*emf.shape, 2))], axis=2)
    return _with_rails(
        legs,
        drop,
        ohm,
        signs=signs,
        rates=rates_of(slow, fast),
        currents=spread @ own,
        emf=emfs,
        modes=np.einsum("nki,nmij,njl->nmkl", spread, modes, pick),
    )


def _carrying(legs, signs):
    """The set of legs that are on, and the signed drops and the ohms of their diodes with the legs' own."""
    diode = (signs != 0.0) & (legs.tied == 0.0)
    return on_mask(signs), signs * diode * legs.drop[:, None], legs.resistance + diode * legs.slope[:, None]


def _with_rails(legs, drop, ohm, **found):
    """The signals with the rails' volts, which every leg that is on shows alike."""
    signs, currents, rates = found["signs"], found["currents"], found["rates"]
    dc_amps = ((signs > 0.0)[:, :, None] * currents).sum(axis=1)
    dc_volts = legs.dc_resistance[:, None] * dc_amps
    dc_volts[:, 0] += legs.dc_ratio
    lost = (ohm - legs.resistance)[:, :, None] * currents  # in the diodes' slopes, beyond the leads
    leads = found["emf"] - (legs.resistance[:, :, None] + legs.reactance[:, :, None] * rates[:, None, :]) * currents
    shown = leads - lost + (signs < 0.0)[:, :, None] * dc_volts[:, None, :]
    shown[:, :, 0] -= drop
    on = np.abs(signs)[:, :, None]
    plus = (shown * on).sum(axis=1) / np.maximum(on.sum(axis=1), 1.0)
    return Stretch(leads=leads, plus=plus, dc_amps=dc_amps, dc_volts=dc_volts, **found)


def _solved(matrix, side):
    """The solution of two equations for each row, shape (n, 2)."""
    return np.linalg.solve(matrix, side[:, :, None])[:, :, 0]


def _decays(mass, loss):
    """The two exponents of M c' = −R c, and what projects on each, shape (n, 2, 2, 2)."""
    turn = -np.linalg.solve(mass, loss)
    mean = 0.5 * (turn[:, 0, 0] + turn[:, 1, 1])
    apart = 0.5 * (turn[:, 0, 0] - turn[:, 1, 1])
    root = np.sqrt(np.maximum(apart**2 + turn[:, 0, 1] * turn[:, 1, 0], 0.0))
    split = root > 1e-9 * np.abs(mean)
    slow = mean + root
    fast = np.where(split, 2.0 * mean - slow, mean)
    gap = np.where(split, 2.0 * root, 1.0)[:, None, None]
    first = np.where(split[:, None, None], (turn - fast[:, None, None] * np.eye(2)) / gap, np.eye(2))
    return slow, fast, np.stack([first, np.eye(2) - first], axis=1)


def guards(legs, piece):
    """Signals that stay above 0 while nothing switches, shape (n, 12, 5), and which of them watch volts, (n, 12)."""
    # Three for the diodes to plus, three for those to minus, and one for each pair of leads while no leg is on.
    sound, signs = legs.slots == SOUND, piece.signs
    idle = (signs == 0.0).all(axis=1)
    rail, drop = np.array([1.0, -1.0])[None, :, None], np.zeros_like(piece.plus)
    drop[:, 0] = legs.drop
    carries = sound & (signs[:, None, :] == rail)
    waits = sound & (signs == 0.0)[:, None, :] & ~idle[:, None, None]
    beyond = (piece.plus + drop)[:, None, :] - piece.emf
    below = piece.emf - (piece.plus - piece.dc_volts - drop)[:, None, :]
    volts = np.stack([beyond, below], axis=1)
    amps = rail[..., None] * piece.currents[:, None]
    watched = np.where(waits[..., None], volts, np.where(carries[..., None], amps, 0.0)).reshape(len(signs), 6, 5)
    upper, lower = (list(side) for side in zip(*PAIRS, strict=True))
    wakes = idle[:, None] & sound[:, 0, upper] & sound[:, 1, lower]
    pairs = (piece.dc_volts + 2.0 * drop)[:, None, :] - piece.emf[:, upper] + piece.emf[:, lower]
    every = np.concatenate([watched, np.where(wakes[..., None], pairs, 0.0)], axis=1)
    quiet = ~np.concatenate([(waits | carries).reshape(len(signs), 6), wakes], axis=1)
    every[:, :, 0] += quiet  # what is not watched is a constant above 0
    return every, np.concatenate([waits.reshape(len(signs), 6), wakes], axis=1)
