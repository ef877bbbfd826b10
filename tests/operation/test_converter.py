"""A step-down converter holds the volts of most power: closed forms, a circuit simulator, brute force, and itself."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judges import ngspice_bridge
from samples.machine_samples import BANK, COIL, JET, compared, windings
from statorbook.bank.battery import BankState
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.wind_rotor import WindRotor
from statorbook.errors import BadInput
from statorbook.operation.converter import Converter
from statorbook.operation.largest_amps import most_amps
from statorbook.operation.operating_point import crossings, operating_points, point_at, points_from
from statorbook.operation.power_curve import one_curve
from statorbook.operation.settling import held_for, settled_at
from statorbook.operation.speed_sweep import Conditions, cut_in_rpm, sweep, winding_waveforms
from statorbook.operation.starting import start_up, torque_curves
from statorbook.winding.coil import CoilConstants

WINDINGS = windings()
SOME = WINDINGS[::3]
WIND = WindRotor(rotor_diameter_m=3.0, wind_m_s=9.0)
HALF = BANK.states[1]
WIDE = Converter(low_volts=5.0, high_volts=1000.0, survives_dc_volts=1100.0, efficiency=1.0, idle_watts=0.0)
REAL = Converter(low_volts=60.0, high_volts=250.0, survives_dc_volts=280.0, efficiency=0.95, idle_watts=3.0)
DIRECT = Conditions(cable_ohm=0.01)
TRACKED = replace(DIRECT, converter=REAL)
STAR = next(winding for winding in WINDINGS if winding.grouping.label == "6 in series, 2 paths, star")
SPEEDS = np.linspace(100.0, 1200.0, 12)


@pytest.mark.outside(
    "best volts and most power behind a reactance alone",
    source="calculus on the exact current of a lossless source",
    number="V = 9E/(2π√2), P = 27E²/(4π²X)",
    tolerance="0.2 %",
    seen="derived",
)
@pytest.mark.parametrize("speed", [200.0, 700.0, 2000.0])
def test_most_power_behind_a_reactance_alone(speed):
    # Calculus on P = V 3E/(πX) √(1 − (2πV/9E)²): V* = 9E/(2π√2), P* = 27E²/(4π²X), derived by hand.
    coil = CoilConstants(emf_v_per_rpm=0.05, ohm=0.01, henry=0.02)
    [winding] = [w for w in windings(coil=coil) if w.grouping == STAR.grouping]
    around = Conditions(copper_c=20.0, magnet_c=20.0, diode_drop_v=0.0, converter=WIDE)
    found = sweep([winding], np.array([speed]), BankState(name="low", volts=1.0, ohm=0.0), around)
    star = winding.star_equivalent(20.0, 20.0)
    emf, x = sqrt(2.0) * star.emf_v_per_rpm * speed, 2.0 * pi * STAR.stator.electrical_hz(speed) * star.henry
    assert found.held_dc_volts[0, 0] == pytest.approx(9.0 * emf / (2.0 * pi * sqrt(2.0)), rel=2e-3)
    assert found.bank_watts[0, 0] == pytest.approx(27.0 * emf**2 / (4.0 * pi**2 * x), rel=1e-3)


@pytest.mark.outside(
    "most power of a source with resistance",
    source="Hambley, Electrical Engineering, example 2.21, p. 84",
    number="4 Ω, 6.25 W",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_half_of_the_volts_at_no_load_take_most_from_a_resistance():
    # Hambley, Electrical Engineering, Ex. 2.21: 50 V behind 20 Ω and 5 Ω side by side, 4 Ω, give most, 6.25 W, at half
    # of their volts at no load. A bridge behind far more DC than phase resistance is such a source: mean volts at no
    # load 3√2/π of the line's, and in the path the DC resistance and two phases.
    [winding] = [w for w in windings(coil=replace(COIL, henry=1e-7)) if w.grouping == STAR.grouping]
    around = Conditions(diode_drop_v=0.0, cable_ohm=100.0, converter=WIDE)
    found = sweep([winding], np.array([300.0]), BankState(name="low", volts=1.0, ohm=0.0), around)
    volts = 3.0 * sqrt(2.0) / pi * winding.line_volts_rms(300.0, around.magnet_c)
    ohm = 100.0 + 2.0 * winding.star_equivalent(around.copper_c, around.magnet_c).ohm
    assert found.held_dc_volts[0, 0] == pytest.approx(volts / 2.0, rel=0.01)
    assert found.bank_watts[0, 0] == pytest.approx(volts**2 / (4.0 * ohm), rel=0.005)


@pytest.mark.slow
@pytest.mark.skipif(ngspice_bridge.missing(), reason="the simulator ngspice is not installed")
@pytest.mark.parametrize("speed", [200.0, 400.0, 800.0])
def test_an_ideal_converter_in_a_circuit_simulator(speed, tmp_path):
    around = Conditions(cable_ohm=0.02, converter=WIDE)
    found = sweep([STAR], np.array([speed]), BankState(name="low", volts=4.0, ohm=0.0), around)
    star = STAR.star_equivalent(around.copper_c, around.magnet_c)
    emf = sqrt(2.0) * star.emf_v_per_rpm * speed
    volts = emf * np.array([0.8, 0.92, 1.04, 1.16])
    cases = [
        {
            "case": number,
            "connection": "star",
            "emf_peak_v": emf,
            "ohm": star.ohm,
            "henry": star.henry,
            "hz": STAR.stator.electrical_hz(speed),
            "bank_volts": held,
            "diode_drop_v": around.diode_drop_v,
            "diode_slope_ohm": 0.0001,
            "dc_ohm": around.cable_ohm,
        }
        for number, held in enumerate(volts)
    ]
    watts = volts * [case["dc_amps"] for case in ngspice_bridge.simulate(cases, tmp_path)]
    curve = np.polynomial.Polynomial.fit(volts, watts, 3)
    top = max(np.linspace(volts[0], volts[-1], 2001), key=curve)
    assert found.bank_watts[0, 0] == pytest.approx(curve(top), rel=0.003)
    assert found.held_dc_volts[0, 0] == pytest.approx(top, rel=0.03)  # flat at the top


def test_the_bank_straight_on_the_bridge_is_a_converter_held_at_its_volts():
    stiff = replace(HALF, ohm=0.0)
    held = replace(DIRECT, converter=WIDE.held_at(stiff.volts))
    one, other = sweep(SOME, SPEEDS, stiff, DIRECT), sweep(SOME, SPEEDS, stiff, held)
    for name in ("dc_amps", "bank_watts", "phase_amps_rms", "torque_nm", "shaft_watts"):
        assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-9, abs=1e-9)
    for drive in (JET, WIND, KnownSpeed(working_rpm=700.0)):
        one, other = (operating_points(drive, SOME, stiff, around) for around in (DIRECT, held))
        assert other.bank_watts == pytest.approx(one.bank_watts, rel=1e-6, abs=1e-6)
        assert other.speed_rpm == pytest.approx(one.speed_rpm, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(low=st.floats(50.0, 200.0), width=st.floats(0.0, 200.0), speed=st.floats(50.0, 1500.0))
def test_a_narrower_window_never_helps(low, width, speed):
    at, stiff = np.array([speed]), replace(HALF, ohm=0.0)
    narrow = replace(WIDE, low_volts=low, high_volts=low + width)
    inside, outside, direct = (
        sweep(SOME, at, stiff, replace(DIRECT, converter=converter)).bank_watts
        for converter in (narrow, WIDE, WIDE.held_at(stiff.volts))
    )
    assert np.all(inside <= outside * 1.0001 + 1e-6) and np.all(direct <= outside * 1.0001 + 1e-6)


@pytest.mark.parametrize("drive", [JET, WIND, replace(WIND, wind_m_s=5.0)])
def test_what_it_settles_at_is_the_best_of_all_held_volts(drive):
    volts = np.geomspace(REAL.low_volts, REAL.high_volts, 60)
    around = [TRACKED.held_at(held) for held in volts]
    watts = [operating_points(drive, [STAR] * len(volts), HALF, around).bank_watts.max()]
    assert operating_points(drive, [STAR], HALF, TRACKED).bank_watts[0, 0] == pytest.approx(max(watts), rel=0.001)


@pytest.mark.parametrize("drive", [JET, WIND, KnownSpeed(working_rpm=700.0)])
def test_where_the_best_volts_lie_outside_its_window_it_holds_the_nearer_end(drive):
    free = operating_points(drive, [STAR], HALF, TRACKED).held_dc_volts[0, 0]
    assert REAL.low_volts < free < REAL.high_volts
    for low, high, held in ((1.2 * free, 2.0 * free, 1.2 * free), (0.5 * free, 0.8 * free, 0.8 * free)):
        window = replace(REAL, low_volts=low, high_volts=high, survives_dc_volts=3.0 * free)
        at = operating_points(drive, [STAR], HALF, replace(TRACKED, converter=window))
        assert at.held_dc_volts[0, 0] == pytest.approx(held, rel=1e-6)


@pytest.mark.parametrize("drive", [JET, WIND, KnownSpeed(working_rpm=700.0)])
@pytest.mark.parametrize("converter", [REAL, replace(REAL, most_output_watts=200.0, most_input_amps=3.0)])
def test_every_way_to_ask_gives_the_same(drive, converter):
    around = replace(DIRECT, converter=converter)
    exact = operating_points(drive, WINDINGS, HALF, around)
    quick = settled_at([drive, drive], WINDINGS, HALF, around)
    least = 0.003 * exact.bank_watts.max()
    assert quick["bank_watts"][1] == pytest.approx(exact.bank_watts[:, 0], rel=0.003, abs=least)
    row = WINDINGS.index(STAR)
    point = points_from(drive, exact)[row]
    held = held_for(drive, STAR, HALF, around)
    assert held.converter.low_volts == pytest.approx(held.converter.high_volts)
    at = sweep([STAR], np.array([point.speed_rpm]), HALF, held)
    start = start_up(drive, STAR, HALF, around)
    assert at.bank_watts[0, 0] == pytest.approx(point.bank_watts, rel=1e-6)
    assert at.held_dc_volts[0, 0] == pytest.approx(point.held_dc_volts, rel=1e-6)
    assert start.settles_rpm == pytest.approx(point.speed_rpm, rel=1e-6) and start.charges == point.charges
    assert point_at(drive, STAR, HALF, around, start.settles_rpm).bank_watts == pytest.approx(point.bank_watts)
    pull, hold = torque_curves(drive, STAR, HALF, around, np.array([point.speed_rpm]))
    assert not np.isfinite(pull[0]) or hold[0] == pytest.approx(pull[0], rel=1e-6)
    assert [c.speed_rpm for c in crossings(drive, STAR, HALF, around) if c.stable][0] == start.settles_rpm
    curve = one_curve([STAR], point.speed_rpm, HALF, around, held_dc_volts=[held.converter.low_volts])
    assert curve.grouping_watts[0] == pytest.approx(point.bank_watts, rel=1e-6)
    assert dict(point.chain_watts)["shaft"] == pytest.approx(float(at.shaft_watts[0, 0]))
    assert sum(watts for name, watts in point.chain_watts if name not in ("shaft", "bank")) == pytest.approx(
        point.bank_watts if drive.source_steps else point.bank_watts - dict(point.chain_watts)["shaft"], abs=1e-6
    )


def test_a_limit_raises_the_volts_and_lets_the_rotor_run_faster():
    free = operating_points(JET, [STAR], HALF, TRACKED)
    for limits, reached in (
        ({"most_output_watts": 300.0}, lambda at: at.bank_watts),
        ({"most_output_amps": 5.0}, lambda at: at.dc_amps),
        ({"most_input_amps": 2.0}, lambda at: (at.bank_watts + at.converter_watts) / at.held_dc_volts),
    ):
        at = operating_points(JET, [STAR], HALF, replace(TRACKED, converter=replace(REAL, **limits)))
        [(most)] = limits.values()
        assert reached(at)[0, 0] == pytest.approx(most, rel=1e-3)
        assert at.held_dc_volts[0, 0] > free.held_dc_volts[0, 0] and at.speed_rpm[0, 0] > free.speed_rpm[0, 0]


def test_it_draws_from_the_bank_while_it_cannot_charge():
    slow = operating_points(replace(WIND, wind_m_s=2.0), [STAR], HALF, TRACKED)
    still = operating_points(JET, [STAR], HALF, replace(TRACKED, drag_nm=500.0))
    below = sweep([STAR], SPEEDS, HALF, replace(DIRECT, converter=replace(REAL, low_volts=20.0, high_volts=45.0)))
    for at in (slow, still, below):
        assert np.all(at.bank_watts == pytest.approx(-REAL.idle_watts)) and np.all(at.phase_amps_rms == 0.0)
        assert np.all(at.dc_amps == pytest.approx(-REAL.idle_watts / HALF.volts, rel=1e-3))
    assert not points_from(WIND, slow)[0].charges
    for drive in (replace(WIND, wind_m_s=2.0), JET):
        quick = settled_at([drive], [STAR], HALF, replace(TRACKED, drag_nm=500.0))
        assert quick["bank_watts"][0, 0] == pytest.approx(-REAL.idle_watts) and quick["speed_rpm"][0, 0] == 0.0


def test_it_charges_from_the_speed_that_makes_the_lowest_volts_of_its_window():
    at = cut_in_rpm(STAR, HALF, TRACKED)
    peak = sqrt(2.0) * STAR.line_volts_rms(at, TRACKED.magnet_c)
    assert peak == pytest.approx(REAL.low_volts + 2.0 * TRACKED.diode_drop_v)
    found = sweep([STAR], np.array([0.999 * at, 1.3 * at]), HALF, TRACKED)
    assert found.dc_amps[0, 0] < 0.0 < found.dc_amps[0, 1]
    shape = winding_waveforms(STAR, 1.3 * at, HALF, TRACKED)
    assert np.max(shape.dc_amps) > 0.0


def test_parts_are_sized_for_a_converter_that_fails_shut():
    [straight, through] = most_amps([(JET, STAR, BANK, around) for around in (DIRECT, DIRECT)])[:1] + most_amps(
        [(JET, STAR, BANK, TRACKED)]
    )
    assert through.lead_amps_rms == straight.lead_amps_rms and through.dc_amps >= straight.dc_amps


def test_a_comparison_with_a_converter_has_the_watts_of_its_points():
    found = compared(conditions=TRACKED)
    watts = {row.grouping: row.point.bank_watts for row in found.rows}
    exact = operating_points(JET, WINDINGS, BANK.states[1], TRACKED)
    assert [watts[w.grouping] for w in WINDINGS] == pytest.approx(exact.bank_watts[:, 0], rel=1e-6)
    assert all(dict(row.point.chain_watts)["converter"] <= 0.0 for row in found.rows)


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"low_volts": 0.0}, "lowest input volts"),
        ({"low_volts": 300.0}, "rising in this order"),
        ({"survives_dc_volts": 200.0}, "rising in this order"),
        ({"most_input_amps": -1.0}, "most input amps"),
        ({"most_output_watts": 0.0}, "most output watts"),
        ({"efficiency": 1.2}, "efficiency"),
        ({"idle_watts": -1.0}, "idle watts"),
        ({"high_volts": float("nan")}, "highest input volts"),
    ],
)
def test_a_converter_that_cannot_be_is_refused_in_a_sentence(changes, words):
    with pytest.raises(BadInput, match=words) as refused:
        replace(REAL, **changes)
    assert str(refused.value).count(". ") == 0


def test_some_with_and_some_without_a_converter_are_refused():
    with pytest.raises(BadInput, match="all with or all without"):
        sweep([STAR, STAR], SPEEDS, HALF, [DIRECT, TRACKED])
