"""Windings: what a regrouped one makes, star against delta, back to one coil, and what cannot be joined."""

from dataclasses import replace
from math import hypot, nan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.bank.battery import BankState
from statorbook.bridge.rectifier import bridge
from statorbook.errors import BadInput
from statorbook.operation.speed_sweep import Conditions, cut_in_rpm
from statorbook.winding.coil import CoilConstants, StarEquivalent
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding, coil_from_star
from strategies import windings

wording = sentences_of("winding")

# One coil per tooth and phase: coil, path and phase are the same thing.
THREE = Stator(slots=3, poles=2)
COIL = CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=4e-3)
MANY = Stator(slots=36, poles=48)


def winding(series, parallel, connection="star", stator=MANY, coil=COIL):
    return Winding(stator=stator, coil=coil, grouping=Grouping(series=series, parallel=parallel, connection=connection))


def single(emf_volts, ohm, henry, connection):
    """One coil a phase that makes these volts at 1 rpm."""
    return winding(1, 1, connection, THREE, CoilConstants(emf_v_per_rpm=emf_volts, ohm=ohm, henry=henry))


@pytest.mark.outside(
    "phase volts and amps of a star, 415 V, 30 Ω",
    source="Bird, Electrical Circuit Theory and Technology, example 19.1 p. 299",
    number="239.6 V, 7.99 A",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_star_phase_volts():
    star = single(239.6, 30.0, 0.0, "star")
    assert star.line_volts_rms(1.0) == pytest.approx(415.0, rel=1e-3)
    assert star.star_equivalent().emf_v_per_rpm / star.phase_ohm() == pytest.approx(7.99, rel=1e-3)


@pytest.mark.outside(
    "line volts of a star of 1534 V a phase",
    source="Burman, Special Electrical Machines, example 4.7 p. 220",
    number="2657 V",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_line_volts_of_a_generator():
    assert single(1534.0, 1.0, 0.0, "star").line_volts_rms(1.0) == pytest.approx(2657.0, rel=1e-3)


@pytest.mark.outside(
    "line and phase amps of star and delta, 415 V, 5 Ω",
    source="Bird, Electrical Circuit Theory and Technology, example 19.7 p. 303",
    number="47.92, 143.76, 83.0 A",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_star_and_delta_line_current():
    delta, star = single(415.0, 5.0, 0.0, "delta"), single(415.0 / sqrt(3), 5.0, 0.0, "star")
    line_amps = [w.star_equivalent().emf_v_per_rpm / w.star_equivalent().ohm for w in (star, delta)]
    assert line_amps == pytest.approx([47.92, 143.76], rel=1e-3)
    assert delta.coil_amps(line_amps[1]) == pytest.approx(83.0, rel=1e-3)


@pytest.mark.outside(
    "watts of 10 Ω and 0.042 H in star and delta, 415 V",
    source="Bird, Electrical Circuit Theory and Technology, example 19.10 p. 304",
    number="6283, 18850 W",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    ("connection", "emf_volts", "expected_watts"), [("star", 415.0 / sqrt(3), 6283.0), ("delta", 415.0, 18850.0)]
)
def test_published_star_and_delta_power(connection, emf_volts, expected_watts):
    phase = single(emf_volts, 10.0, 0.042, connection).star_equivalent()
    amps = phase.emf_v_per_rpm / hypot(phase.ohm, 2 * pi * 50 * phase.henry)
    assert 3 * amps**2 * phase.ohm == pytest.approx(expected_watts, rel=1e-3)


@pytest.mark.outside(
    "half the coils in series",
    source="common practice, no source",
    number="volts 1/2, ohms and henries 1/4",
    tolerance="exact",
    seen="from memory",
)
def test_halving_the_series_count_halves_volts_and_quarters_ohms_and_henries():
    whole, half = winding(12, 1), winding(6, 2)
    assert half.phase_emf_v_per_rpm / whole.phase_emf_v_per_rpm == 0.5
    assert (half.phase_ohm() / whole.phase_ohm(), half.phase_henry / whole.phase_henry) == (0.25, 0.25)


# From star to delta the line volts fall by √3, R and L by 3.
@given(windings(connections=("star",)))
def test_delta_of_the_same_coils_is_a_star_of_a_third(star):
    g = star.grouping
    delta = replace(star, grouping=Grouping(series=g.series, parallel=g.parallel, connection="delta"))
    assert delta.line_volts_rms(500.0) == pytest.approx(star.line_volts_rms(500.0) / sqrt(3), rel=1e-12)
    one, other = star.star_equivalent(), delta.star_equivalent()
    assert other.emf_v_per_rpm == pytest.approx(one.emf_v_per_rpm / sqrt(3), rel=1e-12)
    assert (other.ohm, other.henry) == pytest.approx((one.ohm / 3, one.henry / 3), rel=1e-12)


@given(windings())
def test_regrouping_and_back_is_the_identity(found):
    for legal in found.stator.groupings():
        there = replace(found, grouping=legal)
        coil = coil_from_star(
            found.stator, legal, there.star_equivalent(), conductor=found.coil.conductor, magnet=found.coil.magnet
        )
        back = Winding(stator=found.stator, coil=coil, grouping=found.grouping)
        assert vars(back.star_equivalent()) == pytest.approx(vars(found.star_equivalent()), rel=1e-12)
        assert (coil.emf_v_per_rpm, coil.ohm, coil.henry) == pytest.approx(
            (found.coil.emf_v_per_rpm, found.coil.ohm, found.coil.henry), rel=1e-12
        )
        assert (coil.conductor, coil.magnet) == (found.coil.conductor, found.coil.magnet)


@given(windings())
def test_no_grouping_changes_what_the_copper_and_magnets_can_do(found):
    # The same coils carry the same current: short-circuit watts E²/R and the ratio L/R belong to the machine.
    star = found.star_equivalent()
    for legal in found.stator.groupings():
        other = replace(found, grouping=legal).star_equivalent()
        assert other.emf_v_per_rpm**2 / other.ohm == pytest.approx(star.emf_v_per_rpm**2 / star.ohm, rel=1e-9)
        assert other.henry / other.ohm == pytest.approx(star.henry / star.ohm, rel=1e-9)


@given(windings(connections=("star",)), st.floats(5.0, 800.0), st.floats(0.0, 1.1))
def test_conduction_starts_at_a_speed_inverse_to_the_series_count(found, bank_volts, drop):
    bank, conditions = BankState(name="half full", volts=bank_volts, ohm=0.0), Conditions(diode_drop_v=drop)
    product = [
        cut_in_rpm(replace(found, grouping=g), bank, conditions) * g.series
        for g in found.stator.groupings()
        if g.connection == "star"
    ]
    assert product == pytest.approx([product[0]] * len(product), rel=1e-12)


@given(windings(), st.floats(50.0, 3000.0), st.floats(0.05, 0.98))
def test_bank_volts_in_step_with_the_series_count_give_the_same_watts(found, speed_rpm, u):
    # Machines for 12, 24 and 48 V differ only in turns and wire, diode drop apart: common practice, no source.
    stars = [replace(found, grouping=legal).star_equivalent() for legal in found.stator.groupings()]
    emf, ohm, henry = (np.array([getattr(star, name) for star in stars]) for name in ("emf_v_per_rpm", "ohm", "henry"))
    emf_peak, reactance = sqrt(2) * emf * speed_rpm, 2 * pi * found.stator.electrical_hz(speed_rpm) * henry
    watts = bridge(emf_peak, ohm, reactance, u * sqrt(3) * emf_peak, diode_drop_v=0.0).dc_watts
    assert watts == pytest.approx(np.full(len(stars), watts[0]), rel=1e-9)


def test_warm_copper_and_warm_magnets_enter_the_star_equivalent():
    # 255/270 and 1 − 0.002 × 30 by hand: IEC 60034-1 constant 235 for copper; ferrite −0.2 %/K, common practice, no
    # source.
    cold, warm = winding(3, 4).star_equivalent(), winding(3, 4).star_equivalent(copper_c=35.0, magnet_c=50.0)
    assert warm.ohm / cold.ohm == pytest.approx(270 / 255, rel=1e-12)
    assert warm.emf_v_per_rpm / cold.emf_v_per_rpm == pytest.approx(0.94, rel=1e-12)
    assert warm.henry == cold.henry


def test_numbers_and_arrays_give_the_same():
    speeds, temperatures = np.array([0.0, 100.0, 500.0]), np.array([-20.0, 20.0, 80.0])
    w = winding(4, 3, "delta")
    assert w.line_volts_rms(speeds) == pytest.approx([w.line_volts_rms(n) for n in speeds], rel=1e-15)
    assert w.phase_ohm(temperatures) == pytest.approx([w.phase_ohm(t) for t in temperatures], rel=1e-15)
    assert w.star_equivalent(temperatures, temperatures).ohm == pytest.approx(
        [w.star_equivalent(t, t).ohm for t in temperatures]
    )


@pytest.mark.outside(
    "paths that 27 slots with 30 poles allow",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="1 or 3",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("series", "parallel", "sentence"),
    [(2, 4, wording("grouping: 2 in series ×")), (1, 9, wording("grouping: 9 parallel paths would"))],
)
def test_an_illegal_grouping_is_refused_with_the_rule_it_breaks(series, parallel, sentence):
    stator = Stator(slots=27, poles=30)
    with pytest.raises(BadInput, match=exactly(sentence)):
        winding(series, parallel, stator=stator)
    with pytest.raises(BadInput, match=exactly(sentence)):
        replace(winding(9, 1, stator=stator), grouping=Grouping(series=series, parallel=parallel))
    with pytest.raises(BadInput, match=exactly(sentence)):
        coil_from_star(
            stator, Grouping(series=series, parallel=parallel), StarEquivalent(emf_v_per_rpm=1.0, ohm=1.0, henry=1.0)
        )


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"henry": nan}, wording("inductance: no inductance was given")),
        ({"emf_v_per_rpm": 0.0}, wording("coil EMF: 0.0 V/rpm was")),
        ({"ohm": 0.0}, wording("coil resistance: 0.0 Ω was")),
    ],
)
def test_terminal_constants_that_make_no_coil_are_refused(changes, sentence):
    star = StarEquivalent(**{"emf_v_per_rpm": 0.2, "ohm": 1.0, "henry": 0.01, **changes})
    with pytest.raises(BadInput, match=exactly(sentence)):
        coil_from_star(MANY, Grouping(series=12, parallel=1), star)
