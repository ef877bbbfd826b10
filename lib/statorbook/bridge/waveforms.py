"""Currents and volts of the bridge over one electrical period, from the exact solver's pieces."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge.circuit import PHASE_ANGLE, Problem, value
from statorbook.bridge.rectifier import bridge
from statorbook.bridge.solver import solve
from statorbook.errors import BadInput
from statorbook.quantities import require_number

LEADS = ("A", "B", "C")
_SIXTH = np.pi / 3.0
_SHORTEST = 1e-7  # radians; a shorter interval is the rounding of a switching, not a state of the bridge


@dataclass(frozen=True, kw_only=True)
class Interval:
    """A stretch of the period in which the same diodes conduct."""

    start_deg: float  # 0 at the upward zero crossing of the EMF of phase A
    end_deg: float
    signs: tuple  # for leads A, B, C: +1 joined to plus, −1 joined to minus, 0 not conducting

    @property
    def diodes(self):
        """The conducting diodes by lead and rail, such as "A+ B−"; empty when none conducts."""
        return " ".join(
            f"{lead}{'+' if sign > 0 else '−'}" for lead, sign in zip(LEADS, self.signs, strict=True) if sign
        )


@dataclass(frozen=True, kw_only=True)
class Waveforms:
    """Signals at n angles over one electrical period, neither rms nor peak, and intervals between the switchings."""

    angle_deg: np.ndarray  # electrical, 0 at the upward zero crossing of the EMF of phase A, shape (n,)
    phase_amps: np.ndarray  # out of leads A, B, C, shape (n, 3)
    line_volts: np.ndarray  # between leads AB, BC, CA, shape (n, 3)
    line_emf_volts: np.ndarray  # the same with nothing connected
    dc_amps: np.ndarray  # into the bank, shape (n,)
    intervals: tuple[Interval, ...]  # in order, from 0° to 360° without a gap

    @property
    def conduction(self):
        """How the bridge conducts, in words."""
        counts = {sum(map(abs, interval.signs)) for interval in self.intervals}
        if counts == {0}:
            return "no current"
        if 0 in counts:
            return "pulses with gaps"
        return "always three diodes" if counts == {3} else "two and three diodes by turns"


def bridge_waveforms(
    emf_peak_v, resistance_ohm, reactance_ohm, dc_volts, *, diode_drop_v, dc_resistance_ohm=0.0, points=361
):
    """Waveforms of one bridge in its periodic steady state.

    Parameters
    ----------
    emf_peak_v : float
        EMF of one star phase, peak [V].
    resistance_ohm : float
        Resistance of one star phase [Ω].
    reactance_ohm : float
        Reactance ωL of one star phase [Ω].
    dc_volts : float
        Volts of the bank, behind the DC-side resistance [V].
    diode_drop_v : float
        Constant drop of one diode [V].
    dc_resistance_ohm : float
        Resistance of cable and bank [Ω].
    points : int
        Angles from 0° to 360°, both included [-].

    Returns
    -------
    Waveforms
        Currents and volts at each angle; for a delta they are those of its leads.

    Raises
    ------
    BadInput
        When a value is not one number, below what is physical, or there are too few points.

    Notes
    -----
    Equation: i(θ + 60°) = −(i_b, i_c, i_a)(θ); lead volts against the star point e − R i − X di/dθ.
    Valid: as `bridge`, method "exact".
    Source: Kirchhoff's laws, six-fold symmetry of the bridge.
    Derivation: `bridge.commutation_drop`, `bridge.lossless_current`.
    """
    given = (emf_peak_v, resistance_ohm, reactance_ohm, dc_volts, diode_drop_v, dc_resistance_ohm)
    if any(np.ndim(number) for number in given):
        raise BadInput("several values were given", "one number each is allowed", "ask for one bridge at a time")
    points = require_number(points, "points", "", at_least=13, at_most=100_001)
    # The bridge itself checks the values and knows the two ratios.
    shape = bridge(
        emf_peak_v,
        resistance_ohm,
        reactance_ohm,
        dc_volts,
        diode_drop_v=diode_drop_v,
        dc_resistance_ohm=dc_resistance_ohm,
    )
    angle = np.linspace(0.0, 2.0 * np.pi, round(points))
    emf = emf_peak_v * np.sin(angle[:, None] - PHASE_ANGLE)
    pieces = [] if shape.voltage_ratio >= 1.0 else _pieces(shape, dc_resistance_ohm / resistance_ohm)
    amps, slope, signs = _sampled(pieces, angle)
    scale = emf_peak_v / (resistance_ohm * np.hypot(1.0, shape.reactance_ratio))
    amps, slope = scale * amps, scale * slope
    lead = emf - resistance_ohm * (amps + shape.reactance_ratio * slope)
    return Waveforms(
        angle_deg=np.degrees(angle),
        phase_amps=amps,
        line_volts=lead - np.roll(lead, -1, axis=1),
        line_emf_volts=emf - np.roll(emf, -1, axis=1),
        dc_amps=0.5 * (signs * amps).sum(axis=1),
        intervals=_intervals(pieces),
    )


def _pieces(shape, dc_ratio):
    """The solver's (start, length, segment) over one sixth of a period, gaps left out."""
    q = np.array([shape.reactance_ratio])
    r = 1.0 / np.hypot(1.0, q)
    dc = np.sqrt(3.0) * np.array([shape.voltage_ratio])
    found = solve(Problem(dc_ratio=dc, resistance=r, reactance=q * r, dc_resistance=dc_ratio * r))
    return [(start[0], length[0], piece) for start, length, piece, _ in found["pieces"] if length[0] > _SHORTEST]


def _sampled(pieces, angle):
    """Currents, their slopes and the conduction pattern at the angles, each of shape (n, 3), in units of E/|Z|."""
    found = np.zeros((3, len(angle), 3))
    for sixth in range(6):
        for start, length, piece in pieces:
            after = (angle - start - sixth * _SIXTH) % (2.0 * np.pi)
            rows = after <= length + _SHORTEST  # no angle may fall between two pieces
            step = after[rows]
            rates = np.broadcast_to(piece.rates, (len(step), 5))
            signals = (piece.currents, piece.currents * piece.rates[:, None, :])
            for number, signal in enumerate(signals):
                spread = np.broadcast_to(signal, (len(step), 3, 5))
                found[number][rows] = _turned(value(spread, rates, step), sixth)
            found[2][rows] = _turned(np.broadcast_to(piece.signs, (len(step), 3)), sixth)
    return found


def _turned(signal, sixth):
    """What stands in the first sixth of a period, carried to a later one."""
    return (-1.0) ** sixth * np.roll(signal, -sixth, axis=1)


def _intervals(pieces):
    """All intervals of the period in order, equal neighbours joined, gaps filled in."""
    edges = []
    for sixth in range(6):
        for start, length, piece in pieces:
            signs = tuple(int(s) for s in _turned(piece.signs, sixth)[0])
            begin = float(np.degrees(start + sixth * _SIXTH) % 360.0)
            end = begin + float(np.degrees(length))
            edges += [(begin, min(end, 360.0), signs)] + ([(0.0, end - 360.0, signs)] if end > 360.0 else [])
    joined, least = [], float(np.degrees(_SHORTEST))
    for begin, end, signs in [*sorted(edges), (360.0, 360.0, None)]:
        reached = joined[-1].end_deg if joined else 0.0
        if begin - reached > least:
            joined.append(Interval(start_deg=reached, end_deg=begin, signs=(0, 0, 0)))
            reached = begin
        if joined and joined[-1].signs == signs:
            joined[-1] = Interval(start_deg=joined[-1].start_deg, end_deg=end, signs=signs)
        elif end - begin > least:
            joined.append(Interval(start_deg=reached, end_deg=end, signs=signs))
    return tuple(joined)
