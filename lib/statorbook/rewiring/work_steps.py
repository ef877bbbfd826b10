"""A plan in steps for the bench: mark, cut, check, join, bring together; one thing a step, in words."""

from dataclasses import dataclass

from statorbook.cautions import SOLDERED, STILL, Exposure, Instruction, require_instruction, together
from statorbook.rewiring.circuit import root_of, ties_of
from statorbook.winding import PHASES, STAR_POINT, ends_in_order

_SAFE = Instruction(
    "Take the battery bank off, take the three leads off the rectifier, and take the rotor out or tie it so that it "
    "cannot turn: a turning magnet ring makes volts in every coil.",
    (*STILL, Exposure.BANK, Exposure.MAGNETS),
)
_JOINT = Instruction("Scrape the enamel off both ends, twist, solder, and pull a sleeve over the joint.", SOLDERED)
_BUS_JOINT = Instruction(
    "Scrape the enamel off each end, solder all to one wire, sleeve and insulate every joint, and tie the wire down "
    "where the rotor cannot reach it. Hold the soldering iron there only until the solder flows: heat chars the "
    "insulation of the slots.",
    SOLDERED,
)
_ALIKE = Instruction("Measure the ohms between each two of the leads: the three readings are alike.", STILL)
_ROTOR_BACK = Instruction(
    "Then put the rotor back, fingers out of the gap and each lead in an insulated terminal, and turn it slowly by "
    "hand before the bank is put back: it runs free of every wire.",
    (Exposure.MAGNETS, Exposure.TURNING, Exposure.VOLTS),
)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One thing to do at the bench."""

    number: int  # from 1
    kind: str  # "mark", "cut", "check", "join" or "bus"
    ends: tuple
    words: Instruction
    check: str = ""  # the meter check that belongs here: "parted", the name of a path such as "A2", or "alike"

    def __post_init__(self):
        require_instruction(self.words, f"step {self.number}")


def steps(plan):
    """Write a plan out in the order of the work.

    Parameters
    ----------
    plan : Plan
        The work as data.

    Returns
    -------
    tuple of Step
        Marks, all cuts, a check, the jumpers path by path each with its check, star point and leads, a last check.
    """
    if not plan.cuts and not plan.joins and not plan.bus_mm:
        nothing = f"Nothing to cut and nothing to join: the winding is already wired as {plan.grouping.label}."
        words = together(nothing, _ALIKE)
        return (Step(number=1, kind="check", ends=(), words=words, check="alike"),)
    rows = [*_marks(plan), *_cuts(plan), *_joins(plan), *_buses(plan), _last_check(plan)]
    return tuple(
        Step(number=number, kind=kind, ends=tuple(ends), words=words, check=check)
        for number, (kind, ends, words, check) in enumerate(rows, start=1)
    )


def ties_after(plan, made, number):
    """What is tied to what after so many steps, as frozensets of coil ends and names such as "lead A"."""
    ties = list(ties_of(plan.found, plan.found.nets))
    off = {cut.ends: cut.off for cut in plan.cuts}
    for step in made[:number]:
        if step.kind == "cut" and off[step.ends]:
            ties = [tie - set(step.ends) if off[step.ends] in tie else tie for tie in ties]
        elif step.kind == "cut":
            ties.remove(frozenset(step.ends))
        elif step.kind == "join":
            ties.append(frozenset(step.ends))
        elif step.kind == "bus":
            ties.append(frozenset([_bus_name(plan, step), *step.ends]))
    return tuple(tie for tie in ties if tie)


def _bus_name(plan, step):
    return next(name for name, ends in plan.buses.items() if ends == step.ends)


def _marks(plan):
    slots = plan.found.stator.slots
    words = together(
        _SAFE,
        f"Number all teeth from 1 to {slots} with paint, from your mark and in the direction used before. "
        "On each coil S is the start and F the finish, the same end on every tooth.",
    )
    yield "mark", (), words, ""
    concerned = [*(cut.ends for cut in plan.cuts), *(plan.buses[name] for name in plan.bus_mm)]
    ends = sorted({end for ends in concerned for end in ends})
    labels = ", ".join(end.label for end in ends)
    words = Instruction(f"Before the first cut, label these wire ends: {labels}. Take a photograph.", STILL)
    yield "mark", ends, words, ""


def _cuts(plan):
    for cut in plan.cuts:
        if cut.off:
            (end,) = cut.ends
            where = "the star point" if cut.off == STAR_POINT else cut.off
            words = f"Cut the wire of {end.words}, off {where}. Its label is {end.label}."
        else:
            first, second = cut.ends
            words = (
                f"Cut the wire between {first.words}, and {second.words}. "
                f"Label both ends: {first.label} and {second.label}."
            )
        yield "cut", cut.ends, Instruction(words, (*STILL, Exposure.SHARP)), ""
    if plan.cuts:
        yield _parted_check(plan)


def _parted_check(plan):
    """After the cuts the meter tells only where no other coils lead round the cut; there the eye has to."""
    tied = _tied_together(plan)
    told, round_about = [], []
    for cut in plan.cuts:
        ends = cut.ends
        if cut.off:
            left = sorted(plan.stays[cut.off][1])
            if not left:
                continue
            ends = (*ends, left[0])
        (round_about if tied(*ends) else told).append(f"{ends[0].label} and {ends[1].label}")
    words = "Bend the cut ends apart. With the meter on ohms, no cut end has a connection to the iron of the stator"
    if told:
        words += f", and there is none between {', '.join(told)}"
    if round_about:
        words += (
            f". Between {', '.join(round_about)} the meter still finds a way round through other coils: "
            "there look that the wire is parted"
        )
    ends = sorted({end for cut in plan.cuts for end in cut.ends})
    return "check", ends, Instruction(f"{words}.", (*STILL, Exposure.SHARP)), "parted"


def _tied_together(plan):
    """Whether two ends are still connected after all cuts, as a function of the two."""
    coils = [ends_in_order((coil.number, 1)) for coil in plan.found.stator.coils]
    left = [sorted(ends) for _, ends in plan.stays.values()]
    root = root_of((*coils, *plan.kept, *filter(None, left)))
    return lambda one, other: root(one) == root(other)


def _joins(plan):
    for name, path in plan.wired.named_paths.items():
        made = [join for join in plan.joins if join.path == name]
        for join in made:
            first, second = join.ends
            words = (
                f"Jumper {join.number}, path {name}: join {first.words}, to {second.words} "
                f"({first.label} to {second.label})."
            )
            yield "join", join.ends, together(words, _JOINT), ""
        if made:
            yield _path_check(plan, name, path)


def _path_check(plan, name, path):
    """Ohms of a path before the buses are made; where both its ends are shared, other paths lie beside it."""
    first, last = ends_in_order(*path)
    shared = [any(end in ends and len(ends) > 1 for _, ends in plan.stays.values()) for end in (first, last)]
    words = f"Measure the ohms of path {name} from {first.label} to {last.label}: "
    if all(shared):
        words += (
            "other paths are tied to both its ends, so the meter shows less than its coils in series, but not open."
        )
    else:
        words += f"{len(path)} coils in series, so {len(path)} times one coil."
    return "check", (first, last), Instruction(words, STILL), name


def _buses(plan):
    for name in sorted(plan.buses, key=lambda name: (name != STAR_POINT, name)):
        if name not in plan.bus_mm:
            continue
        new = plan.new_on_bus[name]
        parts = [_left_over(old, ends, name) for old, (heir, ends) in plan.stays.items() if heir == name]
        there = " and ".join(filter(None, parts))
        brought = f"bring {', '.join(end.label for end in new)} together" if new else "join"
        to = f"{' with' if new else ''} {there}" if there else ""
        words = f"{name[0].upper()}{name[1:]}: {brought}{to}."
        yield "bus", plan.buses[name], together(words, _BUS_JOINT), ""


def _left_over(old, ends, name):
    """What is already there, in words."""
    listed = ", ".join(end.label for end in sorted(ends))
    if old == STAR_POINT and name == STAR_POINT:
        return f"the star point, which keeps {listed}" if listed else ""
    if old == STAR_POINT:
        return f"what is left of the old star point, {listed}" if listed else ""
    return f"the cable of {old}, which keeps {listed}" if listed else f"the cable of {old}"


def _last_check(plan):
    words = together(_ALIKE, "No lead has a connection to the iron of the stator.", _ROTOR_BACK)
    leads = [end for phase in PHASES for end in plan.buses[f"lead {phase}"]]
    return "check", leads, words, "alike"
