"""Which coils share a path: as few cuts as trying every order finds, and spread evenly round the ring when asked."""

from collections import Counter
from itertools import combinations, pairwise, permutations
from math import gcd
from random import Random
from time import process_time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from judges.fewest_cuts import fewest_cuts_of_phase
from judges.phasor_plan import phasors
from statorbook.rewiring.path_layout import CutSearch, in_order, neighbour_paths, spread_paths
from statorbook.rewiring.plan import cut_and_join
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import PHASES, Wiring, found_wiring
from strategies import stators

SMALL = [(6, 4), (9, 12), (9, 8), (12, 14), (12, 10), (18, 20), (18, 24), (18, 14)]


def scrambled(stator, grouping, seed):
    """A legal wiring whose paths are drawn at random and go in random order."""
    dice, paths = Random(seed), {}
    for phase in PHASES:
        alike = {}
        for coil in stator.coils:
            if coil.phase == phase:
                angle = round((coil.angle_deg + (0 if coil.polarity > 0 else 180)) * 1e6) % 360_000_000
                alike.setdefault(angle, []).append((coil.number, coil.polarity))
        for teeth in alike.values():
            dice.shuffle(teeth)
        groups = [
            [coil for teeth in alike.values() for coil in teeth[k :: grouping.parallel]]
            for k in range(grouping.parallel)
        ]
        paths[phase] = tuple(tuple(dice.sample(group, len(group))) for group in groups)
    return Wiring(stator=stator, paths=paths, connection=grouping.connection)


def fewest_by_every_order(found, phase, paths, keep_far):
    """Cuts in one phase: every order of its coils, parted into equal stretches whose volts are the same."""
    stator, emf = found.stator, phasors(found.stator.slots, found.stator.poles)
    volts = {coil.number: coil.polarity * emf[coil.number] for coil in stator.coils}
    chains = [[tooth for tooth, _ in path] for path in found.paths[phase]]
    coils = [tooth for chain in chains for tooth in chain]
    links = {pair for chain in chains for pair in pairwise(chain)}
    firsts, lasts = {chain[0] for chain in chains}, {chain[-1] for chain in chains}
    size, mean = len(coils) // paths, sum(volts[tooth] for tooth in coils) / paths
    legs = len(chains) * (2 if keep_far else 1)
    best = len(coils) + legs
    for order in permutations(coils):
        parts = [order[k : k + size] for k in range(0, len(order), size)]
        if any(parts[k][0] > parts[k + 1][0] for k in range(paths - 1)):
            continue  # the same deal with its paths in another order
        kept = sum(part[0] in firsts for part in parts) + sum(keep_far and part[-1] in lasts for part in parts)
        kept += sum(pair in links for part in parts for pair in pairwise(part))
        cuts = len(links) + legs - kept
        if cuts < best and all(abs(sum(volts[tooth] for tooth in part) - mean) < 1e-9 for part in parts):
            best = cuts
    return best


def fewest_cuts(found, grouping):
    """Cuts of a whole machine by trying everything; one phase at most keeps what is left of an opened star point."""
    far = len(found.paths["A"])
    bare = {phase: fewest_by_every_order(found, phase, grouping.parallel, False) for phase in PHASES}
    kept = {phase: fewest_by_every_order(found, phase, grouping.parallel, True) for phase in PHASES}
    if found.connection == grouping.connection:
        return sum(kept.values())
    total = sum(bare.values()) + 3 * far
    if found.connection == "star":
        return min(total - bare[phase] - far + kept[phase] for phase in PHASES)
    return total


@pytest.mark.parametrize("slots, poles", SMALL)
def test_no_order_of_the_coils_needs_fewer_cuts(slots, poles):
    stator = Stator(slots=slots, poles=poles)
    for before, after in [(b, a) for b in stator.groupings() for a in stator.groupings()]:
        for found in [found_wiring(stator, before), scrambled(stator, before, seed=slots + poles)]:
            plan = cut_and_join(found, after)
            assert plan.fewest_proven
            assert (before.label, after.label, len(plan.cuts)) == (before.label, after.label, fewest_cuts(found, after))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(2))
def test_no_order_of_eight_coils_needs_fewer_cuts(seed):
    stator = Stator(slots=24, poles=28)
    for before, after in [(2, 4), (4, 1), (1, 2)]:
        series = {paths: Grouping(series=8 // paths, parallel=paths) for paths in (before, after)}
        found = scrambled(stator, series[before], seed)
        assert len(cut_and_join(found, series[after]).cuts) == fewest_cuts(found, series[after])


# Equal stretches of a chain in tooth order are balanced, so that a − 1 cuts in each phase are enough; fewer cannot be.
@given(stators(), st.data())
def test_a_chain_in_tooth_order_needs_one_cut_less_than_paths(stator, data):
    grouping = data.draw(st.sampled_from([g for g in stator.groupings() if g.connection == "star"]))
    plan = cut_and_join(found_wiring(stator, Grouping(series=stator.coils_per_phase, parallel=1)), grouping)
    assert plan.fewest_proven and len(plan.cuts) == 3 * (grouping.parallel - 1)


# By hand, six coils of a phase in chains of 2, wanted in paths of 3. Three chains
# leave nothing to two paths but one in two halves: one wire cut, one lead and one far end taken off in each phase; the
# bound is 2 − gcd(2, 3) + (3 − 2) · 2 = 3.
def test_paths_that_do_not_divide_meet_the_bound():
    stator = Stator(slots=18, poles=24)
    found = found_wiring(stator, Grouping(series=2, parallel=3))
    paths, cuts, proven = neighbour_paths(found, 2, "all")
    assert (cuts, proven) == (9, True)
    assert sorted(len(path) for path in paths["A"]) == [3, 3]


# By hand, ten like coils of a phase in two chains of 5, wanted in five paths of 2. Each chain is 2 + 2 + 1, the two
# single coils make a path: 4 wires cut in each phase. Both leads and both far ends can stay. For a delta the star point
# is opened: of its 6 ends the two of one phase stay in the old knot and 4 come off.
@pytest.mark.parametrize("connection, cuts, seeds", [("star", 12, (97, 102)), ("delta", 16, (110, 141))])
def test_leads_and_far_ends_stay_where_they_can(connection, cuts, seeds):
    stator = Stator(slots=30, poles=20)
    for seed in seeds:
        found = scrambled(stator, Grouping(series=5, parallel=2), seed)
        plan = cut_and_join(found, Grouping(series=2, parallel=5, connection=connection))
        assert (len(plan.cuts), plan.fewest_proven) == (cuts, True)


@given(stators(), st.data())
def test_kept_and_cut_links_are_the_found_ones_and_volts_stay_equal(stator, data):
    before, after = (data.draw(st.sampled_from(stator.groupings())) for _ in range(2))
    found = scrambled(stator, before, data.draw(st.integers(0, 99)))
    plan = cut_and_join(found, after)
    cut = [each.ends for each in plan.cuts if not each.off]
    assert sorted([*cut, *plan.kept]) == sorted(found.links)
    assert len(plan.kept) + len(plan.joins) == len(plan.wired.links)


# 36 teeth, 24 pole pairs: A is every third tooth, all alike. Four paths of three stand 120° apart, three of four 90°.
def test_spread_paths_go_round_the_ring():
    found = found_wiring(Stator(slots=36, poles=48), Grouping(series=12, parallel=1))
    teeth = [tuple(tooth for tooth, _ in path) for path in spread_paths(found, 4)["A"]]
    assert [sorted(path) for path in teeth] == [[1, 13, 25], [4, 16, 28], [7, 19, 31], [10, 22, 34]]
    assert sorted(tooth for tooth, _ in spread_paths(found, 3)["A"][0]) == [1, 10, 19, 28]


# Coils of one EMF angle stand slots / (most paths) teeth apart; a path takes every a-th of them.
@given(stators(), st.data())
def test_spread_paths_look_the_same_all_round_the_ring(stator, data):
    grouping = data.draw(st.sampled_from(stator.groupings()))
    found = found_wiring(stator, Grouping(series=stator.coils_per_phase, parallel=1))
    step = stator.slots * grouping.parallel // stator.max_parallel_paths
    for path in spread_paths(found, grouping.parallel)["A"]:
        teeth = {tooth for tooth, _ in path}
        assert {(tooth - 1 + step) % stator.slots + 1 for tooth in teeth} == teeth


def test_found_wires_stay_in_a_path_and_the_next_piece_is_the_nearest():
    found = found_wiring(Stator(slots=36, poles=48), Grouping(series=12, parallel=1))
    (path,) = in_order(found, "A", [[34, 19, 16, 4, 1, 28]])
    assert [tooth for tooth, _ in path] == [1, 4, 16, 19, 28, 34]


# Phase A of 18/24 in two paths: 1, 4, 7 and 10, 13, 16. The lead stays at the first coil and the far end at the last,
# even where one of the pieces is a whole path that could be at either place.
@pytest.mark.parametrize("group, order", [([1, 4, 7, 10], [10, 1, 4, 7]), ([1, 4, 7, 16], [1, 4, 7, 16])])
def test_a_whole_found_path_leaves_a_shorter_piece_its_place(group, order):
    found = found_wiring(Stator(slots=18, poles=24), Grouping(series=3, parallel=2))
    assert [[tooth for tooth, _ in path] for path in found.paths["A"]] == [[1, 4, 7], [10, 13, 16]]
    (path,) = in_order(found, "A", [group])
    assert [tooth for tooth, _ in path] == order


# 144 slots is the most; counts of paths that do not divide each other leave the most to search. The limit is for a
# slow machine.
@pytest.mark.parametrize("slots, poles, before, after", [(144, 96, 16, 6), (144, 120, 24, 8), (144, 120, 8, 6)])
def test_the_largest_stators_are_planned_soon(slots, poles, before, after):
    stator = Stator(slots=slots, poles=poles)
    found = scrambled(stator, Grouping(series=48 // before, parallel=before), seed=3)
    began = process_time()
    plan = cut_and_join(found, Grouping(series=48 // after, parallel=after))
    assert process_time() - began < 3.0
    # No fewer than the bound: (a − gcd) links and (a₀ − a) ends on each side, in each phase.
    common = max(k for k in range(1, after + 1) if after % k == 0 and before % k == 0)
    assert len(plan.cuts) >= 3 * (after - common + 2 * max(0, before - after))


def test_a_plan_that_is_not_proven_says_so():
    stator = Stator(slots=144, poles=120)
    plans = [
        cut_and_join(
            scrambled(stator, Grouping(series=48 // a, parallel=a), seed=1), Grouping(series=48 // b, parallel=b)
        )
        for a, b in combinations((2, 4, 6, 8), 2)
    ]
    assert not all(plan.fewest_proven for plan in plans)


def cuts_by_program(found, parallel, keep_far):
    """Fewest cuts of each phase by a whole-number program that knows nothing of the search."""
    slots, poles = found.stator.slots, found.stator.poles
    return [fewest_cuts_of_phase(slots, poles, found.paths[phase], parallel, keep_far=keep_far) for phase in PHASES]


# Six to ten coils a phase; found and wanted counts of paths that do and do not divide each other, and coils
# of one and of several angles.
@pytest.mark.parametrize(
    "slots, poles, before, after",
    [(18, 24, 3, 2), (18, 24, 2, 3), (30, 20, 5, 2), (24, 28, 2, 4), (24, 20, 4, 2), (27, 30, 3, 1)],
)
@pytest.mark.parametrize("far_ends", ["all", "none", "one"])
def test_a_whole_number_program_finds_no_fewer_cuts(slots, poles, before, after, far_ends):
    found = scrambled(Stator(slots=slots, poles=poles), Grouping(series=slots // 3 // before, parallel=before), 1)
    paths, cuts, proven = neighbour_paths(found, after, far_ends)
    bare = np.array(cuts_by_program(found, after, False)) if far_ends != "all" else 0
    kept = np.array(cuts_by_program(found, after, True)) if far_ends != "none" else 0
    fewest = {"all": np.sum(kept), "none": np.sum(bare), "one": np.sum(bare) + np.min(kept - bare)}[far_ends]
    assert proven and cuts == fewest
    assert all(sorted(map(len, paths[phase])) == [slots // 3 // after] * after for phase in PHASES)


def fewest_stretches(kinds, quota):
    """Into how few stretches a row of coils can be parted so that none has more of a kind than one path takes."""
    fewest = [0]
    for end in range(1, len(kinds) + 1):
        fits = [start for start in range(end) if not Counter(kinds[start:end]) - quota]
        fewest.append(1 + min(fewest[start] for start in fits))
    return fewest[-1]


# Coils of one, two and four angles. From any coil on, as many wires must be parted as leave no stretch with more coils
# of an angle than a path takes; a − gcd(a, a₀) wires at least, and a₀ − a ends on each side.
@pytest.mark.parametrize("keep_far", [True, False])
@pytest.mark.parametrize(
    "slots, poles, before, after", [(12, 14, 1, 2), (24, 28, 1, 4), (24, 20, 4, 2), (18, 24, 2, 3), (30, 20, 5, 2)]
)
def test_the_search_neither_asks_too_much_nor_drops_the_best(slots, poles, before, after, keep_far):
    found = scrambled(Stator(slots=slots, poles=poles), Grouping(series=slots // 3 // before, parallel=before), 1)
    search, volts = CutSearch(found, "A", after, keep_far), phasors(slots, poles)
    chains = [[np.round(sense * volts[tooth], 6) for tooth, sense in path] for path in found.paths["A"]]
    count = Counter(kind for chain in chains for kind in chain)
    quota = Counter({kind: times // after for kind, times in count.items()})
    rest = [[chain[at:], *chains[k + 1 :]] for k, chain in enumerate(chains) for at in range(len(chain))]
    forced = [sum(fewest_stretches(chain, quota) - 1 for chain in left) for left in rest]
    assert search.forced == forced
    ends = max(0, before - after) * (2 if keep_far else 1)
    assert search.bound == max(forced[0], after - gcd(after, before)) + ends
    # Whoever asks for one cut fewer than a cut too many still gets the fewest, and is told that there is no better.
    fewest = fewest_cuts_of_phase(slots, poles, found.paths["A"], after, keep_far=keep_far)
    assert search.run(4000, fewest + 1)[0] == fewest
    assert search.run(4000, fewest)[1:] == (None, True)
