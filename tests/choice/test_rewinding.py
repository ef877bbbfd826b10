"""Rewinding: hand algebra, the regrouping algebra of the library, wire tables and the weight of copper."""

from dataclasses import replace
from math import isnan, nan, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samples.machine_samples import BANK, COIL, JET, SETTING, STATOR
from sentences import exactly, in_us, sentences_of
from statorbook.cautions import Exposure
from statorbook.choice.machine import Machine
from statorbook.choice.rewinding import (
    HANDY_WIRE_MM,
    METAL_KG_PER_M3,
    RESISTIVITY_OHM_MM2_PER_M,
    WIRE_SIZES_MM,
    metal_kg,
    new_wire,
    rewind_figures,
    rewound,
)
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.winding.grouping import Grouping
from statorbook.winding.winding import Winding
from strategies import numbers, windings

wording = sentences_of("choice")

MACHINE = Machine(
    stator=STATOR,
    found=Grouping(series=12, parallel=1),
    coil=COIL,
    corners=(replace(COIL, ohm=0.5), replace(COIL, ohm=0.6)),
    ends=(replace(COIL, henry=0.003),) * 6,
    drive=JET,
    bank=BANK,
    setting=replace(SETTING, open_corner_v_per_rpm=0.01),
    assumed=(),
)


def bare(winding):
    """A machine around any winding; drive and bank do not matter."""
    return replace(MACHINE, stator=winding.stator, found=winding.grouping, coil=winding.coil, corners=(), ends=())


def star(winding):
    """What the leads show."""
    at = winding.star_equivalent(80.0, 50.0)
    return at.emf_v_per_rpm, at.ohm, at.henry


def test_rewound_with_the_same_turns_nothing_changes():
    assert rewound(MACHINE, 1.0) == MACHINE


# Hand algebra: k turns in the same room are k times the EMF, k² the inductance, and k times the length of a k-th area.
@given(windings(), numbers(0.05, 20.0))
def test_emf_ohm_henry_and_wire_follow_from_the_turns(winding, k):
    old, new = bare(winding), rewound(bare(winding), k)
    assert new.coil.emf_v_per_rpm == pytest.approx(k * old.coil.emf_v_per_rpm, rel=1e-12)
    assert new.coil.ohm == pytest.approx(k * old.coil.ohm * k, rel=1e-12)
    assert new.coil.henry == pytest.approx(k * k * old.coil.henry, rel=1e-12)
    assert new.setting.wire_diameter_mm**2 * k == pytest.approx(old.setting.wire_diameter_mm**2, rel=1e-12)
    assert new.setting.open_corner_v_per_rpm == pytest.approx(0.01 * k, rel=1e-12)
    assert (new.stator, new.found, new.drive, new.bank) == (old.stator, old.found, old.drive, old.bank)
    assert (new.coil.conductor, new.coil.magnet) == (old.coil.conductor, old.coil.magnet)


def test_the_bands_of_the_constants_are_rewound_too():
    new = rewound(MACHINE, 2.0)
    assert [coil.ohm for coil in new.corners] == pytest.approx([2.0, 2.4])
    assert [coil.henry for coil in new.ends] == pytest.approx([0.012] * 6)


# Hand algebra: s in series, a paths, k times the turns is k s, k² s/a; so is k s in series, a/k paths.
@given(windings(), st.sampled_from((2, 3, 4, 5)))
def test_rewinding_by_k_is_regrouping_from_k_paths_to_series(winding, k):
    grouping = winding.grouping
    if grouping.parallel % k:
        return
    joined = Grouping(series=grouping.series * k, parallel=grouping.parallel // k, connection=grouping.connection)
    new = rewound(bare(winding), k)
    wound = Winding(stator=winding.stator, coil=new.coil, grouping=grouping)
    assert star(wound) == pytest.approx(star(replace(winding, grouping=joined)), rel=1e-12)


def test_so_both_give_the_same_watts():
    for grouping in STATOR.groupings():
        if grouping.parallel % 2 == 0:
            joined = Grouping(
                series=2 * grouping.series, parallel=grouping.parallel // 2, connection=grouping.connection
            )
            pair = [
                Winding(stator=STATOR, coil=rewound(MACHINE, 2.0).coil, grouping=grouping),
                Winding(stator=STATOR, coil=COIL, grouping=joined),
            ]
            found = operating_points(JET, pair, BANK.states[1], SETTING.conditions)
            assert found.bank_watts[0, 0] == pytest.approx(found.bank_watts[1, 0], rel=1e-9, abs=1e-9)
            assert found.speed_rpm[0, 0] == pytest.approx(found.speed_rpm[1, 0], rel=1e-9)


@given(windings(), numbers(0.05, 20.0))
def test_the_same_room_holds_the_same_metal(winding, k):
    old, new = rewind_figures(bare(winding), 1.0), rewind_figures(bare(winding), k)
    assert new.metal_kg == pytest.approx(old.metal_kg, rel=1e-9)


@given(windings(), numbers(0.1, 10.0), numbers(0.1, 10.0))
def test_rewinding_twice_is_rewinding_once_by_both(winding, first, second):
    twice, once = rewound(rewound(bare(winding), first), second), rewound(bare(winding), first * second)
    for name in ("emf_v_per_rpm", "ohm", "henry"):
        assert getattr(twice.coil, name) == pytest.approx(getattr(once.coil, name), rel=1e-9)
    assert twice.setting.wire_diameter_mm == pytest.approx(once.setting.wire_diameter_mm, rel=1e-9)


@pytest.mark.outside(
    "weight of 1 km of 1 mm² from its ohms",
    source="IEC 60028 (copper, annealed), IEC 60889 (aluminium): 17.24 and 28.26 Ω",
    number="8.96, 2.70 kg",
    tolerance="0.1 %",
    seen="from memory",
)
@pytest.mark.parametrize("conductor, ohm, kg", [("copper", 17.24, 8.96), ("aluminium", 28.26, 2.70)])
def test_a_kilometre_of_one_square_millimetre(conductor, ohm, kg):
    assert metal_kg(ohm, 1.0, 1, conductor) == pytest.approx(kg, rel=1e-3)
    assert metal_kg(ohm / 10.0, 1.0, 10, conductor) == pytest.approx(kg, rel=1e-3)


@pytest.mark.outside(
    "pounds of 1000 ft of AWG 10, 14 and 20",
    source="NBS Handbook 100 (1966), copper wire tables",
    number="31.43, 12.43, 3.092 lb",
    tolerance="1 %",
    seen="from memory",
)
@pytest.mark.parametrize("mm, ohm, pounds", [(2.588, 0.9989, 31.43), (1.628, 2.525, 12.43), (0.8118, 10.15, 3.092)])
def test_weight_of_copper_against_wire_tables(mm, ohm, pounds):
    # The tables take 8.89 kg/dm³ (IACS), the fact here 8.96; that is 0.8 %.
    assert metal_kg(ohm, pi / 4.0 * mm**2, 1) == pytest.approx(pounds * 0.45359237, rel=0.01)


def test_weight_of_many_windings_at_once():
    import numpy as np

    many = metal_kg(np.array([0.5, 1.0]), np.array([0.4, 0.8]), 36)
    assert many == pytest.approx([metal_kg(0.5, 0.4, 36), metal_kg(1.0, 0.8, 36)])
    assert type(metal_kg(0.5, 0.4, 36)) is float


# A hair thicker takes this gauge, a hair thinner the next.
@pytest.mark.outside(
    "diameter of AWG 18, 24, 30 and 15",
    source="ASTM B258, diameters by 0.127 mm × 92^((36 − n)/39)",
    number="1.024, 0.5106, 0.2546, 1.450 mm",
    tolerance="0.5 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize("gauge, mm", [(18, 1.024), (24, 0.5106), (30, 0.2546), (15, 1.450)])
def test_the_gauge_is_the_thickest_that_fits(gauge, mm):
    assert new_wire(pi / 4.0 * (1.001 * mm) ** 2).awg == gauge
    assert new_wire(pi / 4.0 * (0.995 * mm) ** 2).awg == gauge + 1


@pytest.mark.parametrize("mm", [size for size in WIRE_SIZES_MM if size <= 1.6])
def test_a_standard_size_stays_what_it_is(mm):
    wire = new_wire(pi / 4.0 * mm**2)
    assert (wire.wires, wire.standard_mm) == (1, mm)
    assert wire.exact_mm == pytest.approx(mm, rel=1e-12)


@given(numbers(0.04, 60.0), st.integers(1, 6))
def test_the_standard_wire_fits_and_is_the_next_size_down(area_mm2, least):
    wire = new_wire(area_mm2, least_wires=least)
    assert wire.wires * pi / 4.0 * wire.exact_mm**2 == pytest.approx(area_mm2, rel=1e-9)
    assert wire.standard_mm <= wire.exact_mm * (1 + 1e-9) <= 1.6 * (1 + 2e-9)
    # The fine row of sizes has steps of about 6 %, rounded.
    assert wire.exact_mm / wire.standard_mm < 1.073


# Hand algebra: 8 mm² is 3.98 times the 2.011 mm² of 1.6 mm, so four in hand of 2 mm² each, 1.596 mm; down to 1.5 mm.
def test_thick_wire_is_split_into_wires_in_hand():
    wire = new_wire(8.0)
    assert (wire.wires, wire.standard_mm, wire.awg) == (4, 1.5, 15)
    assert wire.exact_mm == pytest.approx(1.596, abs=0.001)
    assert wire.words == wording("4 wires in hand of")


def test_thinner_than_any_usual_size():
    wire = new_wire(0.01)
    assert (wire.wires, wire.standard_mm, wire.awg) == (1, None, None) and isnan(wire.standard_area_mm2)
    assert wire.words == wording("one wire of 0.11 mm")
    assert new_wire(0.05, least_wires=4).wires == 1


# Hand algebra: 0.56 Ω and 0.8 mm; half the turns: 0.14 Ω, 0.8 √2 = 1.131 mm. 36 coils: length 0.56 × 0.50265 × 58 =
# 16.33 m each, 0.0735 kg each, 2.65 kg. Down to 1.12 mm: 0.14 × (1.131/1.12)² = 0.1429 Ω; 5 A are 5.08 A/mm².
def test_half_the_turns_in_words():
    figures = rewind_figures(MACHINE, 0.5, 40)
    assert (figures.turns, figures.change) == (20, wording("0.5 times the turns (20"))
    assert figures.coil_ohm == pytest.approx(0.14)
    assert figures.wire.exact_mm == pytest.approx(0.8 * sqrt(2))
    assert figures.standard_ohm == pytest.approx(0.1429, abs=1e-4)
    assert figures.metal_kg == pytest.approx(2.65, abs=0.01)
    assert figures.in_words(5.0) == wording("The same room takes one")
    assert "about 5.8 lb of copper" in in_us(figures.in_words, 5.0) and "1.12 mm" in in_us(figures.in_words, 5.0)
    assert wording("at 12.2 A/mm², more") in figures.in_words(12.0)


def test_without_a_measured_wire_it_says_what_to_measure():
    figures = rewind_figures(replace(MACHINE, setting=replace(SETTING, wire_diameter_mm=None)), 2.0)
    assert (figures.wire, figures.metal_kg) == (None, None) and isnan(figures.standard_ohm) and isnan(figures.turns)
    assert figures.change == "2 times the turns"
    # Hand algebra: 4 × 0.56 Ω.
    assert {Exposure.SHARP, Exposure.CHEMICALS} <= set(figures.in_words(5.0).exposures)
    assert figures.in_words(5.0).text == wording("A coil would then have")


@pytest.mark.parametrize("ratio, given_words", [(0.0, "0.0"), (-1.0, "-1.0"), (nan, "nan"), (200.0, "200.0")])
def test_an_impossible_ratio_is_refused(ratio, given_words):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"turns ratio: {given_words} was given; a number from 0.01 to 100 is allowed; divide the new turns of a "
            "coil by the present ones."
        ),
    ):
        rewound(MACHINE, ratio)


@pytest.mark.parametrize("turns", [0, 2.5, -3, 5000, True, "40"])
def test_an_impossible_count_of_turns_is_refused(turns):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"turns counted in one coil: {turns!r} was given; a whole number from 1 to 2000 is allowed; count the "
            "turns of one coil while you unwind it, or leave it empty."
        ),
    ):
        rewind_figures(MACHINE, 2.0, turns)


def test_an_unknown_metal_and_no_area_are_refused():
    with pytest.raises(BadInput, match=exactly(wording("conductor: 'silver' was given; allowed"))):
        metal_kg(1.0, 1.0, 1, "silver")
    with pytest.raises(BadInput, match=exactly(wording("cross-section of one turn: 0.0"))):
        new_wire(0.0)


def test_every_fact_lies_in_its_range_and_the_sizes_grow():
    for fact in (HANDY_WIRE_MM, *METAL_KG_PER_M3.values(), *RESISTIVITY_OHM_MM2_PER_M.values()):
        assert fact.low <= fact.value <= fact.high and fact.unit and fact.source
    assert list(WIRE_SIZES_MM) == sorted(set(WIRE_SIZES_MM)) and (WIRE_SIZES_MM[0], WIRE_SIZES_MM[-1]) == (0.2, 3.0)
