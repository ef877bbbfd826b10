"""The ring of coils, as it lies on the bench."""

import re
import xml.etree.ElementTree as ET
from math import hypot, pi

import pytest

from sentences import sentences_of
from statorbook.drawings.stator_ring import PHASE_LOOK, StatorRing
from statorbook.winding.stator import Stator

wording = sentences_of("drawings")

SVG = "{http://www.w3.org/2000/svg}"


def ring(slots, poles):
    return StatorRing(stator=Stator(slots=slots, poles=poles))


def texts(picture):
    return [each.text for each in ET.fromstring(picture).iter(f"{SVG}text")]


@pytest.mark.parametrize("slots, poles", [(3, 2), (12, 10), (36, 48), (72, 60), (144, 120)])
def test_every_tooth_has_its_number_phase_and_sign(slots, poles):
    drawn = ring(slots, poles)
    words = texts(drawn.svg())
    for coil in drawn.stator.coils:
        assert words.count(str(coil.number)) == 1
    signs = [f"{c.phase}{'+' if c.polarity > 0 else '−'}" for c in drawn.stator.coils]
    assert sorted(w for w in words if re.fullmatch("[ABC][+−]", w)) == sorted(signs)


@pytest.mark.outside(
    "phase and sign of each tooth, 12 slots with 10 poles",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="12: A a b B C c a A B b c C",
    tolerance="exact",
    seen="from memory",
)
def test_twelve_slots_and_ten_poles_lie_as_in_the_textbook():
    order = "1 A+, 2 A−, 3 B−, 4 B+, 5 C+, 6 C−, 7 A−, 8 A+, 9 B+, 10 B−, 11 C−, 12 C+"
    assert order in ring(12, 10).description


def test_the_picture_speaks_and_has_no_ids_to_clash():
    page = ET.fromstring(ring(36, 48).svg())
    assert page.get("role") == "img"
    assert page.get("aria-label").startswith(wording("Stator with 36 teeth, tooth"))
    assert not any("id" in each.attrib or each.tag.endswith("clipPath") for each in page.iter())


def test_phases_differ_without_colour():
    patterns = {pattern for _, pattern in PHASE_LOOK.values()}
    assert len(patterns) == 3
    # Relative luminance by ITU-R BT.709: the solid one is dark, the two with lines are light.
    light = {
        phase: sum(k * int(fill[i : i + 2], 16) for k, i in ((0.2126, 1), (0.7152, 3), (0.0722, 5)))
        for phase, (fill, _) in PHASE_LOOK.items()
    }
    assert light["A"] < 110 and min(light["B"], light["C"]) > 190


def test_a_minus_has_a_light_tip():
    groups = ET.fromstring(ring(12, 10).svg()).findall(f"{SVG}g")
    tips = ["white" if group.findall(f"{SVG}rect")[-1].get("fill") == "white" else "dark" for group in groups]
    assert tips == ["dark" if c.polarity > 0 else "white" for c in Stator(slots=12, poles=10).coils]


@pytest.mark.parametrize("slots, poles", [(12, 10), (48, 40), (72, 60), (144, 120)])
def test_coils_and_words_do_not_overlap(slots, poles):
    drawn = ring(slots, poles)
    page, half = ET.fromstring(drawn.svg()), drawn.size_px / 2
    for group in page.findall(f"{SVG}g"):
        _, coil, tip = group.findall(f"{SVG}rect")
        for rect in (coil, tip):  # neighbours come closest at the inner edge
            inner = half - float(rect.get("y")) - float(rect.get("height"))
            assert float(rect.get("width")) < 2 * pi * inner / slots
    numbers = [each for each in page.findall(f"{SVG}text") if (each.text or "").isdigit()]
    from_middle = hypot(float(numbers[0].get("x")) - half, float(numbers[0].get("y")) - half)
    pitch, size = 2 * pi * from_middle / slots, float(numbers[0].get("font-size"))
    turned = any("rotate" in each.get("transform", "") for each in numbers)
    # A digit is about 0.62 of its height wide; turned along the radius, its height counts.
    assert size >= 8.0 and (size if turned else 0.62 * size * len(str(slots))) <= pitch


def test_a_cell_may_end_with_it():
    drawn = ring(36, 48)
    assert drawn._repr_svg_() == drawn.svg() and repr(Stator(slots=36, poles=48)) in repr(drawn)
