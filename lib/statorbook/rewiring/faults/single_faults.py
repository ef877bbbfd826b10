"""Every single slip that a finished winding can hold, each as a change of the circuit, with words and remedy."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

from statorbook.cautions import SOLDERED, STILL, Exposure, Instruction
from statorbook.rewiring.circuit import CoilCircuit, paths_alone, ties_of
from statorbook.winding import PHASES, STAR_POINT, ends_in_order

NO_FAULT, LEADS_EXCHANGED = "no fault", "leads exchanged"
REVERSED, OPEN = "coil reversed", "coil open"
# Share of the turns that is dead.
SHORTED = {
    "quarter of the turns shorted": 0.25,
    "half of the turns shorted": 0.5,
    "three quarters of the turns shorted": 0.75,
    "all turns shorted": 1.0,
}
PATH_OUT, PATH_REVERSED, PHASE_REVERSED = "path left out", "path reversed", "phase reversed"
LEG_MISSING, CORNER_OPEN, WRONG_CORNER = "star leg missing", "corner open", "far ends on the wrong corner"
LEAD_OPEN, WRONG_PHASE, EXCHANGED = "lead open", "path in the wrong phase", "paths exchanged"
COIL_KINDS = (REVERSED, OPEN, *SHORTED)
HARMLESS = (NO_FAULT, LEADS_EXCHANGED)
# A bridge of solder or bare copper is never quite nothing; it also keeps the circuit solvable.
_LEAST_SHARE = 1e-4

_NOT_FAST = (*SOLDERED, Exposure.TURNING, Exposure.VOLTS)
REMEDIES = {
    NO_FAULT: Instruction("Nothing has to be mended", harmless="nothing to do"),
    LEADS_EXCHANGED: Instruction(
        "Nothing has to be mended: only the order of the phases changes, and the rectifier takes either",
        harmless="nothing to do",
    ),
    REVERSED: Instruction(
        "With the rotor tied and the bank off, part the two joints of the coil, exchange its two ends, solder and "
        "sleeve them again",
        SOLDERED,
    ),
    OPEN: Instruction(
        "Look for a joint that was not soldered through its enamel, or a broken wire where the coil leaves the slot; "
        "a break inside the coil cannot be mended",
        STILL,
    ),
    **dict.fromkeys(
        SHORTED,
        Instruction(
            "Look for bare or charred enamel, and for a bridge of solder, at the ends of this coil; with turns shorted "
            "it heats and brakes as soon as the rotor turns: never run it. What cannot be parted and varnished has to "
            "be rewound or left out, together with its fellow coil in every other path",
            (*STILL, Exposure.SHARP, Exposure.CHEMICALS),
        ),
    ),
    PATH_OUT: Instruction(
        "Measure from each end of the path to the bus that it belongs on: the joint that is open there was forgotten "
        "or did not take solder; make it again",
        SOLDERED,
    ),
    PATH_REVERSED: Instruction(
        "Do not turn it fast: the other paths drive current through this one. Part both ends of the path from their "
        "buses and exchange them",
        _NOT_FAST,
    ),
    PHASE_REVERSED: Instruction(
        "Do not turn it fast. Part both sides of this phase from what they are on and exchange them", _NOT_FAST
    ),
    LEG_MISSING: Instruction(
        "Measure from the far ends of this phase to the star point: make the joint that is open there again", SOLDERED
    ),
    CORNER_OPEN: Instruction(
        "Measure from the starts of this phase to its own lead, and from its far ends to the next lead: make the joint "
        "that is open there again",
        SOLDERED,
    ),
    WRONG_CORNER: Instruction(
        "Do not turn it fast: a large current can circulate. Part the far ends and bring them to the lead that the "
        "plan names",
        _NOT_FAST,
    ),
    LEAD_OPEN: Instruction(
        "Measure from the tip of the lead to the coil ends on it: mend the cable or its joint", SOLDERED
    ),
    WRONG_PHASE: Instruction(
        "Do not turn it fast. Trace the ends of this path, part them and bring them where the plan says", _NOT_FAST
    ),
    EXCHANGED: Instruction(
        "Do not turn it fast: the other paths drive current through both. Trace the ends of the two paths, part them "
        "and exchange them",
        _NOT_FAST,
    ),
}


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One slip at one place."""

    # Equation: EMF and resistance × share of working turns, reactance × its square.
    # Valid: at hand speed; the current that circulates in the shorted turns then weakens the flux of its tooth little.
    #     At working speed it is large, heats the coil and lowers its volts further.
    # Source: EMF and wire length go with turns, inductance with turns squared; Fitzgerald, Electric Machinery, ch. 1
    #     (from memory).

    kind: str
    where: str  # "7" for a coil, "A2" for a path, "A" for a phase or lead, "B1 in A", "A1 with B2"
    words: str  # what it is, as a clause
    path: str = ""  # for a coil, the path that it is in
    turns: tuple = ()  # (tooth, share of its turns that works): −1 for a coil turned round, 0 for an open one
    shorted: tuple = ()  # the same of coils with shorted turns
    moves: tuple = ()  # (coil end, net that it is on now) for each end that is not where the plan says

    @property
    def remedy(self):
        """What to do about it, an Instruction without its full stop."""
        return REMEDIES[self.kind]

    @property
    def harmless(self):
        """Whether the machine can run like this."""
        return self.kind in HARMLESS

    def coils(self, healthy):
        """The coils with this fault."""
        made = dict(healthy)
        for tooth, share in self.turns:
            coil = made[tooth]
            made[tooth] = replace(coil, emf_v=coil.emf_v * share, ohm=coil.ohm if share else inf)
        for tooth, share in self.shorted:
            coil, left = made[tooth], max(share, _LEAST_SHARE)
            made[tooth] = replace(
                coil, emf_v=coil.emf_v * left, ohm=coil.ohm * left, reactance_ohm=coil.reactance_ohm * left**2
            )
        return made

    def paths_alone(self, wired, coils):
        """The circuit with this fault while every path stands by itself."""
        return paths_alone(wired, self.coils(coils))

    def finished(self, wired, coils):
        """The circuit of the finished winding with this fault."""
        nets = {name: set(ends) for name, ends in wired.nets.items()}
        for end, target in self.moves:
            for ends in nets.values():
                ends.discard(end)
            nets.setdefault(target, set()).add(end)
        return CoilCircuit(coils=self.coils(coils), ties=ties_of(wired, nets))


def single_faults(wired, *, apart=False):
    """Every fault that a winding can hold, each circuit once, "no fault" first; only of coils while paths are apart."""
    found = [Fault(kind=NO_FAULT, where="", words="nothing is wrong"), *_of_coils(wired)]
    return tuple(found) if apart else (*found, *_of_buses(wired), *_of_paths(wired), *_of_corners(wired))


class _Ends:
    """Both ends of a path, the buses they belong on, and what is on a bus."""

    def __init__(self, wired):
        self.wired = wired
        self.star = wired.connection == "star"

    @cached_property
    def paths(self):
        """(phase, name, first end, last end) of every path."""
        return [(name[0], name, *ends_in_order(*path)) for name, path in self.wired.named_paths.items()]

    def starts(self, phase):
        """First ends of all paths of a phase."""
        return [first for own, _, first, _ in self.paths if own == phase]

    def fars(self, phase):
        """Last ends of all paths of a phase."""
        return [last for own, _, _, last in self.paths if own == phase]

    def far_bus(self, phase):
        """Where the last ends of a phase belong."""
        return STAR_POINT if self.star else f"lead {PHASES[PHASES.index(phase) - 2]}"


def _of_coils(wired):
    clauses = {REVERSED: "is reversed", OPEN: "is open"}
    clauses |= {
        kind: f"has {'all' if dead == 1.0 else f'about {dead:.0%} of'} its turns shorted".replace("%", " %")
        for kind, dead in SHORTED.items()
    }
    for name, path in wired.named_paths.items():
        for tooth, _ in path:
            for kind, clause in clauses.items():
                share = {REVERSED: -1.0, OPEN: 0.0}.get(kind)
                yield Fault(
                    kind=kind,
                    where=str(tooth),
                    path=name,
                    words=f"coil {tooth} in path {name} {clause}",
                    turns=() if share is None else ((tooth, share),),
                    shorted=((tooth, 1.0 - SHORTED[kind]),) if kind in SHORTED else (),
                )


def _of_buses(wired):
    """Leads, star point or corners, and whole phases."""
    ends = _Ends(wired)
    for one, other in (("A", "B"), ("B", "C"), ("C", "A")):
        words = f"the leads {one} and {other} are exchanged"
        yield Fault(kind=LEADS_EXCHANGED, where=f"{one}-{other}", words=words)
    for phase in PHASES:
        loose = [(end, f"loose at lead {phase}") for end in wired.nets[f"lead {phase}"]]
        words = f"the cable of lead {phase} or its joint is open"
        yield Fault(kind=LEAD_OPEN, where=phase, words=words, moves=tuple(loose))
        off = tuple((end, f"loose ends of {phase}") for end in ends.fars(phase))
        if ends.star:
            words = f"phase {phase} is not joined to the star point"
            yield Fault(kind=LEG_MISSING, where=phase, words=words, moves=off)
        else:
            words = f"the delta is open at phase {phase}, at its starts or at its far ends"
            yield Fault(kind=CORNER_OPEN, where=phase, words=words, moves=off)
        turned = [(end, ends.far_bus(phase)) for end in ends.starts(phase)]
        turned += [(end, f"lead {phase}") for end in ends.fars(phase)]
        words = f"phase {phase} is reversed as a whole"
        yield Fault(kind=PHASE_REVERSED, where=phase, words=words, moves=tuple(turned))


def _of_paths(wired):
    ends = _Ends(wired)
    several, longer = wired.grouping.parallel > 1, wired.grouping.series > 1
    for phase, name, first, last in ends.paths:
        if several:
            words = f"path {name} is left out: one of its two ends is not joined"
            yield Fault(kind=PATH_OUT, where=name, words=words, moves=((last, f"loose end of {name}"),))
        if several and longer:
            turned = ((first, ends.far_bus(phase)), (last, f"lead {phase}"))
            words = f"path {name} is reversed as a whole"
            yield Fault(kind=PATH_REVERSED, where=name, words=words, moves=turned)
        for other in PHASES:
            if other != phase:
                moved = ((first, f"lead {other}"), (last, ends.far_bus(other)))
                words = f"path {name} is joined to phase {other}"
                yield Fault(kind=WRONG_PHASE, where=f"{name} in {other}", words=words, moves=moved)
        # One path a phase, exchanged: a healthy machine whose leads have other names.
        for other, its_name, its_first, its_last in ends.paths if several else ():
            if other > phase:
                moved = ((first, f"lead {other}"), (last, ends.far_bus(other)))
                moved += ((its_first, f"lead {phase}"), (its_last, ends.far_bus(phase)))
                words = f"the paths {name} and {its_name} are exchanged"
                yield Fault(kind=EXCHANGED, where=f"{name} with {its_name}", words=words, moves=moved)


def _of_corners(wired):
    ends = _Ends(wired)
    for phase in () if ends.star else PHASES:
        for corner in PHASES:
            if f"lead {corner}" != ends.far_bus(phase):
                moved = tuple((end, f"lead {corner}") for end in ends.fars(phase))
                words = f"the far ends of phase {phase} are on lead {corner}"
                words += ", so that the phase is closed on itself" if corner == phase else ""
                yield Fault(kind=WRONG_CORNER, where=f"{phase} on {corner}", words=words, moves=moved)
