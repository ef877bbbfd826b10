"""How the coils are joined now: paths from lead to far end, and which coil ends are tied together."""

import re
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from statorbook.errors import BadInput, count_of
from statorbook.winding.grouping import Grouping, require_connection
from statorbook.winding.stator import Stator
from statorbook.winding.wire_names import named_as_traced

PHASES = ("A", "B", "C")
STAR_POINT = "star point"
# The net of each phase's far ends in delta: A-finish with B-start, B-finish with C-start, C-finish with A-start.
_FAR_IN_DELTA = {"A": "lead B", "B": "lead C", "C": "lead A"}
_PHASE_WORDS = re.compile(r"\s*([A-Za-z])\s*:(.*)", re.DOTALL)
_TOOTH_WORD = re.compile(r"([0-9]{1,4})(r?)")


@dataclass(frozen=True, kw_only=True, order=True)
class CoilEnd:
    """One of the two wire ends of a coil.

    Parameters
    ----------
    tooth : int
        Tooth number, 1 at the reader's mark [-].
    side : str
        "S" for the start, "F" for the finish; all coils are wound alike, so the start is the same end on each.
    """

    tooth: int
    side: str

    @property
    def label(self):
        """What is written on the wire, such as "7S"."""
        return f"{self.tooth}{self.side}"

    @property
    def words(self):
        """The end in words, such as "tooth 7, start"."""
        return f"tooth {self.tooth}, {'start' if self.side == 'S' else 'finish'}"


def ends_in_order(first, *others):
    """Name the two ends of a coil, or of coils in a row, as they are met on the way from the lead.

    Parameters
    ----------
    first : tuple of int
        (tooth, direction); direction +1 passes from start to finish, −1 from finish to start.
    *others : tuple of int
        The coils after it, the same way.

    Returns
    -------
    tuple of CoilEnd
        The end met first, then the one met last.
    """
    last = others[-1] if others else first
    entered = CoilEnd(tooth=first[0], side="S" if first[1] > 0 else "F")
    return entered, CoilEnd(tooth=last[0], side="F" if last[1] > 0 else "S")


def angle_class(stator, tooth):
    """Number the EMF angle of a coil, its polarity applied, so that equal numbers mean equal phasors.

    Parameters
    ----------
    stator : Stator
        The machine.
    tooth : int
        Tooth number [-].

    Returns
    -------
    int
        The angle in whole half-steps of 180° / slots, below 2 × slots [-].
    """
    coil = stator.coils[tooth - 1]
    step = round(coil.angle_deg * stator.slots / 360.0)
    return (2 * step + (0 if coil.polarity > 0 else stator.slots)) % (2 * stator.slots)


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """A winding as it is wired: the coils of each path in order, and star or delta.

    In star all far ends are on one star point. In delta the far ends of A are on the lead of B, those of B on the lead
    of C, those of C on the lead of A.

    Parameters
    ----------
    stator : Stator
        The machine.
    paths : dict
        For "A", "B" and "C" a tuple of paths; a path is a tuple of (tooth, direction) from the lead to the far end.
    connection : str
        "star" or "delta".

    Raises
    ------
    BadInput
        When a coil is missing, used twice or out of place, or parallel paths would not have equal volts.
    """

    stator: Stator
    paths: dict
    connection: str = "star"

    def __post_init__(self):
        require_connection(self.connection)
        teeth = [tooth for phase in self.paths for path in self.paths[phase] for tooth, _ in path]
        _require_every_tooth_once(self.stator, teeth)
        for phase in PHASES:
            _require_own_phase(self.stator, phase, self.paths[phase])
        _require_one_sense(self.stator, self.named_paths.values())
        _require_equal_paths(self.stator, self.paths)

    @property
    def grouping(self):
        """The grouping that this wiring is, as a `Grouping`."""
        path = self.paths["A"][0]
        return Grouping(series=len(path), parallel=len(self.paths["A"]), connection=self.connection)

    @property
    def sense(self):
        """+1 when the coils are passed the way their polarity asks, −1 when all are passed the other way [-]."""
        tooth, direction = self.paths["A"][0][0]
        return direction * self.stator.coils[tooth - 1].polarity

    @cached_property
    def named_paths(self):
        """Every path by its name, such as "A1": name → tuple of (tooth, direction), phase by phase."""
        return {f"{phase}{number}": path for phase in PHASES for number, path in enumerate(self.paths[phase], start=1)}

    @cached_property
    def links(self):
        """Wires from coil to coil, as a tuple of (end that is left, end that is entered), phase by phase."""
        pairs = (pair for path in self.named_paths.values() for pair in pairwise(path))
        return tuple((ends_in_order(before)[1], ends_in_order(after)[0]) for before, after in pairs)

    @cached_property
    def nets(self):
        """Where several ends meet: "lead A", "lead B", "lead C" and in star "star point"; name → frozenset of ends."""
        found = {f"lead {phase}": set() for phase in PHASES}
        for name, path in self.named_paths.items():
            entered, left = ends_in_order(*path)
            found[f"lead {name[0]}"].add(entered)
            found.setdefault(STAR_POINT if self.connection == "star" else _FAR_IN_DELTA[name[0]], set()).add(left)
        return {name: frozenset(ends) for name, ends in found.items()}


def found_wiring(stator, grouping):
    """Assume the usual wiring of a grouping: the coils of a phase in tooth order, cut into equal stretches.

    Parameters
    ----------
    stator : Stator
        The machine.
    grouping : Grouping
        How the winding is joined now.

    Returns
    -------
    Wiring
        An assumption until the reader has traced the wires; `found_from_words` takes another one.
    """
    grouping.require_legal(stator)
    paths = {}
    for phase in PHASES:
        chain = [(coil.number, coil.polarity) for coil in stator.coils if coil.phase == phase]
        cuts = range(0, len(chain), grouping.series)
        paths[phase] = tuple(tuple(chain[k : k + grouping.series]) for k in cuts)
    return Wiring(stator=stator, paths=paths, connection=grouping.connection)


def found_from_words(stator, grouping, words):
    """Read a wiring that the reader traced, such as "A: 1 4 7 10 / 13 16 19 22; B: …; C: …".

    Parameters
    ----------
    stator : Stator
        The machine.
    grouping : Grouping
        How many paths there are and whether they stand in star or delta.
    words : str
        For each phase the teeth in order from the lead; "/" parts parallel paths. A tooth followed by "r" is passed
        the other way round: than its volts ask when that holds for all teeth or none, else from finish to start.

    Returns
    -------
    Wiring
        The wiring; its stator carries the reader's names of the phases and counts from the reader's mark.

    Raises
    ------
    BadInput
        When the words cannot be read, a tooth is missing, named twice or of another phase, or the paths would not have
        equal volts.
    """
    grouping.require_legal(stator)
    paths = _paths_typed(stator, grouping, words)
    traced = {tooth: phase for phase in PHASES for path in paths[phase] for tooth, _ in path}
    _require_every_tooth_once(stator, [tooth for phase in PHASES for path in paths[phase] for tooth, _ in path])
    named = named_as_traced(stator, traced)
    for phase in PHASES:
        _require_own_phase(named, phase, paths[phase])
    return Wiring(stator=named, paths=_directed(named, paths), connection=grouping.connection)


def _paths_typed(stator, grouping, words):
    """By phase its paths of (tooth, whether an r stands behind it), as typed."""
    paths = {}
    for part in filter(str.strip, words.split(";")):
        found = _PHASE_WORDS.fullmatch(part)
        phase = found[1].upper() if found else ""
        if phase not in PHASES or phase in paths:
            raise BadInput(
                f"{part.strip()!r} was given",
                "each of A, B and C stands once, with a colon after it",
                'type it like "A: 1 4 7; B: 2 5 8; C: 3 6 9"',
                where="wiring",
            )
        paths[phase] = tuple(_path_from(stator, text) for text in found[2].split("/"))
    for phase in PHASES:
        if len(paths.setdefault(phase, ())) != grouping.parallel:
            raise BadInput(
                f"phase {phase} has {count_of(len(paths[phase]), 'path')}",
                f"the grouping {grouping.label} has {grouping.parallel} in each phase",
                'part the paths by "/", or choose another grouping',
                where="wiring",
            )
    return paths


def _directed(stator, paths):
    """Paths of (tooth, direction) from those of (tooth, whether an r stands behind it)."""
    turned = {tooth: back for phase in PHASES for path in paths[phase] for tooth, back in path}
    from_finish = {coil.number: (coil.polarity < 0) for coil in stator.coils}
    # An r on some teeth only says which end is met first; that adds up when it follows the pattern of the polarities.
    by_ends = len({turned[tooth] == back for tooth, back in from_finish.items()}) == 1
    mixed = len(set(turned.values())) > 1

    def direction(tooth, back):
        usual = 1 if by_ends and mixed else stator.coils[tooth - 1].polarity
        return -usual if back else usual

    return {
        phase: tuple(tuple((tooth, direction(tooth, back)) for tooth, back in path) for path in paths[phase])
        for phase in PHASES
    }


def _path_from(stator, text):
    path = []
    for word in re.split(r"[\s,]+", text.strip()):
        found = _TOOTH_WORD.fullmatch(word.lower())
        tooth = int(found[1]) if found else 0
        if not 1 <= tooth <= stator.slots:
            given = f"{word!r} was given" if word else "a path without a tooth was given"
            allowed = f'a tooth from 1 to {stator.slots} is allowed, with "r" after it when passed the other way'
            raise BadInput(given, allowed, "type the teeth of each path again", where="wiring")
        path.append((tooth, bool(found[2])))
    return tuple(path)


def _require_every_tooth_once(stator, teeth):
    count = Counter(teeth)
    twice = sorted(tooth for tooth, times in count.items() if times > 1)
    missing = sorted(set(range(1, stator.slots + 1)) - set(count))
    if twice or missing:
        odd = twice or missing
        who = f"tooth {odd[0]} is" if len(odd) == 1 else f"teeth {', '.join(map(str, odd))} are"
        raise BadInput(
            f"{who} {'named twice' if twice else 'missing'}",
            f"each tooth from 1 to {stator.slots} stands once",
            "trace the wires of these teeth again",
            where="wiring",
        )


def _require_own_phase(stator, phase, paths):
    for tooth in (tooth for path in paths for tooth, _ in path):
        own = stator.coils[tooth - 1].phase
        if own != phase:
            raise BadInput(
                f"tooth {tooth} stands in phase {phase}",
                f"with {stator.slots} slots and {stator.poles} poles it belongs to phase {own}",
                "trace its wires again, or count slots and poles again",
                where="wiring",
            )


def _require_one_sense(stator, paths):
    """All coils the way their polarity asks, or all the other way: then every path adds up."""
    senses = {tooth: direction * stator.coils[tooth - 1].polarity for path in paths for tooth, direction in path}
    fewer = min((1, -1), key=lambda sense: (list(senses.values()).count(sense), sense))
    odd = sorted(tooth for tooth, sense in senses.items() if sense == fewer)
    phases = {stator.coils[tooth - 1].phase for tooth in odd}
    if len(phases) == 1 and len(odd) == stator.coils_per_phase:
        raise BadInput(
            f"all of phase {min(phases)} would work against the two others",
            "three phases of one sense are allowed, so that all three pairs of leads read alike",
            "read the volts of AB, BC and CA, guard on and meter clipped on while the rotor stands: when "
            "they are alike, trace that phase again from its lead with the rotor at rest; when one reads "
            "1.73 times the others, the phase is joined the wrong way round: mend that first",
            where="wiring",
        )
    if odd:
        raise BadInput(
            f"{'tooth' if len(odd) == 1 else 'teeth'} {', '.join(map(str, odd))} would work against the other coils",
            "all coils are passed the way that their volts add up",
            "trace which end of these coils is met first, or count slots and poles again",
            where="wiring",
        )


def _require_equal_paths(stator, paths):
    for phase in PHASES:
        made = [Counter(angle_class(stator, tooth) for tooth, _ in path) for path in paths[phase]]
        odd = next((k for k, volts in enumerate(made) if volts != made[0]), None)
        if odd is not None or len(made) != len(paths["A"]):
            raise BadInput(
                f"path {(odd or 0) + 1} of phase {phase} would not have the same volts as the others",
                "parallel paths need coils of the same volts and angles, or they burn each other",
                "trace the wires again; coils that are thought parallel may be in series",
                where="wiring",
            )
