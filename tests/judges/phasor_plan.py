"""An independent judge of a plan: walks the graph of nodes and coils and adds up volts, knowing only netlist and coils.

Nothing of the paths, links or cuts of the plan is asked; whoever walks finds out what is wired in series with what.
"""

from cmath import exp, phase, pi
from itertools import pairwise


def phasors(slots, poles):
    """EMF of every coil from start to finish, tooth by tooth, from geometry alone."""
    return {tooth: exp(1j * pi * poles * (tooth - 1) / slots) for tooth in range(1, slots + 1)}


def node_of_ends(netlist):
    """Which node each end is on; an end that is on two is refused."""
    found = {}
    for name, ends in netlist.items():
        for end in ends:
            assert end.label not in found, f"{end.label} is on {name} and on {found[end.label]}"
            found[end.label] = name
    return found


def walks(netlist, slots):
    """Every way from a lead or star point through coils to the next one: (from, to, [(tooth, sign), …])."""
    on = node_of_ends(netlist)
    assert set(on) == {f"{tooth}{side}" for tooth in range(1, slots + 1) for side in "SF"}
    coils = [(tooth, on[f"{tooth}S"], on[f"{tooth}F"]) for tooth in range(1, slots + 1)]
    terminals = {name for name in netlist if name.startswith("lead ") or name == "star point"}
    used, found = set(), []
    for terminal in sorted(terminals):
        while True:
            here, walk = terminal, []
            while not walk or here not in terminals:
                ways = [(t, f, 1) for t, s, f in coils if s == here and t not in used]
                ways += [(t, s, -1) for t, s, f in coils if f == here and t not in used]
                if not ways:
                    break
                assert here in terminals or len(ways) == 1, f"{here} is not a plain joint"
                tooth, here, sign = ways[0]
                used.add(tooth)
                walk.append((tooth, sign))
            if not walk:
                break
            assert here in terminals, f"tooth {walk[-1][0]} leads nowhere"
            found.append((terminal, here, walk))
    assert len(used) == slots, "coils that no lead reaches"
    return found


def phases_of(netlist, slots, poles, connection):
    """Path sums of each phase, walked from its lead: to the star point, or to the next lead in a delta."""
    emf = phasors(slots, poles)
    ways = [("lead A", "star point"), ("lead B", "star point"), ("lead C", "star point")]
    if connection == "delta":
        ways = [("lead A", "lead B"), ("lead B", "lead C"), ("lead C", "lead A")]
    sums = {way: [] for way in ways}
    for first, last, walk in walks(netlist, slots):
        total = sum(sign * emf[tooth] for tooth, sign in walk)
        if (first, last) in sums:
            sums[first, last].append((total, len(walk)))
        else:
            sums[last, first].append((-total, len(walk)))
    return list(sums.values())


def complaints(netlist, slots, poles, grouping, distribution_factor, tolerance=1e-12):
    """What is electrically wrong with a netlist that should be this grouping; empty when nothing is."""
    try:
        found = phases_of(netlist, slots, poles, grouping.connection)
    except (AssertionError, KeyError) as fault:
        return [f"cannot be walked: {fault}"]
    wrong, volts = [], grouping.series * distribution_factor
    for number, paths in enumerate(found):
        if len(paths) != grouping.parallel:
            wrong.append(f"phase {number} has {len(paths)} paths")
            continue
        if any(coils != grouping.series for _, coils in paths):
            wrong.append(f"phase {number}: resistances of the paths differ")
        if max(abs(total - paths[0][0]) for total, _ in paths) > tolerance * volts:
            wrong.append(f"phase {number}: volts of the paths differ")
        if max(abs(abs(total) - volts) for total, _ in paths) > tolerance * volts:
            wrong.append(f"phase {number}: volts are not the sum of the coils'")
    if not wrong:
        turns = [phase(after[0][0] / before[0][0]) for before, after in pairwise([*found, found[0]])]
        if (
            max(abs(abs(turn) - 2 * pi / 3) for turn in turns) > 1e3 * tolerance
            or len({turn > 0 for turn in turns}) > 1
        ):
            wrong.append("the three phases are not 120° apart")
    return wrong
