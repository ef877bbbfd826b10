"""The fuse in the bank's lead: between the amps and the cable, with the volts and the breaking amps that it needs."""

from dataclasses import replace
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.bank import short_circuit
from statorbook.bank.battery import Bank
from statorbook.cable import cable_ohm
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.fuse import (
    LESS_PER_K,
    MOST_BROKEN_AMPS,
    Fuse,
    Switch,
    fuse_needs,
    label_share,
    open_fuse_volts,
    short_circuits,
)
from statorbook.protection.fuse_curve import fuse_sizes, let_through_a2s, opens_within_s
from statorbook.protection.site import Site
from statorbook.quantities import reader_units


class _Most:
    """A plant's most amps, given."""

    def __init__(self, dc_amps):
        self.dc_amps = dc_amps


def needs_at(dc_amps, **changes):
    """The needs of a plant that can make these amps."""
    made = plant(**changes)
    made.__dict__["most"] = _Most(dc_amps)  # in place of the cached property
    return fuse_needs(made)


@pytest.mark.outside(
    "fuse for 40 A that flow for hours",
    source="NEC 210.20(A)",
    number="50 A",
    tolerance="none, the edge is allowed",
    seen="in a reproduction",
)
def test_a_quarter_is_added_and_the_edge_is_allowed():
    assert needs_at(40.0).least_amps == 50.0
    assert needs_at(40.0, run=CableRun(area_mm2=25.0)).amps == 50.0
    assert needs_at(40.001, run=CableRun(area_mm2=25.0)).amps == 63.0


@pytest.mark.outside(
    "largest fuse that a cable in conduit allows",
    source="IEC 60364-4-43, 433.1, with IEC 60364-5-52, table B.52.2, and 0.87 at 40 °C",
    number="16 mm² 69 A, 25 mm² 90 A: 63 A fits the second only",
    tolerance="none",
    seen="from memory",
)
def test_a_fuse_above_what_the_cable_carries_is_none_and_the_cable_is_named():
    needs = needs_at(45.0, run=CableRun(area_mm2=16.0))
    assert (needs.amps, needs.next_amps, needs.cable_mm2) == (None, 63.0, 25.0)
    assert needs_at(45.0, run=CableRun(area_mm2=25.0)).amps == 63.0
    with reader_units("US"):
        assert needs_at(45.0).next_amps == 60.0


def test_amps_that_no_fuse_is_made_for():
    needs = needs_at(3000.0)
    assert (needs.amps, needs.next_amps, needs.cable_mm2, needs.size_amps) == (None, None, inf, None)
    assert needs.switch_amps == 3750.0


# By hand: 160 V DC peak run away against an empty bank of 20.04 V leave more than the bank's own volts across the gap.
def test_the_open_fuse_stands_the_machine_that_runs_away():
    fast, slow = (plant(drive=KnownSpeed(working_rpm=rpm)) for rpm in (2000.0, 20.0))
    runaway = fast.open_volts(fast.runaway_rpm)[1]
    assert open_fuse_volts(fast) == pytest.approx(runaway - fast.bank.lowest_volts)
    assert open_fuse_volts(slow) == slow.bank.highest_volts
    assert fuse_needs(fast).dc_volts == open_fuse_volts(fast)


def test_it_breaks_the_most_that_the_bank_may_drive():
    needs = fuse_needs(plant())
    assert needs.breaking_amps == needs.bank_amps.most_amps > needs.bank_amps.likely_amps


def test_with_the_rectifier_at_the_bank_only_short_leads_lie_behind_it():
    needs = needs_at(45.0, run=CableRun(area_mm2=16.0, rectifier_at=AT_BANK))
    assert (needs.amps, needs.cable_amps, needs.cable_mm2) == (63.0, inf, 25.0)


# What is below the last of them may flow for ever; the arc comes on top.
@pytest.mark.outside(
    "gates of a gG fuse of 63 A",
    source="IEC 60269-1, gates of gG fuses",
    number="320 A within 5 s, 820 A within 0.1 s, 100.8 A within an hour",
    tolerance="the arc on top",
    seen="from memory",
)
@pytest.mark.parametrize(("amps", "seconds"), [(320.0, 5.0), (820.0, 0.1), (100.8, 3600.0)])
def test_the_gates_of_a_fuse(amps, seconds):
    assert seconds <= opens_within_s(63.0, amps) <= seconds + 27_000.0 / amps**2 + 1e-6
    assert opens_within_s(63.0, 100.0) == inf


@given(st.sampled_from(fuse_sizes()), st.floats(1.7, 500.0), st.floats(1.0, 3.0))
@settings(max_examples=250)
def test_more_amps_never_take_longer_and_a_bigger_fuse_is_never_faster(rated, times, more):
    amps = times * rated
    assert opens_within_s(rated, more * amps) <= opens_within_s(rated, amps) * (1 + 1e-9)
    assert opens_within_s(more * rated, amps) >= opens_within_s(rated, amps) * (1 - 1e-9)
    assert let_through_a2s(more * rated) >= let_through_a2s(rated)


@given(
    st.floats(100.0, 2500.0), st.floats(1.0, 1.5), st.floats(0.0, 40.0), st.floats(40.0, 70.0), st.floats(1.0, 500.0)
)
@settings(max_examples=25, deadline=None)
def test_faster_colder_hotter_longer_and_bigger_banks_never_ask_for_less(rpm, faster, colder_k, hot_c, metres):
    tame = plant(drive=KnownSpeed(working_rpm=rpm))
    wild = plant(
        drive=KnownSpeed(working_rpm=faster * rpm),
        cold_c=tame.machine.setting.cold_c - colder_k,
        site=Site(hottest_c=hot_c),
        run=replace(tame.run, length_m=tame.run.length_m + metres),
        bank=replace(tame.bank, capacity_ah=2.0 * tame.bank.capacity_ah),
    )
    mild, hard = fuse_needs(tame), fuse_needs(wild)
    for name in ("least_amps", "size_amps", "dc_volts", "breaking_amps", "cable_mm2"):
        assert getattr(hard, name) >= getattr(mild, name) * (1 - 1e-6), name
    assert hard.cable_amps <= mild.cable_amps


# S = 320 √5 / 115 = 6.2 mm² at the most: the gate of the fuse with k of IEC 60364-5-54.
@pytest.mark.outside(
    "thinnest wire behind a 63 A fuse opening in 5 s",
    source="IEC 60269-1, gates, with k 115 of IEC 60364-5-54",
    number="6.2 mm²",
    tolerance="3 %",
    seen="from memory",
)
def test_a_longer_cable_is_never_allowed_to_be_thinner():
    areas = [
        short_circuits(plant(run=CableRun(length_m=metres)), Fuse(amps=63.0)).area_mm2
        for metres in (1.0, 5.0, 20.0, 60.0, 100.0, 300.0, 1000.0)
    ]
    assert areas == sorted(areas) and areas[0] < areas[-1]
    assert areas[-1] == pytest.approx(320.0 * 5.0**0.5 / 115.0, rel=0.03)


@pytest.mark.parametrize(
    "fields", [{"amps": 0.0}, {"amps": -5.0}, {"amps": 10, "dc_volts": 0}, {"amps": 10, "breaking_amps": -1}]
)
def test_a_label_that_cannot_be_is_refused(fields):
    with pytest.raises(BadInput):
        Fuse(**fields)


@pytest.mark.parametrize("made", [Fuse, Switch])
def test_small_and_large_labels_are_taken_up_to_their_ends(made):
    assert made(amps=0.5, dc_volts=0.5).amps == 0.5 and made(amps=10_000.0).amps == 10_000.0
    for fields in ({"amps": 10_001.0}, {"amps": 0.0}, {"amps": 1.0, "dc_volts": 0.0}):
        with pytest.raises(BadInput):
            made(**fields)


# PVC stands 70 °C at work and 160 °C at the end of a short circuit (IEC 60364-4-43, table 43A, from memory), so the
# wire's ohms are those at 115 °C. Short leads from a rectifier beside the bank have none.
def test_the_wire_is_half_way_hot_and_short_leads_have_no_ohms():
    long = plant(run=CableRun(length_m=60.0, area_mm2=16.0))
    wire = cable_ohm(60.0, 16.0, copper_c=115.0, strands=long.run.strands)
    bank = long.bank
    far = short_circuits(long, Fuse(amps=63.0)).far_amps
    assert long.run.is_dc and far == pytest.approx(short_circuit(bank, outside_ohm=wire).least_amps)
    beside = plant(run=CableRun(rectifier_at=AT_BANK))
    assert not beside.run.is_dc
    near = short_circuits(beside, Fuse(amps=63.0)).far_amps
    assert near == pytest.approx(short_circuit(beside.bank, outside_ohm=0.0).least_amps)


# 0.5 % for each K above 40 °C, common practice, no source.
def test_hot_air_takes_a_tenth_at_60_c_and_nothing_up_to_40():
    assert [label_share(air_c) for air_c in (-20.0, 40.0)] == [1.0, 1.0]
    assert label_share(42.0) == pytest.approx(0.99) and label_share(60.0) == pytest.approx(0.90)
    assert LESS_PER_K.low <= LESS_PER_K.value <= LESS_PER_K.high
    assert MOST_BROKEN_AMPS.low <= MOST_BROKEN_AMPS.value <= MOST_BROKEN_AMPS.high


def test_a_bank_that_drives_more_asks_for_more_breaking():
    small, big = (Bank(chemistry="LiFePO4", cells=16, capacity_ah=ah) for ah in (100.0, 400.0))
    assert fuse_needs(plant(bank=big)).breaking_amps == pytest.approx(4 * fuse_needs(plant(bank=small)).breaking_amps)


# S = √(I²t) / k, k = 115 (IEC 60364-5-54, from memory): 27 000 A²s before its arc, twice that with it, or its sheet's.
def test_the_wire_beside_the_fuse_stands_what_it_lets_through():
    made = plant()
    for fuse, a2s in ((Fuse(amps=63.0), 54_000.0), (Fuse(amps=63.0, let_through_a2s=40_000.0), 40_000.0)):
        assert short_circuits(made, fuse).near_area_mm2 == pytest.approx(a2s**0.5 / 115.0, rel=5e-3)


# 2 km of 2.5 mm² are far over the 10 Ω that a run may have; leads of a metre behind a fuse at the bank are not.
def test_short_leads_may_be_thin_behind_a_long_run_of_ac():
    beside = plant(run=CableRun(length_m=2000.0, area_mm2=25.0, rectifier_at=AT_BANK))
    assert (fuse_needs(beside).size_amps, fuse_needs(beside).cable_mm2) == (16.0, 2.5)
    far = CableRun(length_m=2000.0, area_mm2=25.0)
    thickest_refused, least = 6.0, fuse_needs(plant(run=far)).cable_mm2
    with pytest.raises(BadInput):
        replace(far, area_mm2=thickest_refused)
    assert least > thickest_refused and replace(far, area_mm2=least).run_ohm <= 10.0


# No single fuse is made beyond 1250 A; then no cable can be named either.
def test_a_cable_is_named_only_for_a_fuse_that_is_made():
    assert needs_at(999.0, run=CableRun(rectifier_at=AT_BANK)).size_amps == 1250.0
    assert needs_at(1001.0, run=CableRun(rectifier_at=AT_BANK)).cable_mm2 == inf
