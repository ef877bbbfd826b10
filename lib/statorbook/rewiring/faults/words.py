"""Faults that the readings cannot tell apart, named together in few words; and what is to be done about them."""

from collections import Counter

from statorbook.cautions import STILL, Exposure, Instruction, together
from statorbook.rewiring.faults.single_faults import (
    COIL_KINDS,
    EXCHANGED,
    HARMLESS,
    LEADS_EXCHANGED,
    NO_FAULT,
    REMEDIES,
    SHORTED,
    WRONG_PHASE,
)

_MOST_NAMES = 12
_SURE = 0.99
_SPUN = (Exposure.STANDING, Exposure.TURNING, Exposure.VOLTS)
_AGAIN = Instruction("Then take all readings again: a smaller fault can hide behind a larger one.", _SPUN)
_JOINTS = Instruction("Look at their joints first", STILL)
_PARTED = Instruction(
    "then part one end of each of these coils in turn, sleeve it and tie it clear of the rotor, and measure its ohms "
    "alone, and with the meter clipped on first and the rotor turned by hand the volts between the parted end and "
    "where it was: the wrong one differs plainly from the others.",
    (*_SPUN, Exposure.SHARP, Exposure.SOLDER),
)
_TRACED = Instruction("then trace each from end to end with the meter on ohms.", STILL)
SHORT = "turns shorted"
# One of which, and what it is.
_CLAUSES = {
    "path left out": ("paths", "is left out"),
    "path reversed": ("paths", "is reversed as a whole"),
    "phase reversed": ("phases", "is reversed as a whole"),
    "star leg missing": ("phases", "is not joined to the star point"),
    "corner open": ("phases", "is not joined at one of its two leads"),
    "lead open": ("leads", "is open in its cable or joint"),
}


def named_together(faults, wired):
    """Several faults as one clause: "one of the coils 1, 4 and 7 of path A2 is reversed"; kinds are joined by "or"."""
    kinds = {}
    for fault in faults:
        # How many turns are dead matters less than that some are: one clause for all shares.
        kinds.setdefault(SHORT if fault.kind in SHORTED else fault.kind, []).append(fault)
    if NO_FAULT in kinds:
        kinds.pop(LEADS_EXCHANGED, None)
    return ", or ".join(_of_one_kind(kind, members, wired) for kind, members in kinds.items())


def remedies(faults):
    """What to do about what was found, a sentence a kind; about harmless ones only when there is nothing else."""
    kinds = list(dict.fromkeys(fault.kind for fault in faults))
    harmful = [kind for kind in kinds if kind not in HARMLESS] or kinds
    return together(*(remedy.within("", ".") for remedy in dict.fromkeys(REMEDIES[kind] for kind in harmful)))


def told_apart_only_by_parting(faults):
    """What to do when no reading on the finished winding can tell twins apart; empty for one, or none that harms."""
    places = {fault.where for fault in faults}
    if len(places) < 2 or all(fault.kind in HARMLESS for fault in faults):
        return ""
    then = _PARTED if any(fault.kind in COIL_KINDS for fault in faults) else _TRACED
    said = together(_JOINTS, then, between="; ")
    return together("No meter on the finished winding can tell these apart.", said)


def nothing_fits(ranked):
    """What to say, claiming nothing, when even the best fault fits badly."""
    return Instruction(
        "No single fault explains these readings: there may be two faults at once, a wrong reading, or a wiring other "
        f"than the plan's. The nearest would be that {ranked[0].words}, but do not act on it: take the readings again, "
        "then measure coil by coil.",
        _SPUN,
    )


def sentence_of(ranked, table, wired, *, more):
    """What the readings say, and what to do; `more` when another reading would tell more."""
    best = ranked[0]
    if any(fault.harmless for fault in best.faults):
        said = "The readings are those of " + ("sound paths" if table.apart else "a healthy machine")
        return f"{said}{' as far as they go' if hidden_words(ranked, wired) else ''}."
    said = f"Most likely ({_percent(best.chance)}) {best.words}."
    rows = [row for row, fault in enumerate(table.faults) if fault in best.faults]
    if more and (best.chance < _SURE or len(set(table.alike[rows])) > 1):
        return f"{said} Keep measuring before you undo any joint."
    return together(said, told_apart_only_by_parting(best.faults), remedies(best.faults), _AGAIN)


def hidden_words(ranked, wired):
    """What readings that look healthy cannot rule out, as a clause; empty where nothing is left."""
    best = ranked[0]
    others = tuple(fault for fault in best.faults if not fault.harmless)
    if len(others) == len(best.faults):
        return ""
    if others:
        return named_together(others, wired)
    return ranked[1].words if best.chance < _SURE and len(ranked) > 1 else ""


def _of_one_kind(kind, members, wired):
    if len(members) == 1:
        return members[0].words
    if kind in COIL_KINDS or kind == SHORT:
        return _of_coils(members, wired)
    where = sorted((fault.where for fault in members), key=_by_number)
    if kind == EXCHANGED:
        phases = {tuple(name[0] for name in pair.split(" with ")) for pair in where}
        pairs = " or ".join(f"of {one} and one of {other}" for one, other in sorted(phases))
        few = len(members) <= 3
        return f"the paths {_listed(where)} are exchanged" if few else f"a path {pairs} are exchanged"
    if kind == WRONG_PHASE:
        return f"one path is in the wrong phase ({_listed(where)})"
    if kind not in _CLAUSES:
        return " or ".join(fault.words for fault in members)
    noun, clause = _CLAUSES[kind]
    return f"one of the {noun} {_listed(where)} {clause}"


def _of_coils(members, wired):
    teeth = sorted({int(fault.where) for fault in members})
    clause = members[0].words.partition(members[0].path)[2].strip()
    if len({fault.kind for fault in members}) > 1:
        clause = "has some of its turns shorted"
    which = _which_coils(teeth, {fault.path for fault in members}, wired)
    return f"one of the {which} {clause}" if len(teeth) > 1 else f"{which.replace('coils', 'coil', 1)} {clause}"


def _which_coils(teeth, paths, wired):
    """Whole phases by name; a few coils by number and path."""
    phases = sorted({path[0] for path in paths})
    whole = Counter(name[0] for name, path in wired.named_paths.items() for _ in path)
    if len(teeth) > 3 and len(teeth) == sum(whole[phase] for phase in phases):
        return f"{len(teeth)} coils of phase {_listed(phases)}" if len(phases) < 3 else f"{len(teeth)} coils"
    sides = _listed(sorted(paths, key=_by_number), most=4)
    return f"coils {_listed(teeth)} of {'path' if len(paths) == 1 else 'paths'} {sides}"


def _by_number(place):
    """Order of places such as A1, A2, A10, B1."""
    return place[0], len(place), place


def _listed(names, most=_MOST_NAMES):
    names = [str(name) for name in names]
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _percent(chance):
    return "over 99 %" if chance > _SURE else f"{100.0 * chance:.0f} %"
