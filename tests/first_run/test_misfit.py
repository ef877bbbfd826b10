"""How many sigma each reading is off: meters, speed and torque curve by hand, the machine by the exact solver."""

from dataclasses import replace
from math import hypot, sqrt

import numpy as np
import pytest

from samples.run_samples import machine_built, truth
from statorbook.bench.logs import blank_row
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.quantity import with_quantities
from statorbook.first_run.case import run_case
from statorbook.first_run.flows import Deviation, amps_table
from statorbook.first_run.misfit import amps_at, labels, line_volts_at, meter_pulls, misfit_table, misfits, speeds_off
from statorbook.first_run.rows import read_run
from statorbook.winding.winding import Winding

# A row with its source, one without, one at open leads.
ROWS = (
    {"speed_rpm": "700", "dc_amps": "10.0", "dc_volts": "52.0", "drive_reading": "24"},
    {"speed_rpm": "800", "dc_amps": "12.50", "dc_volts": "52.5"},
    {"speed_rpm": "300", "line_volts": "20.5"},
)
NORMAL_95 = 1.96
# Class and last digit, one sigma: 2 % of the amps and half a digit, 1 % of the volts and half a digit; an rpm meter is
# 1 % off, one sigma, besides what it rounds (common practice, no source).
AMPS_SHARED = (0.02 * 10.0 / NORMAL_95, 0.02 * 12.5 / NORMAL_95)
AMPS_DIGIT = (0.05, 0.005)
VOLTS_SHARED, VOLTS_DIGIT = 0.01 * 20.5 / NORMAL_95, 0.05
SPEED_SIGMA = tuple(hypot(0.01 * rpm, 1.0 / sqrt(12.0)) for rpm in (700.0, 800.0, 300.0))


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    return machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")[:2]


def case_of(built, *rows):
    machine, grouping = built
    cells = [blank_row("run") | row for row in rows]
    return run_case(machine, grouping, read_run(cells, machine.stator, machine.drive))


@pytest.fixture(scope="module")
def case(built):
    return case_of(built, *ROWS)


@pytest.fixture(scope="module")
def faster(built):
    """What one sigma of the speed makes of the amps, from rows of that speed."""
    rows = [row | {"speed_rpm": f"{float(row['speed_rpm']) + off:.9f}"} for row, off in zip(ROWS, SPEED_SIGMA[:2])]
    return amps_at(case_of(built, *rows))


@pytest.mark.outside(
    "sigmas that a run's readings are off, meters counted in each row and apart",
    source="JCGM 100:2008 (GUM), 5.1.2, law of propagation of uncertainty",
    number="2 amps, 1 line volts, √ of the sum of squares",
    tolerance="1e-4",
    seen="from memory",
)
def test_each_reading_is_off_by_its_meter_its_digit_and_its_speed(case, faster):
    at, volts = amps_at(case), line_volts_at(case)[0]
    by_speed, read = faster - at, np.array([10.0, 12.5])
    assert (by_speed > 0.1).all()
    own = np.hypot(AMPS_DIGIT, by_speed)
    own_volts = hypot(VOLTS_DIGIT / 20.5, SPEED_SIGMA[2] / 300.0)
    apart = misfit_table(case, [Deviation()], speeds=False, own=True)[0]
    assert apart == pytest.approx([*((read - at) / own), (20.5 - volts) / (own_volts * volts)], rel=1e-4)
    whole = np.hypot(own, AMPS_SHARED)
    whole_volts = hypot(own_volts, VOLTS_SHARED / 20.5)
    together = misfits(case, speeds=False)
    assert together == pytest.approx([*((read - at) / whole), (20.5 - volts) / (whole_volts * volts)], rel=1e-4)
    # A sigma of the ammeter moves the amps alone, one of the voltmeter the volts alone.
    pulls = [[*(np.array(AMPS_SHARED) / own), 0.0], [0.0, 0.0, VOLTS_SHARED / 20.5 / own_volts]]
    assert meter_pulls(case) == pytest.approx(np.array(pulls), rel=1e-4)
    assert [(kind, row.row) for kind, row in labels(case)] == [("amps", 1), ("amps", 2), ("volts", 3), ("speed", 1)]


@pytest.mark.outside(
    "how much faster a rotor ran than both torques agree on",
    source="Newton's method on the torques of drive and generator, slopes by differences of the exact solver",
    number="at 700 rpm and 24 m, drag 0.3 N·m and 0.2 N·m for each 1000 rpm",
    tolerance="1.5 %",
    seen="derived",
)
def test_the_speed_is_off_by_the_torque_that_is_missing_over_its_slope(built):
    machine, grouping = built
    setting = machine.setting
    at = replace(setting.conditions, drag_nm_per_1000rpm=0.2)
    machine = replace(machine, setting=replace(setting, conditions=at))
    drive = with_quantities(machine.drive, {"head_m": 24.0 * 0.9})

    def surplus_nm(rpm):
        drag = at.drag_nm + 0.2 * rpm / 1000.0 + 0.5
        return float(drive.torque_nm(rpm)) - drag - float(truth(machine, grouping, rpm)[1])

    def promised_nm(rpm):
        as_read = with_quantities(machine.drive, {"head_m": 24.0})
        drag = at.drag_nm + 0.2 * rpm / 1000.0
        return float(as_read.torque_nm(rpm)) - drag - float(truth(machine, grouping, rpm)[1])

    case = case_of((machine, grouping), ROWS[0])
    moved = Deviation(source_share=0.9, drag_nm=0.5)
    slope = (promised_nm(707.0) - promised_nm(693.0)) / 14.0
    off = speeds_off(case, moved)
    assert off == pytest.approx([surplus_nm(700.0) / slope], rel=0.015) and abs(off[0]) > 20.0
    # The torque curve is trusted to 3 % of the speed: common practice, no source.
    assert misfits(case, moved)[-1] == pytest.approx(off[0] / hypot(0.03 * 700.0, SPEED_SIGMA[0]))


def test_a_source_that_the_drive_refuses_is_out_of_reach(case):
    # 24 m times 50 are 1200 m, and no drive takes more than 1000 m.
    assert misfits(case, Deviation(source_share=50.0))[-1] == 1e6


@pytest.mark.outside(
    "amps of a finished machine that differs from its promise",
    source="the exact solver of the bridge, with the coil, the diodes and the cable changed",
    number="seven differences, at 700 and 800 rpm",
    tolerance="1 %",
    seen="derived",
)
@pytest.mark.parametrize(
    "moved, real",
    [
        (dict(emf_share=0.93), dict(emf=0.93)),
        (dict(ohm_share=1.5), dict(ohm=1.5)),
        (dict(henry_share=1.3), dict(henry=1.3)),
        (dict(diode_v=0.7), dict(diode_v=0.7)),
        (dict(cable_ohm=0.3), dict(cable_ohm=0.3)),
        (dict(cable_ohm=2.5), dict(cable_ohm=2.5)),
        (dict(copper_k=60.0), dict(copper_k=60.0)),
    ],
)
def test_amps_of_a_machine_that_differs(built, case, moved, real):
    rows = zip((700.0, 800.0), (52.0, 52.5))
    expected = [float(truth(*built, rpm, bank_v=volts, **real)[0]) for rpm, volts in rows]
    assert amps_table(case, [Deviation(), Deviation(**moved)])[1] == pytest.approx(expected, rel=0.01)


@pytest.mark.outside(
    "volts that a long cable loses",
    source="Ohm's law: ohms times mean amps",
    number="2.5 Ω, all but twice the ohms of a phase",
    tolerance="0.01 %",
    seen="derived",
)
def test_a_long_cable_raises_the_volts_that_the_machine_sees_by_what_it_loses(built, case):
    machine, grouping = built
    at = machine.setting.conditions
    phase_ohm = Winding(stator=machine.stator, coil=machine.coil, grouping=grouping).star_equivalent(at.copper_c).ohm
    amps, near = amps_at(case, Deviation(cable_ohm=2.5 - at.cable_ohm)), 1.99 * phase_ohm
    lost = (2.5 - near) * amps
    rows = [row | {"dc_volts": f"{float(row['dc_volts']) + off:.9f}"} for row, off in zip(ROWS, lost)]
    assert amps_at(case_of(built, *rows), Deviation(cable_ohm=near - at.cable_ohm)) == pytest.approx(amps, rel=1e-4)


def test_two_differences_at_once_are_both():
    one = Deviation(emf_share=0.9, ohm_share=1.2, henry_share=1.1, source_share=0.8, diode_v=0.3, copper_k=10.0)
    other = Deviation(emf_share=0.8, ohm_share=1.5, cable_ohm=0.2, drag_nm=0.7, diode_v=-0.1)
    both = one.joined(other)
    shares = (both.emf_share, both.ohm_share, both.henry_share, both.source_share)
    assert shares == pytest.approx((0.72, 1.8, 1.1, 0.8))
    assert (both.diode_v, both.cable_ohm, both.drag_nm, both.copper_k) == pytest.approx((0.2, 0.2, 0.7, 10.0))


def test_a_temperature_that_was_read_is_not_moved_again(built):
    cold = case_of(built, ROWS[0] | {"copper_c": "30"}, ROWS[0])
    still, warm = amps_table(cold, [Deviation(), Deviation(copper_k=60.0)])
    assert warm[0] == still[0] > still[1] > warm[1]


def test_a_drive_that_holds_its_speed_tells_nothing_of_its_source(built, case):
    machine, grouping = built
    held = run_case(replace(machine, drive=KnownSpeed(working_rpm=700.0)), grouping, case.readings)
    assert [row.row for row in case.driven] == [1] and held.driven == () and len(misfits(held)) == 3
