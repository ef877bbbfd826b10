"""An independent judge of a coil circuit: Kirchhoff's two laws as one set of equations, solved by least squares.

Nothing is merged and nothing is thrown away: every coil end is a node, every wire between two ends carries a current.
"""

from cmath import exp, pi

import numpy as np


def ends_of(teeth):
    return [f"{tooth}{side}" for tooth in teeth for side in "SF"]


def solve(slots, poles, wires, *, ohm, emf=0.0, reactance=0.0, inject=None, reversed_teeth=()):
    """(node volts by name, current of every coil); `wires` are pairs of names, `inject` (into, out of) for 1 A."""
    teeth = range(1, slots + 1)
    names = list(dict.fromkeys([*ends_of(teeth), *(name for wire in wires for name in wire)]))
    at = {name: k for k, name in enumerate(names)}
    branches = [(at[f"{t}S"], at[f"{t}F"], complex(ohm, reactance), _emf(t, slots, poles, emf)) for t in teeth]
    for tooth in reversed_teeth:
        start, finish, impedance, volts = branches[tooth - 1]
        branches[tooth - 1] = (start, finish, impedance, -volts)
    branches += [(at[one], at[other], 0.0, 0.0) for one, other in wires]
    nodes, count = len(names), len(branches)
    matrix, right = np.zeros((nodes + count, nodes + count), complex), np.zeros(nodes + count, complex)
    for k, (start, finish, impedance, volts) in enumerate(branches):
        matrix[start, nodes + k] -= 1.0
        matrix[finish, nodes + k] += 1.0
        matrix[nodes + k, [start, finish]] = 1.0, -1.0
        matrix[nodes + k, nodes + k] = -impedance
        right[nodes + k] = -volts
    if inject:
        right[at[inject[0]]], right[at[inject[1]]] = -1.0, 1.0
    found = np.linalg.lstsq(matrix, right, rcond=None)[0]
    assert np.allclose(matrix @ found, right, atol=1e-9)
    return {name: found[k] for name, k in at.items()}, found[nodes : nodes + slots]


def ohms(slots, poles, wires, one, other, ohm):
    """What an ohmmeter shows."""
    volts, _ = solve(slots, poles, wires, ohm=ohm, inject=(one, other))
    return (volts[one] - volts[other]).real


def reach(slots, wires, one):
    """Every name that wires and coils lead to from one place."""
    return metal([*wires, *((f"{t}S", f"{t}F") for t in range(1, slots + 1))], one)


def metal(wires, one):
    """Every name that wires alone lead to from one place, walked from neighbour to neighbour."""
    beside = {}
    for first, second in wires:
        beside.setdefault(first, []).append(second)
        beside.setdefault(second, []).append(first)
    found, ahead = {one}, [one]
    while ahead:
        new = [name for name in beside.get(ahead.pop(), ()) if name not in found]
        found.update(new)
        ahead += new
    return found


def _emf(tooth, slots, poles, emf):
    return emf * exp(1j * pi * poles * (tooth - 1) / slots)
