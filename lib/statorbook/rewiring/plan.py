"""From the winding as found to the grouping chosen: which wires to cut, which ends to join, and with what wire."""

from dataclasses import dataclass
from functools import cached_property
from math import pi, sqrt

from statorbook.errors import BadInput
from statorbook.quantities import Fact, require_number
from statorbook.rewiring.path_layout import neighbour_paths, spread_paths
from statorbook.winding import STAR_POINT, Grouping, Wiring

LAYOUTS = ("neighbours", "spread")
JUMPER_ALLOWANCE_MM = Fact(
    value=60.0, unit="mm", low=20.0, high=200.0, source="tails at both ends and slack, common practice, no source"
)
JUMPER_A_PER_MM2 = Fact(
    value=4.0, unit="A/mm²", low=2.0, high=6.0, source="single wire in moving air, common practice, no source"
)
# Sizes of IEC 60228 (from memory).
WIRE_SIZES_MM2 = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0)


@dataclass(frozen=True, kw_only=True)
class Cut:
    """One place where a wire is parted."""

    ends: tuple  # two for a wire from coil to coil, one for an end that is taken off a lead or a star point
    off: str = ""  # what the one end is taken off, such as "star point"


@dataclass(frozen=True, kw_only=True)
class Join:
    """One new jumper."""

    number: int  # from 1
    path: str  # such as "A2"
    ends: tuple  # the two that it ties together, in the order from the lead


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What to do to a winding, as data; drawing, steps and meter checks are made from it.

    Parameters
    ----------
    found : Wiring
        The winding as it is.
    grouping : Grouping
        What is wanted.
    layout : str
        "neighbours" or "spread".
    paths : dict
        For "A", "B" and "C" the new paths, each a tuple of (tooth, direction) from the lead to the far end.
    fewest_proven : bool
        Whether no deal of the coils has fewer cuts; never claimed for "spread".
    diameter_mm : float or None
        Diameter of the circle of the coil heads; None when not known [mm].

    Raises
    ------
    BadInput
        When the paths are not legal or the diameter is out of range.
    """

    found: Wiring
    grouping: Grouping
    layout: str
    paths: dict
    fewest_proven: bool = False
    diameter_mm: float | None = None

    def __post_init__(self):
        if self.diameter_mm is not None:
            require_number(self.diameter_mm, "diameter of the coil heads", "mm", at_least=10, at_most=3000)
        made = self.wired.grouping
        if made != self.grouping:
            raise BadInput(
                f"the paths make {made.label}", f"{self.grouping.label} is wanted", "plan again", where="plan"
            )

    @cached_property
    def wired(self):
        """The winding after the work, as a `Wiring`; a later plan can start from it."""
        return Wiring(stator=self.found.stator, paths=self.paths, connection=self.grouping.connection)

    @cached_property
    def kept(self):
        """Wires from coil to coil that stay, as a tuple of pairs of ends."""
        return tuple(link for link in self.found.links if link in self.wired.links)

    @cached_property
    def cuts(self):
        """Every place to cut, as a tuple of `Cut`: wires from coil to coil, then ends off leads and star point."""
        links = [Cut(ends=link) for link in self.found.links if link not in self.kept]
        off = [(end, name) for name, ends in self.found.nets.items() for end in sorted(ends - self.stays[name][1])]
        return (*links, *(Cut(ends=(end,), off=name) for end, name in off))

    @cached_property
    def stays(self):
        """What becomes of each found net: name → (bus that it becomes part of, frozenset of the ends left on it)."""
        buses, found = self.wired.nets, {}
        for name, ends in self.found.nets.items():
            # An opened star point goes where most of its ends go; of equals, to the first lead.
            heir = name if name in buses else max(buses, key=lambda bus: len(buses[bus] & ends))
            found[name] = (heir, buses[heir] & ends)
        return found

    @cached_property
    def joins(self):
        """New jumpers from coil to coil, as a tuple of `Join`, path by path."""
        names = [name for name, path in self.wired.named_paths.items() for _ in path[1:]]
        new = [item for item in zip(names, self.wired.links, strict=True) if item[1] not in self.kept]
        return tuple(Join(number=number, path=name, ends=link) for number, (name, link) in enumerate(new, 1))

    @cached_property
    def buses(self):
        """Where several ends meet at the end: name → tuple of ends; in delta the corners are the leads."""
        return {name: tuple(sorted(ends)) for name, ends in self.wired.nets.items()}

    @cached_property
    def new_on_bus(self):
        """Ends that have to be brought to each bus: name → tuple of ends."""
        there = {(heir, end) for heir, ends in self.stays.values() for end in ends}
        return {name: tuple(end for end in ends if (name, end) not in there) for name, ends in self.buses.items()}

    @cached_property
    def netlist(self):
        """The whole winding as nodes: name → tuple of ends, each end in exactly one node."""
        pairs = {f"{first.label}-{second.label}": (first, second) for first, second in self.wired.links}
        return {**self.buses, **pairs}

    @cached_property
    def jumper_mm(self):
        """Wire for each jumper in the order of `joins`, tails included; None where the diameter is not known [mm]."""
        return tuple(self._arc_mm([end.tooth for end in join.ends]) for join in self.joins)

    @cached_property
    def bus_mm(self):
        """Wire for each bus that gets new ends or parts, tails included: name → length or None [mm]."""
        parts = {name: {frozenset([end]) for end in ends} for name, ends in self.new_on_bus.items()}
        for name, (heir, ends) in self.stays.items():
            # A lead's own cable is a part, even with no end left on it.
            parts[heir] |= {(name, ends)} if ends or name != STAR_POINT else set()
        made = [name for name in self.buses if len(parts[name]) > 1]
        return {name: self._arc_mm([end.tooth for end in self.buses[name]]) for name in made}

    @property
    def total_jumper_mm(self):
        """Wire for all jumpers together; None where the diameter is not known [mm]."""
        return None if self.diameter_mm is None else sum(self.jumper_mm)

    @property
    def counts(self):
        """The plan in numbers, as a dict: "cuts", "joins", and "jumper_mm" and "bus_mm" in total or None."""
        bus = None if self.diameter_mm is None else sum(self.bus_mm.values())
        cuts, joins = len(self.cuts), len(self.joins)
        return {"cuts": cuts, "joins": joins, "jumper_mm": self.total_jumper_mm, "bus_mm": bus}

    def _arc_mm(self, teeth):
        """Shortest way round the coil heads past all these teeth, with the allowance."""
        if self.diameter_mm is None:
            return None
        slots, around = self.found.stator.slots, sorted(set(teeth))
        widest = max((after - before) % slots or slots for before, after in zip(around, [*around[1:], around[0]]))
        return pi * self.diameter_mm * (slots - widest) / slots + JUMPER_ALLOWANCE_MM.value


def cut_and_join(found, grouping, layout="neighbours", diameter_mm=None):
    """Plan the work from the winding as found to a grouping.

    Parameters
    ----------
    found : Wiring
        The winding as it is.
    grouping : Grouping
        What is wanted.
    layout : str
        "neighbours" for the fewest cuts; "spread" for paths round the whole ring, to even out an off-centre rotor.
    diameter_mm : float or None
        Diameter of the circle of the coil heads; None when not known [mm].

    Returns
    -------
    Plan
        The work as data.

    Raises
    ------
    BadInput
        When the stator cannot carry the grouping or the layout is unknown.
    """
    grouping.require_legal(found.stator)
    if layout not in LAYOUTS:
        raise BadInput(
            f"{layout!r} was given",
            "neighbours or spread is allowed",
            "choose one of them",
            where="layout of the paths",
        )
    proven = False
    if layout == "spread":
        paths = spread_paths(found, grouping.parallel)
    else:
        # A star point stays; opened for a delta, what is left of it serves one corner; delta to star frees all.
        alike = found.connection == grouping.connection
        far_ends = "all" if alike else "one" if found.connection == "star" else "none"
        paths, _, proven = neighbour_paths(found, grouping.parallel, far_ends)
    return Plan(
        found=found, grouping=grouping, layout=layout, paths=paths, fewest_proven=proven, diameter_mm=diameter_mm
    )


def path_amps_rms(grouping, lead_amps_rms):
    """Current in each path from that in each lead, rms [A]."""
    # Equation: I / a in star, I / (√3 a) in delta.
    # Valid: equal paths; without third-harmonic current round a delta.
    # Source: Bird, Electrical Circuit Theory and Technology, ch. 19.
    share = 1.0 if grouping.connection == "star" else sqrt(3.0)
    return lead_amps_rms / (share * grouping.parallel)


def wire_mm2(amps_rms):
    """Choose the wire for a jumper or a bus.

    Parameters
    ----------
    amps_rms : float
        Current in it, rms: path amps for a jumper, lead amps for a bus [A].

    Returns
    -------
    float
        Cross-section of copper, the next size up [mm²].

    Notes
    -----
    Equation: A ≥ I / J, with J = 4 A/mm².
    Valid: a single insulated copper wire in moving air; in a closed or hot place take one or two sizes more.
    Source: common practice, no source; sizes of IEC 60228 (from memory).
    """
    most = WIRE_SIZES_MM2[-1] * JUMPER_A_PER_MM2.value
    next_step = "lay two or more equal wires side by side, each for its share"
    require_number(amps_rms, "current in the wire", "A", at_least=0, at_most=most, next_step=next_step)
    return next(size for size in WIRE_SIZES_MM2 if size * JUMPER_A_PER_MM2.value >= amps_rms)
