"""The bench drawing of a plan: the stator as it lies there, what is cut, what is joined, and each step of the work."""

from dataclasses import dataclass
from functools import cached_property
from html import escape
from math import cos, radians, sin

from statorbook.drawings.bench_key import key, ring_words
from statorbook.drawings.bench_layout import BenchLayout
from statorbook.drawings.coil_symbols import HALO, Look, badge, cross, dot, ring, stroke, tag, wire, wire_end
from statorbook.drawings.stator_ring import INK, iron, ring_of_words, tooth
from statorbook.errors import BadInput
from statorbook.rewiring import Plan, steps
from statorbook.winding import STAR_POINT, CoilEnd

_THERE, _LATER, _LEFT_OUT = Look(state="there"), Look(state="later"), None


@dataclass(frozen=True, kw_only=True)
class BenchDrawing:
    """A plan drawn as the stator lies on the bench; a cell may end with it.

    Parameters
    ----------
    plan : Plan
        The work as data.
    shown_steps : sequence of int or None
        Numbers of the steps whose work is in the picture, as if the others were still to be planned; None for all.
    at_step : int or None
        The step being done: what comes before is done, what comes later is pale; None for the whole plan [-].

    Raises
    ------
    BadInput
        When the plan has no such step, or the step being done is not among those shown.
    """

    plan: Plan
    shown_steps: tuple | None = None
    at_step: int | None = None

    def __post_init__(self):
        count = len(self.steps)
        asked = [*(self.shown_steps or ()), *([] if self.at_step is None else [self.at_step])]
        for number in asked:
            if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= count:
                raise BadInput(
                    f"step {number!r} was given",
                    f"the plan has the steps 1 to {count}",
                    "choose one of them",
                    where="bench drawing",
                )
        if self.shown_steps is not None and self.at_step is not None and self.at_step not in self.shown_steps:
            raise BadInput(
                f"step {self.at_step} is being done but not shown",
                "the step being done is among those shown",
                "add it to the steps shown",
                where="bench drawing",
            )

    @cached_property
    def steps(self):
        """The plan written out, as a tuple of `Step`."""
        return steps(self.plan)

    @cached_property
    def layout(self):
        """Where everything lies, as a `BenchLayout`."""
        return BenchLayout(plan=self.plan)

    @cached_property
    def _names(self):
        """The path of each coil, such as "A2", by tooth."""
        return {coil: name for name, path in self.plan.wired.named_paths.items() for coil, _ in path}

    @cached_property
    def _step_of(self):
        return {(step.kind, step.ends): step.number for step in self.steps}

    @cached_property
    def _now(self):
        """The step being done, or None."""
        return None if self.at_step is None else self.steps[self.at_step - 1]

    @cached_property
    def _cuts(self):
        """(number, cut, how it stands now) of every cut, left out or not."""
        return [(number, cut, self._look("cut", cut.ends, "gone")) for number, cut in enumerate(self.plan.cuts, 1)]

    @cached_property
    def _joins(self):
        """(join, its arc, where its badge stands, how it stands now) of every jumper that is shown."""
        layout = self.layout
        rows = zip(self.plan.joins, layout.jumpers, layout.badges_deg, strict=True)
        looks = ((*row, self._look("join", row[0].ends, "new", row[0].path[0])) for row in rows)
        return [row for row in looks if row[-1]]

    @property
    def description(self):
        """The picture in words, for whoever cannot see it: every coil, cut and jumper and what meets on each ring."""
        plan = self.plan
        coils = ", ".join(f"{tooth} {name}" for tooth, name in sorted(self._names.items()))
        cuts = [f"cut {n}: {_labels(cut.ends)}{f' off {cut.off}' if cut.off else ''}" for n, cut, _ in self._cuts]
        joins = [f"jumper {join.number}, path {join.path}: {_labels(join.ends)}" for join in plan.joins]
        rings = [f"{name}: {_labels(ends, ', ')}" for name, ends in plan.buses.items()]
        step = f" Step {self.at_step} of {len(self.steps)}: {self._now.words.text}" if self._now else ""
        return (
            f"Stator with {plan.found.stator.slots} teeth, tooth 1 at the mark on top, numbered clockwise, for "
            f"{plan.grouping.label}; on each coil the start S comes before the finish F. Path of each coil: {coils}. "
            f"Cuts: {'; '.join(cuts) or 'none'}. Jumpers: {'; '.join(joins) or 'none'}. "
            f"In the end each ring holds: {'; '.join(rings)}.{step}"
        )

    def svg(self, size_px=900):
        """The picture.

        Parameters
        ----------
        size_px : float
            Width and height [px].

        Returns
        -------
        str
            An `<svg>` element without ids, so that any number of them can stand on one page.
        """
        full = f"{2 * self.layout.half_px:.1f}"
        parts = [
            f'<rect width="{full}" height="{full}" fill="white"/>',
            self._teeth(),
            *self._rings(),
            *self._links(),
            *self._taps(),
            *self._jumpers(),
            *self._wire_ends(),
            *self._signs(),
            self._leads(),
            key(self),
        ]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.description)}" '
            f'width="{size_px:g}" height="{size_px:g}" viewBox="0 0 {full} {full}" '
            'font-family="DejaVu Sans, Verdana, sans-serif">\n' + "\n".join(filter(None, parts)) + "\n</svg>"
        )

    def _repr_svg_(self):
        return self.svg()

    def _look(self, kind, ends, done, phase=""):
        """How the work of a step stands now; None when it is left out."""
        number = self._step_of[kind, ends]
        if self.shown_steps is not None and number not in self.shown_steps:
            return _LEFT_OUT
        if self.at_step is None or number < self.at_step:
            return Look(state=done, phase=phase)
        return Look(state=done, phase=phase, now=True) if number == self.at_step else _LATER

    def _phase(self, end):
        return self._names[end.tooth][0]

    def _teeth(self):
        stator, half, radii = self.plan.found.stator, self.layout.half_px, self.layout.teeth
        parts = [iron(half, self.layout.key_px + 42, radii.yoke_px)]
        if self._now and self._now.kind == "mark" and not self._now.ends:
            parts.append(
                f'<circle cx="{half:.1f}" cy="{half:.1f}" r="{self.layout.key_px + 29:.1f}" fill="none" '
                f'stroke="{HALO}" stroke-width="19"/>'
            )
        parts += [tooth(coil, stator.slots, half, radii) for coil in stator.coils]
        teeth = range(1, stator.slots + 1)
        parts.append(ring_of_words([str(n) for n in teeth], self.layout.key_px + 29, half, "normal"))
        parts.append(ring_of_words([self._names[n] for n in teeth], self.layout.key_px + 2, half, "bold"))
        return "".join(parts)

    def _radial(self, deg, *radii):
        places = (self.layout.point(deg, radius) for radius in radii)
        return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in places)

    def _round(self, start_deg, length_deg, radius):
        (x, y), (far_x, far_y) = (self.layout.point(d, radius) for d in (start_deg, start_deg + length_deg))
        return f"{x:.1f} {y:.1f}A{radius:.1f} {radius:.1f} 0 {int(length_deg > 180)} 1 {far_x:.1f} {far_y:.1f}"

    def _along(self, arc):
        """Out from one wire end, round, and back in to the other."""
        last = arc.start_deg + arc.length_deg
        (x, y), (far_x, far_y) = (self.layout.point(d, self.layout.end_px) for d in (arc.start_deg, last))
        around = self._round(arc.start_deg, arc.length_deg, arc.radius_px)
        return f"M{x:.1f} {y:.1f}L{around}L{far_x:.1f} {far_y:.1f}"

    def _as_found(self, look):
        """A wire that is to be cut later is still there."""
        return _THERE if look is None or look.state == "later" else look

    def _links(self):
        looks = {cut.ends: look for _, cut, look in self._cuts}
        for arc in self.layout.links:
            yield wire(self._along(arc), self._as_found(looks[arc.ends]) if arc.ends in looks else _THERE)

    def _rings(self):
        """The rings of leads and star point; thin or pale where one goes past ends that are taken off."""
        for name, radius in self.layout.rings_px.items():
            left = [self._as_found(look) for _, cut, look in self._cuts if cut.off == name]
            if left:
                state = "there" if any(look.state == "there" for look in left) else "gone"
                yield wire("M" + self._round(*self.layout.ring_arc(name, found=True), radius), Look(state=state))
            kept = name in self.plan.found.nets and (name in self.plan.buses or self.plan.stays[name][1])
            look = self._bus_look(name)
            if kept and (look is None or look.state == "later"):
                look = Look(state="new")
            if look:
                yield ring("M" + self._round(*self.layout.ring_arc(name), radius), name, look)

    def _bus_look(self, name):
        """How the work on a ring stands; None when there is none, or none is shown."""
        if name not in self.plan.bus_mm:
            return None
        return self._look("bus", self.plan.buses[name], "new")

    def _taps(self):
        """From every wire end on a ring out to it: thin as found, dashed when cut, bold when new."""
        plan, rings = self.plan, self.layout.rings_px
        looks = {(cut.off, cut.ends[0]): look for _, cut, look in self._cuts if cut.off}
        for name, ends in plan.found.nets.items():
            for end in sorted(ends):
                look = self._as_found(looks.get((name, end)))
                yield self._tap(end, rings[name], look, new=False, joint=look.state == "there")
        for name, ends in plan.new_on_bus.items():
            look = self._bus_look(name)
            for end in ends if look else ():
                own = look if look.state == "later" else Look(state="new", now=look.now, phase=self._phase(end))
                yield self._tap(end, rings[name], own, new=True, joint=True)
        yield self._bridge()

    def _tap(self, end, radius, look, *, new, joint):
        deg = self.layout.lane_deg(end, new)
        line = wire(self._radial(deg, self.layout.end_px, radius), look)
        return line + (dot(self.layout.point(deg, radius), pale=look.state == "later") if joint else "")

    def _bridge(self):
        """What is left of an opened star point is joined as one piece to the lead that takes it."""
        heir = self.layout.bridged
        look = self._bus_look(heir) if heir else None
        if look is None:
            return ""
        deg, radii = self.layout.leaves_deg["bridge"], [self.layout.rings_px[name] for name in (STAR_POINT, heir)]
        dots = (dot(self.layout.point(deg, radius), pale=look.state == "later") for radius in radii)
        return wire(self._radial(deg, *radii), look) + "".join(dots)

    def _jumpers(self):
        return (wire(self._along(arc), look) for _, arc, _, look in self._joins)

    def _wire_ends(self):
        now = set(self._now.ends) if self._now else set()
        for number in range(1, self.layout.slots + 1):
            for side in "SF":
                end = CoilEnd(tooth=number, side=side)
                place = self.layout.point(self.layout.end_deg(end), self.layout.end_px)
                yield wire_end(place, self.layout.sign_px, side, now=end in now)

    def _signs(self):
        """Signs of the cuts and badges of the jumpers, on top of all wires."""
        links = {arc.ends: arc for arc in self.layout.links}
        for number, cut, look in self._cuts:
            if look and cut.off:
                deg = self.layout.lane_deg(cut.ends[0], False)
                yield cross(self.layout.point(deg, self.layout.off_px), number, look, along_deg=deg, outward=True)
            elif look:
                arc = links[cut.ends]
                place = self.layout.point(arc.middle_deg, arc.radius_px)
                yield cross(place, number, look, along_deg=arc.middle_deg, outward=False)
        for join, arc, deg, look in self._joins:
            yield badge(self.layout.point(deg, arc.radius_px), self.layout.badge_px, str(join.number), look)

    def _leads(self):
        """Name of each ring in its corner, with the cable of a lead; highlighted when the leads are measured."""
        words, outermost = [], max(self.layout.rings_px.values())
        asked = self._now is not None and self._now.check == "alike"
        for name, radius in self.layout.rings_px.items():
            deg, lead = self.layout.leaves_deg[name], name != STAR_POINT
            line = self._radial(deg, radius, outermost + 14)
            look = Look(state="new", now=asked, phase=name[-1]) if lead else None
            words.append(wire(line, look) if look else stroke(line, INK, 0.9))
            words.append(self._ring_name(name, deg, outermost + 20))
        return "".join(words)

    def _ring_name(self, name, deg, radius):
        """The name beside the end of the cable, in two lines, away from the ring."""
        lines = ring_words(self.plan, name).rsplit(" ", 1)
        out, up = sin(radians(deg)), cos(radians(deg))
        x, y = self.layout.point(deg, radius + 8 * abs(up))
        anchor = "middle" if abs(out) < 0.3 else "start" if out > 0 else "end"
        return "".join(tag((x, y + 15 * (n - 0.5) - 6 * up), line, 13, anchor=anchor) for n, line in enumerate(lines))


def _labels(ends, between=" to "):
    return between.join(end.label for end in ends)
