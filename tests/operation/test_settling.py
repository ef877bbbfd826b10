"""Settling many drives on one sweep gives what the exact search finds."""

from dataclasses import dataclass, replace

import numpy as np
import pytest
from scipy.optimize import brentq

from samples.machine_samples import BANK, JET, SETTING, machine, windings
from statorbook.bank.battery import Bank, BankState
from statorbook.drives.drive import Drive
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.operating_point import crossings, operating_points
from statorbook.operation.settling import settled_at, settled_in
from statorbook.operation.speed_sweep import Conditions, sweep

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


@dataclass(frozen=True, kw_only=True)
class Dipping(Drive):
    """Invented: 4 N·m at rest, straight down to nothing at 1000 rpm, but for a notch of 30 rpm to either side."""

    notch_rpm: float
    deep_nm: float = 6.0
    free_speed_rpm: float = 1000.0
    best_speed_rpm: float = 500.0
    loss_name: str = "source"
    source_steps: tuple = ()

    def torque_nm(self, speed_rpm):
        notch = np.maximum(1.0 - np.abs(speed_rpm - self.notch_rpm) / 30.0, 0.0)
        return 4.0 * (1.0 - speed_rpm / self.free_speed_rpm) - self.deep_nm * notch

    def stops_at(self, drag_nm):
        """Where drag alone first holds it, on its way down into the notch, by hand."""
        # 4 (1 − n/1000) − d (1 − (m − n)/30) = drag, solved for n.
        slope = 4.0 / 1000.0 + self.deep_nm / 30.0
        return (4.0 - drag_nm - self.deep_nm * (1.0 - self.notch_rpm / 30.0)) / slope


LIGHT, SOME = Conditions(drag_nm=0.4), BANK.states[1]


@pytest.mark.parametrize("notch_rpm", [35.0, 240.0, 700.0, 930.0])
def test_a_dip_that_is_met_first_holds_it_whatever_lies_beyond(notch_rpm):
    drive = Dipping(notch_rpm=notch_rpm)
    # So many that they are not looked at all at once, and the first crossing of each by brute force.
    speeds = np.linspace(0.05, 1000.0, 20_000)
    load = sweep(WINDINGS, speeds, SOME, LIGHT)
    wanted = speeds[np.argmax(drive.torque_nm(speeds) <= load.torque_nm, axis=1)]
    idle = load.dc_amps[np.arange(len(WINDINGS)), np.searchsorted(speeds, wanted)] == 0.0
    found = operating_points(drive, WINDINGS * 12, SOME, LIGHT).speed_rpm.reshape(12, -1)
    assert found == pytest.approx(np.tile(wanted, (12, 1)), abs=0.1)
    assert idle.any() and found[0, idle] == pytest.approx(drive.stops_at(0.4), rel=1e-9)
    for alone in (0, -1):
        all_found = crossings(drive, WINDINGS[alone], SOME, LIGHT)
        assert all_found[0].speed_rpm == pytest.approx(wanted[alone], abs=0.1)
        assert [each.stable for each in all_found] == [at % 2 == 0 for at in range(len(all_found))]
    quick = settled_at([drive], WINDINGS, SOME, LIGHT)["speed_rpm"][0]
    assert quick == pytest.approx(wanted, rel=0.005)


def test_a_drive_that_nothing_loads_runs_at_its_free_speed():
    drive = Dipping(notch_rpm=500.0, deep_nm=0.0)
    around, high = Conditions(drag_nm=0.0), BankState(name="out of reach", volts=1e5, ohm=0.0)
    assert operating_points(drive, WINDINGS, high, around).speed_rpm == pytest.approx(1000.0)
    quick = settled_at([drive], WINDINGS, high, around)
    assert quick["speed_rpm"] == pytest.approx(1000.0) and np.all(quick["bank_watts"] == 0.0)
    (only,) = crossings(drive, WINDINGS[0], high, around)
    assert only.speed_rpm == pytest.approx(1000.0) and only.stable


def test_many_settings_of_a_source_at_once_are_what_each_is_alone():
    drives = [JET, replace(JET, head_m=14.0), replace(JET, head_m=40.0), KnownSpeed(working_rpm=450.0)]
    quick = settled_at(drives, WINDINGS, SOME, LIGHT, also=("copper_watts", "drag_watts"))
    assert list(quick) == ["speed_rpm", "dc_amps", "bank_watts", "phase_amps_rms", "copper_watts", "drag_watts"]
    for row, drive in enumerate(drives):
        exact = operating_points(drive, WINDINGS, SOME, LIGHT)
        for name, values in quick.items():
            wanted = np.broadcast_to(getattr(exact, name), (len(WINDINGS), 1))[:, 0]
            # The share that `settled_at` promises.
            assert values[row] == pytest.approx(wanted, rel=0.002, abs=0.002 * wanted.max()), (row, name)


def test_a_crossing_between_the_slowest_two_speeds_swept():
    # 4 (1 − n/1000) = 3.7 N·m of drag at 75 rpm, between the 50 and the 100 rpm that are swept.
    slow = around(drive=Dipping(notch_rpm=500.0, deep_nm=0.0), drag_nm=3.7)
    found = settled_in([slow], WINDINGS, speeds=20)
    idle = found["bank_watts"][0] == 0.0
    assert idle.any() and found["speed_rpm"][0, idle] == pytest.approx(75.0)
