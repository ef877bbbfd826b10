"""Exact periodic steady state of a six-diode bridge, in units of phase EMF peak and |R + jωL|.

Between two switchings the circuit is linear, so every current is a sum of a constant, a sinusoid and two
decaying exponentials. The state after one sixth of a period must be the state at its start with the phases
exchanged; that start is found by Newton's method, not by running cycles until they settle.
"""

import numpy as np

from statorbook.bridge.circuit import PHASE_ANGLE, integral_of_product, segment, value
from statorbook.bridge.shooting import settled_start

_SIXTH = np.pi / 3.0
_TINY = 1e-11  # currents below this, in units of E/|Z|, count as none
_NOTHING = 1e-14
_GRID_POINTS = 40  # points per sixth of a period in which a switching is looked for
_MOST_EVENTS = 40
_MOST_ITERATIONS = 60


def solve(problem):
    """Means over one sixth of the periodic steady state: DC, its square, phase squares, EMF power; and its pieces."""
    # i(θ + 60°) = −(i_b, i_c, i_a)(θ) for balanced sinusoidal EMFs, stiff DC side, R > 0 and X > 0.
    start = settled_start(
        _first_guess(problem),
        lambda rows, start: _one_sixth(problem.pick(rows), start),
        settled=_TINY,
        most_iterations=_MOST_ITERATIONS,
        name="bridge solver",
    )
    return _integrate(problem, start)


def outlasts_sixth(problem):
    """Where a pulse from rest still carries current 60° on, when the next one starts, as an array of bool."""
    mapped, _ = _one_sixth(problem, np.zeros((len(problem.dc_ratio), 2)))
    return np.abs(mapped).max(axis=1) > _TINY


def _first_guess(problem):
    # Fundamental-only solution: terminal volts and current in phase, six-step volts replaced by their fundamental.
    wave = 2.0 / np.pi * problem.dc_ratio
    r = problem.resistance + np.pi**2 / 18.0 * problem.dc_resistance * 3.0 / np.pi
    amps = np.sqrt(np.maximum((r * wave) ** 2 + (1.0 - wave**2) * (r**2 + problem.reactance**2), 0.0)) - r * wave
    amps = np.maximum(amps, 0.0) / (r**2 + problem.reactance**2)
    angle = problem.start_angle - np.arctan2(problem.reactance * amps, wave + r * amps)
    state = amps[:, None] * np.sin(angle[:, None] - PHASE_ANGLE[:2])
    return np.where((problem.dc_ratio > 1.5)[:, None], 0.0, state)


def _one_sixth(problem, start):
    """Advance by one sixth of a period; return the mapped start and its derivative, shape (n, 2) and (n, 2, 2)."""
    state = np.column_stack([start, -start.sum(axis=1)])
    tangent = np.broadcast_to(np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, -1.0]]), (len(start), 3, 2)).copy()
    state, tangent, _ = _run(problem, state, tangent, keep=False)
    return -state[:, [2, 0]], -tangent[:, [2, 0], :]


def _integrate(problem, start):
    state = np.column_stack([start, -start.sum(axis=1)])
    _, _, pieces = _run(problem, state, np.zeros((len(start), 3, 2)), keep=True)
    total = {name: np.zeros(len(start)) for name in ("dc", "dc_square", "phase_square", "emf_power")}
    for _, length, piece, rows in pieces:
        dc = piece.dc_current[:, None, :]
        one = np.zeros_like(dc)
        one[:, :, 0] = 1.0
        for name, first, second in (
            ("dc", dc, one),
            ("dc_square", dc, dc),
            ("emf_power", piece.emf, piece.currents),
            ("phase_square", piece.currents, piece.currents),
        ):
            total[name][rows] += integral_of_product(first, second, piece.rates, length) / _SIXTH
    total["pieces"] = pieces
    return total


def _run(problem, state, tangent, *, keep):
    angle = problem.start_angle
    end = angle + _SIXTH
    signs = np.where(np.abs(state) > _TINY, np.sign(state), 0.0)
    pieces = []
    rows = np.arange(len(angle))
    for _ in range(_MOST_EVENTS):
        angle[rows], signs[rows] = _wake(problem.pick(rows), angle[rows], signs[rows], end[rows])
        rows = rows[end[rows] - angle[rows] > 1e-14]
        if not len(rows):
            return state, tangent, pieces
        part = problem.pick(rows)
        piece = segment(part, angle[rows], signs[rows], state[rows])
        length, which = _next_event(part, piece, end[rows] - angle[rows])
        if keep:
            pieces.append((angle[rows].copy(), length, piece, rows))
        angle[rows] += length
        state[rows], signs[rows], tangent[rows] = _switch(part, piece, length, which, angle[rows], tangent[rows])
    raise ArithmeticError("the bridge solver met too many switchings in one sixth of a period")


def _wake(problem, angle, signs, end):
    """Where no diode conducts, go to the angle at which the first pair does."""
    idle = ~signs.any(axis=1)
    if not idle.any():
        return angle, signs
    offset = (angle + _SIXTH / 2.0) % _SIXTH - _SIXTH / 2.0
    wait = (problem.start_angle - offset) % _SIXTH
    wait = np.where((np.sqrt(3.0) * np.cos(offset) >= problem.dc_ratio) | (_SIXTH - wait < 1e-13), 0.0, wait)
    later = np.where(idle, np.minimum(angle + wait, end), angle)
    begins = idle & (later < end)
    emf = np.sin(later[:, None] + 1e-9 - PHASE_ANGLE)
    pair = (emf == emf.max(axis=1, keepdims=True)) * 1.0 - (emf == emf.min(axis=1, keepdims=True))
    return later, np.where(begins[:, None], pair, signs)


def _guards(problem, piece):
    """Signals that must stay above 0 while nothing switches, shape (n, 6, 5): three per sign of switching."""
    off = (piece.signs == 0.0)[:, :, None]
    half = 0.5 * problem.dc_resistance[:, None] * piece.dc_current
    half[:, 0] += 0.5 * problem.dc_ratio
    carrying = piece.signs[:, :, None] * piece.currents
    above = np.where(off, half[:, None, :] - 1.5 * piece.emf, carrying)
    below = np.where(off, half[:, None, :] + 1.5 * piece.emf, carrying)
    return np.concatenate([above, below], axis=1)


def _next_event(problem, piece, horizon):
    """Angle to the next switching and the guard that ends the segment (−1: none before the horizon)."""
    off = np.concatenate([piece.signs == 0.0] * 2, axis=1)
    return first_crossing(_guards(problem, piece), piece.rates, off, horizon, points=_GRID_POINTS)


def first_crossing(guards, rates, off, horizon, *, points):
    """Angle to the first of several signals that falls below 0, and which (−1: none before the horizon)."""
    steps = np.linspace(0.0, 1.0, points + 1)
    growth = np.exp(rates[:, :, None] * (horizon[:, None] * steps)[:, None, :])
    values = np.matmul(guards, growth).real
    values[:, :, 0] = np.where(off, values[:, :, 0], 1.0)  # a current may start at 0, a voltage may not be over
    crossed = values < -_TINY
    first = np.where(crossed.any(axis=2), crossed.argmax(axis=2), points + 1)
    earliest = first.min(axis=1, keepdims=True)
    candidate = (first == earliest) & (earliest <= points)
    low = horizon[:, None] * np.maximum(earliest - 1, 0) / points
    high = horizon[:, None] * np.minimum(earliest, points) / points
    rows, which = np.nonzero(candidate)
    roots = np.full(first.shape, np.inf)
    roots[rows, which] = _root(guards[rows, which], rates[rows], low[rows, 0], high[rows, 0])
    event = roots.argmin(axis=1)
    found = candidate.any(axis=1)
    return np.where(found, roots.min(axis=1), horizon), np.where(found, event, -1)


def _root(coefficients, rates, low, high):
    """Where a signal goes through 0 between a point where it is above and one where it is below."""
    # Newton inside its bracket: scipy's find_root, which takes no slope, needs 1.9 times the time for one bridge and no
    # less for a thousand (median of five runs).
    middle = 0.5 * (low + high)
    for _ in range(60):
        growth = np.exp(rates * middle[:, None])
        f = (coefficients * growth).sum(axis=1).real
        slope = (coefficients * rates * growth).sum(axis=1).real
        low, high = np.where(f > 0.0, middle, low), np.where(f > 0.0, high, middle)
        newton = middle - f / np.where(slope == 0.0, -1.0, slope)
        inside = (newton > low) & (newton < high)
        step = np.where(inside, newton, 0.5 * (low + high))
        done = np.abs(step - middle) < 1e-15
        middle = step
        if done.all():
            break
    return middle


def _switch(problem, piece, length, which, angle, tangent):
    """Carry state and derivative to the end of the segment and exchange the diodes that switch there."""
    state = value(piece.currents, piece.rates, length)
    tangent = _carry(piece, length, tangent)
    rows = np.nonzero(which >= 0)[0]
    phase = which[rows] % 3
    before = np.einsum(
        "nkm,nm->nk",
        piece.currents[rows] * piece.rates[rows][:, None, :],
        np.exp(piece.rates[rows] * length[rows, None]),
    ).real
    signs = piece.signs.copy()
    turning_on = signs[rows, phase] == 0.0
    signs[rows, phase] = np.where(turning_on, np.where(which[rows] < 3, 1.0, -1.0), 0.0)
    state[rows, phase] = 0.0
    # A phase cannot carry alone, and a phase that wakes just as the others end starts from rest.
    lone = (np.abs(signs[rows]).sum(axis=1) < 2) | (np.abs(state[rows]).max(axis=1) < _NOTHING)
    signs[rows[lone]], state[rows[lone]] = 0.0, 0.0
    ends = rows[~turning_on]
    if len(ends):
        signs[ends] = _cross_over(problem, ends, phase[~turning_on], signs[ends], state[ends], angle[ends])
        after = segment(problem.pick(ends), angle[ends], signs[ends], state[ends])
        jump = before[~turning_on] - (after.currents * after.rates[:, None, :]).sum(axis=2).real
        gone = phase[~turning_on]
        rate = before[~turning_on][np.arange(len(ends)), gone]
        shift = tangent[ends, gone, :] / np.where(rate == 0.0, -1.0, rate)[:, None]
        tangent[ends] -= jump[:, :, None] * shift[:, None, :]
    return state, signs, tangent


def _cross_over(problem, rows, phase, signs, state, angle):
    """Join a phase whose current has just ended to the other rail at once, if its terminal is already beyond it."""
    here = np.arange(len(rows))
    dc = 0.5 * (signs * state).sum(axis=1)
    half = 0.5 * (problem.dc_ratio[rows] + problem.dc_resistance[rows] * dc)
    terminal = 1.5 * np.sin(angle - PHASE_ANGLE[phase])
    carrying = signs.any(axis=1)
    signs[here, phase] = np.where(carrying & (terminal > half), 1.0, np.where(carrying & (terminal < -half), -1.0, 0.0))
    return signs


def _carry(piece, length, tangent):
    w = piece.direction
    size = np.maximum((w * w).sum(axis=1), 1e-30)
    on = np.abs(piece.signs)[:, :, None]
    count = np.maximum(on.sum(axis=1, keepdims=True), 1.0)
    inside = (tangent - (tangent * on).sum(axis=1, keepdims=True) / count) * on
    along = w[:, :, None] * (np.einsum("nk,nkj->nj", w, inside) / size[:, None])[:, None, :]
    slow, fast = np.exp(piece.rates[:, 3:5].real * length[:, None]).T
    return (inside - along) * slow[:, None, None] + along * fast[:, None, None]
