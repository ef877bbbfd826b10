"""The volts to hold at a speed and at a setting of the source."""

import numpy as np
import pytest

from samples.machine_samples import BANK, JET, windings
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.best_volts import best_dc_volts, volts_to_hold
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import Conditions, sweep

STAR, HALF = windings()[2], BANK.states[1]
WIDE = Converter(low_volts=55.0, high_volts=400.0, survives_dc_volts=450.0)
AROUND = Conditions(cable_ohm=0.01, converter=WIDE)
WINDS = [WindRotor(rotor_diameter_m=3.0, wind_m_s=wind) for wind in (3.0, 6.0, 9.0)]


def test_no_other_volts_give_more_at_a_speed():
    speeds = np.array([400.0, 700.0, 1000.0])
    best = best_dc_volts(STAR, speeds, HALF, AROUND)
    for share in (0.9, 0.97, 1.03, 1.1):
        for speed, volts, watts in zip(speeds, best.dc_volts, best.bank_watts, strict=True):
            held = sweep([STAR], np.array([speed]), HALF, AROUND.held_at(share * volts))
            assert held.bank_watts[0, 0] < watts
    assert np.isnan(best_dc_volts(STAR, np.array([50.0]), HALF, AROUND).dc_volts[0])


def test_without_a_converter_a_lossless_one_is_taken():
    ideal = best_dc_volts(STAR, np.array([700.0]), HALF, Conditions())
    real = best_dc_volts(STAR, np.array([700.0]), HALF, Conditions(converter=WIDE))
    assert real.bank_watts == pytest.approx(WIDE.efficiency * ideal.bank_watts - WIDE.idle_watts, rel=1e-3)


@pytest.mark.parametrize("drives", [WINDS, [JET, JET]])
def test_the_curve_to_hold_is_that_of_the_settled_points(drives):
    curve = volts_to_hold(drives, STAR, HALF, AROUND)
    for number, drive in enumerate(drives):
        exact = operating_points(drive, [STAR], HALF, AROUND)
        assert curve.bank_watts[number] == pytest.approx(exact.bank_watts[0, 0], rel=0.003)
        if exact.bank_watts[0, 0] > 0.0:
            assert curve.dc_volts[number] == pytest.approx(exact.held_dc_volts[0, 0], rel=0.05)  # flat at the top
        else:
            assert np.isnan(curve.dc_volts[number])


def test_a_seeker_that_is_faster_than_the_rotor_asks_for_more_than_the_source_gives():
    # A machine that is large for its rotor: at once it could give far more than the wind keeps up.
    most, small = windings()[0], WindRotor(rotor_diameter_m=1.8, wind_m_s=6.0)
    settled = operating_points(small, [most], HALF, AROUND)
    at_once = sweep([most], settled.speed_rpm[0], HALF, AROUND)
    assert at_once.torque_nm[0, 0] > 2.0 * settled.torque_nm[0, 0]
    assert at_once.held_dc_volts[0, 0] < settled.held_dc_volts[0, 0]
