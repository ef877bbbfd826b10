"""Bearing life against textbook examples, and the laws that hold for any bearing."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from published.tables import rows
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.service.life import SIZES, bearing_named, equivalent_load_n, l10_hours, turning_force_n, weight_n

wording = sentences_of("service")

BEARINGS = rows("ball_bearings")


@pytest.mark.outside(
    "life at the basic rating itself",
    source="ISO 281:2007, 5.3, definition of the basic rating",
    number="10⁶ turns, 1000 h at 100/6 rpm",
    tolerance="exact",
    seen="from memory",
)
def test_a_million_turns_at_the_rating_itself():
    assert l10_hours(5000.0, 5000.0, 100.0 / 6.0) == pytest.approx(1000.0, rel=1e-12)


@pytest.mark.outside(
    "load and life of a ball bearing pushed across and along",
    source="Shigley's Mechanical Engineering Design, example 11-4",
    number="Fe = 891 lbf, L10 = 16 150 h",
    tolerance="0.5 %, 1.5 %",
    seen="from memory",
)
def test_shigley_radial_and_thrust_load_together():
    # C0 = 4450 lbf, C10 = 7900 lbf, Fr = 500 lbf, Fa = 400 lbf, 720 rev/min. His table is Fa/C0 itself, whose steps
    # 0.084 and 0.110 are those of ISO's 1.03 and 1.38 for f0 = 12.4. One lbf is 4.448222 N (exact to 7 digits).
    lbf = 4.448222
    load = equivalent_load_n(500 * lbf, 400 * lbf, 4450 * lbf, f0=12.4) / lbf
    assert load == pytest.approx(891.0, rel=0.005)
    assert l10_hours(7900 * lbf, load * lbf, 720.0) == pytest.approx(16150.0, rel=0.015)


@pytest.mark.outside(
    "deep groove ball bearings pushed along",
    source="ISO 281:2007, table 3",
    number="e = 0.19; X = 0.56 and Y = 1.45 at f0 Fa/C0 = 1.38",
    tolerance="1e-9",
    seen="from memory",
)
def test_small_axial_loads_do_not_count():
    # Below e the load is the radial one alone.
    assert equivalent_load_n(1000.0, 100.0, 10_000.0) == 1000.0
    # By hand: f0 Fa/C0 = 14 × 1000/10 157.3 = 1.378 ≈ 1.38, Y = 1.45, P = 0.56 × 1000 + 1.45 × 1000 = 2010 N.
    assert equivalent_load_n(1000.0, 1000.0, 14_000.0 / 1.38) == pytest.approx(2010.0, rel=1e-9)


@pytest.mark.outside(
    "life against load, balls and rollers",
    source="ISO 281:2007, 5.3 and 7.3",
    number="exponents 3 and 10/3",
    tolerance="1e-6",
    seen="from memory",
)
@given(st.floats(10, 1e4), st.floats(1, 3000), st.booleans())
def test_double_load_is_an_eighth_of_the_life_for_balls(load, rpm, roller):
    once, twice = (l10_hours(20_000.0, load * k, rpm, roller=roller) for k in (1, 2))
    assert once / twice == pytest.approx(2 ** (10 / 3) if roller else 8.0)
    assert l10_hours(20_000.0, load, 2 * rpm, roller=roller) == pytest.approx(once / 2)


@pytest.mark.outside(
    "bore, outer diameter and width of eighteen ball bearings",
    source="ISO 15:2017, boundary dimensions, diameter series 0, 2 and 3",
    number="6000 10/26/8 to 6308 40/90/23 mm, table ball_bearings.csv",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.outside(
    "ratings of eighteen ball bearings as catalogues print them",
    source="common practice, no source",
    number="6203 9950 and 4750 N, 6204 13 500 and 6550 N, table ball_bearings.csv",
    tolerance="never above, 8 % below at most",
    seen="from memory",
)
def test_the_number_on_the_face_gives_size_and_ratings():
    assert [row["number"] for row in BEARINGS] == list(SIZES)
    for row in BEARINGS:
        found = bearing_named(f" {row['number']}-2RS C3")
        assert (found.bore_mm, found.outer_mm, found.width_mm) == (row["bore"], row["outer"], row["width"])
        assert 0.92 * row["dynamic"] <= found.dynamic_rating_n <= row["dynamic"]
        assert 0.92 * row["static"] <= found.static_rating_n <= row["static"] and "memory" in found.source


@pytest.mark.outside(
    "deep groove ball bearings pushed along: nine rows of the table",
    source="ISO 281:2007, table 3, normal clearance",
    number="f0 Fa/C0, e and Y from 0.172, 0.19, 2.30 to 6.89, 0.44, 1.00",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(
    "relative, limit, factor",
    [
        (0.172, 0.19, 2.30),
        (0.345, 0.22, 1.99),
        (0.689, 0.26, 1.71),
        (1.03, 0.28, 1.55),
        (1.38, 0.30, 1.45),
        (2.07, 0.34, 1.31),
        (3.45, 0.38, 1.15),
        (5.17, 0.42, 1.04),
        (6.89, 0.44, 1.00),
    ],
)
def test_each_row_of_the_table_of_axial_loads(relative, limit, factor):
    static_n, axial_n = 10_000.0, 10_000.0 * relative / 14.0
    below, above = axial_n / (limit - 0.002), axial_n / (limit + 0.002)
    assert equivalent_load_n(below, axial_n, static_n) == below
    assert equivalent_load_n(above, axial_n, static_n) == pytest.approx(0.56 * above + factor * axial_n)


def test_the_table_is_read_between_its_rows_and_beyond_its_ends():
    # Halfway from 0.172 to 0.345: Y = (2.30 + 1.99) / 2; below the first row its own, above the last its own.
    for relative, factor in ((0.2585, 2.145), (0.05, 2.30), (6.95, 1.00)):
        axial_n = 10_000.0 * relative / 14.0
        found = equivalent_load_n(axial_n, axial_n, 10_000.0)
        assert found == pytest.approx((0.56 + factor) * axial_n, rel=1e-3)


def test_in_each_series_a_larger_bearing_carries_more():
    for series in ("60", "62", "63"):
        ratings = [(size.dynamic_rating_n, size.static_rating_n) for name, size in SIZES.items() if name[:2] == series]
        assert ratings == sorted(ratings) and all(static < dynamic for dynamic, static in ratings)


@pytest.mark.outside(
    "standard acceleration of free fall",
    source="BIPM, SI Brochure; 3rd CGPM, 1901",
    number="9.80665 m/s²",
    tolerance="1e-6",
    seen="from memory",
)
def test_weight_and_pull_by_hand():
    # 4 kg weigh 39.2266 N; 8 N·m at 100 mm is 80 N, a tensioned belt pulls twice that.
    assert weight_n(4.0) == pytest.approx(39.2266)
    assert turning_force_n(8.0, 100.0) == pytest.approx(80.0)
    assert turning_force_n(8.0, 100.0, 2.0) == pytest.approx(160.0)


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: bearing_named("banana"), wording("bearing: 'banana' was given; 6000")),
        (lambda: equivalent_load_n(100.0, 6000.0, 10_000.0), wording("axial load: 6000.0 N was")),
    ],
)
def test_one_plain_sentence(call, words):
    with pytest.raises(BadInput, match=exactly(words)):
        call()


@pytest.mark.parametrize(
    "call",
    [
        lambda: l10_hours(0.0, 1.0, 1.0),
        lambda: l10_hours(1.0, 0.0, 1.0),
        lambda: l10_hours(1.0, 1.0, -3.0),
        lambda: weight_n(-1.0),
        lambda: turning_force_n(1.0, 0.0),
        lambda: turning_force_n(-1.0, 5.0),
        lambda: equivalent_load_n(1.0, 1.0, 0.0),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(BadInput, match="was given; a number"):
        call()


def test_small_things_are_taken_as_they_are():
    # A toy on a table, by hand: (0.5 / 0.1)³ × 10⁶ / (60 × 0.5) h; 0.5 N·m at 0.5 mm is 1000 N.
    assert l10_hours(0.5, 0.1, 0.5) == pytest.approx(125e6 / 30) and isinstance(l10_hours(0.5, 0.1, 0.5), float)
    assert equivalent_load_n(0.4, 0.0, 0.5) == 0.4 and weight_n(0.5) == pytest.approx(4.903325)
    assert turning_force_n(0.5, 0.5) == pytest.approx(1000.0)
    assert l10_hours(100.0, np.array([10.0, 100.0]), 100.0 / 6.0) == pytest.approx([1e6, 1e3])


def test_a_long_slip_of_the_keyboard_is_cut():
    with pytest.raises(BadInput) as refused:
        bearing_named("x" * 60)
    assert f"{'x' * 40!r} was given" in str(refused.value)
