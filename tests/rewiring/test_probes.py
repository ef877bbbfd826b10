"""Names of places for the probes, however they are typed."""

import pytest

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.rewiring.probes import between_ends, probe_named, probes_of
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import CoilEnd, found_wiring

NINE = Stator(slots=9, poles=12)
PARALLEL = found_wiring(NINE, Grouping(series=1, parallel=3))


# By hand: nine teeth go A C B A C B A C B, none reversed, so path A2 is tooth 4 and path B3 tooth 9.
def test_every_place_of_nine_teeth():
    names = list(probes_of(PARALLEL))
    assert names[:9] == ["A1", "A2", "A3", "B1", "B2", "B3", "C1", "C2", "C3"]
    assert names[9:15] == ["A-B", "B-C", "C-A", "A-star", "B-star", "C-star"]
    assert names[15:] == [f"tooth {tooth}" for tooth in range(1, 10)]
    assert probes_of(PARALLEL)["A2"].words == "from 4S to 4F"
    assert probes_of(PARALLEL)["A-star"].words == "from lead A to star point"


def test_a_delta_has_no_star_point():
    delta = found_wiring(NINE, Grouping(series=3, parallel=1, connection="delta"))
    assert not any("star" in name for name in probes_of(delta))
    assert probes_of(delta)["C1"].words == "from 2S to 8F"


@pytest.mark.parametrize(
    "typed, name",
    [
        ("A-B", "A-B"),
        ("b a", "A-B"),
        ("AC", "C-A"),
        ("a1", "A1"),
        ("7", "tooth 7"),
        ("Tooth 7", "tooth 7"),
        ("a star", "A-star"),
        ("B – iron", "B-iron"),
        ("lead c iron", "C-iron"),
        ("4s 1f", "1F-4S"),
        ("1F-4S", "1F-4S"),
        ("9F-9S", "9F-9S"),
    ],
)
def test_names_as_they_are_typed(typed, name):
    assert probe_named(PARALLEL, typed).name == name


def test_two_ends_stand_in_order():
    probe = between_ends(CoilEnd(tooth=12, side="S"), CoilEnd(tooth=4, side="F"))
    assert (probe.name, probe.words) == ("4F-12S", "from 4F to 12S")


@pytest.mark.parametrize("typed", ["", "A4", "D-A", "10", "tooth 0", "1F-10S", "1F-1F", "iron", "D-iron", "A-A"])
def test_what_is_no_place_is_refused(typed):
    sentence = (
        f"between: {typed!r} was given; two leads such as A-B, a path from A1 to C3, a coil such as tooth 7, two coil "
        "ends such as 1F-4S, or a lead to the iron such as A-iron is allowed; choose where the probes were."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        probe_named(PARALLEL, typed)
