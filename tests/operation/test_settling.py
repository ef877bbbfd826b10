"""Settling many drives on one sweep gives what the exact search finds."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from samples.machine_samples import BANK, JET, SETTING, machine, windings
from statorbook.bank.battery import Bank
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.operating_point import operating_points
from statorbook.operation.settling import settled_in
from statorbook.operation.speed_sweep import Conditions

WINDINGS = windings()
WIND = WindRotor(rotor_diameter_m=3.0, wind_m_s=9.0)


def around(drive=JET, bank=BANK, **conditions):
    return machine(drive=drive, bank=bank, setting=replace(SETTING, conditions=Conditions(**conditions)))


MACHINES = [
    around(),
    around(copper_c=20.0),
    around(drag_nm=2.0),
    around(drive=replace(JET, head_m=20.0)),
    around(drive=WIND),
    around(drive=replace(WIND, wind_m_s=12.0), bank=Bank(chemistry="AGM", cells=12)),
    around(drive=KnownSpeed(working_rpm=700.0)),
]


def test_quick_and_exact_agree():
    quick = settled_in(MACHINES, WINDINGS, speeds=2000)
    for row, now in enumerate(MACHINES):
        exact = operating_points(now.drive, WINDINGS, now.bank.states[1], now.setting.conditions)
        for name in ("speed_rpm", "dc_amps", "bank_watts"):
            wanted = getattr(exact, name)[:, 0]
            assert quick[name][row] == pytest.approx(wanted, rel=0.01, abs=0.005 * max(wanted.max(), 0.1))


def test_a_drive_that_cannot_turn_it_gives_nothing():
    found = settled_in([around(drag_nm=500.0)], WINDINGS)
    assert all(np.all(values == 0.0) for values in found.values())


def test_a_drag_near_what_the_drive_pulls_at_rest():
    # Below the cut-in drag is all that holds it: the speed at which the jet pulls just that, by bisection.
    drag_nm = 0.95 * JET.torque_nm(0.0)
    speed = brentq(lambda rpm: JET.torque_nm(rpm) - drag_nm, 1.0, JET.free_speed_rpm)
    found = settled_in([around(drag_nm=drag_nm), around(drag_nm=1.05 * JET.torque_nm(0.0))], WINDINGS)
    idle = found["bank_watts"][0] == 0.0
    assert idle.any() and found["speed_rpm"][0, idle] == pytest.approx(speed, rel=0.01)
    assert np.all(found["speed_rpm"][1] == 0.0)
