"""The wiring as found: assumed in tooth order, or read from the reader's words; what cannot be is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from judges.phasor_plan import phasors
from sentences import exactly
from statorbook.errors import BadInput
from statorbook.grouping import Grouping
from statorbook.stator import Stator
from statorbook.wiring import CoilEnd, FoundWiring, angle_class, ends_in_order, found_from_words, found_wiring
from strategies import stators

NINE = Stator(slots=9, poles=12)
REVERSED = Stator(slots=9, poles=8)
ONE_PATH = Grouping(series=3, parallel=1)
TRACED = "A: 1 4 7; B: 3 6 9; C: 2 5 8"


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
    found = found_from_words(NINE, ONE_PATH, "a: 1, 7, 4 ; C: 2 5 8; B: 9 6 3")
    assert found.paths == {
        "A": (((1, 1), (7, 1), (4, 1)),),
        "B": (((9, 1), (6, 1), (3, 1)),),
        "C": (((2, 1), (5, 1), (8, 1)),),
    }
    three = found_from_words(NINE, Grouping(series=1, parallel=3), "A: 7/4/1; B: 3/6/9; C: 2/5/8")
    assert three.paths["A"] == (((7, 1),), ((4, 1),), ((1, 1),))


def test_all_coils_passed_the_other_way_make_the_same_volts():
    found = found_from_words(REVERSED, ONE_PATH, "A: 1r 2r 9r; B: 3r 4r 5r; C: 6r 7r 8r")
    assert found.sense == -1
    assert found.paths["A"] == (((1, -1), (2, 1), (9, 1)),)


TWO_PATHS = Stator(slots=12, poles=14), Grouping(series=2, parallel=2)


@pytest.mark.parametrize(
    "words, sentence",
    [
        (
            "A 1 4 7",
            (
                "wiring: 'A 1 4 7' was given; each of A, B and C stands once, with a colon after it; "
                'type it like "A: 1 4 7; B: 2 5 8; C: 3 6 9".'
            ),
        ),
        (
            f"{TRACED}; A: 1",
            (
                "wiring: 'A: 1' was given; each of A, B and C stands once, with a colon after it; "
                'type it like "A: 1 4 7; B: 2 5 8; C: 3 6 9".'
            ),
        ),
        (
            "A: 1 4 7; B: 3 6 9",
            (
                "wiring: phase C has 0 paths; the grouping 3 in series, 1 path, star has 1 in each phase; "
                'part the paths by "/", or choose another grouping.'
            ),
        ),
        (
            "A: 1 4 / 7; B: 3 6 9; C: 2 5 8",
            (
                "wiring: phase A has 2 paths; the grouping 3 in series, 1 path, star has 1 in each phase; "
                'part the paths by "/", or choose another grouping.'
            ),
        ),
        (
            "A: 1 4 x; B: 3 6 9; C: 2 5 8",
            (
                "wiring: 'x' was given; a tooth from 1 to 9 is allowed, with \"r\" after it when passed the other way; "
                "type the teeth of each path again."
            ),
        ),
        (
            "A: 1 4 10; B: 3 6 9; C: 2 5 8",
            (
                "wiring: '10' was given; a tooth from 1 to 9 is allowed, with \"r\" after it when passed the other "
                "way; type the teeth of each path again."
            ),
        ),
        (
            "A: ; B: 3 6 9; C: 2 5 8",
            (
                'wiring: a path without a tooth was given; a tooth from 1 to 9 is allowed, with "r" after it when '
                "passed the other way; type the teeth of each path again."
            ),
        ),
        (
            "A: 1 4 4; B: 3 6 9; C: 2 5 8",
            "wiring: tooth 4 is named twice; each tooth from 1 to 9 stands once; trace the wires of these teeth again.",
        ),
        (
            "A: 1; B: 3 6 9; C: 2 5 8",
            "wiring: teeth 4, 7 are missing; each tooth from 1 to 9 stands once; trace the wires of these teeth again.",
        ),
        (
            "A: 1 4 7; B: 2 5 8; C: 3 6 9",
            (
                "wiring: tooth 2 stands in phase B; with 9 slots and 12 poles it belongs to phase C; "
                "trace its wires again, or count slots and poles again."
            ),
        ),
        (
            "A: 1 4r 7; B: 3 6 9; C: 2 5 8",
            (
                "wiring: tooth 4 would work against the other coils; all coils are passed the way that their volts "
                "add up; trace which end of these coils is met first, or count slots and poles again."
            ),
        ),
    ],
)
def test_words_that_cannot_be_are_refused(words, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        found_from_words(NINE, ONE_PATH, words)


# By hand, 12 teeth and 7 pole pairs, 210° a tooth: of A, 1 is at 0° and 6 at 1050 = 330°, 7 at 180° reversed = 0°, 12
# at 150° reversed = 330°. So 1 and 7 are alike, 6 and 12 are alike, and a path needs one of each.
def test_paths_of_unequal_volts_are_refused():
    assert found_from_words(*TWO_PATHS, "A: 1 12 / 6 7; B: 4 5 / 10 11; C: 2 3 / 8 9").grouping == TWO_PATHS[1]
    sentence = (
        "wiring: path 2 of phase A would not have the same volts as the others; parallel paths need coils of the same "
        "volts and angles, or they burn each other; trace the wires again; coils that are thought parallel may be in "
        "series."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        found_from_words(*TWO_PATHS, "A: 1 7 / 6 12; B: 4 5 / 10 11; C: 2 3 / 8 9")
    with pytest.raises(BadInput, match="^wiring: path 2 of phase A would not have the same volts"):
        found_from_words(*TWO_PATHS, "A: 1 7 6 / 12; B: 4 5 / 10 11; C: 2 3 / 8 9")


def test_an_unknown_connection_is_refused():
    sentence = "connection: 'wye' was given; star or delta is allowed; choose one of them."
    with pytest.raises(BadInput, match=exactly(sentence)):
        FoundWiring(stator=NINE, paths=found_wiring(NINE, ONE_PATH).paths, connection="wye")
