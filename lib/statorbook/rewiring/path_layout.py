"""Which coils go into which parallel path: the fewest cuts, or each path spread evenly round the ring."""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from math import gcd

from statorbook.winding import PHASES, angle_class

# States kept at each tooth of the search; a stretch of n coils keeps this many divided by n.
_STATES = 4000
_FIRST_STATES = 600
# What a path holds so far: nothing that was at the lead or the far end, a piece with the lead, one with the far end,
# one with both (a whole found path), or two different pieces of which one goes first and the other last.
_NOTHING, _LEAD, _FAR, _WHOLE, _BOTH = "", "S", "F", "W", "SF"
_ENDS_KEPT = {_NOTHING: 0, _LEAD: 1, _FAR: 1, _WHOLE: 1, _BOTH: 2}  # where they are


def neighbour_paths(found, parallel, far_ends):
    """Paths by phase with the fewest cuts, how many, and if proven; "all", "one" or "none" may leave its far ends."""
    # Equation: cuts = wires parted between coils + ends taken off a lead or a star point.
    # Valid: proven when at the bound, a − gcd(a, a₀) wires and, if positive, a₀ − a ends on each side, for a₀ paths
    #     found and a wanted; or when the search was complete. With more than 4000 / coils per phase states at a coil
    #     only the cheapest are followed: a good deal, but not proven.
    # Source: counting.
    searches = {(phase, keep): CutSearch(found, phase, parallel, keep) for phase in PHASES for keep in (False, True)}
    if far_ends == "one":
        kinds = [{phase: phase == kept for phase in PHASES} for kept in PHASES]
    else:
        kinds = [dict.fromkeys(PHASES, far_ends == "all")]
    deals = [[searches[item] for item in kind.items()] for kind in kinds]
    best = min(deals, key=lambda deal: sum(search.best[0] for search in deal))
    paths = {search.phase: in_order(found, search.phase, search.best[1]) for search in best}
    proven = all(search.best[2] for deal in deals for search in deal)
    return paths, sum(search.best[0] for search in best), proven


def spread_paths(found, parallel):
    """Deal the coils of each EMF angle to the paths in turn, so that each path goes round the whole ring."""
    paths = {}
    for phase in PHASES:
        alike = {}
        for tooth in sorted(tooth for path in found.paths[phase] for tooth, _ in path):
            alike.setdefault(angle_class(found.stator, tooth), []).append(tooth)
        groups = [[tooth for teeth in alike.values() for tooth in teeth[k::parallel]] for k in range(parallel)]
        paths[phase] = in_order(found, phase, groups)
    return paths


def in_order(found, phase, groups):
    """Put the coils of each path in order: found wires stay, then the next piece is the nearest one."""
    slots, sense = found.stator.slots, found.sense
    ordered = []
    for group in sorted(groups, key=min):
        pieces = _pieces(found.paths[phase], set(group))
        path = [tooth for piece in _chained(pieces, found.paths[phase], slots) for tooth in piece]
        ordered.append(tuple((tooth, sense * found.stator.coils[tooth - 1].polarity) for tooth in path))
    return tuple(ordered)


def _pieces(chains, group):
    """Stretches of the found paths that lie in one new path."""
    pieces = []
    for chain in chains:
        inside = False
        for tooth, _ in chain:
            if tooth in group:
                if inside:
                    pieces[-1].append(tooth)
                else:
                    pieces.append([tooth])
            inside = tooth in group
    return pieces


def _chained(pieces, chains, slots):
    """A piece that has the lead first, one that has the far end last, between them the nearest in turn."""
    at_lead, far = {chain[0][0] for chain in chains}, {chain[-1][0] for chain in chains}
    firsts = [piece for piece in pieces if piece[0] in at_lead]
    lasts = [piece for piece in pieces if piece[-1] in far]
    # A whole found path can be first or last, not both: leave it the place for which there is no other.
    first = min(firsts, key=lambda piece: (piece in lasts, min(piece)), default=None)
    others = [piece for piece in lasts if piece is not first]
    last = max(others, key=lambda piece: (piece not in firsts, max(piece)), default=None)
    rest = [piece for piece in pieces if piece is not first and piece is not last]
    if first is None:
        first = min(rest, key=min, default=None)
        rest = [piece for piece in rest if piece is not first]
    row = [piece for piece in (first,) if piece]
    while rest:
        here = row[-1][-1]
        nearest = min(rest, key=lambda piece: (_apart(here, piece[0], slots), piece[0]))
        row.append(nearest)
        rest.remove(nearest)
    return row + [piece for piece in (last,) if piece]


def _apart(tooth, other, slots):
    steps = (other - tooth) % slots
    return min(steps, slots - steps)


@dataclass(frozen=True)
class _State:
    """A deal of the first coils; paths other than the present one are in sorted order, so that equal deals meet."""

    others: tuple  # (coils still wanted by class, what it holds) of each path
    names: tuple  # the numbers of these paths
    here: tuple  # the same for the path of the coil before
    name: int
    from_lead: bool  # the piece being laid began at a lead
    cost: int
    trail: tuple  # (trail before, number of the path taken)

    @property
    def key(self):
        return self.others, self.here, self.from_lead


class CutSearch:
    """Fewest cuts in one phase: tooth by tooth along the found paths, the cheapest deals kept."""

    def __init__(self, found, phase, parallel, keep_far):
        self.phase, self.parallel, self.keep_far = phase, parallel, keep_far
        chains = [[tooth for tooth, _ in path] for path in found.paths[phase]]
        count = Counter(angle_class(found.stator, tooth) for chain in chains for tooth in chain)
        classes = {angle: k for k, angle in enumerate(count)}
        self.teeth = [tooth for chain in chains for tooth in chain]
        self.classes = [classes[angle_class(found.stator, tooth)] for tooth in self.teeth]
        self.quota = tuple(times // parallel for times in count.values())
        self.begins = {sum(map(len, chains[:k])) for k in range(len(chains))}
        self.chain, self.chains = len(chains[0]), len(chains)
        self.size = len(self.teeth) // parallel
        self.forced = self._forced_cuts()

    @property
    def bound(self):
        """No deal has fewer cuts than this [-]."""
        # Draw found and new paths as dots and each piece as a line between two: a connected part holds whole paths of
        # both kinds, so there are at most gcd parts, and no fewer lines than dots less parts.
        links = self.parallel - gcd(self.parallel, self.chains)
        legs = max(0, self.chains - self.parallel)
        return max(self.forced[0], links) + legs * (2 if self.keep_far else 1)

    @cached_property
    def best(self):
        """(cuts, groups of teeth, whether proven fewest): a narrow search, and a wide one where that may help."""
        cost, groups, _ = self.run(max(8, _FIRST_STATES // len(self.teeth)), None)
        if cost == self.bound:
            return cost, groups, True
        wide = self.run(max(40, _STATES // len(self.teeth)), cost)
        return wide if wide[1] else (cost, groups, wide[2])

    def run(self, width, beat):
        """The cheapest deal, and whether none was dropped that could be cheaper; `beat` drops what cannot be below."""
        empty = (self.quota, _NOTHING)
        start = _State((empty,) * self.parallel, tuple(range(self.parallel)), None, -1, False, 0, None)
        layer, complete = [start], True
        legs = self.chains * (2 if self.keep_far else 1)
        for place in range(len(self.teeth)):
            reached = {}
            for state in layer:
                for after in self._next(state, place):
                    if beat is None or after.cost + legs + self._least_to_come(after, place + 1) < beat:
                        known = reached.get(after.key)
                        if known is None or after.cost < known.cost:
                            reached[after.key] = after
            layer = sorted(reached.values(), key=lambda state: state.cost)
            complete, layer = complete and len(layer) <= width, layer[:width]
        if not layer:
            return beat, None, complete
        return layer[0].cost + legs, self._groups(layer[0].trail), complete

    def _groups(self, trail):
        groups = [[] for _ in range(self.parallel)]
        for tooth in reversed(self.teeth):
            trail, name = trail
            groups[name].append(tooth)
        return groups

    def _next(self, state, place):
        """Every way to lay the coil at this place: in the path of the coil before, or in another."""
        begins, kind = place in self.begins, self.classes[place]
        if state.here is not None and state.here[0][kind]:
            yield self._laid(state, state.others, state.names, state.here, state.name, place, 0)
        seen = set()
        for k, path in enumerate(state.others):
            if path[0][kind] and path not in seen:
                seen.add(path)
                others = [*zip(state.others[:k], state.names), *zip(state.others[k + 1 :], state.names[k + 1 :])]
                cost, here = state.cost, state.here
                if here is not None:
                    if not begins and state.from_lead:
                        here, gain = self._holding(here, _LEAD)
                        cost -= gain
                    others.append((here, state.name))
                others.sort()
                after = tuple(path for path, _ in others), tuple(name for _, name in others)
                cost += 0 if begins else 1
                yield self._laid(state, *after, path, state.names[k], place, cost - state.cost, moved=True)

    def _laid(self, state, others, names, path, name, place, cost, moved=False):
        kind, begins = self.classes[place], place in self.begins
        wanted = (*path[0][:kind], path[0][kind] - 1, *path[0][kind + 1 :])
        from_lead = begins or (state.from_lead and not moved)
        here, gain = (wanted, path[1]), 0
        if (place + 1) % self.chain == 0:
            piece = (_BOTH if self.chain == self.size else _WHOLE) if from_lead else _FAR
            here, gain = self._holding(here, piece)
            from_lead = False
        return _State(others, names, here, name, from_lead, state.cost + cost - gain, (state.trail, name))

    def _holding(self, path, piece):
        """The path with one more piece, and how many more ends stay where they are for it."""
        wanted, held = path
        if held == _NOTHING or piece == _BOTH:
            after = piece
        elif held == _BOTH or (held == piece and piece != _WHOLE):
            after = held
        else:
            after = _BOTH
        if not self.keep_far:
            after = _NOTHING if after == _FAR else _LEAD
        return (wanted, after), _ENDS_KEPT[after] - _ENDS_KEPT[held]

    def _least_to_come(self, state, place):
        """Cuts that must still come, less the ends that may still stay."""
        left = sum(place <= begin for begin in self.begins)
        most = 2 if self.keep_far else 1
        paths = (*state.others, state.here)
        untouched = sum(path == (self.quota, _NOTHING) for path in paths)
        room = sum(most - _ENDS_KEPT[path[1]] for path in paths)
        running = place % self.chain != 0
        forced = self.forced[place] if place < len(self.teeth) else 0
        return max(forced, untouched - left) - min(room, most * left + (most if running else 0))

    def _forced_cuts(self):
        """For each place, cuts in the rest even if a fresh path begins there and every path were empty."""
        forced = []
        for first in range(len(self.teeth)):
            cuts, wanted = 0, list(self.quota)
            for place in range(first, len(self.teeth)):
                if place in self.begins:
                    wanted = list(self.quota)
                if not wanted[self.classes[place]]:
                    cuts, wanted = cuts + 1, list(self.quota)
                wanted[self.classes[place]] -= 1
            forced.append(cuts)
        return forced
