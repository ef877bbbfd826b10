"""An independent judge of the fault finder: builds the faulty winding joint by joint and solves it by least squares.

It is told a fault by kind and place in words only, and asks the library for nothing but which coils lie in which path.
Every fault is made as it would be at the bench: ends are taken off, exchanged or soldered elsewhere.
"""

import re
from cmath import exp, pi

import numpy as np

NEXT = {"A": "B", "B": "C", "C": "A"}
DEAD = {
    "quarter of the turns shorted": 0.25,
    "half of the turns shorted": 0.5,
    "three quarters of the turns shorted": 0.75,
    "all turns shorted": 1.0,
}
SOLDER_OHM = 1e-5


class Bench:
    """One winding on the bench: branches between named joints, and a meter.

    Told are the wiring; EMF at the hand speed, ohms and reactance of a sound coil; faults as (kind, where) pairs; for a
    path that is left out which of its ends was forgotten; another share of dead turns; whether paths are still apart.
    """

    def __init__(self, wired, coil, faults=(), forgotten="far", dead=None, apart=False):
        self.wired, (self.emf, self.ohm, self.reactance) = wired, coil
        self.start, self.far, self.tip, self.state = {}, {}, {p: f"bus {p}" for p in "ABC"}, {}
        for phase in "ABC":
            for number in range(1, len(wired.paths[phase]) + 1):
                self.start[phase, number] = f"start of {phase}{number}" if apart else f"bus {phase}"
                self.far[phase, number] = f"far end of {phase}{number}" if apart else self.far_bus(phase)
        for kind, where in faults:
            self.make(kind, where, forgotten, dead)
        self.lay()

    def far_bus(self, phase):
        return "star" if self.wired.connection == "star" else f"bus {NEXT[phase]}"

    def make(self, kind, where, forgotten, dead):
        paths = [(p, int(n)) for p, n in re.findall(r"([ABC])(\d+)", where)]
        letters = re.findall(r"[ABC](?!\d)", where)
        own = [key for key in self.start if letters and key[0] == letters[0]]
        if kind == "leads exchanged":
            one, other = letters
            self.tip[one], self.tip[other] = self.tip[other], self.tip[one]
        elif kind in ("coil reversed", "coil open") or kind in DEAD:
            self.state[int(where)] = (kind, DEAD.get(kind) if dead is None else dead)
        elif kind == "path left out":
            (self.far if forgotten == "far" else self.start)[paths[0]] = "in the air"
        elif kind in ("star leg missing", "corner open"):
            side = self.far if forgotten == "far" or kind == "star leg missing" else self.start
            for key in own:
                side[key] = "bunch in the air"
        elif kind == "lead open":
            self.tip[letters[0]] = "cable in the air"
        elif kind in ("path reversed", "phase reversed"):
            for key in paths or own:
                self.start[key], self.far[key] = self.far[key], self.start[key]
        elif kind == "path in the wrong phase":
            self.start[paths[0]], self.far[paths[0]] = f"bus {letters[-1]}", self.far_bus(letters[-1])
        elif kind == "paths exchanged":
            one, other = paths
            for side in (self.start, self.far):
                side[one], side[other] = side[other], side[one]
        elif kind == "far ends on the wrong corner":
            for key in own:
                self.far[key] = f"bus {letters[-1]}"
        else:
            assert kind == "no fault", kind

    def lay(self):
        """Lay every path from its start joint to its far joint; note where each coil end of the plan is."""
        slots, poles = self.wired.stator.slots, self.wired.stator.poles
        self.branches, self.at = [], {}
        for (phase, number), start in self.start.items():
            path = self.wired.paths[phase][number - 1]
            joints = [start, *(f"{phase}{number} joint {k}" for k in range(1, len(path)))]
            joints.append(self.far[phase, number])
            for (tooth, direction), here, there in zip(path, joints[:-1], joints[1:], strict=True):
                first, last = ("S", "F") if direction > 0 else ("F", "S")
                self.at[f"{tooth}{first}"], self.at[f"{tooth}{last}"] = here, there
                kind, dead = self.state.get(tooth, ("", None))
                emf = self.emf * exp(1j * pi * poles * (tooth - 1) / slots) * direction
                ohm, reactance = self.ohm, self.reactance
                if kind == "coil reversed":
                    # Its two ends are exchanged in its two joints.
                    emf = -emf
                if dead is not None:
                    emf, ohm, reactance = emf * (1 - dead), ohm * (1 - dead), reactance * (1 - dead) ** 2
                if kind != "coil open":
                    self.branches.append((here, there, emf, max(ohm, SOLDER_OHM), reactance))
        self.at |= {f"lead {phase}": tip for phase, tip in self.tip.items()} | {"star point": "star"}
        self.solve()

    def solve(self):
        """Kirchhoff's currents at every joint, by least squares, so that loose pieces need no earth."""
        joints = sorted({joint for branch in self.branches for joint in branch[:2]} | set(self.at.values()))
        self.number = {joint: k for k, joint in enumerate(joints)}
        incidence = np.zeros((len(self.branches), len(joints)))
        for row, (here, there, *_) in enumerate(self.branches):
            incidence[row, self.number[here]] += 1.0
            incidence[row, self.number[there]] -= 1.0
        emf, ohm, reactance = (np.array([b[k] for b in self.branches]) for k in (2, 3, 4))
        admittance = 1.0 / (ohm + 1j * reactance)
        matrix = incidence.T @ (admittance[:, None] * incidence)
        self.volts = np.linalg.lstsq(matrix, -incidence.T @ (admittance * emf), rcond=1e-12)[0]
        self.matrix = incidence.T @ (incidence / ohm[:, None])
        self.inverse = np.linalg.lstsq(self.matrix, np.eye(len(joints)), rcond=1e-12)[0]

    def read(self, one, other):
        """(ohms, volts rms) between two places named as ends of the plan, leads or star point."""
        i, j = self.number[self.at[one]], self.number[self.at[other]]
        ampere = np.zeros(len(self.number))
        ampere[i] += 1.0
        ampere[j] -= 1.0
        risen = self.inverse @ ampere
        if i != j and np.abs(self.matrix @ risen - ampere).max() > 1e-3:
            return float("inf"), float("nan")
        return float(risen[i] - risen[j]), float(abs(self.volts[i] - self.volts[j]))
