"""What the legs feel when charging sets in: forces, where they settle, and which gear helps."""

from dataclasses import replace
from math import isnan, nan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import in_us, sentences_of
from statorbook.bank.battery import BankState
from statorbook.drives.pedals import Pedals
from statorbook.operation.operating_point import operating_point, operating_points
from statorbook.operation.pedalling import PedalFeel, pedal_feel, pedal_force_n
from statorbook.operation.speed_sweep import Conditions, sweep
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("operation")

WINDING = Winding(
    stator=Stator(slots=36, poles=48),
    coil=CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3),
    grouping=Grouping(series=1, parallel=12),
)
BANK = BankState(name="half full", volts=13.0, ohm=0.01)
CONDITIONS = Conditions(drag_nm=0.15, magnet_c=20.0)
RIDER = Pedals(rider_watts=100.0, gear_ratio=6.5)


def feel(*, series=1, drag_nm=0.15, **changes):
    made = replace(WINDING, grouping=Grouping(series=series, parallel=12 // series))
    return pedal_feel(replace(RIDER, **changes), made, BANK, replace(CONDITIONS, drag_nm=drag_nm))


# --- forces and cadences ----------------------------------------------------------------------------------------------


# By hand: 0.15 N·m of drag × 6.5 / (0.95 × 0.170 m) = 6.0372 N.
def test_force_of_the_drag_alone_by_hand():
    assert pedal_force_n(RIDER, 0.15) == pytest.approx(6.0372, rel=1e-4)
    assert feel().force_before_n == pytest.approx(6.0372, rel=1e-4)


# By hand: coils at 20 °C; √2 × √3 × one phase's EMF of one coil in a path = 13 V + 2 × 0.9 V, √6 × 0.023 V/rpm × n,
# and all coils of a phase point the same way in 36 slots and 48 poles: n = 262.7 rpm, 40.4 rpm of the pedals.
def test_onset_of_charging_by_hand():
    by_hand = 14.8 / (sqrt(6.0) * 0.023)
    assert feel().cut_in_cadence_rpm == pytest.approx(by_hand / 6.5, rel=1e-9)
    assert feel(gear_ratio=3.0).cut_in_cadence_rpm == pytest.approx(by_hand / 3.0, rel=1e-9)


# Energy: force × path of the pedals in a second × chain efficiency = what the shaft takes at 10 % more speed.
@settings(max_examples=40)
@given(st.sampled_from([1, 2, 3, 4, 6]), st.floats(1.0, 20.0), st.floats(0.5, 1.0), st.floats(100.0, 250.0))
def test_force_after_is_the_power_of_the_shaft_over_the_path(series, gear_ratio, efficiency, crank_mm):
    found = feel(series=series, gear_ratio=gear_ratio, chain_efficiency=efficiency, crank_mm=crank_mm)
    speed = 1.1 * found.cut_in_cadence_rpm * gear_ratio
    made = replace(WINDING, grouping=Grouping(series=series, parallel=12 // series))
    taken = float(sweep([made], np.array([speed]), BANK, CONDITIONS).shaft_watts[0, 0])
    pedal_m_s = 1.1 * found.cut_in_cadence_rpm * 2 * pi / 60 * crank_mm / 1000.0
    assert found.force_after_n * pedal_m_s * efficiency == pytest.approx(taken, rel=1e-9)
    assert found.force_after_n > found.force_before_n


@settings(max_examples=40)
@given(st.sampled_from([1, 2, 3, 4, 6]), st.floats(1.0, 20.0), st.floats(30.0, 400.0))
def test_it_settles_where_the_operating_point_is_and_the_chain_is_paid_for(series, gear_ratio, rider_watts):
    found = feel(series=series, gear_ratio=gear_ratio, rider_watts=rider_watts)
    made = replace(WINDING, grouping=Grouping(series=series, parallel=12 // series))
    drive = replace(RIDER, gear_ratio=gear_ratio, rider_watts=rider_watts)
    point = operating_point(drive, made, BANK, CONDITIONS)
    assert found.settles_cadence_rpm == pytest.approx(point.speed_rpm / gear_ratio, rel=1e-9)
    assert 0.95 * found.settles_watts == pytest.approx(dict(point.chain_watts)["shaft"], rel=1e-5, abs=1e-6)
    assert found.charges == point.charges
    assert found.settles_watts <= rider_watts * (1 + 1e-9)


def test_a_drag_that_legs_cannot_overcome_leaves_them_standing():
    found = feel(gear_ratio=90.0, drag_nm=1.0)
    assert (found.settles_cadence_rpm, found.settles_watts, found.charges, found.too_hard) == (0.0, 0.0, False, True)
    assert found.sentence().endswith(wording("The legs cannot turn the"))


# --- the gear that fits -----------------------------------------------------------------------------------------------


@settings(max_examples=40)
@given(st.sampled_from([1, 2, 3, 4, 6]), st.floats(0.5, 20.0), st.floats(50.0, 300.0))
def test_with_the_gear_that_fits_the_rider_keeps_cadence_and_gives_all(series, gear_ratio, rider_watts):
    gear = feel(series=series, gear_ratio=gear_ratio, rider_watts=rider_watts).fitting_gear_ratio
    # A gear a hair off, as anyone would build it.
    found = feel(series=series, gear_ratio=gear * 1.001, rider_watts=rider_watts)
    assert found.settles_cadence_rpm == pytest.approx(70.0, rel=0.01)
    assert found.settles_watts == pytest.approx(rider_watts, rel=0.01)
    assert found.charges and not found.too_hard


def test_no_gear_fits_a_drag_that_takes_all_there_is_or_one_that_cannot_be_built():
    assert isnan(feel(drag_nm=20.0).fitting_gear_ratio)
    weak = replace(WINDING, coil=CoilConstants(emf_v_per_rpm=0.0005, ohm=0.01, henry=1e-6))
    assert isnan(pedal_feel(RIDER, weak, BANK, replace(CONDITIONS, drag_nm=0.001)).fitting_gear_ratio)


# A winding of little resistance takes almost all its power soon after the onset: a rider who can give only that much
# is dragged down on the way to his cadence. Judge: no gear of many, tried one by one, lets him settle near 70 rpm.
@pytest.mark.slow
def test_no_gear_fits_legs_that_hang_at_a_slower_speed():
    flat = replace(WINDING, coil=CoilConstants(emf_v_per_rpm=0.023, ohm=0.1, henry=0.01))
    light, onset = replace(CONDITIONS, drag_nm=0.01), 14.8 / (sqrt(6.0) * 0.023)
    watts = float(sweep([flat], np.array([10.0 * onset]), BANK, light).shaft_watts[0, 0])
    rider = replace(RIDER, rider_watts=watts / 0.95)
    assert isnan(pedal_feel(rider, flat, BANK, light).fitting_gear_ratio)
    gears = [float(gear) for gear in np.geomspace(onset / 140.0, 20.0 * onset / 70.0, 40)]
    geared = [(gear, operating_points(replace(rider, gear_ratio=gear), [flat], BANK, light)) for gear in gears]
    settles = [found.speed_rpm[0, 0] / gear for gear, found in geared]
    assert max(settles) > 75.0 and min(settles) < 30.0 and not [n for n in settles if 60.0 < n < 75.0]


# Just below the wished speed the legs would pull ahead, yet from rest they hang at six sevenths of it at most.
def test_legs_that_hang_well_below_have_no_gear_that_fits():
    coil = CoilConstants(emf_v_per_rpm=0.0193, ohm=0.56, henry=0.003)
    made = replace(WINDING, coil=coil, grouping=Grouping(series=6, parallel=2))
    bank, light = BankState(name="low", volts=13.0, ohm=0.01), Conditions(drag_nm=0.1)
    rider = replace(RIDER, rider_watts=250.0, cadence_rpm=70.0)
    gear = 665.0 / 70.0  # takes all that the legs have at 665 rpm of the generator
    assert sweep([made], np.array([665.0]), bank, light).shaft_watts[0, 0] == pytest.approx(0.95 * 250.0, rel=0.01)
    found = operating_points(replace(rider, gear_ratio=gear), [made], bank, light)
    assert found.speed_rpm[0, 0] < 6.0 / 7.0 * 665.0
    assert isnan(pedal_feel(rider, made, bank, light).fitting_gear_ratio)


# --- words ------------------------------------------------------------------------------------------------------------

GOOD = {
    "cut_in_cadence_rpm": 52.0,
    "force_before_n": 12.0,
    "force_after_n": 95.0,
    "settles_cadence_rpm": 57.0,
    "settles_watts": 96.0,
    "held_cadence_rpm": 70.0,
    "gear_ratio": 6.5,
    "fitting_gear_ratio": 5.2,
}
ONSET = wording("At 52 rpm of the")


def test_a_load_that_suits_the_legs_is_told_without_advice():
    found = PedalFeel(**GOOD)
    assert found.charges and not found.too_hard
    assert found.sentence() == ONSET


# Common practice, no source: riders change down under 0.7 of the cadence that they hold, here 49 rpm.
def test_far_below_means_under_seven_tenths():
    assert PedalFeel(**{**GOOD, "cut_in_cadence_rpm": 30.0, "settles_cadence_rpm": 48.9}).too_hard
    assert not PedalFeel(**{**GOOD, "cut_in_cadence_rpm": 30.0, "settles_cadence_rpm": 49.1}).too_hard


# 1 lbf = 4.44822 N (NIST SP 811): 2.7 and 21 lbf.
def test_forces_are_told_in_pounds_where_they_are_wanted():
    assert in_us(PedalFeel(**GOOD).sentence) == ONSET.replace("12 N to 95 N", "2.7 lbf to 21 lbf")


@pytest.mark.parametrize(
    ("changes", "advice"),
    [
        (
            {"cut_in_cadence_rpm": 20.0, "settles_cadence_rpm": 28.0},
            (wording("That is far below the 70 rpm that the rider holds: the load slows the legs; take a gear")),
        ),
        (
            {"cut_in_cadence_rpm": 20.0, "settles_cadence_rpm": 28.0, "fitting_gear_ratio": nan},
            (wording("That is far below the 70 rpm that the rider holds: the load slows the legs; take a grouping")),
        ),
        (
            {"cut_in_cadence_rpm": 90.0, "settles_cadence_rpm": 40.0},
            wording("That is far below the 70 rpm that the rider holds: the drag"),
        ),
        (
            {"cut_in_cadence_rpm": 150.0, "settles_cadence_rpm": 139.0, "fitting_gear_ratio": 15.0},
            (wording("Charging starts above the 70 rpm that the rider holds: it never")),
        ),
        (
            {"cut_in_cadence_rpm": 90.0, "settles_cadence_rpm": 110.0, "fitting_gear_ratio": nan},
            (wording("Charging starts above the 70 rpm that the rider holds: it charges")),
        ),
    ],
)
def test_what_is_wrong_is_told_with_what_helps(changes, advice):
    found = PedalFeel(**{**GOOD, **changes})
    onset = ONSET.replace("At 52", f"At {found.cut_in_cadence_rpm:.0f}")
    onset = onset.replace("at 57", f"at {found.settles_cadence_rpm:.0f}")
    assert found.sentence() == f"{onset} {advice}"
    assert found.too_hard == ("far below" in advice)
