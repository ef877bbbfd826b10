"""Wires round a ring of coils, on tracks so that those that overlap never lie on each other."""

from dataclasses import dataclass

_GAP_DEG = 0.1


@dataclass(frozen=True, kw_only=True)
class Arc:
    """A wire from coil to coil round the coil heads, the shorter way."""

    ends: tuple  # the two CoilEnds that it ties together
    start_deg: float  # clockwise from the mark
    length_deg: float  # on clockwise, at most half a turn
    radius_px: float = 0.0  # its track, from the middle of the picture

    @property
    def middle_deg(self):
        """Half-way, clockwise from the mark [°]."""
        return self.start_deg + self.length_deg / 2


def placed(arcs, inner_px, gap_px, room_deg):
    """The same arcs on tracks beside each other, each with its least room along the track."""
    rows = tracks(arcs, room_deg)
    return tuple(
        Arc(ends=arc.ends, start_deg=arc.start_deg, length_deg=arc.length_deg, radius_px=inner_px + gap_px * row)
        for arc, row in zip(arcs, rows, strict=True)
    )


def tracks(arcs, room_deg=0.0):
    """Number of the track of each arc, inner ones first: those which overlap in angle never share one."""
    # Equation: from a cut through the circle on, each arc in turn takes the lowest free track; the best of the cuts
    #     that the fewest arcs cross.
    # Valid: no track can be saved when there are as many as arcs at one angle, else a few may be; on a circle the least
    #     number is costly to find.
    # Source: colouring of circular arcs, first fit (from memory).
    spans = []
    for arc in arcs:
        length = max(arc.length_deg, room_deg) + _GAP_DEG
        spans.append(((arc.middle_deg - length / 2) % 360, length))
    if not spans:
        return ()
    load = {cut: sum((cut - start) % 360 < length for start, length in spans) for cut, _ in spans}
    best = None
    for cut in sorted(load, key=load.get)[:8]:
        rows = _first_fit(spans, cut)
        if best is None or max(rows) < max(best):
            best = rows
        if 1 + max(best) == max(load.values()):
            break
    return tuple(best)


def _first_fit(spans, cut):
    """First fit from one cut on: a track is free from the end of its last arc to where its first one begins again."""
    rows, until, again = [0] * len(spans), [], []
    crossing = [(start - cut) % 360 + length > 360 for start, length in spans]
    order = sorted(range(len(spans)), key=lambda n: (not crossing[n], (spans[n][0] - cut) % 360))
    for n in order:
        start = (spans[n][0] - cut) % 360
        end, first = start + spans[n][1], start
        if crossing[n]:
            start, first = 0.0, start
            end -= 360
        fits = (row for row in range(len(until)) if not crossing[n] and until[row] <= start and end <= again[row])
        row = next(fits, len(until))
        if row == len(until):
            until.append(0.0)
            again.append(360.0)
        rows[n], until[row] = row, end
        if crossing[n]:
            again[row] = first
    return rows
