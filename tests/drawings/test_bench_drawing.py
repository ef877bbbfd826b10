"""The bench drawing: everything of the plan stands in it once, nothing lies on anything else, each step shows."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from math import atan2, degrees, hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.drawings.bench_drawing import BenchDrawing
from statorbook.drawings.coil_symbols import HALO, PALE, Look, wire
from statorbook.drawings.stator_ring import PHASE_LOOK
from statorbook.drawings.wire_tracks import Arc, tracks
from statorbook.errors import BadInput
from statorbook.rewiring.plan import LAYOUTS, cut_and_join
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import PHASES, found_wiring
from strategies import stators

wording = sentences_of("drawings")

SVG = "{http://www.w3.org/2000/svg}"
CROSS = re.compile(r"M[-\d.]+ [-\d.]+L[-\d.]+ [-\d.]+M[-\d.]+ [-\d.]+L[-\d.]+ [-\d.]+")
NUMBER = r"(-?[\d.]+)"
AROUND = re.compile(rf"M{NUMBER} {NUMBER}L{NUMBER} {NUMBER}A{NUMBER} \S+ 0 [01] 1 {NUMBER} {NUMBER}L")


def planned(slots, poles, before, after, layout="neighbours", connections=("star", "star")):
    stator = Stator(slots=slots, poles=poles)
    kinds = [
        Grouping(series=slots // 3 // paths, parallel=paths, connection=kind)
        for paths, kind in zip((before, after), connections, strict=True)
    ]
    return cut_and_join(found_wiring(stator, kinds[0]), kinds[1], layout)


PLANS = {
    "nine, to parallel": planned(9, 12, 1, 3),
    "nine, to series": planned(9, 12, 3, 1),
    "twelve and fourteen": planned(12, 14, 1, 2),
    "reversed coils": planned(24, 22, 1, 2),
    "36, three paths": planned(36, 48, 1, 3),
    "36, spread": planned(36, 48, 1, 3, "spread"),
    "36, all parallel": planned(36, 48, 1, 12),
    "36, all series": planned(36, 48, 12, 1),
    "to delta": planned(36, 48, 12, 12, connections=("star", "delta")),
    "to star": planned(36, 48, 3, 4, connections=("delta", "star")),
    "delta stays": planned(24, 22, 1, 2, connections=("delta", "delta")),
    "144": planned(144, 120, 1, 12, "spread"),
    "nothing to do": planned(9, 12, 1, 1),
    # The path of phase A runs backwards, 7 4 1: from 7F back to 4S the shorter way is anticlockwise.
    "backwards": replace(planned(9, 12, 3, 1), paths={**planned(9, 12, 3, 1).paths, "A": (((7, 1), (4, 1), (1, 1)),)}),
}
plans = pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)


def page_of(plan, **options):
    return ET.fromstring(BenchDrawing(plan=plan, **options).svg())


def drawn(page):
    """Everything but the key, which is the last group."""
    return list(page)[:-1]


def crosses(page):
    """Number of each cut sign → whether it is pale."""
    found = {}
    for group in (each for each in drawn(page) if each.tag == f"{SVG}g"):
        lines = [path for path in group.findall(f"{SVG}path") if CROSS.fullmatch(path.get("d"))]
        if lines:
            found[int(group.find(f"{SVG}text").text)] = lines[0].get("stroke") == PALE
    return found


def badges(page):
    """Number of each badge → its place and size."""
    found = {}
    for group in (each for each in drawn(page) if each.tag == f"{SVG}g"):
        circle = group.find(f"{SVG}circle")
        if circle is not None and not group.get("transform"):
            assert int(group.find(f"{SVG}text").text) not in found
            found[int(group.find(f"{SVG}text").text)] = tuple(float(circle.get(name)) for name in ("cx", "cy", "r"))
    return found


def half_of(page):
    return float(page.get("viewBox").split()[2]) / 2


def polar(page, x, y):
    half = half_of(page)
    return hypot(x - half, y - half), degrees(atan2(x - half, half - y)) % 360


def apart(deg, other):
    return abs((deg - other + 180) % 360 - 180)


def end_deg(slots, end):
    """By hand: tooth 1 on top, clockwise, the start a quarter pitch before the middle of the tooth or nearer to it."""
    return (end.tooth - 1) * 360 / slots


@plans
def test_every_tooth_cut_and_jumper_stands_once_with_its_number(plan):
    page = page_of(plan)
    assert sorted(crosses(page)) == list(range(1, len(plan.cuts) + 1))
    assert sorted(badges(page)) == [join.number for join in plan.joins]
    words = [each.text for each in drawn(page) if each.tag == f"{SVG}text"]
    slots = plan.found.stator.slots
    in_teeth = [each for each in drawn(page) if each.tag == f"{SVG}text" and each.get("font-weight") == "normal"]
    assert [int(each.text) for each in in_teeth] == list(range(1, slots + 1))
    for number, each in enumerate(in_teeth):
        deg = polar(page, float(each.get("x")), float(each.get("y")) - 0.36 * float(each.get("font-size")))[1]
        assert apart(deg, 360 * number / slots) < 0.5
    names = [word for word in words if re.fullmatch(r"[ABC]\d+", word)]
    by_tooth = {
        tooth: f"{phase}{n}" for phase in PHASES for n, path in enumerate(plan.paths[phase], 1) for tooth, _ in path
    }
    assert names == [by_tooth[tooth] for tooth in range(1, slots + 1)]
    assert words.count("S") == words.count("F") == slots


# Drawn by hand. Nine teeth, twelve poles: 240° a tooth, phases A C B A C B A C B, no coil reversed. Found, in series:
#   lead A – 1S 1F – 4S 4F – 7S 7F – star point; B the same over 3 6 9, C over 2 5 8.
# Three paths want each coil between lead and star point: both links of each phase are cut, 1F-4S 4F-7S, 3F-6S 6F-9S,
# 2F-5S 5F-8S. 1S stays on lead A and 7F on the star point; 4S and 7S come new to lead A, 1F and 4F to the star point.
def test_nine_teeth_by_hand():
    plan = PLANS["nine, to parallel"]
    drawing = BenchDrawing(plan=plan)
    assert (wording("Cuts: cut 1: 1F to")) in drawing.description
    page, rings = page_of(plan), drawing.layout.rings_px
    # Half-way from the first tooth of each link to its second: tooth 1 at 0° and 4 at 120° make 60°, and so on.
    signs = {}
    for group in (each for each in drawn(page) if each.tag == f"{SVG}g" and each.find(f"{SVG}path") is not None):
        path = group.find(f"{SVG}path").get("d")
        if CROSS.fullmatch(path):
            x, y, x2, y2, *_ = map(float, re.findall(NUMBER, path))
            signs[int(group.find(f"{SVG}text").text)] = polar(page, (x + x2) / 2, (y + y2) / 2)[1]
    assert signs == pytest.approx({1: 60, 2: 180, 3: 140, 4: 260, 5: 100, 6: 220}, abs=0.2)
    for name, teeth in {"lead A": (1, 4, 7), "lead B": (3, 6, 9), "lead C": (2, 5, 8)}.items():
        assert joints(page, rings[name]) == sorted((tooth - 1) * 40 for tooth in teeth)
    assert joints(page, rings["star point"]) == [40 * n for n in range(9)]


def joints(page, radius):
    """Teeth's angles at which a dot sits on a ring, on the nearest tooth of nine."""
    places = [
        polar(page, float(c.get("cx")), float(c.get("cy")))
        for c in drawn(page)
        if c.tag == f"{SVG}circle" and c.get("r") == "3.6"
    ]
    return sorted(40 * round(deg / 40) % 360 for r, deg in places if abs(r - radius) < 0.2)


@plans
def test_every_end_on_a_ring_has_a_tap_and_a_dot(plan):
    page, layout = page_of(plan), BenchDrawing(plan=plan).layout
    slots = plan.found.stator.slots
    lines = [
        polar(page, float(x), float(y))
        for each in drawn(page)
        if each.tag == f"{SVG}path"
        for x, y in re.findall(rf"L{NUMBER} {NUMBER}$", each.get("d"))
    ]
    dots = [
        polar(page, float(c.get("cx")), float(c.get("cy")))
        for c in drawn(page)
        if c.tag == f"{SVG}circle" and c.get("r") == "3.6"
    ]
    for name, ends in plan.buses.items():
        radius, left = layout.rings_px[name], plan.stays.get(name, ("", frozenset()))[1]
        for end in (end for end in ends if end in left or end in plan.new_on_bus[name]):
            for places in (lines, dots):
                # A start lies before the middle of its tooth, a finish after it, each within half a pitch.
                ahead = [(deg - end_deg(slots, end) + 180) % 360 - 180 for r, deg in places if abs(r - radius) < 0.2]
                sign = -1 if end.side == "S" else 1
                assert any(0 < sign * each < 180 / slots for each in ahead), (name, end.label)


def test_what_is_left_of_an_opened_star_point_is_joined_to_its_lead():
    plan = PLANS["to delta"]
    heir, left = plan.stays["star point"]
    page, rings = page_of(plan), BenchDrawing(plan=plan).layout.rings_px
    ends = [
        [polar(page, float(x), float(y))[0] for x, y in re.findall(rf"[ML]{NUMBER} {NUMBER}", each.get("d"))]
        for each in drawn(page)
        if each.tag == f"{SVG}path" and "A" not in each.get("d")
    ]
    assert len(left) == 12
    bridge = pytest.approx([rings["star point"], rings[heir]], abs=0.2)
    assert any(len(each) == 2 and each == bridge for each in ends)


def overlapping(one, other):
    """Whether two stretches (start, length) of a circle have an angle in common."""
    return (other[0] - one[0]) % 360 <= one[1] or (one[0] - other[0]) % 360 <= other[1]


def bold_wires(page):
    """(radius, start, length) of each wire round the ring that is drawn bold, from the picture alone."""
    found = set()
    for each in drawn(page):
        path = AROUND.match(each.get("d", "")) if each.tag == f"{SVG}path" else None
        if path and each.get("stroke") == "#222222" and float(each.get("stroke-width")) >= 5:
            x, y, far_x, far_y = (float(path[n]) for n in (3, 4, 6, 7))
            start, end = polar(page, x, y)[1], polar(page, far_x, far_y)[1]
            found.add((float(path[5]), start, (end - start) % 360))
    return sorted(found)


def require_clear(plan):
    page = page_of(plan)
    wires = bold_wires(page)
    assert len(wires) == len(plan.joins)
    for n, (radius, *span) in enumerate(wires):
        assert span[1] < 180.5  # the shorter way round
        for other, *other_span in wires[n + 1 :]:
            assert abs(radius - other) > 5 or not overlapping(span, other_span)
    # The way of each jumper by its teeth: within half a pitch at both ends.
    slots = plan.found.stator.slots
    ways = [tuple(end_deg(slots, end) for end in join.ends) for join in plan.joins]
    for _, start, length in wires:
        assert any(
            max(apart(start, a), apart(start + length, b)) < 180 / slots
            for one, other in ways
            for a, b in ((one, other), (other, one))
        )


@plans
def test_jumpers_that_overlap_never_share_a_track(plan):
    require_clear(plan)


@st.composite
def any_plan(draw):
    stator = draw(stators())
    now, wanted = (draw(st.sampled_from(stator.groupings())) for _ in range(2))
    return cut_and_join(found_wiring(stator, now), wanted, draw(st.sampled_from(LAYOUTS)))


@settings(max_examples=25, deadline=None)
@given(any_plan())
def test_any_plan_is_drawn_whole_and_clear(plan):
    page = page_of(plan)
    require_clear(plan)
    require_badges_apart(page)
    assert sorted(crosses(page)) == list(range(1, len(plan.cuts) + 1))
    assert sorted(badges(page)) == [join.number for join in plan.joins]


@given(st.lists(st.tuples(st.floats(0, 359.9), st.floats(0, 180)), max_size=30))
def test_tracks_keep_overlapping_arcs_apart(spans):
    rows = tracks([Arc(ends=(), start_deg=start, length_deg=length) for start, length in spans])
    for n, one in enumerate(spans):
        for m, other in enumerate(spans[:n]):
            assert rows[n] != rows[m] or not overlapping(one, other)
    assert sorted(set(rows)) == list(range(len(set(rows))))


# By hand: three arcs of 100°, one third round from each other, need one track; of 150°, which overlap in pairs, three.
# Two of 20° at the same place need two, and a third one opposite needs no more.
def test_no_more_tracks_than_needed():
    def made(*spans):
        return tracks([Arc(ends=(), start_deg=start, length_deg=length) for start, length in spans])

    assert made((0, 100), (120, 100), (240, 100)) == (0, 0, 0)
    assert sorted(made((0, 150), (120, 150), (240, 150))) == [0, 1, 2]
    assert sorted(made((350, 20), (355, 20), (170, 20))) in ([0, 0, 1], [0, 1, 1])
    assert made() == ()


def require_badges_apart(page):
    places = list(badges(page).values())
    for n, (x, y, size) in enumerate(places):
        assert all(hypot(x - x2, y - y2) >= size + size2 for x2, y2, size2 in places[:n])


@plans
def test_badges_do_not_cover_each_other(plan):
    require_badges_apart(page_of(plan))


@plans
def test_words_do_not_overlap(plan):
    """Upright words of the drawing, boxed: a letter is at most 0.7 of its size wide."""
    page = page_of(plan)
    boxes = []
    for each in page.iter(f"{SVG}text"):
        if each in list(page) and not each.get("transform"):
            size, x = float(each.get("font-size")), float(each.get("x"))
            wide = 0.7 * size * len(each.text)
            left = {"middle": x - wide / 2, "start": x, "end": x - wide}[each.get("text-anchor")]
            boxes.append((left, left + wide, float(each.get("y")) - 0.72 * size, float(each.get("y")), each.text))
    for n, (left, right, top, low, text) in enumerate(boxes):
        for left2, right2, top2, low2, text2 in boxes[:n]:
            assert right <= left2 or right2 <= left or low <= top2 or low2 <= top, (text, text2)


@plans
def test_only_what_a_page_and_a_print_sheet_can_carry(plan):
    text = BenchDrawing(plan=plan, at_step=1).svg()
    page = ET.fromstring(text)
    allowed = {f"{SVG}{tag}" for tag in ("svg", "g", "rect", "circle", "path", "line", "polygon", "text")}
    assert {each.tag for each in page.iter()} <= allowed
    assert not {name for each in page.iter() for name in each.attrib} & {"id", "class", "style", "href"}
    first = page.find(f"{SVG}rect")
    assert first is next(iter(page)) and first.get("fill") == "white" and first.get("width") == first.get("height")
    # The built-in fonts of a PDF know Latin-1 only.
    "".join(each.text for each in page.iter(f"{SVG}text")).encode("latin-1")
    assert "nan" not in text


def test_a_pdf_takes_it_without_complaint(caplog):
    from fpdf import FPDF

    pdf = FPDF()
    pdf.add_page()
    pdf.image(BenchDrawing(plan=PLANS["36, spread"], at_step=40).svg().encode(), w=180)
    assert len(pdf.output()) > 5000 and not caplog.records


def test_phases_differ_in_colour_and_in_pattern():
    lines = {phase: wire("M0 0H9", Look(state="new", phase=phase)) for phase in PHASES}
    assert all(PHASE_LOOK[phase][0] in line for phase, line in lines.items())
    # What remains when the colour is taken away: dark solid, ticks across, a line lengthwise.
    bare = {re.sub("|".join(fill for fill, _ in PHASE_LOOK.values()), "", line) for line in lines.values()}
    assert len(bare) == 3


@pytest.mark.parametrize("name", ["nine, to parallel", "nine, to series", "to delta", "to star"])
def test_each_step_changes_what_it_is_about(name):
    plan = PLANS[name]
    before = BenchDrawing(plan=plan, at_step=1)
    made = before.steps
    assert any(HALO in each.get("stroke", "") for each in page_of(plan, at_step=1))
    for step in made[1:]:
        page = page_of(plan, at_step=step.number)
        lit = [
            polar(page, float(c.get("cx")), float(c.get("cy")))[1]
            for c in drawn(page)
            if c.tag == f"{SVG}circle" and c.get("fill") == HALO
        ]
        teeth = sorted(1 + round(deg * plan.found.stator.slots / 360) % plan.found.stator.slots for deg in lit)
        assert teeth == sorted(end.tooth for end in step.ends)
        # The wire itself is laid on yellow, in its own step and in no other.
        halo = any(each.get("stroke") == HALO and each.tag == f"{SVG}path" for each in drawn(page))
        assert halo == (step.kind in ("cut", "join", "bus") or step.check == "alike")
        done = sum(earlier.kind == "cut" for earlier in made[: step.number])
        assert crosses(page) == {n: n > done for n in range(1, len(plan.cuts) + 1)}
        done = sum(earlier.kind == "join" for earlier in made[: step.number])
        assert len(bold_wires(page)) == done
        now = BenchDrawing(plan=plan, at_step=step.number)
        assert now.svg() != before.svg() and step.words.text in now.description
        before = now


def test_a_wire_to_be_cut_is_still_whole_before_its_step():
    plan = PLANS["nine, to parallel"]
    first_cut = next(step.number for step in BenchDrawing(plan=plan).steps if step.kind == "cut")

    def dashed(number):
        return sum(
            bool(AROUND.match(each.get("d", ""))) and bool(each.get("stroke-dasharray"))
            for each in drawn(page_of(plan, at_step=number))
        )

    assert [dashed(first_cut + n) for n in (-1, 0, 1, 5)] == [0, 1, 2, 6]


def test_only_the_steps_asked_for_are_shown():
    plan = PLANS["nine, to series"]
    steps = BenchDrawing(plan=plan).steps
    cuts, joins = ([step.number for step in steps if step.kind == kind] for kind in ("cut", "join"))
    only_cuts, only_joins = page_of(plan, shown_steps=tuple(cuts[:3])), page_of(plan, shown_steps=tuple(joins))
    assert sorted(crosses(only_cuts)) == [1, 2, 3] and badges(only_cuts) == {}
    assert crosses(only_joins) == {} and sorted(badges(only_joins)) == [1, 2, 3, 4, 5, 6]


@plans
def test_the_description_names_every_cut_and_jumper(plan):
    words = BenchDrawing(plan=plan).description
    for number, cut in enumerate(plan.cuts, 1):
        off = f" off {cut.off}" if cut.off else ""
        assert f"cut {number}: {' to '.join(end.label for end in cut.ends)}{off}" in words
    for join in plan.joins:
        assert f"jumper {join.number}, path {join.path}: {join.ends[0].label} to {join.ends[1].label}" in words
    for name, ends in plan.buses.items():
        assert f"{name}: {', '.join(end.label for end in ends)}" in words
    assert page_of(plan).get("aria-label") == words and page_of(plan).get("role") == "img"


@pytest.mark.parametrize("number", [0, 15, True, 2.0])
def test_a_step_that_is_not_there_is_refused(number):
    sentence = f"bench drawing: step {number!r} was given; the plan has the steps 1 to 14; choose one of them."
    with pytest.raises(BadInput, match=exactly(sentence)):
        BenchDrawing(plan=PLANS["nine, to parallel"], at_step=number)


def test_a_step_that_is_left_out_cannot_be_done():
    sentence = wording("bench drawing: step 4 is")
    with pytest.raises(BadInput, match=exactly(sentence)):
        BenchDrawing(plan=PLANS["nine, to parallel"], shown_steps=(1, 2), at_step=4)


def test_a_cell_may_end_with_it():
    drawing = BenchDrawing(plan=PLANS["nine, to parallel"])
    assert drawing._repr_svg_() == drawing.svg() and 'width="500"' in drawing.svg(500)
