"""Bearing life against textbook examples, and the laws that hold for any bearing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.service.life import SIZES, bearing_named, equivalent_load_n, l10_hours, turning_force_n, weight_n

wording = sentences_of("service")


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
    "bore, outer diameter and width of five ball bearings",
    source="ISO 15:2017, boundary dimensions, diameter series 0, 2 and 3",
    number="10/26/8, 17/40/12, 20/47/14, 25/62/17, 40/90/23 mm",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(
    "number, bore, outer, width",
    [
        ("6000", 10, 26, 8),
        ("6203", 17, 40, 12),
        ("6204-2RS C3", 20, 47, 14),
        ("6305ZZ", 25, 62, 17),
        ("6308", 40, 90, 23),
    ],
)
def test_the_number_on_the_face_gives_the_size(number, bore, outer, width):
    found = bearing_named(number)
    assert (found.bore_mm, found.outer_mm, found.width_mm) == (bore, outer, width)


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
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(BadInput, match="was given; a number"):
        call()
