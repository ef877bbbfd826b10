"""Where everything of a bench drawing lies: teeth, wire ends, tracks of the wires, rings, badges."""

from dataclasses import dataclass
from functools import cached_property
from math import cos, degrees, pi, radians, sin

from statorbook.drawings.stator_ring import ToothRadii
from statorbook.drawings.wire_tracks import Arc, placed, tracks
from statorbook.rewiring import Plan
from statorbook.winding import STAR_POINT

# From the inside out.
_RINGS = ("lead A", "lead B", "lead C", STAR_POINT)
# From the middle of the tooth, as a share of the tooth pitch and at most: the wire ends. Beside each a lane for a wire
# that was there and one for a new wire, so that the two never lie on each other.
_END, _MOST_END_PX, _LANE = 0.25, 36, 0.5
_KEY_PX, _KEY_PX_PER_SLOT = 200, 2.3
_LINK_PX, _RING_PX, _MARGIN_PX = 13, 15, 82
_FEW_TRACKS, _JUMPER_PX, _CLOSE_PX = 14, 17, 12
_CUT_SIGN_PX, _CUT_DIGIT_PX, _OFF_PX = 13, 7, 34
# From one ring's name to the next.
_APART_DEG = 12
# Ends that take more of a zoomed window than this would stand at its rim.
_MOST_OF_WINDOW = 0.8


@dataclass(frozen=True, kw_only=True)
class BenchLayout:
    """The places of a plan's drawing; angles clockwise from the mark on top, radii from the middle."""

    plan: Plan

    @property
    def slots(self):
        """Teeth on the ring."""
        return self.plan.found.stator.slots

    @property
    def key_px(self):
        """Radius of the free disc in the middle, for the key [px]."""
        return max(_KEY_PX, _KEY_PX_PER_SLOT * self.slots)

    @cached_property
    def teeth(self):
        """The teeth, as `ToothRadii`."""
        key = self.key_px
        return ToothRadii(
            yoke_px=key + 62, coil_in_px=key + 64, coil_out_px=key + 116, tip_in_px=key + 118, tip_px=key + 128
        )

    @cached_property
    def sign_px(self):
        """Radius of the small circle at a wire end [px]."""
        return min(0.19 * 2 * pi * self.teeth.tip_px / self.slots, 9.0)

    @cached_property
    def end_px(self):
        """Radius on which the wire ends stand [px]."""
        return self.teeth.tip_px + 6 + self.sign_px

    def end_deg(self, end):
        """Where a wire end stands: clockwise, the start comes first [°]."""
        aside = min(_END * 360 / self.slots, degrees(_MOST_END_PX / self.end_px))
        return (end.tooth - 1) * 360 / self.slots + (-aside if end.side == "S" else aside)

    def lane_deg(self, end, new):
        """The angle of a wire at an end, of one that was there or of a new one [°]."""
        inward = 1 if end.side == "S" else -1
        return self.end_deg(end) + (inward if new else -inward) * degrees(_LANE * self.sign_px / self.end_px)

    def _arc(self, ends, new):
        start, finish = (self.lane_deg(end, new) for end in ends)
        there = (finish - start) % 360
        if there > 180:
            start, there = finish, 360 - there
        return Arc(ends=ends, start_deg=start, length_deg=there)

    @cached_property
    def links(self):
        """Wires from coil to coil as found, as a tuple of `Arc` in the order of the found links."""
        inner, digits = self.end_px + self.sign_px + 13, len(str(len(self.plan.cuts)))
        arcs = [self._arc(link, False) for link in self.plan.found.links]
        # A cut needs room for its sign and number along the wire.
        room = (2 * _CUT_SIGN_PX + _CUT_DIGIT_PX * digits) / inner * 180 / pi
        return placed(arcs, inner, _LINK_PX, room)

    @cached_property
    def jumpers(self):
        """New wires from coil to coil, as a tuple of `Arc` in the order of the plan's joins."""
        arcs = [self._arc(join.ends, True) for join in self.plan.joins]
        inner = max((arc.radius_px for arc in self.links), default=self.end_px + self.sign_px) + 14
        return placed(arcs, inner, self.jumper_gap_px, 2 * self.badge_px / inner * 180 / pi)

    @cached_property
    def jumper_gap_px(self):
        """From one jumper's track to the next [px]."""
        return _JUMPER_PX if self._jumper_tracks <= _FEW_TRACKS else _CLOSE_PX

    @cached_property
    def badge_px(self):
        """Radius of the round badge with a jumper's number [px]."""
        return 8.0 if self._jumper_tracks <= _FEW_TRACKS else 5.5

    @cached_property
    def _jumper_tracks(self):
        arcs = [self._arc(join.ends, True) for join in self.plan.joins]
        return 1 + max(tracks(arcs), default=0)

    @cached_property
    def off_px(self):
        """Radius of the signs of ends that are taken off a lead or the star point [px]."""
        outermost = max((arc.radius_px for arc in (*self.links, *self.jumpers)), default=self.end_px + self.sign_px)
        return outermost + 17

    @cached_property
    def rings_px(self):
        """Radius of each ring: name of a lead or star point, also of one that ceases → radius [px]."""
        inner = self.off_px + (_OFF_PX if any(cut.off for cut in self.plan.cuts) else 0)
        names = [name for name in _RINGS if name in self.plan.buses or name in self.plan.found.nets]
        return {name: inner + _RING_PX * place for place, name in enumerate(names)}

    @cached_property
    def half_px(self):
        """Half the picture, so its middle [px]."""
        return max(self.rings_px.values()) + _MARGIN_PX

    @cached_property
    def leaves_deg(self):
        """Where each ring's cable leaves and, as "bridge", an opened star point is joined; no radial wire there [°]."""
        # Beside an end that the ring has now, if there is one: there the cable of a lead is soldered on.
        step, taken = 180 / self.slots, {}
        bridge = ("bridge",) if STAR_POINT in self.rings_px else ()
        for name in (*self.rings_px, *bridge):
            left = self.plan.stays.get(name, ("", ()))[1]
            near = sorted(left) or sorted(self.plan.buses.get(name, ())) or sorted(self.plan.found.nets.get(name, ()))
            wanted = self.end_deg(near[0]) if near else taken[STAR_POINT]
            places = sorted(range(2 * self.slots), key=lambda n: _apart(n * step, wanted))
            clear = (n * step for n in places if all(_apart(n * step, deg) >= _APART_DEG for deg in taken.values()))
            taken[name] = next(clear)
        return taken

    def point(self, deg, radius_px):
        """A place in the picture, (x, y) [px]."""
        return self.half_px + radius_px * sin(radians(deg)), self.half_px - radius_px * cos(radians(deg))

    def place_of(self, ends, share):
        """Where to look for some wire ends through a window of that share of the picture, across and down it [-]."""
        full = 2 * self.half_px
        if not ends:
            return 0.5, 0.5
        places = [self.point(self.end_deg(end), self.end_px) for end in ends]
        axes = list(zip(*places, strict=True))
        if max(max(axis) - min(axis) for axis in axes) > _MOST_OF_WINDOW * share * full:
            axes = list(zip(*places[:1], strict=True))  # too far apart to be seen at once: the first of them
        across, down = ((max(axis) + min(axis)) / 2 / full for axis in axes)
        return across, down

    @cached_property
    def badges_deg(self):
        """Angle of each jumper's badge: middle of a tooth or slot near half-way, where no radial wire runs [°]."""
        step, angles = 180 / self.slots, []
        for arc in self.jumpers:
            end = arc.start_deg + arc.length_deg
            clear = [n * step for n in range(int(arc.start_deg // step), int(end // step) + 2)]
            inside = [deg for deg in clear if arc.start_deg < deg < end] or [arc.middle_deg]
            angles.append(min(inside, key=lambda deg: abs(deg - arc.middle_deg)))
        return tuple(angles)

    def ring_arc(self, name, found=False):
        """Where a ring begins and how far it goes on clockwise, past all ends that it has now or in the end [°]."""
        left = self.plan.stays.get(name, (name, ()))[1]
        angles = [self.leaves_deg[name], *(self.lane_deg(end, False) for end in left)]
        if found:
            angles += [self.lane_deg(end, False) for end in self.plan.found.nets.get(name, ())]
        else:
            angles += [self.lane_deg(end, True) for end in self.plan.new_on_bus.get(name, ())]
            angles += [self.leaves_deg["bridge"]] if self.bridged and name in (STAR_POINT, self.bridged) else []
        around = sorted(angle % 360 for angle in angles)
        gaps = [(after - before) % 360 for before, after in zip(around, [*around[1:], around[0]], strict=True)]
        widest = max(range(len(gaps)), key=gaps.__getitem__)
        return around[(widest + 1) % len(around)], 360 - gaps[widest] if len(around) > 1 else 0.0

    @property
    def bridged(self):
        """The lead that takes what is left of an opened star point; empty when there is none."""
        heir, left = self.plan.stays.get(STAR_POINT, (STAR_POINT, ()))
        return heir if left and heir != STAR_POINT else ""


def _apart(deg, other_deg):
    """The shorter way from one angle to another."""
    return abs((deg - other_deg + 180) % 360 - 180)
