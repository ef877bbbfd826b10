"""Derived formulas of the drives: against the library, which knows nothing of them, and against limits from outside."""

from math import cos, pi, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.drives import (
    Engine,
    MeasuredLoss,
    Pedals,
    Pipe,
    PipedJet,
    WaterJet,
    WindRotor,
    air_kg_per_m3,
    best_nozzle_mm,
    nozzle_sweep,
    pitch_diameter_for_speed_mm,
    shaft_watts,
)
from statorbook.drives.air import AIR_GAS_CONSTANT, BETZ_SHARE, LAPSE, SEA_LEVEL_KELVIN, SEA_LEVEL_PRESSURE
from statorbook.drives.derivations import (
    bent_jet_torque,
    best_jet_speed,
    flywheel_swing,
    governed_torque,
    most_of_the_wind,
    pedal_torque,
    piped_flow,
    rotor_torque,
    thinner_air,
    third_of_the_head,
    torque_of_power,
)
from statorbook.quantities import GRAVITY_M_PER_S2, WATER_KG_PER_M3, number
from strategies import numbers

few = settings(max_examples=8)
EARTH = {"g": GRAVITY_M_PER_S2.value}
WATER = {**EARTH, "rho": WATER_KG_PER_M3.value}
share = st.floats(0.0, 1.0)


# --- jet and pipe -----------------------------------------------------------------------------------------------------


@few
@given(numbers(1.0, 500.0), numbers(2.0, 100.0), st.floats(0.85, 0.97), st.floats(0.6, 1.0), share)
def test_a_runner_without_windage_pulls_as_the_push_on_its_buckets(head_m, nozzle_mm, coefficient, kept, part):
    # What runs along buckets of 165° comes back with k cos 15° of its speed, any text on turbomachines.
    found, turned = best_jet_speed(), kept * cos(radians(15.0))
    jet = WaterJet(
        head_m=head_m,
        nozzle_mm=nozzle_mm,
        pitch_diameter_mm=20.0 * nozzle_mm,
        velocity_coefficient=coefficient,
        efficiency=coefficient**2 * number(found["share of the jet"], m=turned),
        speed_ratio=0.5,
        runaway_ratio=2.0,
    )
    speed, wide = number(found["jet"], H=head_m, C=coefficient, **EARTH), jet.pitch_diameter_mm / 1000.0
    assert jet.jet_m_s == pytest.approx(speed, rel=1e-12)
    flow, bucket = jet.total_flow_l_s / 1000.0, part * speed
    torque = number(found["torque"], Q=flow, V=speed, U=bucket, D=wide, m=turned, **WATER)
    assert jet.torque_nm(60.0 * bucket / (pi * wide)) == pytest.approx(torque, rel=1e-9, abs=1e-9)
    best_rpm = number(found["best speed"], V=speed, D=wide)
    assert jet.best_speed_rpm == pytest.approx(best_rpm, rel=1e-12)
    assert pitch_diameter_for_speed_mm(jet, best_rpm) == pytest.approx(1000.0 * wide, rel=1e-12)


# Euler's turbine equation, any text: half the jet's speed, no push at the jet's own, and all of it when it comes back.
def test_a_jet_that_comes_straight_back_gives_all():
    found = best_jet_speed()
    assert (number(found["best bucket"], V=30.0), number(found["free bucket"], V=30.0)) == (15.0, 30.0)
    assert [number(found["share of the jet"], m=back) for back in (1.0, 1e-12)] == pytest.approx([1.0, 0.5])


@few
@given(st.floats(1.75, 2.0), numbers(1.0, 500.0), st.floats(0.0, 1.1))
def test_the_bent_torque_is_the_librarys(runaway_ratio, head_m, part):
    jet = WaterJet(head_m=head_m, nozzle_mm=10.0, pitch_diameter_mm=200.0, runaway_ratio=runaway_ratio)
    speed, best = part * jet.runaway_speed_rpm, {"P": jet.best_shaft_watts, "n_b": jet.best_speed_rpm}
    formula = number(bent_jet_torque()["torque"], n=speed, k=runaway_ratio, **best)
    assert jet.torque_nm(speed) == pytest.approx(formula, rel=1e-9, abs=1e-9 * jet.torque_nm(0.0))


@few
@given(numbers(2.0, 60.0), numbers(2.0, 40.0), st.floats(0.01, 0.05), numbers(5.0, 500.0), st.integers(1, 3))
def test_the_flow_through_pipe_and_nozzle_is_the_librarys(head_m, nozzle_mm, friction, length_m, jets):
    pipe = Pipe(length_m=length_m, bore_mm=50.0, material="PVC", friction_factor=friction, extra_loss=2.0)
    drive = PipedJet(gross_head_m=head_m, pipe=pipe, nozzle_mm=nozzle_mm, jets=jets, pitch_diameter_mm=10.0 * nozzle_mm)
    parts = {"L": length_m, "B": 0.05, "f": friction, "K": pipe.fittings_loss, **EARTH}
    found = piped_flow()
    flow = number(found["flow"], H=head_m, C=0.97, d=nozzle_mm / 1000.0, j=jets, **parts)
    assert drive.total_flow_l_s == pytest.approx(1000.0 * flow, rel=1e-9)
    assert nozzle_sweep(drive, [nozzle_mm]).flow_l_s == pytest.approx([1000.0 * flow], rel=1e-9)
    assert pipe.loss_m(1000.0 * flow) == pytest.approx(number(found["loss"], Q=flow, **parts), rel=1e-12)


@few
@given(numbers(2.0, 60.0), st.floats(0.1, 0.9), numbers(0.5, 5.0))
def test_the_best_nozzle_loses_a_third_of_the_head(head_m, running, flow_l_s):
    loss, found = MeasuredLoss(static_m=head_m, running_m=running * head_m, flow_l_s=flow_l_s), third_of_the_head()
    taken = (1.0 - running) * head_m / (flow_l_s / 1000.0) ** 2
    bore_mm = 1000.0 * number(found["nozzle"], c=taken, C=0.97, j=1, **EARTH)
    drive = PipedJet(gross_head_m=head_m, pipe=loss, nozzle_mm=0.5 * bore_mm, pitch_diameter_mm=15.0 * bore_mm)
    best = nozzle_sweep(drive, [best_nozzle_mm(drive)])
    assert best.nozzle_mm == pytest.approx([bore_mm], rel=1e-4)
    assert float(found["share lost"]) == pytest.approx(1 / 3) and best.pipe_share == pytest.approx([1 / 3], abs=1e-3)
    assert best.flow_l_s == pytest.approx([1000.0 * number(found["flow"], H=head_m, c=taken)], rel=1e-4)


# --- wind -------------------------------------------------------------------------------------------------------------


# Betz, any text on wind power: a third of the wind's speed is left, 16/27 of its power taken.
def test_the_most_of_the_wind_is_betzs():
    found = most_of_the_wind()
    assert number(found["best behind"], v=9.0) == 3.0 and number(found["at the rotor"], v=9.0, w=3.0) == 6.0
    assert float(found["share"]) == pytest.approx(16 / 27, rel=1e-12) == pytest.approx(BETZ_SHARE.value, rel=1e-12)


@few
@given(numbers(0.5, 20.0), st.floats(1.0, 30.0), st.floats(0.5, 12.0), st.floats(0.02, 16 / 27), numbers(0.2, 20.0))
def test_torque_and_tip_speed_are_the_librarys(wide_m, wind_m_s, ratio, coefficient, gear):
    made = dict(rotor_diameter_m=wide_m, wind_m_s=wind_m_s, tip_speed_ratio=ratio, power_coefficient=coefficient)
    rotor, found = WindRotor(**made, gear_ratio=gear), rotor_torque()
    speed = number(found["speed"], D=wide_m, v=wind_m_s, lamda=ratio)
    at = {"D": wide_m, "n": speed, "v": wind_m_s}
    assert rotor.best_speed_rpm == pytest.approx(gear * speed, rel=1e-12)
    assert rotor.tip_m_s(gear * speed) == pytest.approx(number(found["tip"], **at), rel=1e-12)
    assert rotor.tip_ratio(gear * speed) == pytest.approx(number(found["tip ratio"], **at), rel=1e-12)
    torque = number(found["torque"], C=coefficient, rho=rotor.air_kg_m3, **at)
    assert rotor.torque_nm(gear * speed) * gear == pytest.approx(torque, rel=1e-9)
    watts = number(most_of_the_wind()["watts"], rho=rotor.air_kg_m3, D=wide_m, v=wind_m_s)
    assert rotor.source_watts == pytest.approx(watts, rel=1e-12)


@few
@given(st.floats(-500.0, 6000.0), st.floats(-40.0, 50.0))
def test_the_air_thins_as_the_library_says(altitude_m, celsius):
    at_sea = {"p_0": SEA_LEVEL_PRESSURE.value, "T_0": SEA_LEVEL_KELVIN.value, "G": LAPSE.value}
    density = number(thinner_air(), h=altitude_m, T=celsius + 273.15, R=AIR_GAS_CONSTANT.value, **at_sea, **EARTH)
    assert air_kg_per_m3(altitude_m, celsius) == pytest.approx(density, rel=1e-12)


# --- legs and engines -------------------------------------------------------------------------------------------------


# 2 π × 60 rpm are 2 π rad/s: 200 W are 100/π N·m, by definition of the watt.
def test_torque_of_a_power():
    assert number(torque_of_power(), P=200.0, n=60.0) == pytest.approx(100.0 / pi, rel=1e-12)


@few
@given(numbers(20.0, 1000.0), numbers(0.2, 50.0), st.floats(30.0, 120.0), st.floats(0.5, 1.0), st.floats(0.0, 2.0))
def test_legs_pull_as_the_library_says(watts, gear, cadence, kept, part):
    drive, found = (
        Pedals(rider_watts=watts, gear_ratio=gear, cadence_rpm=cadence, chain_efficiency=kept),
        pedal_torque(),
    )
    speed = part * drive.best_speed_rpm
    torque = number(found["torque"], P=watts, n=speed, c=cadence, r=gear, e=kept)
    assert drive.torque_nm(speed) == pytest.approx(torque, rel=1e-9, abs=1e-9 * drive.torque_nm(0.0))
    assert drive.free_speed_rpm * float(found["best"]) == pytest.approx(drive.best_speed_rpm) and found["free"] == 1
    assert shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(kept * watts, rel=1e-12)
    pull = number(torque_of_power(), P=kept * watts, n=drive.best_speed_rpm)
    assert drive.torque_nm(drive.best_speed_rpm) == pytest.approx(pull, rel=1e-12)


@few
@given(numbers(0.5, 200.0), numbers(100.0, 2000.0), st.floats(0.2, 10.0), numbers(0.01, 50.0))
def test_a_flywheel_is_the_librarys(mass_kg, wide_mm, ratio, against_nm):
    wheel = dict(flywheel_kg=mass_kg, flywheel_diameter_mm=wide_mm, flywheel_ratio=ratio)
    drive, found = Pedals(rider_watts=90.0, gear_ratio=7.0, **wheel), flywheel_swing()
    speed = drive.best_speed_rpm
    felt = {"J": number(found["inertia"], M=mass_kg, D=wide_mm / 1000.0) * ratio**2, "n": speed}
    assert drive.flywheel_kg_m2 == pytest.approx(felt["J"], rel=1e-12)
    assert drive.flywheel_joules(speed) == pytest.approx(number(found["energy"], **felt), rel=1e-12)
    seconds = number(found["half time"], T=against_nm, **felt)
    assert drive.coast_seconds(speed, against_nm) == pytest.approx(seconds, rel=1e-12)
    swing = number(found["swing"], P=0.95 * 90.0, c=70.0, **felt)
    assert drive.swing_share == pytest.approx(swing, rel=1e-12)


@few
@given(numbers(50.0, 20_000.0), numbers(300.0, 10_000.0), numbers(0.1, 10.0), st.floats(0.01, 0.3), share)
def test_an_engine_pulls_as_the_library_says(watts, engine_rpm, pulleys, droop, part):
    drive = Engine(rated_watts=watts, engine_rpm=engine_rpm, pulley_ratio=pulleys, droop=droop)
    at = {"P": watts, "N": engine_rpm, "b": pulleys, "e": drive.belt_efficiency, "s": droop}
    best, free, found = drive.best_speed_rpm, drive.free_speed_rpm, governed_torque()
    flat, speed = number(found["flat"], **at), best + part * (free - best)
    assert drive.torque_nm(part * best) == pytest.approx(flat, rel=1e-12)
    assert drive.torque_nm(speed) == pytest.approx(number(found["falling"], n=speed, **at), rel=1e-9, abs=1e-9 * flat)
    # Up to the governed speed the power rises, above it it falls: most is there.
    assert number(found["slope of power"], s=droop) < 0.0
