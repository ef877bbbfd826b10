"""Periodic steady state of a bridge with faults: from switching to switching, the start found by Newton's method."""

import numpy as np

from statorbook.bridge.circuit import value
from statorbook.bridge.faulted_circuit import PAIRS, guards, on_mask, stretch
from statorbook.bridge.faults import SOUND
from statorbook.bridge.shooting import settled_start
from statorbook.bridge.solver import first_crossing

_PERIOD = 2.0 * np.pi
_TINY = 1e-11  # currents below this, in units of E/|Z|, count as none
_SETTLED = 1e-9  # so near must a period end to where it began
_LONGEST = np.pi / 3.0  # radians looked ahead at once
_GRID_POINTS = 24  # points of it in which a switching is looked for
_MOST_EVENTS = 200
_MOST_ITERATIONS = 80
_PAIR_SIGNS = np.array([[float(leg == up) - (leg == down) for leg in range(3)] for up, down in PAIRS])


def settled_pieces(legs):
    """(start angle, length, stretch, rows) over one period of the steady state."""
    start = settled_start(
        np.zeros((len(legs.drop), 2)),
        lambda rows, start: _one_period(legs.pick(rows), start),
        settled=_SETTLED,
        most_iterations=_MOST_ITERATIONS,
        name="faulted bridge",
    )
    return _run(legs, _whole(start), np.zeros((len(start), 3, 2)))[2]


def _whole(start):
    return np.column_stack([start, -start.sum(axis=1)])


def _one_period(legs, start):
    """Advance by one period; the mapped start and its derivative, shape (n, 2) and (n, 2, 2)."""
    tangent = np.broadcast_to(np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, -1.0]]), (len(start), 3, 2)).copy()
    state, tangent, _ = _run(legs, _whole(start), tangent)
    return state[:, :2], tangent[:, :2]


def _run(legs, state, tangent):
    angle, pieces, rows = np.zeros(len(state)), [], np.arange(len(state))
    signs = _begun(legs, state)
    for _ in range(_MOST_EVENTS):
        part = legs.pick(rows)
        piece = stretch(part, angle[rows], signs[rows], state[rows])
        watched, volts = guards(part, piece)
        ahead = np.minimum(_PERIOD - angle[rows], _LONGEST)
        length, which = first_crossing(watched, piece.rates, volts, ahead, points=_GRID_POINTS)
        pieces.append((angle[rows], length, piece, rows))
        angle[rows] += length
        state[rows], signs[rows], tangent[rows] = _switch(part, piece, length, which, angle[rows], tangent[rows])
        rows = rows[_PERIOD - angle[rows] > 1e-13]
        if not len(rows):
            return state, tangent, pieces
    raise ArithmeticError("the faulted bridge met too many switchings in one period")


def _begun(legs, state):
    """The legs that are on with given currents; a current that no diode lets through is left out."""
    signs = np.where(np.abs(state) > _TINY, np.sign(state), 0.0)
    place = (signs < 0.0).astype(int)[:, None, :]
    sound = (np.take_along_axis(legs.slots, place, axis=1)[:, 0] == SOUND) & (legs.tied == 0.0)
    return _without_lone(legs, np.where(sound, signs, legs.tied))


def _without_lone(legs, signs):
    """A leg cannot carry alone; one with a shorted diode stays joined to its rail."""
    lone = np.abs(signs).sum(axis=1, keepdims=True) < 2
    return np.where(lone, legs.tied, signs)


def _switch(legs, piece, length, which, angle, tangent):
    """Carry state and derivative to the end of the stretch and exchange the diodes that switch there."""
    state = value(piece.currents, piece.rates, length)
    decay = np.exp(piece.rates[:, 3:].real * length[:, None])
    tangent = np.einsum("nm,nmij,njk->nik", decay, piece.modes, tangent)
    signs, ends = piece.signs.copy(), np.zeros(len(which), dtype=bool)
    for row in np.flatnonzero(which >= 0):  # few at once: most rows meet theirs at other turns
        ends[row] = _exchange(signs[row], int(which[row]))
    signs = _without_lone(legs, signs)
    state = np.where(signs == 0.0, 0.0, state)
    state = np.where((on_mask(signs) & (on_mask(signs) - 1) == 0)[:, None], 0.0, state)
    if ends.any():
        signs[ends], tangent[ends] = _ended(legs.pick(ends), piece, length, ends, (angle, signs, state, tangent))
    return state, signs, tangent


def _exchange(signs, which):
    """Switch what one guard watches, in place; true when a current ended."""
    if which >= 6:
        signs += _PAIR_SIGNS[which - 6]
        return False
    leg, rail = which % 3, 1.0 if which < 3 else -1.0
    ended = signs[leg] == rail
    signs[leg] = 0.0 if ended else rail
    return ended


def _ended(legs, piece, length, ends, now):
    """Where a current ended: a lead that is beyond the other rail joins it at once, and the derivative jumps."""
    angle, signs, state, tangent = (given[ends] for given in now)
    after = stretch(legs, angle, signs, state)
    watched, volts = guards(legs, after)
    at_once = np.where(volts, watched.sum(axis=2).real, 0.0)
    gone = (piece.signs[ends] != 0.0) & (signs == 0.0)
    over = (at_once[:, :6] < -_TINY).reshape(-1, 2, 3)
    joins = (over[:, 0].astype(float) - over[:, 1]) * gone
    pair = at_once[:, 6:].argmin(axis=1)
    joins += _PAIR_SIGNS[pair] * (at_once[:, 6:].min(axis=1) < -_TINY)[:, None]
    if joins.any():
        signs = signs + joins
        after = stretch(legs, angle, signs, state)
    grown = np.exp(piece.rates[ends] * length[ends, None])
    before = np.einsum("nkm,nm->nk", piece.currents[ends] * piece.rates[ends][:, None, :], grown).real
    jump = before - (after.currents * after.rates[:, None, :]).sum(axis=2).real
    leg = np.abs(np.where(gone, before, 0.0)).argmax(axis=1)
    rate = np.take_along_axis(before, leg[:, None], axis=1)
    shift = np.take_along_axis(tangent, leg[:, None, None], axis=1)[:, 0] / np.where(rate == 0.0, -1.0, rate)
    return signs, tangent - jump[:, :, None] * shift[:, None, :]
