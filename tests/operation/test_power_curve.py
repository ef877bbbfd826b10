"""All groupings of one stator lie on one curve; its top is found by hand algebra and by Kirchhoff's laws."""

from math import pi, sqrt

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from samples.machine_samples import BANK, STATOR, windings
from statorbook.bank.battery import BankState
from statorbook.operation.power_curve import one_curve
from statorbook.operation.speed_sweep import Conditions
from statorbook.winding.coil import CoilConstants
from statorbook.winding.stator import Stator

HALF = BANK.states[1]
WARM = Conditions()
STEP = (1.05 - 0.02) / 119  # between two points of the curve


def coils(henry):
    return CoilConstants(emf_v_per_rpm=0.0193, ohm=0.56, henry=henry)


def resistive_watts(ratio, emf_peak, ohm):
    """Power into the bank of three EMFs with R alone: the rails' volts at each moment from Kirchhoff's current law."""
    bank = sqrt(3.0) * emf_peak * ratio
    angle = np.linspace(0.0, 2.0 * pi, 720, endpoint=False)[:, None]
    emf = emf_peak * np.cos(angle - 2.0 * pi / 3.0 * np.arange(3))
    low, high = np.full(len(emf), -2.0 * emf_peak), np.full(len(emf), bank + 2.0 * emf_peak)
    for _ in range(60):
        rail = 0.5 * (low + high)  # the plus rail; what flows out of it must flow back into the minus rail
        out = np.maximum(emf - rail[:, None], 0.0).sum(axis=1) / ohm
        back = np.maximum(rail[:, None] - bank - emf, 0.0).sum(axis=1) / ohm
        low, high = np.where(out > back, rail, low), np.where(out > back, high, rail)
    return bank * out.mean()


@pytest.mark.parametrize("slots, poles", [(36, 48), (12, 10), (9, 8), (24, 32)])
@pytest.mark.parametrize("speed_rpm", [600.0, 1500.0])
@pytest.mark.parametrize("henry", [0.0, 0.0005, 0.0031, 0.05])
def test_every_grouping_lies_on_the_curve(slots, poles, speed_rpm, henry):
    made = windings(Stator(slots=slots, poles=poles), coils(henry))
    curve = one_curve(made, speed_rpm, HALF, WARM)
    inside = (curve.grouping_ratio > curve.ratio[0]) & (curve.grouping_ratio < curve.ratio[-1])
    assert inside.any() and len(curve.grouping_ratio) == len(curve.grouping_watts) == len(made)
    # A smooth curve through the stored points: 120 straight pieces alone would cut its corners by up to 0.14 %.
    on_curve = PchipInterpolator(curve.ratio, curve.watts)(curve.grouping_ratio[inside])
    assert np.abs(on_curve - curve.grouping_watts[inside]).max() < 0.001 * curve.best_watts


def test_the_ratio_of_a_grouping_is_bank_volts_over_line_volts_peak():
    curve = one_curve(windings(), 900.0, HALF, WARM)
    for winding, ratio in zip(windings(), curve.grouping_ratio, strict=True):
        line_peak = sqrt(2.0) * winding.line_volts_rms(900.0, WARM.magnet_c)
        assert ratio == pytest.approx((HALF.volts + 2.0 * WARM.diode_drop_v) / line_peak, rel=1e-9)


def test_a_grouping_beyond_the_end_of_the_curve_gives_nothing():
    curve = one_curve(windings(), 900.0, HALF, WARM)
    idle = curve.grouping_ratio >= 1.0
    assert idle.any() and (curve.grouping_watts[idle] == 0.0).all() and (curve.grouping_watts[~idle] > 0.0).all()


def test_it_does_not_matter_which_winding_the_curve_is_drawn_from():
    forward, back = (one_curve(made, 900.0, HALF, WARM) for made in (windings(), windings()[::-1]))
    assert back.watts == pytest.approx(forward.watts, rel=1e-6, abs=1e-6 * forward.best_watts)


def test_cable_and_inner_resistance_play_no_part():
    plain = one_curve(windings(), 900.0, HALF, WARM)
    bare = BankState(name="half full", volts=HALF.volts, ohm=0.0)
    other = one_curve(windings(), 900.0, bare, Conditions(cable_ohm=5.0))
    assert other.watts == pytest.approx(plain.watts) and other.grouping_watts == pytest.approx(plain.grouping_watts)


def test_bank_volts_change_the_power_only_by_what_the_diodes_take():
    # Hand algebra: the same u and q make the same power before the diodes, and V / (V + 2 Vd) of it reaches the bank.
    small, large = (
        one_curve(windings(), 900.0, BankState(name="half full", volts=volts, ohm=0.0), WARM) for volts in (24.0, 96.0)
    )
    drop = 2.0 * WARM.diode_drop_v
    share = (24.0 / (24.0 + drop)) / (96.0 / (96.0 + drop))
    assert small.watts[10:110] == pytest.approx(share * large.watts[10:110], rel=1e-6)


def test_power_rises_with_speed_as_emf_squared_over_impedance():
    # Hand algebra: without inductance q stays 0, and E² / R makes four times the power at twice the speed.
    slow, fast = (one_curve(windings(coil=coils(0.0)), speed, HALF, WARM) for speed in (400.0, 800.0))
    assert fast.watts[10:110] == pytest.approx(4.0 * slow.watts[10:110], rel=1e-6)
    # With inductance alone E² / ωL makes twice the power.
    slow, fast = (one_curve(windings(coil=coils(3.0)), speed, HALF, WARM) for speed in (400.0, 800.0))
    assert fast.best_watts == pytest.approx(2.0 * slow.best_watts, rel=2e-3)


@pytest.mark.outside(
    "top of the power curve with much inductance",
    source="calculus on the exact current of a lossless source",
    number="u = 0.585, P = 0.6839 E²/X",
    tolerance="0.2 %",
    seen="derived",
)
def test_with_much_inductance_the_top_is_where_hand_algebra_puts_it():
    # R = 0, current never 0: the bridge's phase volts are six steps. Zero current at its own zero crossing asks that
    # ∫e = ∫v over half a turn, 2 E cos δ = 4 π V / 9; power is 3/2 E (2 V / π) sin δ / X, most at cos δ = 1/√2.
    best_ratio, best_power = 9.0 / (2.0 * pi * sqrt(2.0) * sqrt(3.0)), 27.0 / (4.0 * pi**2)
    first = windings(coil=coils(1.0))[0]
    curve = one_curve(windings(coil=coils(1.0)), 900.0, HALF, WARM)
    emf = sqrt(2.0) * first.star_equivalent(magnet_c=WARM.magnet_c).emf_v_per_rpm * 900.0
    reactance = 2.0 * pi * STATOR.electrical_hz(900.0) * first.star_equivalent().henry
    reaches_bank = HALF.volts / (HALF.volts + 2.0 * WARM.diode_drop_v)
    assert curve.best_ratio == pytest.approx(best_ratio, abs=STEP)
    assert curve.best_watts == pytest.approx(best_power * emf**2 / reactance * reaches_bank, rel=2e-3)


@pytest.mark.parametrize("speed_rpm", [500.0, 900.0, 1500.0])
def test_at_working_speed_of_a_many_pole_machine_the_top_lies_between_0_5_and_0_6(speed_rpm):
    # By calculus on a lossless machine behind the bridge, P = 3 V E / (π X) √(1 − (2 π V / 9 E)²): most power at
    # V = 9 E / (2 √2 π), which is u = 0.585; ohms pull it towards the matched load, one half.
    assert 0.5 <= one_curve(windings(), speed_rpm, HALF, WARM).best_ratio <= 0.6


def test_without_inductance_the_curve_is_that_of_a_resistive_source():
    no_drop = Conditions(diode_drop_v=0.0)
    made = windings(coil=coils(0.0))
    curve = one_curve(made, 900.0, HALF, no_drop)
    star = made[0].star_equivalent(no_drop.copper_c, no_drop.magnet_c)
    emf = sqrt(2.0) * star.emf_v_per_rpm * 900.0
    watts = [resistive_watts(ratio, emf, star.ohm) for ratio in curve.ratio[::4]]
    assert curve.watts[::4] == pytest.approx(watts, abs=0.003 * max(watts))
    assert curve.best_ratio == pytest.approx(curve.ratio[::4][np.argmax(watts)], abs=4 * STEP)


def test_no_grouping_passes_the_top():
    curve = one_curve(windings(), 900.0, HALF, WARM)
    assert curve.grouping_watts.max() <= 1.0005 * curve.best_watts
