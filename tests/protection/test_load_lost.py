"""The bank comes off: closed forms by hand, a bridge and a rotor by other means, and what always holds."""

from dataclasses import replace
from math import exp, inf, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from samples.machine_samples import JET
from samples.plant_samples import plant
from samples.year_samples import ROTOR
from statorbook.bridge import bridge, bridge_waveforms
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.speed_sweep import sweep
from statorbook.protection.drive_pull import spun
from statorbook.protection.load_lost import load_lost, struck_volts
from statorbook.protection.over_voltage_load import PEAK_OVER_MEAN, OverVoltageLoad
from statorbook.protection.rotor import Rotor

PER_RPM = np.pi / 30.0
LINE = replace(JET, runaway_ratio=2.0)  # Euler's straight line of torque, to 0 at twice the best speed
LOAD = OverVoltageLoad(set_dc_volts=70.0, ohm=10.0, watts=1000.0, acts_within_s=0.01)


# τ = J ω_r / T_stall, with J 0.25 kg·m², 40 N·m, 100 and 50 rad/s.
@pytest.mark.outside(
    "run-up with a torque that falls in a line",
    source="Newton’s second law in closed form, ω_r − (ω_r − ω_0) e^(−t/τ)",
    number="66.484, 77.534, 89.905, 97.962 rad/s at 0.25, 0.5, 1, 2 s",
    tolerance="0.01 %",
    seen="derived",
)
def test_a_line_of_torque_speeds_the_rotor_up_as_the_exponential_does():
    time_s, rpm = spun(lambda n: 40.0 * (1.0 - n * PER_RPM / 100.0), 0.25, 50.0 / PER_RPM, 100.0 / PER_RPM)
    rad_s = np.interp([0.25, 0.5, 1.0, 2.0], time_s, rpm) * PER_RPM
    assert rad_s == pytest.approx([66.484, 77.534, 89.905, 97.962], rel=1e-4)
    assert np.interp(90.0, rpm * PER_RPM, time_s) == pytest.approx(1.0059, rel=1e-3)


@pytest.mark.outside(
    "run-up at constant power",
    source="energy of a rotor in closed form, √(ω_0² + 2 P t / J)",
    number="80.623, 102.470, 150.000 rad/s at 1, 2, 5 s",
    tolerance="0.01 %",
    seen="derived",
)
def test_constant_power_speeds_the_rotor_up_as_its_energy_does():
    time_s, rpm = spun(lambda n: 500.0 / (n * PER_RPM), 0.25, 50.0 / PER_RPM, 300.0 / PER_RPM)
    rad_s = np.interp([1.0, 2.0, 5.0], time_s, rpm) * PER_RPM
    assert rad_s == pytest.approx([80.623, 102.470, 150.000], rel=1e-4)


@pytest.mark.outside(
    "volts of a capacitor that a coil runs into",
    source="energy in closed form, √(V0² + L I² / C)",
    number="39.80 V",
    tolerance="0.005 V",
    seen="derived",
)
def test_an_inductance_that_runs_into_a_capacitor_adds_its_energy():
    assert struck_volts(0.0, 28.0, 2e-3, 20.0, 1e-3) == pytest.approx(39.80, abs=0.005)
    # An uncharged capacitor that a steady source charges through an inductance swings to twice the source, any text.
    assert struck_volts(50.0, 0.0, 2e-3, 0.0, 1e-3) == pytest.approx(100.0)


def test_a_plant_on_a_jet_follows_the_same_exponential():
    made = plant(drive=LINE, rotor=Rotor(inertia_kgm2=0.4))
    found = load_lost(made)
    runs_away, start = LINE.runaway_speed_rpm, found.starts_rpm
    tau = 0.4 * runs_away * PER_RPM / LINE.torque_nm(0.0)
    expected = [runs_away - (runs_away - start) * exp(-t / tau) for t in (0.2 * tau, tau, 3.0 * tau)]
    assert np.interp([0.2 * tau, tau, 3.0 * tau], found.time_s, found.speed_rpm) == pytest.approx(expected, rel=1e-3)
    assert found.dc_volts == pytest.approx(found.speed_rpm * made.open_volts(1.0)[1])
    assert (found.ends_rpm, found.ends_dc_volts) == pytest.approx((made.runaway_rpm, made.open_volts(runs_away)[1]))


def test_volts_leap_at_once_and_the_limit_is_met_after_the_time_of_the_mechanics():
    made = plant()
    found = load_lost(made)
    fastest = max(made.settled(state).speed_rpm for state in range(3))
    assert found.at_once_dc_volts == pytest.approx(made.open_volts(fastest)[1], rel=1e-6)
    assert found.seconds_to(made.bank.highest_volts) == 0.0
    assert found.seconds_to(1.01 * found.ends_dc_volts) == inf
    # Another way to the same time: ∫ J dΩ / T over the speeds on the way.
    limit = 0.5 * (found.at_once_dc_volts + found.ends_dc_volts)
    end = limit / made.open_volts(1.0)[1]
    by_mechanics = quad(lambda n: 0.05 * PER_RPM / made.drive.torque_nm(n), found.starts_rpm, end)[0]
    assert found.seconds_to(limit) == pytest.approx(by_mechanics, rel=2e-3)


def test_a_load_acts_after_its_time_and_ends_where_drive_and_bridge_agree():
    made = plant(copper_c=0.0, magnet_c=0.0)
    found = load_lost(made, load=LOAD)
    assert found.acts_s == pytest.approx(0.01)
    bare = replace(made.cold, drag_nm=0.0, cable_ohm=0.0)
    state = replace(made.bank.states[0], volts=0.0, ohm=LOAD.ohm)
    at = sweep([made.winding], np.array([found.ends_rpm]), state, bare, method="exact")
    assert at.torque_nm[0, 0] == pytest.approx(made.drive.torque_nm(found.ends_rpm), rel=2e-3)
    assert found.load_amps == pytest.approx(at.dc_amps[0, 0], rel=2e-3)
    assert found.load_watts == pytest.approx(LOAD.ohm * found.load_amps**2)
    # Six pulses into a resistance: peak π / 3 of the mean, any power-electronics text, more while leads take turns.
    assert np.pi / 3.0 <= found.ends_dc_volts / (LOAD.ohm * found.load_amps) <= 1.1


@settings(max_examples=15, deadline=None)
@given(ohm=st.floats(1e-3, 1.0), log_x=st.floats(-3.0, 1.5))
def test_no_reactance_makes_a_higher_peak_than_is_taken(ohm, log_x):
    given_volts = {"emf_peak_v": 100.0, "resistance_ohm": ohm, "reactance_ohm": 10.0**log_x, "dc_volts": 0.0}
    behind = {"diode_drop_v": 0.0, "dc_resistance_ohm": 1.0}
    peak = bridge_waveforms(**given_volts, **behind).dc_amps.max()
    assert peak <= PEAK_OVER_MEAN * bridge(**given_volts, **behind, method="exact").dc_amps


def test_a_capacitor_takes_the_amps_until_the_load_acts():
    bare, slowed = (load_lost(plant(), load=replace(LOAD, capacitor_uf=c)) for c in (0.0, 20_000.0))
    assert bare.highest_dc_volts >= bare.at_once_dc_volts
    # By hand: V = V0 + I t / C, from the bank's volts to the set-point and on for the time that the load takes.
    most = 70.0 + slowed.amps_before * 0.01 / 0.02
    assert np.interp(slowed.acts_s - 1e-9, slowed.time_s, slowed.dc_volts) == pytest.approx(most, rel=3e-3)
    assert slowed.acts_s == pytest.approx(0.01 + (70.0 - slowed.bank_dc_volts) * 0.02 / slowed.amps_before, rel=1e-2)


def test_a_guard_of_the_drive_that_has_failed_makes_it_worse():
    furled, failed = (load_lost(plant(drive=ROTOR), drives_guard=works) for works in (True, False))
    assert furled.ends_rpm == pytest.approx(ROTOR.strongest().free_speed_rpm)
    assert failed.ends_rpm == pytest.approx(plant(drive=ROTOR).runaway_rpm)
    assert failed.at_once_dc_volts > furled.at_once_dc_volts


def test_a_drive_that_keeps_its_speed_stands_at_its_worst_at_once():
    made = plant(drive=KnownSpeed(working_rpm=300.0))
    found = load_lost(made, load=LOAD)
    assert (found.starts_rpm, found.ends_rpm) == (540.0, 540.0)
    assert found.at_once_dc_volts == pytest.approx(made.open_volts(540.0)[1])
    assert found.ends_dc_volts < found.at_once_dc_volts


def test_before_the_set_point_the_load_does_nothing():
    found = load_lost(plant(), load=replace(LOAD, set_dc_volts=1500.0))
    assert (found.acts_s, found.load_watts) == (inf, 0.0)
    assert found.ends_dc_volts == load_lost(plant()).ends_dc_volts


@settings(max_examples=8, deadline=None)
@given(
    inertia=st.floats(0.02, 2.0),
    heavier=st.floats(1.0, 5.0),
    colder=st.floats(0.0, 40.0),
    more_head=st.floats(1.0, 1.5),
)
def test_lighter_colder_or_stronger_never_takes_longer_or_ends_lower(inertia, heavier, colder, more_head):
    mild = plant(rotor=Rotor(inertia_kgm2=inertia * heavier), cold_c=0.0)
    worse = plant(rotor=Rotor(inertia_kgm2=inertia), cold_c=-colder, drive=replace(JET, head_m=JET.head_m * more_head))
    slow, fast = load_lost(mild), load_lost(worse)
    assert fast.ends_dc_volts >= slow.ends_dc_volts * (1.0 - 1e-9)
    limit = 0.5 * (slow.at_once_dc_volts + slow.ends_dc_volts)
    assert fast.seconds_to(limit) <= slow.seconds_to(limit) * (1.0 + 1e-6)


def test_shares_of_line_volts_that_a_machine_cold_and_at_work_make_are_both_looked_at():
    made = plant(magnet_c=60.0, copper_c=120.0)
    found, same = load_lost(made, load=LOAD), load_lost(plant(magnet_c=0.0, copper_c=0.0), load=LOAD)
    assert found.ends_rpm > same.ends_rpm  # warm magnets hold less
    assert sqrt(2.0) * made.winding.line_volts_rms(found.ends_rpm, 0.0) >= found.ends_dc_volts
