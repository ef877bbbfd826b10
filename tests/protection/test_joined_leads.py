"""All three leads joined: algebra by hand, energy, and crossings found by trying every speed."""

from dataclasses import dataclass, replace
from math import inf, isnan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import in_us, sentences_of
from statorbook.drives import Drive, shaft_watts
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.speed_sweep import Conditions
from statorbook.protection import joined_leads as brake_module
from statorbook.protection.joined_leads import (
    COLD_COPPER_C,
    CREEP_SHARE,
    HeldWind,
    brake,
    highest_wind_m_s,
    shorted_amps_rms,
    shorted_torque_nm,
)
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from strategies import numbers, windings

wording = sentences_of("protection")

STATOR = Stator(slots=36, poles=48)
COIL = CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3)
WINDING = Winding(stator=STATOR, coil=COIL, grouping=Grouping(series=2, parallel=6))
CONDITIONS = Conditions(drag_nm=0.3)
NO_DRAG = Conditions(drag_nm=0.0)
COLD = replace(CONDITIONS, copper_c=0.0)
ROTOR = WindRotor(rotor_diameter_m=1.5, wind_m_s=6.0)
JET = WaterJet(head_m=30.0, pitch_diameter_mm=250.0, nozzle_mm=14.0)
CAUTION = wording("Never rely on joined leads")


def by_scan(drive, winding, conditions, points=200_001):
    """Creep, escape and end from the signs at very many speeds, for one temperature."""
    speeds = np.linspace(0.0, drive.free_speed_rpm, points)
    ahead = drive.torque_nm(speeds) > shorted_torque_nm(winding, speeds, conditions)
    held = [speeds[at] for at in range(points) if not ahead[at] and (at == 0 or ahead[at - 1])]
    lost = [speeds[at] for at in range(1, points) if ahead[at] and not ahead[at - 1]]
    return held[0], lost[0] if lost else inf, held[-1]


# --- algebra ----------------------------------------------------------------------------------------------------------


# A star of E = 0.1 V/rpm, R = 2 Ω, L = 10 mH with 24 pole pairs, at 100 rpm: E = 10 V, f = 40 Hz, X = 2.5133 Ω,
# Z = 3.2119 Ω, I = 3.1134 A, heat 3 I² R = 58.16 W, Ω = 10.472 rad/s, 5.554 N·m and the drag. All by hand.
def test_current_and_torque_by_hand():
    coil = CoilConstants(emf_v_per_rpm=0.1 / 12 / STATOR.distribution_factor, ohm=2 / 12, henry=0.01 / 12)
    made = Winding(stator=STATOR, coil=coil, grouping=Grouping(series=12, parallel=1))
    at = Conditions(copper_c=20.0, magnet_c=20.0, drag_nm=0.5, drag_nm_per_1000rpm=2.0)
    assert shorted_amps_rms(made, 100.0, at) == pytest.approx(3.1134, rel=1e-4)
    assert shorted_torque_nm(made, 100.0, at) == pytest.approx(5.554 + 0.5 + 0.2, rel=1e-4)
    # X = R at 2 / 0.01 / (2π 24) × 60 = 79.577 rpm.
    assert brake(ROTOR, made, at).peak_rpm == pytest.approx(79.577, rel=1e-4)


# At X = R: T = 3 E² / (2 R Ω) = 3 E² / (2 ω L Ω), in which E/Ω and ω/Ω = p do not hang on R: T = 3 k² / (2 p L).
@given(windings(), st.floats(-40.0, 200.0), numbers(0.05, 20.0))
def test_the_highest_torque_does_not_hang_on_the_ohms(winding, copper_c, times):
    at = replace(NO_DRAG, copper_c=copper_c)
    more_ohms = replace(winding, coil=replace(winding.coil, ohm=times * winding.coil.ohm))
    star = winding.star_equivalent(copper_c, at.magnet_c)
    volts_per_rad_s = star.emf_v_per_rpm * 60 / (2 * pi)
    by_hand_nm = 1.5 * volts_per_rad_s**2 / (winding.stator.pole_pairs * star.henry)
    for made in (winding, more_ohms):
        found = brake(JET, made, at)
        assert found.peak_nm == pytest.approx(by_hand_nm, rel=1e-9)
        around = found.peak_rpm * np.linspace(0.2, 5.0, 4801)
        torques = shorted_torque_nm(made, around, at)
        assert torques.max() <= by_hand_nm * (1 + 1e-12)
        assert around[torques.argmax()] == pytest.approx(found.peak_rpm, rel=2e-3)
    assert brake(JET, more_ohms, at).peak_rpm == pytest.approx(times * brake(JET, winding, at).peak_rpm, rel=1e-9)


# With no bank and no bridge all that the shaft gives turns to heat: T Ω = 3 I² R + drag.
@given(windings(), numbers(0.1, 5000.0), st.floats(-40.0, 200.0))
def test_all_power_of_the_shaft_becomes_heat(winding, speed_rpm, copper_c):
    at = Conditions(copper_c=copper_c, drag_nm=0.4, drag_nm_per_1000rpm=0.3)
    heat = 3 * shorted_amps_rms(winding, speed_rpm, at) ** 2 * winding.star_equivalent(copper_c, at.magnet_c).ohm
    drag_nm = 0.4 + 0.3 * speed_rpm / 1000
    omega = speed_rpm * 2 * pi / 60
    assert shorted_torque_nm(winding, speed_rpm, at) * omega == pytest.approx(heat + drag_nm * omega, rel=1e-9)


# E/√(R² + X²) by complex numbers instead.
@given(windings(), numbers(0.1, 5000.0))
def test_the_current_is_that_of_a_phase_on_itself(winding, speed_rpm):
    star = winding.star_equivalent(CONDITIONS.copper_c, CONDITIONS.magnet_c)
    impedance = complex(star.ohm, 2 * pi * winding.stator.pole_pairs * speed_rpm / 60 * star.henry)
    assert shorted_amps_rms(winding, speed_rpm, CONDITIONS) == pytest.approx(
        abs(star.emf_v_per_rpm * speed_rpm / impedance), rel=1e-9
    )


def test_numbers_and_arrays_give_the_same_and_rest_has_only_the_drag():
    speeds = np.array([0.0, 0.5, 88.0, 3000.0])
    for function in (shorted_torque_nm, shorted_amps_rms):
        assert function(WINDING, speeds, CONDITIONS).tolist() == [function(WINDING, n, CONDITIONS) for n in speeds]
        assert isinstance(function(WINDING, 100, CONDITIONS), float)
    assert shorted_torque_nm(WINDING, 0.0, CONDITIONS) == 0.3 and shorted_amps_rms(WINDING, 0.0, CONDITIONS) == 0.0


# --- held or not ------------------------------------------------------------------------------------------------------


@settings(max_examples=40)
@given(st.floats(2.0, 25.0), numbers(0.5, 4.0), numbers(0.005, 0.1), numbers(2e-4, 2e-2), st.floats(-20.0, 120.0))
def test_crossings_agree_with_a_scan_of_all_speeds(wind_m_s, rotor_diameter_m, emf_v_per_rpm, henry, copper_c):
    drive = WindRotor(rotor_diameter_m=rotor_diameter_m, wind_m_s=wind_m_s)
    made = replace(WINDING, coil=replace(COIL, emf_v_per_rpm=emf_v_per_rpm, henry=henry))
    at = replace(CONDITIONS, copper_c=copper_c)
    found, step = brake(drive, made, at), drive.free_speed_rpm / 200_000
    temperatures = {copper_c, min(copper_c, COLD_COPPER_C.value)}
    scans = [(by_scan(drive, made, replace(at, copper_c=each)), each) for each in temperatures]
    peak_of = {
        each: made.star_equivalent(each).ohm / (2 * pi * 24 / 60 * made.star_equivalent(each).henry)
        for each in temperatures
    }
    if any(creep > peak_of[each] + step for (creep, _, _), each in scans):
        assert isnan(found.creep_rpm) and found.escapes_above_rpm == 0.0 and not found.holds and not found.keeps
    else:
        assert found.creep_rpm == pytest.approx(max(scan[0] for scan, _ in scans), abs=2 * step)
        assert found.escapes_above_rpm == pytest.approx(min(scan[1] for scan, _ in scans), abs=2 * step)
        slow = found.creep_rpm <= CREEP_SHARE.value * found.free_rpm
        assert found.keeps == slow and found.holds == (slow and found.escapes_above_rpm == inf)
    assert found.ends_rpm == pytest.approx(max(scan[2] for scan, _ in scans), abs=2 * step)


# In a light wind all that the rotor gives at the creep is heat and drag (energy).
def test_a_held_rotor_creeps_where_its_power_is_all_heat():
    found = brake(ROTOR, WINDING, CONDITIONS)
    assert found.holds and found.keeps and found.escapes_above_rpm == inf
    assert 0.0 < found.creep_rpm == found.ends_rpm < 0.01 * ROTOR.free_speed_rpm
    drag_watts = 0.3 * found.creep_rpm * 2 * pi / 60
    assert shaft_watts(ROTOR, found.creep_rpm) == pytest.approx(found.copper_watts + drag_watts, rel=1e-3)
    assert found.sentence == (
        f"Joining all three leads holds it: from any speed up to {ROTOR.free_speed_rpm:.0f} rpm it slows to a creep of "
        f"{found.creep_rpm:.2g} rpm, with {found.shorted_amps_rms:.2g} A in each lead and {found.copper_watts:.2g} W "
        f"of heat in the coils.{CAUTION}"
    )


def test_in_more_wind_it_is_held_only_when_joined_slowly():
    windy = replace(ROTOR, wind_m_s=10.0)
    found = brake(windy, WINDING, CONDITIONS)
    assert not found.holds and found.keeps
    assert found.creep_rpm < found.peak_rpm < found.escapes_above_rpm < found.ends_rpm < windy.free_speed_rpm
    assert found.copper_watts > 10.0
    assert found.sentence == (
        f"Joining all three leads holds it only below {found.escapes_above_rpm:.0f} rpm, down to a creep of "
        f"{found.creep_rpm:.2g} rpm; joined above that it runs on at {found.ends_rpm:.0f} rpm, with "
        f"{found.shorted_amps_rms:.2g} A in each lead and {found.copper_watts:.0f} W of heat in the coils.{CAUTION}"
    )
    # Just below and just above that speed the balance of torques tips, with the cold copper that decides it.
    below, above = (found.escapes_above_rpm * k for k in (1 - 1e-4, 1 + 1e-4))
    assert windy.torque_nm(below) < shorted_torque_nm(WINDING, below, COLD)
    assert windy.torque_nm(above) > shorted_torque_nm(WINDING, above, COLD)


def test_cold_copper_sets_the_escape_and_warm_copper_the_creep():
    windy = replace(ROTOR, wind_m_s=10.0)
    found = brake(windy, WINDING, CONDITIONS)
    cold, warm = (by_scan(windy, WINDING, at) for at in (COLD, CONDITIONS))
    step = windy.free_speed_rpm / 200_000
    assert cold[1] < warm[1] and found.escapes_above_rpm == pytest.approx(cold[1], abs=2 * step)
    assert cold[0] < warm[0] and found.creep_rpm == pytest.approx(warm[0], abs=2 * step)


def test_a_strong_jet_is_not_held_at_all():
    found = brake(JET, WINDING, CONDITIONS)
    assert isnan(found.creep_rpm) and found.escapes_above_rpm == 0.0 and not found.keeps
    assert JET.torque_nm(found.peak_rpm) > found.peak_nm
    assert found.sentence.startswith(
        f"Joining all three leads does not hold it: it runs on at {found.ends_rpm:.0f} rpm"
    )
    assert found.sentence.endswith(CAUTION)


def test_a_drive_that_cannot_overcome_the_drag_stands():
    found = brake(ROTOR, WINDING, replace(CONDITIONS, drag_nm=50.0))
    assert found.holds and found.creep_rpm == found.ends_rpm == 0.0 and found.copper_watts == 0.0


@dataclass(frozen=True, kw_only=True)
class Straight(Drive):
    """A drive made for these tests: torque straight between corners, none beyond the last."""

    speeds: tuple
    torques: tuple

    @property
    def free_speed_rpm(self):
        return self.speeds[-1]

    def torque_nm(self, speed_rpm):
        torque = np.interp(speed_rpm, self.speeds, self.torques)
        return torque if np.ndim(speed_rpm) else float(torque)


# The brake is T = Tp 2x / (1 + x²), x = speed over the peak's; half of Tp is met at x = 2 − √3 and 2 + √3. The
# drive here pulls that much up to a speed a thousand times as high.
def test_a_peak_far_below_the_free_speed_is_not_overlooked():
    at = Conditions(copper_c=0.0, drag_nm=0.0)
    known = brake(ROTOR, WINDING, at)
    flat = Straight(
        speeds=(0.0, 1000 * known.peak_rpm, 2000 * known.peak_rpm), torques=(*[0.5 * known.peak_nm] * 2, 0.0)
    )
    found = brake(flat, WINDING, at)
    assert found.creep_rpm == pytest.approx((2 - sqrt(3)) * known.peak_rpm, rel=1e-6)
    assert found.escapes_above_rpm == pytest.approx((2 + sqrt(3)) * known.peak_rpm, rel=1e-6)
    assert found.keeps and not found.holds


# Pulls 1.1 times the peak up to the peak's speed and nothing at twice that speed: they meet in between, past the peak.
def test_a_meeting_past_the_peak_is_no_creep():
    at = Conditions(copper_c=0.0, drag_nm=0.0)
    known = brake(ROTOR, WINDING, at)
    steep = Straight(
        speeds=(0.0, known.peak_rpm, 2 * known.peak_rpm, 100 * known.peak_rpm),
        torques=(1.1 * known.peak_nm, 1.1 * known.peak_nm, 0.0, 0.0),
    )
    found = brake(steep, WINDING, at)
    assert isnan(found.creep_rpm) and not found.holds and found.escapes_above_rpm == 0.0
    assert known.peak_rpm < found.ends_rpm < 2 * known.peak_rpm


# Without inductance the brake is a straight line through rest: no peak, no escape, but perhaps no standstill either.
def test_without_inductance_it_slows_without_end_but_may_not_hold():
    bare = replace(WINDING, coil=replace(COIL, henry=0.0))
    found = brake(JET, bare, NO_DRAG)
    assert (found.peak_rpm, found.peak_nm, found.escapes_above_rpm) == (inf, inf, inf)
    weak = replace(bare, coil=replace(COIL, henry=0.0, emf_v_per_rpm=0.001))
    slowed = brake(JET, weak, NO_DRAG)
    assert not slowed.holds and CREEP_SHARE.value * JET.free_speed_rpm < slowed.creep_rpm < JET.free_speed_rpm
    assert slowed.sentence.startswith(
        f"Joining all three leads only slows it, from {JET.free_speed_rpm:.0f} rpm unloaded to {slowed.ends_rpm:.0f} "
    )


def test_a_drive_that_keeps_its_speed_is_not_held_and_this_is_said():
    found = brake(KnownSpeed(working_rpm=500.0), WINDING, CONDITIONS)
    assert not found.holds and not found.keeps and isnan(found.creep_rpm) and found.ends_rpm == 500.0
    assert found.shorted_amps_rms == pytest.approx(shorted_amps_rms(WINDING, 500.0, COLD), rel=1e-12)
    assert found.sentence == (
        "Joining all three leads cannot hold a drive that keeps its speed whatever the load: it would go on at 500 "
        f"rpm, with {found.shorted_amps_rms:.0f} A in each lead and {found.copper_watts:.0f} W of heat in the "
        f"coils.{CAUTION}"
    )


# E goes as s, R and X as s/a, so the torque goes as s² / (s/a) = s a: the coils of a phase, however they are joined.
def test_no_grouping_brakes_better_than_another():
    one = brake(ROTOR, WINDING, CONDITIONS)
    for grouping in STATOR.groupings():
        other = brake(ROTOR, replace(WINDING, grouping=grouping), CONDITIONS)
        for name in ("creep_rpm", "peak_nm", "peak_rpm", "ends_rpm", "copper_watts"):
            assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-9)


# --- wind -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("emf_v_per_rpm", [0.007, 0.023])
def test_the_highest_winds_divide_held_from_lost(emf_v_per_rpm):
    made = replace(WINDING, coil=replace(COIL, emf_v_per_rpm=emf_v_per_rpm))
    found = highest_wind_m_s(ROTOR, made, CONDITIONS)
    assert 0.0 < found.turning_m_s < found.standing_m_s < inf
    for wind_m_s, name in ((found.turning_m_s, "holds"), (found.standing_m_s, "keeps")):
        lighter = np.linspace(0.02, wind_m_s, 60)
        assert all(getattr(brake(replace(ROTOR, wind_m_s=v), made, CONDITIONS), name) for v in lighter)
        assert not getattr(brake(replace(ROTOR, wind_m_s=wind_m_s + 0.011), made, CONDITIONS), name)


# Twice the EMF brakes four times as hard at every speed; a larger rotor pulls harder and its best speed is lower.
def test_stronger_magnets_hold_in_more_wind_and_a_larger_rotor_in_less():
    plain = highest_wind_m_s(ROTOR, WINDING, NO_DRAG)
    strong = replace(WINDING, coil=replace(COIL, emf_v_per_rpm=2 * COIL.emf_v_per_rpm))
    more = highest_wind_m_s(ROTOR, strong, NO_DRAG)
    less = highest_wind_m_s(replace(ROTOR, rotor_diameter_m=2.0), WINDING, NO_DRAG)
    assert more.turning_m_s > plain.turning_m_s > less.turning_m_s
    assert more.standing_m_s > plain.standing_m_s > less.standing_m_s


# A standing rotor pulls 0.5/λ² ½ ρ A R v². Up to the peak's slow speed its coefficient only falls, and by no more than
# (1 − Ω R / (6 v))², so it is let go between v0 = √(peak / pull at 1 m/s) and v0 + Ω R / 6.
def test_a_standing_rotor_is_lost_where_its_pull_passes_the_peak():
    found, joined = highest_wind_m_s(ROTOR, WINDING, NO_DRAG), brake(ROTOR, WINDING, NO_DRAG)
    at_one_nm = 0.5 / 6.0**2 * 0.5 * 1.225 * pi * 0.75**3
    estimate_m_s = sqrt(joined.peak_nm / at_one_nm)
    tip_m_s = joined.peak_rpm * 2 * pi / 60 * 0.75
    assert estimate_m_s - 0.01 <= found.standing_m_s <= estimate_m_s + tip_m_s / 6


def test_winds_are_said_in_both_systems():
    # 10 m/s = 22.4 mph, 60 m/s = 134 mph.
    held = HeldWind(turning_m_s=10.0, standing_m_s=inf)
    words = "Joined leads slow an unloaded rotor to a creep in wind up to {}, and hold a standing one to a creep in "
    words += wording("wind up to {}; do")
    assert held.sentence() == words.format("10 m/s", "60 m/s")
    assert in_us(held.sentence) == words.format("22.4 mph", "134 mph")


def test_a_rotor_that_the_drag_stops_is_held_in_any_wind():
    found = highest_wind_m_s(replace(ROTOR, rotor_diameter_m=0.5), WINDING, replace(CONDITIONS, drag_nm=500.0))
    assert (found.turning_m_s, found.standing_m_s) == (inf, inf)


@pytest.mark.parametrize(
    "name", [name for name, fact in vars(brake_module).items() if isinstance(fact, brake_module.Fact)]
)
def test_facts_stand_within_their_range(name):
    fact = getattr(brake_module, name)
    assert fact.low <= fact.value <= fact.high and fact.unit and fact.source


def test_joined_leads_are_judged_with_every_other_guard_failed():
    windy = replace(ROTOR, wind_m_s=15.0)
    guarded = replace(windy, furls_from_m_s=8.0, brake_from_rpm=50.0)
    assert brake(guarded, WINDING, NO_DRAG) == brake(windy, WINDING, NO_DRAG)
    assert highest_wind_m_s(guarded, WINDING, NO_DRAG) == highest_wind_m_s(windy, WINDING, NO_DRAG)
