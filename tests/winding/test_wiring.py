"""The wiring as found: assumed in tooth order, or read from the reader's words; what cannot be is refused."""

from itertools import permutations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from judges.phasor_plan import phasors
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.job.parts.registry import StatorPart
from statorbook.rewiring.plan import cut_and_join
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wire_names import naming_words
from statorbook.winding.wiring import CoilEnd, Wiring, angle_class, ends_in_order, found_from_words, found_wiring
from strategies import stators

wording = sentences_of("winding")

NINE = Stator(slots=9, poles=12)
REVERSED = Stator(slots=9, poles=8)
ONE_PATH = Grouping(series=3, parallel=1)
TRACED = wording("A: 1 4 7; B: 3 6 9")


def labels(ends):
    return sorted(end.label for end in ends)


def joined(found):
    return [f"{first.label}-{second.label}" for first, second in found.links]


def test_an_end_has_a_label_and_words():
    assert CoilEnd(tooth=7, side="S").label == "7S"
    assert CoilEnd(tooth=10, side="F").words == "tooth 10, finish"
    assert [end.label for end in ends_in_order((4, -1))] == ["4F", "4S"]


# Worked by hand from the star of slots. 9 teeth, 4 pole pairs: each tooth is 160° on, so teeth 1 to 9 stand at 0, 160,
# 320, 120, 280, 80, 240, 40, 200°. Belts of 60°: A about 0° (teeth 1; 2 and 9 reversed), B about 120° (4; 3 and 5
# reversed), C about 240° (7; 6 and 8 reversed). A reversed coil is passed from finish to start.
def test_reversed_coils_are_passed_from_finish_to_start():
    found = found_wiring(REVERSED, ONE_PATH)
    assert found.paths["A"] == (((1, 1), (2, -1), (9, -1)),)
    assert joined(found) == ["1F-2F", "2S-9F", "3S-4S", "4F-5F", "6S-7S", "7F-8F"]
    assert {name: labels(ends) for name, ends in found.nets.items()} == {
        "lead A": ["1S"],
        "lead B": ["3F"],
        "lead C": ["6F"],
        "star point": ["5S", "8S", "9S"],
    }


# By hand: 9 teeth, 6 pole pairs, each tooth 240° on, so A is 1, 4, 7, then C is 2, 5, 8 at 240°, B 3, 6, 9 at 120°.
def test_delta_ties_each_far_end_to_the_next_lead():
    found = found_wiring(NINE, Grouping(series=1, parallel=3, connection="delta"))
    assert found.links == ()
    assert {name: labels(ends) for name, ends in found.nets.items()} == {
        "lead A": ["1S", "2F", "4S", "5F", "7S", "8F"],
        "lead B": ["1F", "3S", "4F", "6S", "7F", "9S"],
        "lead C": ["2S", "3F", "5S", "6F", "8S", "9F"],
    }


@given(stators(), st.data())
def test_the_usual_wiring_is_legal_for_every_grouping(stator, data):
    grouping = data.draw(st.sampled_from(stator.groupings()))
    found = found_wiring(stator, grouping)
    assert found.grouping == grouping and found.sense == 1
    ends = [end for net in found.nets.values() for end in net] + [end for link in found.links for end in link]
    assert len(ends) == len(set(ends)) == 2 * stator.slots


# By hand, as above: in half-steps of 20°, tooth 1 at 0, tooth 2 at 160° and reversed at 340°, tooth 4 at 120°.
def test_an_angle_class_counts_half_steps():
    assert [angle_class(REVERSED, tooth) for tooth in (1, 2, 4)] == [0, 17, 6]


# By hand: of 9 teeth with 12 poles 3 6 9, 2 5 8 and 1 4 7 are the same whether the mark or the letters are moved.
def test_letters_are_exchanged_before_the_mark_is_moved():
    found = found_from_words(NINE, ONE_PATH, wording("A: 3 6 9; B"))
    assert (found.stator.mark_teeth, [coil.phase for coil in found.stator.coils[:3]]) == (0, ["C", "B", "A"])


@given(stators())
def test_equal_angle_classes_are_equal_phasors(stator):
    emf = phasors(stator.slots, stator.poles)
    classes = {}
    for coil in stator.coils:
        classes.setdefault(angle_class(stator, coil.number), []).append(coil.polarity * emf[coil.number])
    assert all(abs(each - members[0]) < 1e-9 for members in classes.values() for each in members)
    firsts = [members[0] for members in classes.values()]
    assert all(abs(a - b) > 1e-3 for k, a in enumerate(firsts) for b in firsts[:k])


def test_words_are_read_in_the_order_of_the_wires():
    found = found_from_words(NINE, ONE_PATH, wording("a: 1, 7, 4"))
    assert found.paths == {
        "A": (((1, 1), (7, 1), (4, 1)),),
        "B": (((9, 1), (6, 1), (3, 1)),),
        "C": (((2, 1), (5, 1), (8, 1)),),
    }
    three = found_from_words(NINE, Grouping(series=1, parallel=3), "A: 7/4/1; B: 3/6/9; C: 2/5/8")
    assert three.paths["A"] == (((7, 1),), ((4, 1),), ((1, 1),))


def test_all_coils_passed_the_other_way_make_the_same_volts():
    found = found_from_words(REVERSED, ONE_PATH, wording("A: 1r 2r 9r; B"))
    assert found.sense == -1
    assert found.paths["A"] == (((1, -1), (2, 1), (9, 1)),)


TWO_PATHS = Stator(slots=12, poles=14), Grouping(series=2, parallel=2)


@pytest.mark.parametrize(
    "words, sentence",
    [
        ("A 1 4 7", wording("wiring: 'A 1 4 7'")),
        (f"{TRACED}; A: 1", wording("wiring: 'A: 1' was given")),
        (wording("A: 1 4 7; B: 3 6 9 too"), wording("wiring: phase C has 0")),
        (wording("A: 1 4 / 7"), wording("wiring: phase A has 2")),
        (wording("A: 1 4 x; B"), wording("wiring: 'x' was given; a")),
        (wording("A: 1 4 10; B"), wording("wiring: '10' was given; a")),
        (wording("A: ; B: 3 6"), wording("wiring: a path without a")),
        (wording("A: 1 4 4; B"), wording("wiring: tooth 4 is named")),
        (wording("A: 1; B: 3 6"), wording("wiring: teeth 4, 7 are")),
        (wording("A: 4 7; B: 3"), wording("wiring: tooth 1 is missing")),
        (wording("A: 1 4 8; B"), wording("wiring: tooth 8 stands in")),
        (wording("A: 1 4r 7; B"), wording("wiring: tooth 4 would work")),
    ],
)
def test_words_that_cannot_be_are_refused(words, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        found_from_words(NINE, ONE_PATH, words)


# By hand, 12 teeth and 7 pole pairs, 210° a tooth: of A, 1 is at 0° and 6 at 1050 = 330°, 7 at 180° reversed = 0°, 12
# at 150° reversed = 330°. So 1 and 7 are alike, 6 and 12 are alike, and a path needs one of each.
def test_paths_of_unequal_volts_are_refused():
    assert found_from_words(*TWO_PATHS, wording("A: 1 12 / 6")).grouping == TWO_PATHS[1]
    sentence = wording("wiring: path 2 of phase")
    with pytest.raises(BadInput, match=exactly(sentence)):
        found_from_words(*TWO_PATHS, wording("A: 1 7 / 6"))
    with pytest.raises(BadInput, match=wording("^wiring: path 2 of phase")):
        found_from_words(*TWO_PATHS, wording("A: 1 7 6 /"))


def test_an_unknown_connection_is_refused():
    sentence = wording("connection: 'wye' was given; star")
    with pytest.raises(BadInput, match=exactly(sentence)):
        Wiring(stator=NINE, paths=found_wiring(NINE, ONE_PATH).paths, connection="wye")


NAMED = [
    Stator(slots=slots, poles=poles)
    for slots, poles in ((42, 56), (36, 48), (12, 14), (9, 8), (12, 10), (9, 12), (18, 24), (24, 22), (36, 42))
]
ORDERS = ["".join(letters) for letters in permutations("ABC")]


def typed(found, letters="ABC", *, turned="", reversed_phases="", mirrored=False):
    """A wiring as its reader may type it: other letters, another mark, teeth counted the other way, phases reversed."""

    def tooth_word(phase, tooth):
        number = ((-tooth if mirrored else tooth) + turned - 1) % found.stator.slots + 1 if turned != "" else tooth
        return f"{number}{'r' if phase in reversed_phases else ''}"

    def path_words(phase, path):
        return " ".join(tooth_word(phase, tooth) for tooth, _ in path)

    return "; ".join(
        f"{own}: {' / '.join(path_words(usual, path) for path in found.paths[usual])}"
        for usual, own in zip("ABC", letters, strict=True)
    )


def work(plan, letters="ABC"):
    """Cuts and joins of a plan as sets of wires, leads called by the letters of the usual pattern."""
    usual = dict(zip(letters, "ABC", strict=True))

    def name(off):
        return f"lead {usual[off[-1]]}" if off.startswith("lead ") else off

    cuts = {(frozenset(end.label for end in cut.ends), name(cut.off)) for cut in plan.cuts}
    return cuts, {(frozenset(end.label for end in join.ends), usual[join.path[0]]) for join in plan.joins}


# The field's own pattern, teeth in turn through A, B and C: right for every machine whose pattern repeats each 3 teeth.
@pytest.mark.parametrize("slots, poles", [(42, 56), (36, 48), (9, 12), (18, 24), (9, 6), (12, 8)])
@pytest.mark.parametrize("letters", ORDERS)
def test_the_hints_pattern_is_taken_under_any_letters(slots, poles, letters):
    words = "; ".join(
        f"{name}: {' '.join(str(tooth) for tooth in range(first, slots + 1, 3))}"
        for first, name in enumerate(letters, start=1)
    )
    part = StatorPart(slots=slots, poles=poles, found_connection="star", found_wiring=words)
    found = part.to_found_wiring()
    assert {name: [tooth for tooth, _ in path] for name, (path,) in found.paths.items()} == {
        name: list(range(first, slots + 1, 3)) for first, name in enumerate(letters, start=1)
    }
    assert [coil.phase for coil in part.to_stator().coils[:3]] == list(letters)


def test_what_is_called_otherwise_is_said():
    found = found_from_words(NINE, ONE_PATH, wording("A: 1 4 7; B: 2"))
    assert naming_words(found.stator) == wording("The phases carry your own")
    assert naming_words(found_from_words(NINE, ONE_PATH, TRACED).stator) == ""


@pytest.mark.parametrize("stator", NAMED, ids=lambda each: f"{each.slots}/{each.poles}")
@pytest.mark.parametrize("letters", ORDERS)
def test_any_letters_give_the_same_plan_up_to_names(stator, letters):
    for had, wanted in product(stator.groupings(), repeat=2):
        if had.connection == wanted.connection == "star":
            usual = found_wiring(stator, had)
            found = found_from_words(stator, had, typed(usual, letters))
            plan, same = cut_and_join(found, wanted, "neighbours"), cut_and_join(usual, wanted, "neighbours")
            assert work(plan, letters) == work(same)


# Round the ring of a delta A ends on B, B on C, C on A, in the reader's letters: an even exchange is the same ring.
@pytest.mark.parametrize("stator", NAMED, ids=lambda each: f"{each.slots}/{each.poles}")
def test_a_delta_keeps_its_ring_under_the_readers_letters(stator):
    had = next(each for each in stator.groupings() if each.connection == "delta")
    wanted = next(each for each in stator.groupings() if each.connection == "star")
    usual = found_wiring(stator, had)
    for letters in ORDERS:
        found = found_from_words(stator, had, typed(usual, letters))
        far = ends_in_order(*found.paths["A"][0])[1]
        assert far in found.nets["lead B"]
        if letters in ("ABC", "BCA", "CAB"):
            same = cut_and_join(usual, wanted, "neighbours")
            assert work(cut_and_join(found, wanted, "neighbours"), letters) == work(same)


@given(st.sampled_from(NAMED), st.sampled_from(ORDERS), st.integers(0, 143), st.booleans())
def test_another_mark_and_another_way_of_counting_are_the_same_machine(stator, letters, turned, mirrored):
    usual = found_wiring(stator, stator.groupings()[0])
    words = typed(usual, letters, turned=turned, mirrored=mirrored)
    found = found_from_words(stator, usual.grouping, words)
    emf = phasors(stator.slots, stator.poles)
    volts = [sum(step * emf[tooth] for tooth, step in path) for (path,) in found.paths.values()]
    as_found = [sum(step * emf[tooth] for tooth, step in path) for (path,) in usual.paths.values()]
    assert abs(sum(volts)) < 1e-6 * abs(volts[0])
    assert {round(abs(each) / abs(as_found[0]), 6) for each in volts} == {1.0}
    assert len(found.stator.coils) == stator.slots and set(found.stator.phase_names) == set("ABC")


# Phasor sum as the judge: a machine is the same from its leads when its three line volts are alike.
@pytest.mark.parametrize("stator", NAMED, ids=lambda each: f"{each.slots}/{each.poles}")
@pytest.mark.parametrize("reversed_phases", ["", "A", "B", "C", "AB", "AC", "BC", "ABC"])
def test_reversed_phases_are_taken_when_the_leads_cannot_tell(stator, reversed_phases):
    usual = found_wiring(stator, stator.groupings()[0])
    emf, volts = phasors(stator.slots, stator.poles), {}
    for phase, (path,) in usual.paths.items():
        volts[phase] = sum(step * emf[tooth] for tooth, step in path) * (-1 if phase in reversed_phases else 1)
    lines = [abs(volts[a] - volts[b]) for a, b in ("AB", "BC", "CA")]
    words = typed(usual, reversed_phases=reversed_phases)
    if max(lines) < 1.01 * min(lines):
        assert found_from_words(stator, usual.grouping, words).sense == (-1 if reversed_phases else 1)
    else:
        with pytest.raises(BadInput, match=wording("read the volts of AB")):
            found_from_words(stator, usual.grouping, words)


# By hand, as above: of 9 teeth and 8 poles 2, 9, 3, 5, 6 and 8 are reversed, so the finish is met first on those.
def test_an_r_may_say_which_end_is_met_first():
    for words, sense in ((wording("A: 1 2r 9r; B"), 1), (wording("A: 1r 2 9; B"), -1)):
        found = found_from_words(REVERSED, ONE_PATH, words)
        assert found.paths["A"] == (((1, sense), (2, -sense), (9, -sense)),) and found.sense == sense
