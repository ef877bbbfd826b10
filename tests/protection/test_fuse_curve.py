"""Fuses as they are sold: each size and each gate of the standard, and what lies between and beyond its rows."""

from math import inf, nextafter, sqrt

import pytest

from published.tables import rows
from statorbook.protection.fuse_curve import five_second_amps, fuse_sizes, let_through_a2s, opens_within_s
from statorbook.quantities import reader_units

GATES = rows("fuse_gates")
ROW = pytest.mark.parametrize("row", GATES, ids=lambda row: f"{row['rated_amps']:g} A")


# Fuses of 1.6 times the amps wait for each other: what opens one for sure leaves the next but one alone. So the least
# amps of a size are the most of the size two rows before, which proves that neither column is mistyped.
def test_the_table_is_the_one_in_which_fuses_wait_for_each_other():
    for small, large in zip(GATES, GATES[2:], strict=False):
        assert large["least_tenth_s_amps"] == small["most_tenth_s_amps"]


# 2: the arc doubles the A²s, common practice, no source; before it the standard's gate holds.
@pytest.mark.outside(
    "gates of gG fuses from 16 to 1250 A",
    source="IEC 60269-1, gates of gG fuses",
    number="amps that open each within 5 s and 0.1 s, A²s before its arc",
    tolerance="exact",
    seen="from memory",
)
@ROW
def test_every_gate_of_every_size(row):
    rated, a2s = row["rated_amps"], row["most_a2s_before_arc"]
    assert five_second_amps(rated) == pytest.approx(row["most_five_s_amps"])
    assert let_through_a2s(rated) == pytest.approx(2.0 * a2s)
    for amps, seconds in ((row["most_five_s_amps"], 5.0), (row["most_tenth_s_amps"], 0.1)):
        assert opens_within_s(rated, amps) == pytest.approx(seconds + a2s / amps**2)
    quick = sqrt(a2s / 0.01)
    assert opens_within_s(rated, 0.999 * quick) == pytest.approx(0.02, rel=0.02)
    assert opens_within_s(rated, 3.0 * quick) == pytest.approx(0.02 / 9.0)


@pytest.mark.outside(
    "conventional time in which 1.6 times its amps open a gG fuse",
    source="IEC 60269-1, conventional times",
    number="1 h up to 63 A, 2 h up to 160 A, 3 h up to 400 A, 4 h above",
    tolerance="exact, the arc on top",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("rated", "hours"),
    [(16.0, 1.0), (63.0, 1.0), (63.5, 2.0), (160.0, 2.0), (161.0, 3.0), (400.0, 3.0), (401.0, 4.0), (1250.0, 4.0)],
)
def test_at_its_conventional_amps_it_opens_in_its_hours_and_below_perhaps_never(rated, hours):
    assert opens_within_s(rated, 1.6 * rated) == pytest.approx(3600.0 * hours, rel=2e-3)
    assert opens_within_s(rated, 1.599 * rated) == inf


# Straight in logarithms: half-way between two rows, and between two gates, stand the geometric means.
def test_between_rows_and_gates_it_is_straight_in_logarithms_and_beyond_in_proportion():
    assert five_second_amps(sqrt(63.0 * 80.0)) == pytest.approx(sqrt(320.0 * 425.0))
    assert let_through_a2s(sqrt(63.0 * 80.0)) == pytest.approx(2000.0 * sqrt(27.0 * 46.0))
    amps = sqrt(320.0 * 820.0)
    assert opens_within_s(63.0, amps) == pytest.approx(sqrt(5.0 * 0.1) + 27_000.0 / amps**2)
    # Half of 16 A and twice 1250 A: half and twice the amps, a quarter and four times the A²s.
    assert [five_second_amps(amps) for amps in (8.0, 2500.0)] == pytest.approx([32.5, 26_000.0])
    assert [let_through_a2s(amps) for amps in (8.0, 2500.0)] == pytest.approx([500.0, 4 * 94e6])
    assert opens_within_s(8.0, 75.0) == pytest.approx(0.1 + 250.0 / 75.0**2)


# ISO 3, rounded R10: ten sizes a decade; below them 2, 4 and 6 A.
@pytest.mark.outside(
    "sizes in which fuses are sold",
    source="IEC 60269-1, which takes the R10 numbers of ISO 3",
    number="10^(n/10), n 10 to 31, 12 left out; 2, 4, 6 A below",
    tolerance="1.5 %",
    seen="from memory",
)
def test_the_sizes_are_preferred_numbers():
    exact = [10.0 ** (n / 10.0) for n in range(10, 32) if n != 11]
    assert fuse_sizes() == pytest.approx([2.0, 4.0, 6.0, *exact], rel=0.015)


@pytest.mark.outside(
    "sizes in which fuses are sold in the US",
    source="NEC 240.6(A), with the smaller ones that it adds for fuses",
    number="1, 3, 6, 10 A, 15 to 1200 A",
    tolerance="exact",
    seen="from memory",
)
def test_the_sizes_for_us_readers():
    fives, tens = [15, 20, 25, 30, 35, 40, 45, 50], [60, 70, 80, 90, 100, 110]
    large = [125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600, 700, 800, 1000, 1200]
    with reader_units("US"):
        assert list(fuse_sizes()) == [1, 3, 6, 10, *fives, *tens, *large]


def test_a_hair_below_the_conventional_amps_still_counts_as_them():
    assert opens_within_s(63.0, nextafter(1.6 * 63.0, 0.0)) < inf
