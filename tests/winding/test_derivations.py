"""Derived formulas of the winding: against limits that books print, and against the library."""

from math import gcd, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.cable.ohms import cable_ohm
from statorbook.quantities.algebra import number
from statorbook.quantities.facts import CONDUCTORS, MAGNETS
from statorbook.winding.derivations import regrouped, third_round_delta, tooth_coil_factors, warm_factors
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.temperature import magnet_factor, resistance_factor
from statorbook.winding.third_harmonic import OpenCorner, circulating
from statorbook.winding.winding import coil_from_star
from strategies import numbers, stators, windings

FEW = settings(max_examples=10)
NINE, DELTA = Stator(slots=9, poles=8), Grouping(series=3, parallel=1, connection="delta")


@pytest.mark.outside(
    "distribution factor of one arrow, and of arrows all over 60°",
    source="exact: a single arrow has 1; an arc of 60° over its chord has 3/π",
    number="1, 0.954930",
    tolerance="1e-6",
    seen="derived",
)
def test_the_distribution_factor_at_its_two_ends():
    spread, _ = tooth_coil_factors()
    assert (number(spread, z=1), number(spread, z=1e6)) == pytest.approx((1.0, 0.954930), rel=1e-6)


def test_a_tooth_as_wide_as_a_pole_catches_all_of_it_and_two_poles_nothing():
    _, pitch = tooth_coil_factors()
    assert number(pitch, p=9, Q=18) == pytest.approx(1.0) and number(pitch, p=9, Q=9) == pytest.approx(0.0, abs=1e-12)


@FEW
@given(stators())
def test_the_factors_are_the_librarys(stator):
    values = {"z": stator.slots // gcd(stator.slots, 3 * stator.poles), "p": stator.pole_pairs, "Q": stator.slots}
    spread, pitch = (number(each, **values) for each in tooth_coil_factors())
    assert (spread, pitch) == pytest.approx((stator.distribution_factor, stator.pitch_factor), abs=1e-9)
    assert spread * pitch == pytest.approx(stator.winding_factor, abs=1e-9)
    third, pitch_third = (number(each, **values) for each in tooth_coil_factors(3))
    assert third == pytest.approx(stator.distribution_factor_third, abs=1e-9)
    assert pitch_third == pytest.approx(stator.third_harmonic_factor, abs=1e-9)


@FEW
@given(windings())
def test_the_regrouped_star_is_the_librarys(winding):
    grouping, coil, star = winding.grouping, winding.coil, winding.star_equivalent()
    letters = {"s": grouping.series, "a": grouping.parallel, "k": winding.stator.distribution_factor, "I": 1.0}
    letters |= {"e": coil.emf_v_per_rpm, "r": coil.ohm, "l": coil.henry}
    found = {name: number(formula, **letters) for name, formula in regrouped(grouping.connection).items()}
    assert (found["emf"], found["ohm"], found["henry"]) == pytest.approx((star.emf_v_per_rpm, star.ohm, star.henry))
    assert found["emf"] == pytest.approx(winding.line_volts_rms(1.0) / 3.0**0.5)
    assert found["coil amps"] == pytest.approx(winding.coil_amps(1.0))
    back = coil_from_star(winding.stator, grouping, star)
    assert (back.emf_v_per_rpm, back.ohm, back.henry) == pytest.approx((letters["e"], letters["r"], letters["l"]))


# By hand: the coils' own watts are the same from the leads: 3 R I² of the star is Q r i² of its Q = 3 s a coils.
@pytest.mark.parametrize("connection", ["star", "delta"])
def test_the_leads_lose_what_the_coils_lose(connection):
    found = regrouped(connection)
    values = {"s": 4, "a": 3, "r": 0.5, "I": 7.0}
    coil_amps = number(found["coil amps"], **values)
    assert 3.0 * number(found["ohm"], **values) * 7.0**2 == pytest.approx(3 * 4 * 3 * 0.5 * coil_amps**2)


@FEW
@given(st.floats(-40.0, 200.0), st.sampled_from(sorted(CONDUCTORS)), st.sampled_from(sorted(MAGNETS)))
def test_the_warm_factors_are_the_librarys(theta, conductor, magnet):
    ohms, volts = warm_factors()
    factor = number(ohms, theta=theta, k=CONDUCTORS[conductor].value)
    assert factor == pytest.approx(resistance_factor(theta, conductor=conductor))
    found = number(volts, theta=theta, beta=MAGNETS[magnet].value)
    assert found == pytest.approx(magnet_factor(theta, magnet=magnet))
    if conductor == "copper":
        assert cable_ohm(10.0, 6.0, copper_c=theta) == pytest.approx(factor * cable_ohm(10.0, 6.0))


@FEW
@given(windings(connections=("delta",)), numbers(1e-4, 0.1), numbers(10.0, 2000.0), st.floats(0.0, 1.0))
def test_the_ring_of_a_delta_is_the_librarys(winding, volts, speed, share):
    ring, series = third_round_delta(), winding.grouping.series
    reactance = 2.0 * pi * 3.0 * winding.stator.electrical_hz(speed) * share * winding.phase_henry
    values = {"V": volts * series * speed, "R": winding.phase_ohm(), "X": reactance}
    found = circulating(winding, volts, speed, zero_sequence_share=share)
    assert number(ring["amps"], **values) == pytest.approx(found.phase_amps_rms)
    assert number(ring["watts"], **values) == pytest.approx(found.watts)


def test_the_open_corner_shows_three_phases():
    corner = OpenCorner(stator=NINE, grouping=DELTA, volts_rms=9.0, speed_rpm=100.0)
    coils = corner.coil_third_emf_v_per_rpm * 100.0 * 3 * corner.stator.distribution_factor_third
    assert number(third_round_delta()["corner"]) * coils == pytest.approx(9.0)
