"""Magnet poles from Hz and rpm of one spin: the count, its ±, what the slots allow, and the common slips."""

from math import hypot

import pytest

from sentences import exactly, sentences_of
from statorbook.bench.pole_count import count_poles, pole_count_words
from statorbook.errors import BadInput
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)


@pytest.mark.outside(
    "pairs of poles from frequency and speed",
    source="f = p n / 60, definition of electrical frequency",
    number="48 pairs at 240 Hz and 300 rpm",
    tolerance="exact",
    seen="derived",
)
def test_pairs_are_sixty_times_hz_over_rpm():
    count = count_poles(240.0, 300.0)
    # ± 0.5 % of the Hz and 1.96 times one sigma of 1 % of the rpm are 2.02 %.
    assert count.pairs.value == pytest.approx(48.0) and count.poles == 96
    assert count.pairs.plus_minus == pytest.approx(48 * hypot(0.005, 0.0196))
    assert count_poles(16.1, 300.0).possible == () and count_poles(15.1, 300.0).possible == (6,)


@pytest.mark.outside(
    "pole count between 47.4 and 49.2 that 36 slots allow",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. EPA 153(3) 2006",
    number="36 / (3 gcd(36, p)) whole: 48 poles alone",
    tolerance="exact",
    seen="from memory",
)
def test_an_agreeing_count_is_told_so():
    assert pole_count_words(count_poles(120.5, 300.0, 36), STATOR) == wording("One spin says 24.10 ±")


# 28 and 29 pairs have no factor with 51 in common, and 51 / 3 is whole: both are balanced. 2.02 % of 28.5 are 0.58.
def test_what_one_spin_cannot_tell_apart_is_left_to_the_hand():
    stator = Stator(slots=51, poles=58)
    assert pole_count_words(count_poles(142.5, 300.0, 51), stator) == wording("One spin says 28.50 ±")


def test_no_meter_of_a_bench_shows_more_than_20000():
    assert count_poles(20_000.0, 20_000.0).poles == 60 * 2
    for hz, rpm in ((20_001.0, 20_000.0), (20_000.0, 20_001.0), (0.04, 1.0), (1.0, 0.9)):
        with pytest.raises(BadInput, match="20000"):
            count_poles(hz, rpm)


@pytest.mark.parametrize(
    "hz, slip",
    [
        (240.0, "twice the count: the meter counts both halves of a wave, or the rpm meter misses every second mark"),
        (60.0, "half the count: the rpm meter sees two marks a turn, or the meter misses every second wave"),
    ],
)
def test_doubled_and_halved_readings_are_recognised(hz, slip):
    said = pole_count_words(count_poles(hz, 300.0, 36), STATOR)
    assert said.endswith(
        f"You counted 48, which does not agree: the reading is {slip}; put one strip on the rotor, "
        "spin again steadily and read both at the same moment."
    )


# 42 poles are 21 pairs, gcd(36, 21) = 3 and 36 / 9 = 4 is whole, so 36/42 is a workable pair.
def test_another_count_that_the_slots_allow_is_named():
    assert pole_count_words(count_poles(105.0, 300.0, 36), STATOR).endswith(wording("You counted 48, which does"))


# 36 poles are 18 pairs, gcd(36, 18) = 18 and 36 / 54 is not whole.
def test_a_count_that_the_slots_refuse_offers_the_nearest_ones():
    count = count_poles(90.0, 300.0, 36)
    assert count.possible == () and 36 not in count.nearest and len(count.nearest) == 3
    assert wording("nothing within the ± goes") in pole_count_words(count, STATOR)


def test_without_a_stator_every_even_count_within_the_band_is_named():
    # 2.02 % of 72 pairs are 1.46: 71, 72 and 73 pairs, of which 146 poles are beyond what is usual
    assert pole_count_words(count_poles(360.0, 300.0)).endswith(wording("Within the ±: 142 or"))


def test_exchanged_cells_are_refused():
    refusal = wording("pole count: 3000 Hz at")
    with pytest.raises(BadInput, match=exactly(refusal)):
        count_poles(3000.0, 12.0)
