"""The winding coil by coil as a circuit: what a meter shows between any two ends, whatever is tied to what."""

from cmath import exp, pi
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import inf, isfinite, nan

import numpy as np

from statorbook.winding import CoilEnd, magnet_factor, resistance_factor


@dataclass(frozen=True, kw_only=True)
class CoilValues:
    """One coil at one speed and temperature."""

    emf_v: complex  # of this coil alone, as part of its phase, rms phasor, counted from start to finish
    ohm: float  # inf for a coil that is open
    reactance_ohm: float = 0.0  # synchronous


@dataclass(frozen=True, kw_only=True)
class CoilCircuit:
    """Coils and the wires that tie their ends; a place is a CoilEnd or the name of a tie."""

    # Equation: nodal analysis, i = (v_start − v_finish + e) / Z in each coil, currents into a node sum to 0.
    # Valid: sinusoidal, leads open, meter without load; coupling between coils is in the synchronous reactance.
    # Source: Bird, Electrical Circuit Theory and Technology, ch. 31 (nodal analysis).

    coils: dict  # CoilValues by tooth
    ties: tuple  # frozensets of coil ends, and names such as "lead A", in one piece of metal; other ends hang loose

    @cached_property
    def _node_of(self):
        return _nodes(self.ties, tuple(self.coils))[0]

    @cached_property
    def _branches(self):
        """Start node, finish node, resistance, reactance and EMF of every coil that conducts, as arrays."""
        ends = _nodes(self.ties, tuple(self.coils))[1]
        values = [(coil.ohm, coil.reactance_ohm, coil.emf_v) for coil in self.coils.values()]
        ohm, reactance, emf = (np.array(each) for each in zip(*values, strict=True))
        whole = np.isfinite(ohm)
        starts, finishes = ends[:, whole]
        return starts, finishes, ohm[whole], reactance[whole], emf[whole]

    @cached_property
    def _pieces(self):
        """Number of the connected piece of each node."""
        starts, finishes, *_ = self._branches
        return _pieces(max(self._node_of.values()) + 1, starts.tobytes(), finishes.tobytes())

    def _solve(self, admittance, injected):
        """Node volts for currents into the nodes, the first node of each piece at 0 V."""
        starts, finishes, *_ = self._branches
        nodes = len(self._pieces)
        rows = np.concatenate((starts, finishes, starts, finishes))
        columns = np.concatenate((starts, finishes, finishes, starts))
        matrix = np.zeros((nodes, nodes), dtype=admittance.dtype)
        np.add.at(matrix, (rows, columns), np.concatenate((admittance, admittance, -admittance, -admittance)))
        free = np.ones(nodes, dtype=bool)
        free[np.unique(self._pieces, return_index=True)[1]] = False
        volts = np.zeros(injected.shape, dtype=np.result_type(matrix, injected))
        volts[free] = np.linalg.solve(matrix[np.ix_(free, free)], injected[free])
        return volts

    @cached_property
    def _volts(self):
        starts, finishes, ohm, reactance, emf = self._branches
        driven = emf / (ohm + 1j * reactance)
        injected = np.zeros(len(self._pieces), dtype=complex)
        np.add.at(injected, starts, -driven)
        np.add.at(injected, finishes, driven)
        return self._solve(1.0 / (ohm + 1j * reactance), injected)

    @cached_property
    def _ohms(self):
        return self._solve(1.0 / self._branches[2], np.eye(len(self._pieces)))

    def connected(self, one, other):
        """Whether any wire or coil leads from one place to the other."""
        first, second = self._node_of[one], self._node_of[other]
        return bool(self._pieces[first] == self._pieces[second])

    def ohms(self, one, other):
        """What an ohmmeter shows between two places; inf when nothing leads from one to the other [Ω]."""
        if not self.connected(one, other):
            return inf
        i, j = self._node_of[one], self._node_of[other]
        r = self._ohms
        return float(r[i, i] + r[j, j] - r[i, j] - r[j, i])

    def volts_rms(self, one, other):
        """AC volts, rms, between two places, rotor turning, leads open; nan when the meter floats [V]."""
        if not self.connected(one, other):
            return nan
        return float(abs(self._volts[self._node_of[other]] - self._volts[self._node_of[one]]))

    def between(self, pairs):
        """Ohms and AC volts, rms, between many pairs of places at once, as two arrays: see `ohms` and `volts_rms`."""
        one, other = _pairs(self.ties, tuple(self.coils), pairs)
        tied = self._pieces[one] == self._pieces[other]
        r, volts = self._ohms, self._volts
        ohms = r[one, one] + r[other, other] - r[one, other] - r[other, one]
        return np.where(tied, ohms, inf), np.where(tied, np.abs(volts[other] - volts[one]), nan)

    def amps_rms(self, tooth):
        """Current that circulates in a coil though the leads are open, rms [A]."""
        coil = self.coils[tooth]
        if not isfinite(coil.ohm):
            return 0.0
        start, finish = (self._volts[self._node_of[CoilEnd(tooth=tooth, side=side)]] for side in "SF")
        return float(abs((start - finish + coil.emf_v) / complex(coil.ohm, coil.reactance_ohm)))


# Hundreds of faults of one winding share what is tied to what, so it is worked out once.
@lru_cache(maxsize=8)
def _nodes(ties, teeth):
    """Number of the node of each place, and those of the starts and of the finishes of all coils."""
    root = root_of(ties)
    places = [CoilEnd(tooth=tooth, side=side) for side in "SF" for tooth in teeth]
    numbers = {}
    tied = [place for tie in ties for place in tie]
    node = {place: numbers.setdefault(root(place), len(numbers)) for place in (*places, *tied)}
    ends = np.array([node[place] for place in places], dtype=int).reshape(2, -1)
    return node, ends


@lru_cache(maxsize=8)
def _pairs(ties, teeth, pairs):
    node = _nodes(ties, teeth)[0]
    return np.array([[node[one], node[other]] for one, other in pairs], dtype=int).reshape(-1, 2).T


@lru_cache(maxsize=64)
def _pieces(nodes, starts, finishes):
    ends = (np.frombuffer(each, dtype=int).tolist() for each in (starts, finishes))
    root, numbers = root_of(zip(*ends, strict=True)), {}
    return np.array([numbers.setdefault(root(node), len(numbers)) for node in range(nodes)])


def root_of(ties):
    """A function that gives one and the same place for all places that are tied together, directly or by others."""
    group = {}

    def root(place):
        while group.setdefault(place, place) != place:
            place = group[place]
        return place

    for first, *others in ties:
        for other in others:
            group[root(other)] = root(first)
    return root


def coil_values(stator, coil, speed_rpm, copper_c=20.0, magnet_c=20.0):
    """All coils of a healthy machine at one speed and temperature.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coil : CoilConstants
        What one coil does at 20 °C.
    speed_rpm : float
        Rotor speed [rpm].
    copper_c : float
        Winding temperature [°C].
    magnet_c : float
        Magnet temperature [°C].

    Returns
    -------
    dict of int to CoilValues
        By tooth number.
    """
    warm_ohm = coil.ohm * resistance_factor(copper_c, conductor=coil.conductor)
    volts = coil.emf_v_per_rpm * speed_rpm * magnet_factor(magnet_c, magnet=coil.magnet)
    reactance = 2.0 * pi * stator.electrical_hz(speed_rpm) * coil.henry
    return {
        tooth.number: CoilValues(
            emf_v=volts * exp(1j * pi * tooth.angle_deg / 180.0), ohm=warm_ohm, reactance_ohm=reactance
        )
        for tooth in stator.coils
    }


def paths_alone(wired, coils):
    """The circuit while every path still stands by itself, before leads and star point are made.

    Parameters
    ----------
    wired : Wiring
        The winding as it will be wired.
    coils : dict of int to CoilValues
        Its coils.

    Returns
    -------
    CoilCircuit
        Coil-to-coil wires only.
    """
    return CoilCircuit(coils=coils, ties=ties_of(wired, {}))


def finished(wired, coils):
    """The circuit of the finished winding.

    Parameters
    ----------
    wired : Wiring
        The winding.
    coils : dict of int to CoilValues
        Its coils.

    Returns
    -------
    CoilCircuit
        With leads and star point, whose names are places too.
    """
    return CoilCircuit(coils=coils, ties=ties_of(wired, wired.nets))


def ties_of(wired, nets):
    """What is tied to what by the wires from coil to coil and by leads and star point, which are places too."""
    return (*map(frozenset, wired.links), *(frozenset([name, *ends]) for name, ends in nets.items()))
