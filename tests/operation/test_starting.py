"""From rest to work: every crossing of the torque curves, which of them hold, and what a start needs."""

from dataclasses import dataclass, replace
from math import inf, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.bank.battery import BankState
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.operation.operating_point import Crossing, crossings, operating_point
from statorbook.operation.speed_sweep import Conditions, cut_in_rpm, sweep
from statorbook.operation.starting import StartUp, start_up, torque_curves
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("operation")

WINDING = Winding(
    stator=Stator(slots=36, poles=48),
    coil=CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3),
    grouping=Grouping(series=2, parallel=6),
)
BANK = BankState(name="half full", volts=27.0, ohm=0.01)
CONDITIONS = Conditions(drag_nm=0.3)
JET = WaterJet(head_m=30.0, pitch_diameter_mm=250.0, nozzle_mm=14.0)


@dataclass(frozen=True, kw_only=True)
class Straight:
    """A drive made for these tests: torque straight between corners, none beyond the last."""

    speeds: tuple
    torques: tuple

    @property
    def best_speed_rpm(self):
        return self.speeds[-1] / 2

    @property
    def free_speed_rpm(self):
        return self.speeds[-1]

    def torque_nm(self, speed_rpm):
        torque = np.interp(speed_rpm, self.speeds, self.torques)
        return torque if np.ndim(speed_rpm) else float(torque)


def generator_nm(speed_rpm):
    return float(sweep([WINDING], np.array([speed_rpm]), BANK, CONDITIONS).torque_nm[0, 0])


# A drive that dips below the generator's torque and rises over it again: by construction it crosses three times.
def dipping():
    low, high = 1.15 * cut_in_rpm(WINDING, BANK, CONDITIONS), 3.0 * cut_in_rpm(WINDING, BANK, CONDITIONS)
    at_low, at_high = generator_nm(low), generator_nm(high)
    return Straight(speeds=(0.0, low, high, 1.3 * high), torques=(1.0, 0.7 * at_low, 1.5 * at_high, 0.0)), low, high


def test_all_crossings_are_found_and_every_second_one_holds():
    drive, low, high = dipping()
    found = crossings(drive, WINDING, BANK, CONDITIONS)
    assert [c.stable for c in found] == [True, False, True]
    assert found[0].speed_rpm < low < found[1].speed_rpm < high < found[2].speed_rpm
    for crossing in found:
        assert crossing.torque_nm == pytest.approx(generator_nm(crossing.speed_rpm), rel=1e-6)
        assert crossing.torque_nm == pytest.approx(drive.torque_nm(crossing.speed_rpm), rel=1e-12)


def test_from_rest_it_hangs_at_the_first_and_says_so():
    drive, *_ = dipping()
    found = start_up(drive, WINDING, BANK, CONDITIONS, start_nm=0.5)
    assert found.settles_rpm == found.found[0].speed_rpm and found.starts and found.charges
    assert found.sentence == (
        "It starts by itself: the drive pulls 1 N·m on the standing rotor and 0.5 N·m are needed. "
        f"It passes {found.cut_in_rpm:.0f} rpm, where charging starts, and settles at {found.settles_rpm:.0f} rpm. "
        f"It could also run at {found.found[2].speed_rpm:.0f} rpm, but from rest it sticks at "
        f"{found.settles_rpm:.0f} rpm: the generator loads it too early."
    )


@settings(max_examples=40)
@given(st.floats(5.0, 80.0), st.floats(6.0, 30.0), st.sampled_from([1, 2, 3, 4, 6, 12]))
def test_signs_of_the_surplus_agree_with_what_is_called_stable(head_m, nozzle_mm, series):
    drive = replace(JET, head_m=head_m, nozzle_mm=nozzle_mm)
    made = replace(WINDING, grouping=Grouping(series=series, parallel=12 // series))
    found = crossings(drive, made, BANK, CONDITIONS)
    for crossing in found:
        around = crossing.speed_rpm * np.array([1 - 1e-5, 1 + 1e-5])
        below, above = drive.torque_nm(around) - sweep([made], around, BANK, CONDITIONS).torque_nm[0]
        assert bool(below > 0.0 > above) == crossing.stable
    assert found[0].speed_rpm == pytest.approx(operating_point(drive, made, BANK, CONDITIONS).speed_rpm, rel=1e-6)


def test_a_drive_that_is_too_weak_at_rest_wants_a_push_to_a_named_speed():
    rising = Straight(speeds=(0.0, 400.0, 900.0), torques=(0.1, 4.0, 0.0))
    found = start_up(rising, WINDING, BANK, CONDITIONS)
    # Straight from 0.1 to 4 N·m over 400 rpm, so it has the 0.3 N·m of the drag at 20.5 rpm.
    assert found.push_rpm == pytest.approx(400.0 * 0.2 / 3.9, rel=1e-6)
    assert not found.starts and found.settles_rpm == 0.0 and not found.charges
    assert found.sentence == wording("It does not start by")


def test_more_than_the_drag_but_less_than_the_pull_that_lets_go_wants_a_push():
    found = start_up(replace(JET, nozzle_mm=6.0), WINDING, BANK, CONDITIONS, start_nm=9.0)
    assert not found.starts and found.push_rpm == 0.0 and found.settles_rpm > 0.0
    assert wording("9 N·m are needed, so") in found.sentence


def test_a_drive_that_never_turns_it_says_so():
    weak = Straight(speeds=(0.0, 500.0), torques=(0.2, 0.0))
    found = start_up(weak, WINDING, BANK, CONDITIONS)
    assert found.found == () and found.sentence.endswith(wording("The drive cannot turn it"))


def test_it_is_said_when_charging_is_never_reached():
    slow = Straight(speeds=(0.0, 0.8 * cut_in_rpm(WINDING, BANK, CONDITIONS)), torques=(20.0, 0.0))
    found = start_up(slow, WINDING, BANK, CONDITIONS)
    assert found.starts and not found.charges
    assert f"never reaches the {found.cut_in_rpm:.0f} rpm at which charging starts." in found.sentence


def test_a_known_speed_starts_and_settles_there():
    drive = KnownSpeed(working_rpm=700.0)
    found = start_up(drive, WINDING, BANK, CONDITIONS)
    assert found.rest_nm == inf and found.settles_rpm == 700.0
    assert [c.torque_nm for c in found.found] == [pytest.approx(generator_nm(700.0), rel=1e-9)]
    assert found.sentence.startswith(wording("It is assumed that the"))


def test_curves_are_those_of_drive_and_sweep():
    speeds = np.array([100.0, 500.0, 900.0])
    pull, hold = torque_curves(JET, WINDING, BANK, CONDITIONS, speeds)
    assert pull.tolist() == JET.torque_nm(speeds).tolist()
    assert hold[0] == pytest.approx(0.3, rel=1e-9)  # below cut-in only the drag is left
    watts = hold * speeds * 2 * pi / 60
    assert watts[1] == pytest.approx(float(sweep([WINDING], speeds, BANK, CONDITIONS).shaft_watts[0, 1]), rel=1e-12)


def started(*speeds, settles, **changes):
    """A start with crossings that are stable by turns, slow to fast."""
    found = tuple(Crossing(speed_rpm=n, torque_nm=1.0, stable=k % 2 == 0) for k, n in enumerate(speeds))
    given = {"rest_nm": 1.2344, "needed_nm": 0.5, "assumed": False, "cut_in_rpm": 80.0, **changes}
    return StartUp(found=found, settles_rpm=settles, **given)


# Only a speed that holds, faster than the one where it settles, is another place to run, and only when it turns at all.
@pytest.mark.parametrize(
    "start, told",
    [
        (started(100.0, 300.0, 350.0, settles=100.0), "350 rpm"),
        (started(100.0, 120.0, 150.0, settles=100.0), "150 rpm"),
        (started(100.0, 300.0, settles=100.0), ""),
        (started(100.0, settles=100.0), ""),
        (started(100.0, 300.0, 350.0, settles=0.0), ""),
    ],
)
def test_another_place_to_run_is_told_where_there_is_one(start, told):
    assert ("could also run" in start.sentence) == bool(told) and told in start.sentence


def test_torques_at_the_start_are_told_in_two_figures():
    assert "pulls 1.2 N·m" in started(100.0, settles=100.0).sentence
