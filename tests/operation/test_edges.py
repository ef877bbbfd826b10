"""What holds at the edges: a trickle, the free speed itself, the least and most that is allowed, a fall to nothing."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samples.machine_samples import BANK, JET, windings
from statorbook.errors import BadInput
from statorbook.operation.best_volts import best_dc_volts
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import crossings, operating_point
from statorbook.operation.pedalling import BOGGED_SHARE
from statorbook.operation.power_curve import one_curve
from statorbook.operation.seeking import bank_amps, peak
from statorbook.operation.speed_sweep import Conditions, cut_in_rpm, sweep
from statorbook.operation.starting import STARTS_OVER_DRAG, start_up
from statorbook.operation.survival import SPARE

STAR, ALL_IN_SERIES, HALF = windings()[2], windings()[0], BANK.states[1]
WIDE = Converter(low_volts=55.0, high_volts=400.0, survives_dc_volts=450.0)
AROUND = Conditions(cable_ohm=0.01, converter=WIDE)


def test_a_trickle_is_held_and_nothing_is_not():
    speeds = np.array([0.999, 1.002]) * cut_in_rpm(STAR, HALF, AROUND)
    found = best_dc_volts(STAR, speeds, HALF, AROUND)
    assert 0.0 < sweep([STAR], speeds[1:], HALF, AROUND).phase_amps_rms[0, 0] < 0.5
    assert np.isnan(found.dc_volts).tolist() == [True, False]


def test_a_rotor_that_nothing_holds_runs_at_its_free_speed():
    # A weak jet on the winding of fewest volts: it never charges, and without drag nothing else holds it.
    weak = replace(JET, head_m=1.5)
    free = weak.free_speed_rpm
    fewest = min(windings(), key=lambda made: made.line_volts_rms(1.0))
    no_drag = Conditions(drag_nm=0.0)
    assert cut_in_rpm(fewest, HALF, no_drag) > 1.2 * free
    (only,) = crossings(weak, fewest, HALF, no_drag)
    assert only.stable and only.speed_rpm == pytest.approx(free, rel=1e-6)
    assert start_up(weak, fewest, HALF, no_drag).settles_rpm == pytest.approx(free, rel=1e-6)
    assert operating_point(weak, fewest, HALF, no_drag).speed_rpm == pytest.approx(free, rel=1e-6)


LEAST = {"low_volts": 0.1, "high_volts": 0.2, "survives_dc_volts": 0.3, "efficiency": 0.1, "idle_watts": 0.0}
MOST = {"low_volts": 2000.0, "high_volts": 2000.0, "survives_dc_volts": 2000.0, "efficiency": 1.0, "idle_watts": 1e6}


@pytest.mark.parametrize(
    "edge, limits", [(LEAST, (0.01, 0.01, 0.01)), (MOST, (10_000.0, 10_000.0, 1_000_000.0))], ids=["least", "most"]
)
def test_a_converter_may_be_as_small_and_as_large_as_is_said(edge, limits):
    names = ("most_input_amps", "most_output_amps", "most_output_watts")
    given = {**edge, **dict(zip(names, limits, strict=True))}
    assert Converter(**given).idle_watts == edge["idle_watts"]
    for name, value in given.items():
        beyond = 1.001 * value if edge is MOST else 0.0 if name != "idle_watts" else -0.001
        with pytest.raises(BadInput, match="converter"):
            Converter(**{**given, name: beyond})


@pytest.mark.parametrize("idle_watts", [0.0, 60.0])
def test_what_a_converter_needs_for_itself_is_missing_all_along_the_curve(idle_watts):
    around = replace(AROUND, converter=replace(WIDE, idle_watts=idle_watts, efficiency=1.0))
    curve = one_curve([STAR], 700.0, HALF, around)
    point = sweep([STAR], np.array([700.0]), HALF, around)
    assert point.held_dc_volts[0, 0] < WIDE.high_volts and curve.best_watts == pytest.approx(
        point.bank_watts[0, 0], rel=0.03
    )
    assert curve.watts[-1] == pytest.approx(-idle_watts, abs=1e-9)  # no current beyond the line volts' peak


# A parabola through three even points; beside a fall to nothing or on a level the highest point itself.
@pytest.mark.parametrize(
    "heights, place",
    [
        ([9.0 - (x - 1.2) ** 2 for x in (0.0, 1.0, 2.0)], 1.2),
        ([0.8, 1.0, 0.0], 1.0),
        ([0.0, 1.0, 0.8], 1.0),
        ([1.0, 1.0, 0.9], 0.5),
        ([0.9, 1.0, 1.0], 1.0),
        ([0.5, 0.7, 1.0], 2.0),
    ],
)
def test_the_top_of_three(heights, place):
    assert peak(np.array([[0.0, 1.0, 2.0]]), np.array([heights]))[0, 0] == pytest.approx(place)


@pytest.mark.outside(
    "cadence at which riders change down, pull that starts over drag, volts to spare",
    source="common practice, no source",
    number="0.7 (0.6 to 0.8), 2 (1 to 5), 0.10 (0.05 to 0.25)",
    tolerance="exact",
    seen="from memory",
)
def test_assumed_values_and_their_ranges_are_those_of_common_practice():
    facts = (BOGGED_SHARE, STARTS_OVER_DRAG, SPARE)
    assert [(fact.low, fact.value, fact.high) for fact in facts] == [
        (0.6, 0.7, 0.8),
        (1.0, 2.0, 5.0),
        (0.05, 0.10, 0.25),
    ]
    assert all(fact.source.endswith("common practice, no source") for fact in facts)


# What is allowed, both ends; a winding of class H stands 180 °C, and no cable that carries anything has 100 Ω.
@pytest.mark.parametrize(
    "name, least, most",
    [
        ("copper_c", -40.0, 200.0),
        ("magnet_c", -40.0, 100.0),
        ("drag_nm", 0.0, 1000.0),
        ("diode_drop_v", 0.0, 3.0),
        ("cable_ohm", 0.0, 100.0),
        ("ac_cable_ohm", 0.0, 100.0),
        ("drag_nm_per_1000rpm", 0.0, 1000.0),
    ],
)
def test_surroundings_may_be_at_either_end_of_what_is_allowed_and_not_beyond(name, least, most):
    assert [getattr(Conditions(**{name: value}), name) for value in (least, most)] == [least, most]
    for beyond in (least - 0.5, most + 0.5):
        with pytest.raises(BadInput, match="is allowed"):
            Conditions(**{name: beyond})


# Kirchhoff and energy: what enters at the terminals goes into the bank's volts and its ohms, r I² + E I = P.
@given(st.floats(10.0, 60.0), st.floats(0.0, 0.2), st.floats(-500.0, 3000.0))
def test_amps_of_a_bank_that_takes_watts(volts, ohm, watts):
    amps = float(bank_amps(watts, volts, ohm))
    if volts**2 + 4.0 * ohm * watts >= 0.0:
        assert ohm * amps**2 + volts * amps == pytest.approx(watts, rel=1e-9, abs=1e-9)
    assert amps * watts >= 0.0


@pytest.mark.parametrize("drop", [0.0, 0.9, 2.5])
def test_a_limit_is_met_whatever_the_diodes_take(drop):
    around = Conditions(diode_drop_v=drop, converter=replace(WIDE, most_input_amps=2.0))
    found = sweep([STAR], np.array([600.0, 900.0]), HALF, around)
    amps = (found.bank_watts + found.converter_watts) / found.held_dc_volts
    assert amps == pytest.approx(np.full((1, 2), 2.0), rel=2e-3)


@pytest.mark.parametrize("name", ["most_input_amps", "most_output_amps", "most_output_watts"])
def test_a_limit_of_a_converter_may_be_small(name):
    assert getattr(Converter(**{**LEAST, name: 0.01}), name) == 0.01
