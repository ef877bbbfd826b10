"""Preferred values, mains elements on the bank, and groups of elements that are neither too weak nor overloaded."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.charging.heater_elements import E12, E24, ElementGroup, element_groups, mains_watts, preferred_ohm

wording = sentences_of("charging_dump")


# 27, 30, 33, 36, 39, 43, 47 and 82 are no rounded powers of ten.
@pytest.mark.outside(
    "preferred values E12 and E24",
    source="IEC 60063 through eseries 1.2.1, series(E12), series(E24)",
    number="10 12 15 18 22 27 33 39 47 56 68 82, and 12 more",
    tolerance="none",
    seen="computed by package",
)
def test_the_preferred_values_are_those_of_the_standard():
    assert E12 == (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
    assert set(E24) - set(E12) == {11, 13, 16, 20, 24, 30, 36, 43, 51, 62, 75, 91}


# A value of the series stays as it is.
@pytest.mark.outside(
    "preferred value next below 0.83 in E12",
    source="eseries 1.2.1, find_less_than_or_equal(E12, 0.83)",
    number="0.82",
    tolerance="none",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("ohm", "series", "value"),
    [(0.83, E12, 0.82), (0.82, E12, 0.82), (0.999, E12, 0.82), (1.0, E12, 1.0), (2.57, E24, 2.4), (10.9, E24, 10.0)],
)
def test_the_next_value_below(ohm, series, value):
    assert preferred_ohm(ohm, series=series) == pytest.approx(value, rel=1e-12)


# Ohm's law by hand: 2000 W (V / 230 V)².
@pytest.mark.parametrize(("volts", "watts"), [(57.6, 125.4), (28.8, 31.36), (14.4, 7.84)])
def test_a_mains_element_on_the_bank_is_next_to_nothing(volts, watts):
    assert mains_watts(volts) == pytest.approx(watts, rel=1e-3)


# By hand: two in series of 48²/1000 = 2.304 Ω and two such rows in parallel are 2.304 Ω again; each takes
# 29.2²/2.304 = 370 W of its 1000 W, and a single one would take 58.4²/2.304 = 1480 W.
def test_an_element_that_would_be_overloaded_alone_is_put_in_series():
    group = next(g for g in element_groups(2.4, 58.4) if g.label == "1000 W for 48 V")
    assert (group.series, group.parallel, group.standing_watts) == (2, 2, 4000.0)
    assert group.ohm == pytest.approx(2.304)
    assert group.joined == wording("rows")


# By hand: 2 Ω each.
@pytest.mark.parametrize(
    ("series", "parallel", "joined", "ohm"),
    [(1, 1, "one", 2.0), (1, 2, "2 in parallel", 1.0), (2, 1, "2 in series", 4.0), (3, 1, "3 in series", 6.0)],
)
def test_how_elements_are_joined(series, parallel, joined, ohm):
    group = ElementGroup(label="", each_ohm=2.0, each_watts=500.0, series=series, parallel=parallel)
    assert (group.joined, group.ohm) == (joined, ohm)
    assert (group.pieces, group.standing_watts) == (series * parallel, 500.0 * series * parallel)


def test_a_us_reader_gets_the_elements_of_his_shop():
    # By hand: 120²/2000 = 7.2 Ω, three in parallel 2.4 Ω.
    group = next(g for g in element_groups(2.4, 58.4, system="US") if g.label == "2000 W for 120 V")
    assert (group.pieces, group.ohm) == (3, pytest.approx(2.4))
    assert not any("230" in g.label for g in element_groups(2.4, 58.4, system="US"))


@given(st.floats(0.05, 20.0), st.floats(12.0, 65.0), st.sampled_from(["metric", "US"]))
@settings(max_examples=60, deadline=None)
def test_no_group_is_too_weak_or_overloaded(most_ohm, top_volts, system):
    for group in element_groups(most_ohm, top_volts, system=system):
        assert group.ohm <= most_ohm * (1 + 1e-9)
        assert top_volts**2 / group.ohm <= group.standing_watts * (1 + 1e-9)
        assert (top_volts / group.series) ** 2 / group.each_ohm <= group.each_watts * (1 + 1e-9)


@given(st.floats(1e-3, 1e4))
@settings(max_examples=60)
def test_a_preferred_value_is_never_above_and_within_a_step(ohm):
    value = preferred_ohm(ohm)
    assert value <= ohm * (1 + 1e-9) < 1.2 * value
    assert preferred_ohm(value) == value


# Labels of elements as they are sold, watts for volts: common practice, no source.
_SOLD = {
    "metric": ((300, 12), (600, 24), (1000, 48), (1500, 48), (1000, 230), (2000, 230), (3000, 230)),
    "US": ((300, 12), (600, 24), (1000, 48), (1500, 48), (1500, 120), (2000, 120), (4500, 240)),
}


@pytest.mark.parametrize(("system", "watts", "volts"), [(s, *label) for s in _SOLD for label in _SOLD[s]])
def test_every_element_that_is_sold_is_named_where_one_alone_does(system, watts, volts):
    found = {group.label: group for group in element_groups(volts**2 / watts, float(volts), system=system)}
    group = found[f"{watts} W for {volts} V"]
    assert (group.pieces, group.each_watts, group.joined) == (1, watts, "one")


# 12² / 300 = 0.48 Ω. At most four in series, so up to 48 V; at most twelve in all; no fewer ohms than half of those
# asked for. Wire-wound resistors of 300 W take half of that: common practice, no source.
def test_a_box_full_is_enough():
    def group(most_ohm, top_volts):
        return next((g for g in element_groups(most_ohm, top_volts) if g.label == "300 W for 12 V"), None)

    assert group(1.92, 48.0).series == 4 and group(1.92, 48.1) is None
    assert group(0.48 / 12, 12.0).parallel == 12 and group(0.48 / 12.1, 12.0) is None
    assert (group(0.95, 12.0).series, group(0.97, 12.0).series) == (1, 2)
    resistors = [g for g in element_groups(10.0, 30.0) if "wire-wound" in g.label]
    (one,) = resistors
    assert one.each_watts == 150.0 and "300 W" in one.label
    # 30 V over 10 Ω are 90 W: one does.
    assert (one.pieces, one.ohm) == (1, pytest.approx(10.0))
