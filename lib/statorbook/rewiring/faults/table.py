"""What the meter would show for every single fault at every pair of places, worked out once for a winding."""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations

import numpy as np

from statorbook.errors import BadInput
from statorbook.rewiring.circuit import CoilCircuit, CoilValues, ties_of
from statorbook.rewiring.faults.single_faults import HARMLESS, SHORTED, single_faults
from statorbook.rewiring.probes import ALONE, FINISHED, Probe, probe_named, probes_of, squeezed
from statorbook.winding import PHASES, Wiring, ends_in_order

# Readings closer than this share of the healthy one are the same on every meter.
_SAME_SHARE = 1e-6


@dataclass(frozen=True, kw_only=True)
class FaultTable:
    """Expected readings, one row a fault, one column a probe."""

    faults: tuple  # the rows, "no fault" first
    probes: dict  # the columns, a Probe by name
    ohms: np.ndarray  # inf where the meter finds no way
    line_volts_rms: np.ndarray  # at the table's speed; nan where the meter floats
    apart: bool = False  # the paths are not joined to each other yet

    @cached_property
    def columns(self):
        """Number of the column of each probe, as a dict by name."""
        return {name: number for number, name in enumerate(self.probes)}

    @cached_property
    def alike(self):
        """For each fault the first fault that no meter on this winding can tell from it, as an array of rows."""
        # Readings of paths alone cannot be taken again once the leads are made.
        stage = [probe.when for probe in self.probes.values()]
        now = np.array([self.apart or when == FINISHED for when in stage])
        both = [values[:, now] for values in (self.ohms, self.line_volts_rms)]
        scales = [_SAME_SHARE * np.max(values[0], where=np.isfinite(values[0]), initial=0.0) for values in both]
        # An odd offset keeps round values off the edges of the steps.
        steps = [np.nan_to_num(np.floor(v / s + 0.437), nan=-1.0, posinf=-2.0) for v, s in zip(both, scales)]
        keys, first = np.hstack(steps), {}
        return np.array([first.setdefault(key.tobytes(), row) for row, key in enumerate(keys)])

    @cached_property
    def is_short(self):
        """Which rows are shorted turns, as an array of bool."""
        return np.array([fault.kind in SHORTED for fault in self.faults])

    @cached_property
    def is_harmless(self):
        """Which rows are a machine that can run, as an array of bool."""
        return np.array([fault.kind in HARMLESS for fault in self.faults])


def places_to_measure(wired):
    """Every pair of places that the fault finder knows: those of the checks, and stretches of coils in one path.

    Parameters
    ----------
    wired : Wiring
        The winding as it should be.

    Returns
    -------
    dict of str to Probe
        By name; a stretch is named by its two ends as the plan has them, such as "1S-16F".
    """
    found = probes_of(wired)
    for path in wired.named_paths.values():
        # Halves, thirds and quarters are enough to close in on one coil, and quicker than every stretch.
        lengths = {len(path)} | {max(2, len(path) // parts) for parts in (2, 3, 4, 6)}
        for first, last in combinations(path, 2):
            if path.index(last) - path.index(first) + 1 not in lengths:
                continue
            ends = ends_in_order(first, last)
            name = "-".join(end.label for end in ends)
            found[name] = Probe(name=name, when=FINISHED, places=ends)
    return found


def place_named(wired, name):
    """One of `places_to_measure`, however the name was typed.

    Parameters
    ----------
    wired : Wiring
        The winding as it should be.
    name : str
        Such as "A-B", "tooth 7", "1S-16F" or "1s 16f".

    Returns
    -------
    Probe
        The probe.

    Raises
    ------
    BadInput
        When there is no such pair of places.
    """
    typed = squeezed(name)
    for probe in places_to_measure(wired).values():
        ends = [end.label.lower() for end in probe.ends]
        if probe.when == FINISHED and len(ends) == 2 and typed in ("".join(ends), "".join(reversed(ends))):
            return probe
    return probe_named(wired, name)


def fault_table(wired, coils, *, apart=False):
    """Work out what every fault would make the meter show; the second call for the same winding costs nothing."""
    paths = tuple((phase, tuple(map(tuple, wired.paths[phase]))) for phase in PHASES)
    values = tuple((tooth, coil.emf_v, coil.ohm, coil.reactance_ohm) for tooth, coil in sorted(coils.items()))
    return _table(wired.stator, paths, wired.connection, values, apart)


@lru_cache(maxsize=16)
def _table(stator, paths, connection, coil_values, apart):
    wired = Wiring(stator=stator, paths=dict(paths), connection=connection)
    coils = {tooth: CoilValues(emf_v=emf, ohm=ohm, reactance_ohm=x) for tooth, emf, ohm, x in coil_values}
    faults, places = single_faults(wired, apart=apart), places_to_measure(wired)
    if apart:
        places = {name: probe for name, probe in places.items() if len(probe.ends) == 2}
    pairs = tuple(probe.places for probe in places.values() if apart or probe.when == FINISHED)
    ties, known, found = ties_of(wired, {} if apart else wired.nets), {}, []
    for fault in faults:
        # Before leads and star point are made, what is on them cannot matter.
        key = fault.turns, fault.shorted, () if apart else fault.moves
        if key not in known:
            moved = fault.moves and not apart
            circuit = fault.finished(wired, coils) if moved else CoilCircuit(coils=fault.coils(coils), ties=ties)
            known[key] = circuit.between(pairs)
        found.append(known[key])
    values = np.array(found).swapaxes(0, 1)
    if not apart:
        values = _with_paths_alone(values, faults, places, _table(stator, paths, connection, coil_values, True))
    return FaultTable(faults=faults, probes=places, ohms=values[0], line_volts_rms=values[1], apart=apart)


def _with_paths_alone(values, faults, places, before):
    """The readings of the finished winding, and those that were taken while every path stood by itself."""
    rows = {(fault.turns, fault.shorted): row for row, fault in enumerate(before.faults)}
    same = [rows[fault.turns, fault.shorted] for fault in faults]
    both = np.empty((2, len(faults), len(places)))
    alone = np.array([probe.when == ALONE for probe in places.values()])
    both[:, :, ~alone] = values
    columns = [before.columns[name] for name, probe in places.items() if probe.when == ALONE]
    for kind, readings in enumerate((before.ohms, before.line_volts_rms)):
        both[kind][:, alone] = readings[np.ix_(same, columns)]
    return both


def require_place(wired, name, *, apart=False):
    """The probe of a reading, refused when it does not exist at this stage of the work."""
    probe = place_named(wired, name)
    if probe.name not in places_to_measure(wired):
        raise BadInput(
            f"{probe.name} was given",
            "leads, star point, paths, single coils and stretches of coils in one path are allowed",
            "leave this reading out of the search for faults",
            where="between",
        )
    if apart and len(probe.ends) < 2:
        raise BadInput(
            f"{probe.name} was given",
            "while the paths are apart only paths and coils are allowed",
            "measure it after leads and star point are made",
            where="between",
        )
    return probe
