"""An independent judge of the fewest cuts in a phase: a whole-number program, solved by scipy's HiGHS."""

from cmath import phase
from collections import defaultdict
from itertools import pairwise
from math import pi

import numpy as np
from scipy.optimize import LinearConstraint, milp

from judges.phasor_plan import phasors


class _Program:
    """Rows "lowest ≤ Σ coefficient × unknown ≤ highest" over unknowns that are 0 or 1, found by their names."""

    def __init__(self):
        self.places, self.rows = {}, []

    def at(self, *name):
        return self.places.setdefault(name, len(self.places))

    def row(self, low, high, *terms):
        self.rows.append((low, high, [(value, self.at(*name)) for value, name in terms]))

    def most(self, gains):
        """The highest sum of these unknowns."""
        places = [self.at(*name) for name in gains]
        table = np.zeros((len(self.rows), len(self.places)))
        for number, (_, _, terms) in enumerate(self.rows):
            for value, place in terms:
                table[number, place] += value
        goal = np.zeros(len(self.places))
        goal[places] = -1.0
        low, high = ([row[side] for row in self.rows] for side in (0, 1))
        found = milp(
            goal, constraints=LinearConstraint(table, low, high), integrality=np.ones(len(goal)), bounds=(0, 1)
        )
        assert found.success, found.message
        return round(-found.fun)


def fewest_cuts_of_phase(slots, poles, chains, parallel, *, keep_far):
    """Wires and ends to part in one phase, from its chains of (tooth, direction); far ends may stay if asked."""
    volts = phasors(slots, poles)
    coils = [tooth for chain in chains for tooth, _ in chain]
    alike = defaultdict(list)
    for chain in chains:
        for tooth, turned in chain:
            alike[round(phase(turned * volts[tooth]) / pi * 1e6) % 2_000_000].append(tooth)
    program, paths, size = _Program(), range(parallel), len(coils) // parallel
    for tooth in coils:
        program.row(1, 1, *((1, ("in", tooth, path)) for path in paths))
    for path in paths:
        for teeth in alike.values():
            share = len(teeth) // parallel
            program.row(share, share, *((1, ("in", tooth, path)) for tooth in teeth))
        # One coil goes first, at the lead, and one last; each of them lies in that path.
        program.row(0, 1, *((1, ("first", chain[0][0], path)) for chain in chains))
        program.row(0, 1, *((1, ("last", chain[-1][0], path)) for chain in chains))
        for chain in chains:
            teeth = [tooth for tooth, _ in chain]
            ends = [("first", teeth[0], path), ("last", teeth[-1], path)]
            for end in ends:
                program.row(-1, 0, (1, end), (-1, ("in", end[1], path)))
            wires = [("wire", one, other, path) for one, other in pairwise(teeth)]
            for wire in wires:
                for tooth in wire[1:3]:
                    program.row(-1, 0, (1, wire), (-1, ("in", tooth, path)))
            if len(teeth) != size:  # a whole chain that is not the whole path cannot go both first and last
                program.row(0, len(wires) + 1, *((1, name) for name in (*ends, *wires)))
    links = sum(len(chain) - 1 for chain in chains)
    kinds = ("wire", "first", "last") if keep_far else ("wire", "first")
    gains = [name for name in program.places if name[0] in kinds]
    return links + len(chains) * (2 if keep_far else 1) - program.most(gains)
