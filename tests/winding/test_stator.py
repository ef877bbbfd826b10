"""Slots and poles: winding factors, phases, parallel paths, refusals."""

import re
from cmath import exp, pi
from itertools import combinations
from math import gcd, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published.tables import pairs
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.winding.stator import Stator, workable_counts_near
from strategies import BALANCED, UNBALANCED, stators

wording = sentences_of("winding")

SMALL = [(slots, poles) for slots, poles in BALANCED if slots <= 24 and poles <= 28]


def named(row):
    return f"{row['slots']}/{row['poles']}"


def signed_phasors(stator, phase):
    """EMF of each coil of a phase as a unit phasor with its polarity."""
    return [c.polarity * exp(1j * radians(c.angle_deg)) for c in stator.coils if c.phase == phase]


def closed_form_factor(slots, poles):
    """Winding factor of 60° belts: sin(πp/Q) · sin(π/6) / (z sin(π/6z)), z the reduced numerator of Q/(3·2p)."""
    z = slots // gcd(slots, 3 * poles)
    return abs(sin(pi * poles / 2 / slots)) * sin(pi / 6) / (z * sin(pi / (6 * z)))


def splits_evenly(phasors, paths):
    """Whether phasors can be dealt into groups of equal size and equal sum, by trying every deal."""
    size, rest = divmod(len(phasors), paths)
    if rest:
        return False
    wanted = sum(phasors) / paths
    first, *others = phasors
    for chosen in combinations(range(len(others)), size - 1):
        if abs(first + sum(others[k] for k in chosen) - wanted) < 1e-9:
            left = [value for k, value in enumerate(others) if k not in chosen]
            if not left or splits_evenly(left, paths - 1):
                return True
    return False


# Sources beside each row of the table.
@pytest.mark.outside(
    "winding factors of 64 pairs of slots and poles",
    source=(
        "Cros and Viarouge, IEEE Trans. Energy Conversion 17(2), 2002, table of winding factors; Libert "
        "and Soulard, ICEM 2004"
    ),
    number=(
        "0.8660 (36/48), 0.9330 (36/42), 0.9452 (18/20), 0.9514, 0.9495, 0.9531, 0.9539, 0.9019, 0.8897, 0.8773, 0.5000"
    ),
    tolerance="0.0005, 0.001 where prints differ",
    seen="from memory",
)
@pytest.mark.parametrize("row", pairs("winding_factors"), ids=named)
def test_published_winding_factor(row):
    stator = Stator(slots=row["slots"], poles=row["poles"])
    assert stator.winding_factor == pytest.approx(row["winding_factor"], abs=row["tolerance"])


# A 60° belt of 9 slots a pole, or of 3 slots a pole and phase, has the same star as 9 slots with 8 poles.
@pytest.mark.parametrize(
    "expected",
    [
        pytest.param(
            0.960,
            marks=pytest.mark.outside(
                "distribution factor of a 60° belt, 9 slots a pole",
                source="Kulshreshtha, Basic Electrical Engineering, example 14.2 p. 441",
                number="0.960",
                tolerance="0.0005",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            0.9598,
            marks=pytest.mark.outside(
                "distribution factor, 144 slots, 16 poles",
                source="Burman, Special Electrical Machines, example 4.7 p. 220",
                number="0.9598",
                tolerance="0.0005",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_published_distribution_factor(expected):
    assert Stator(slots=9, poles=8).distribution_factor == pytest.approx(expected, abs=5e-4)


# By hand: 5 arrows in 60°, 1 / (10 sin 6°) = 0.957.
def test_distribution_factor_leaves_the_pitch_part_out():
    assert Stator(slots=15, poles=8).distribution_factor == pytest.approx(0.957, abs=5e-4)


@pytest.mark.outside(
    "winding factors of all balanced pairs up to 63 slots, 84 poles",
    source="closed form sin(πp/Q) sin(π/6) / (z sin(π/6z)), z the reduced numerator of Q/6p",
    number="every pair, such as 0.8660 for 36/48",
    tolerance="1e-9",
    seen="derived",
)
def test_winding_factor_equals_the_closed_form_for_every_balanced_pair():
    found = [Stator(slots=slots, poles=poles).winding_factor for slots, poles in BALANCED]
    assert found == pytest.approx([closed_form_factor(*pair) for pair in BALANCED], abs=1e-9)


@pytest.mark.outside(
    "clicks in a turn: least common multiple of slots and poles",
    source="Hanselman, Brushless Permanent-Magnet Motor Design; Zhu and Howe, 2000",
    number="144 (36/48), 168 (42/56), 60, 84, 36, 180, 270, 168, 180, 252",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("row", pairs("cogging_steps"), ids=named)
def test_published_cogging_steps(row):
    assert Stator(slots=row["slots"], poles=row["poles"]).cogging_steps_per_rev == row["steps_per_rev"]


@pytest.mark.outside(
    "most parallel paths of a phase",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="12 (36/48), 14 (42/56), 2, 2, 1, 2, 3, 6, 6, 4, 4, 2, 4, 1",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("row", pairs("parallel_paths"), ids=named)
def test_published_parallel_paths(row):
    stator = Stator(slots=row["slots"], poles=row["poles"])
    assert stator.max_parallel_paths == row["most_paths"]
    allowed = {a for a in range(1, 64) if row["most_paths"] % a == 0}
    assert {g.parallel for g in stator.groupings()} == allowed


@pytest.mark.outside(
    "path counts of every pair up to 24 slots, 28 poles",
    source="every deal of a phase's phasors into groups of equal size and sum, tried out",
    number="all counts, such as 1 and 2 for 12/10",
    tolerance="exact",
    seen="derived",
)
@pytest.mark.parametrize("phase", "ABC")
def test_path_counts_are_those_that_brute_force_finds(phase):
    for slots, poles in SMALL:
        stator = Stator(slots=slots, poles=poles)
        phasors = signed_phasors(stator, phase)
        possible = {a for a in range(1, len(phasors) + 1) if splits_evenly(phasors, a)}
        assert (slots, poles, possible) == (slots, poles, {g.parallel for g in stator.groupings()})


@given(stators())
def test_three_phases_have_equal_volts_120_degrees_apart(stator):
    a, b, c = (sum(signed_phasors(stator, phase)) / stator.coils_per_phase for phase in "ABC")
    assert abs(a) == pytest.approx(stator.distribution_factor, abs=1e-9)
    turn = b / a
    assert min(abs(turn - exp(2j * pi / 3)), abs(turn - exp(-2j * pi / 3))) < 1e-9
    assert c / b == pytest.approx(turn, abs=1e-9)


@given(stators())
def test_every_tooth_has_one_coil_and_every_phase_a_third(stator):
    assert [c.number for c in stator.coils] == list(range(1, stator.slots + 1))
    assert all(sum(c.phase == phase for c in stator.coils) == stator.coils_per_phase for phase in "ABC")
    assert {c.polarity for c in stator.coils} <= {1, -1}
    angles = np.array([c.angle_deg for c in stator.coils])
    steps = np.arange(stator.slots) * 360.0 * stator.pole_pairs / stator.slots
    assert np.abs(np.exp(1j * np.radians(angles)) - np.exp(1j * np.radians(steps))).max() < 1e-9


@given(stators())
def test_groupings_use_every_coil_in_star_and_delta(stator):
    found = stator.groupings()
    assert len(set(found)) == len(found)
    assert all(g.series * g.parallel == stator.coils_per_phase for g in found)
    assert [(g.series, g.connection) for g in found] == sorted(
        ((g.series, g.connection) for g in found), key=lambda each: (-each[0], each[1] != "star")
    )


@pytest.mark.parametrize(
    ("slots", "poles", "speed_rpm", "expected_hz"),
    [
        # By hand, f = p n / 60.
        (9, 12, 3400, 340.0),
        (36, 48, 500, 200.0),
        (42, 56, 500, 233.333),
        pytest.param(
            144,
            16,
            375,
            50.0,
            marks=pytest.mark.outside(
                "frequency of 16 poles at 375 rpm",
                source="Burman, Special Electrical Machines, example 4.7 p. 220",
                number="50 Hz",
                tolerance="0.001 %",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_frequency_at_a_speed(slots, poles, speed_rpm, expected_hz):
    stator = Stator(slots=slots, poles=poles)
    assert stator.electrical_hz(speed_rpm) == pytest.approx(expected_hz, rel=1e-5)
    assert stator.speed_rpm(expected_hz) == pytest.approx(speed_rpm, rel=1e-5)


@given(stators(), st.lists(st.floats(0.1, 5000), min_size=1, max_size=5))
def test_frequency_and_speed_undo_each_other_for_numbers_and_arrays(stator, speeds):
    speeds = np.array(speeds)
    assert stator.speed_rpm(stator.electrical_hz(speeds)) == pytest.approx(speeds, rel=1e-12)
    assert stator.electrical_hz(speeds) == pytest.approx([stator.electrical_hz(speed) for speed in speeds], rel=1e-15)


# By hand, |sin(3πp/Q)|: a coil of 120 or 240 electrical degrees links no third harmonic.
@pytest.mark.parametrize(
    ("slots", "poles", "expected"), [(36, 48, 0.0), (9, 6, 0.0), (9, 8, 0.8660), (12, 10, 0.7071), (12, 14, 0.7071)]
)
def test_third_harmonic_factor(slots, poles, expected):
    assert Stator(slots=slots, poles=poles).third_harmonic_factor == pytest.approx(expected, abs=1e-4)


def test_unusual_counts_are_doubted_in_a_sentence():
    assert Stator(slots=12, poles=2).doubt == wording("12 slots with 2 poles")
    assert Stator(slots=36, poles=48).doubt == ""


@pytest.mark.outside(
    "slot and pole counts that make no three equal phases",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="12/6, 12/12, 12/18, 15/12, 21/18, 24/18, 9/18",
    tolerance="refused",
    seen="from memory",
)
@pytest.mark.parametrize("row", pairs("refused_pairs"), ids=named)
def test_published_refusal_names_the_nearest_workable_counts(row):
    with pytest.raises(BadInput) as refusal:
        Stator(slots=row["slots"], poles=row["poles"])
    said = re.fullmatch(
        rf"slots and poles: {row['slots']} slots with {row['poles']} poles cannot make three equal phases; "
        r"the nearest workable counts \(slots/poles\) are (\d+/\d+(?:, \d+/\d+){2}); "
        r"count the teeth and the magnet poles again, a miscount by one is common\.",
        str(refusal.value),
    )
    counts = [tuple(map(int, pair.split("/"))) for pair in said[1].split(", ")]
    workable = [pair for pair in BALANCED if closed_form_factor(*pair) > 0.8]
    distances = sorted(abs(slots - row["slots"]) + abs(poles - row["poles"]) for slots, poles in workable)
    assert set(counts) <= set(workable)
    assert [abs(slots - row["slots"]) + abs(poles - row["poles"]) for slots, poles in counts] == distances[:3]


def test_every_unbalanced_pair_is_refused():
    for slots, poles in UNBALANCED:
        with pytest.raises(
            BadInput, match=f"^slots and poles: {slots} slots with {poles} poles cannot make three equal phases;"
        ):
            Stator(slots=slots, poles=poles)


@pytest.mark.parametrize("slots", [0, -36, 2, 145, 36.0, True, "36", None])
def test_bad_slots_are_refused(slots):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"slots: {slots!r} was given; a whole number from 3 to 144 is allowed; "
            "count the teeth again; one turn round the ring, from a mark."
        ),
    ):
        Stator(slots=slots, poles=48)


@pytest.mark.parametrize("poles", [0, -2, 1, 146, 48.0, True, "48", None])
def test_bad_poles_are_refused(poles):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"poles: {poles!r} was given; a whole number from 2 to 144 is allowed; "
            "count the magnet poles again; north and south together."
        ),
    ):
        Stator(slots=36, poles=poles)


def test_an_odd_pole_count_is_refused():
    with pytest.raises(BadInput, match=exactly(wording("poles: 47 poles were given"))):
        Stator(slots=36, poles=47)


def test_every_pair_within_six_is_a_neighbour_and_no_other():
    pairs_near = {(q, p) for q in range(30, 43) for p in range(32, 45, 2) if q % (3 * gcd(q, p // 2)) == 0}
    found = workable_counts_near(36, 38, how_many=1000)
    assert len(found) == len(set(found)) and set(found) == {
        pair for pair in pairs_near if closed_form_factor(*pair) > 0.8
    }


def test_the_mark_may_stand_at_any_tooth():
    first, last = Stator(slots=9, poles=8, mark_teeth=1), Stator(slots=9, poles=8, mark_teeth=8)
    plain = Stator(slots=9, poles=8).coils
    assert [coil.phase for coil in first.coils] == [coil.phase for coil in (*plain[1:], plain[0])]
    assert [coil.phase for coil in last.coils] == [coil.phase for coil in (plain[8], *plain[:8])]
    with pytest.raises(BadInput, match="the mark: 9 was given"):
        Stator(slots=9, poles=8, mark_teeth=9)


@pytest.mark.parametrize(("slots", "poles"), [(3, 2), (144, 144), (141, 142)])
def test_counts_near_the_edges_stay_within_them(slots, poles):
    found = workable_counts_near(slots, poles, how_many=5)
    assert 0 < len(found) <= 5
    assert all(3 <= q <= 144 and 2 <= p <= 144 and q % (3 * gcd(q, p // 2)) == 0 for q, p in found)
