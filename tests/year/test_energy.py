"""The kilowatt-hours of a year, against sums that use the exact search for each operating point."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import JET, windings
from samples.year_samples import machine, windy, year_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import Conditions
from statorbook.year.energy import grouping_years
from statorbook.year.source import HOURS_A_YEAR

WINDS = np.array([0.5, 2.0, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 12.0, 20.0])
HOURS = np.array([300.0, 900.0, 800.0, 900.0, 1000.0, 1400.0, 1300.0, 900.0, 600.0, 400.0, 250.0, 10.0])


def exact(now, drives):
    """Columns of the exact search, shape (k, g), one drive at a time."""
    around = now.setting.conditions
    return [operating_points(drive, windings(), now.bank.states[1], around) for drive in drives]


def test_a_year_of_winds_is_the_sum_over_its_winds():
    now, source = machine(), windy(WINDS, HOURS)
    years = grouping_years(now, source)
    found = exact(now, source.drives)
    # Definition: energy = power times time, each wind by itself.
    wanted = sum(hours * points.bank_watts[:, 0] for hours, points in zip(HOURS, found, strict=True)) / 1000.0
    assert [year.kwh for year in years] == pytest.approx(wanted, rel=0.002, abs=0.5)
    assert max(wanted) > 500.0
    charging = sum(hours * (points.dc_amps[:, 0] > 0.0) for hours, points in zip(HOURS, found, strict=True))
    assert [year.charging_h for year in years] == pytest.approx(charging)


def test_every_hour_is_counted_once():
    for year in grouping_years(machine(), windy(WINDS, HOURS)):
        assert year.charging_h + year.idle_h + year.still_h == pytest.approx(HOURS.sum())
        assert year.kwh == pytest.approx(year.kwh_by_month.sum())


def test_a_source_that_never_changes_gives_its_watts_all_year():
    now, source = machine(), year_of([JET], [HOURS_A_YEAR])
    watts = exact(now, [JET])[0].bank_watts[:, 0]
    assert [year.kwh for year in grouping_years(now, source)] == pytest.approx(8.76 * watts, rel=0.002, abs=0.5)


def test_a_known_speed_is_held_whatever_the_load():
    drives = [KnownSpeed(working_rpm=speed) for speed in (300.0, 800.0)]
    now = machine()
    watts = np.array([points.bank_watts[:, 0] for points in exact(now, drives)])
    years = grouping_years(now, year_of(drives, [1000.0, 500.0]))
    wanted = watts[0] + 0.5 * watts[1]
    assert [year.kwh for year in years] == pytest.approx(wanted, rel=0.003, abs=0.5)


def test_hours_at_which_a_lost_bank_is_too_much():
    now = machine()
    source = windy(WINDS, HOURS)
    for year in grouping_years(now, source):
        # √2 of the line volts rms with magnets at their coldest, at the speed where each wind settles.
        volts = np.sqrt(2.0) * year.winding.line_volts_rms(year.speed_rpm, now.setting.cold_c)
        assert year.gone_h(120.0) == pytest.approx(HOURS[volts > 120.0].sum())
    most = grouping_years(now, source)[0]
    assert most.gone_h(0.0) == pytest.approx(HOURS.sum() - most.still_h)
    assert most.gone_h(1e4) == 0.0


def test_hours_with_coils_too_hot_need_the_wire():
    fast = KnownSpeed(working_rpm=1500.0)
    thin = machine(wire_diameter_mm=0.3)
    unknown = machine(wire_diameter_mm=None)
    source = year_of([fast], [100.0])
    assert max(year.hot_h for year in grouping_years(thin, source)) == pytest.approx(100.0)
    assert all(year.hot_h == 0.0 for year in grouping_years(unknown, source))


def test_a_rotor_that_cannot_be_turned_stands():
    stiff = machine(conditions=Conditions(drag_nm=500.0))
    for year in grouping_years(stiff, windy(WINDS, HOURS)):
        assert year.still_h == pytest.approx(HOURS.sum())
        assert year.kwh == 0.0


def test_the_strongest_setting_is_the_last_that_occurs():
    source = windy([4.0, 8.0, 20.0], [10.0, 20.0, 0.0])
    assert source.strongest_setting is source.drives[1]
    assert replace(source, hours=source.hours * 0.5).hours_by_setting == pytest.approx([5.0, 10.0, 0.0])


def test_amps_of_a_coil_s_wire_are_those_of_its_path_over_its_copper():
    drive = KnownSpeed(working_rpm=800.0)
    source, mm2 = year_of([drive], [100.0]), np.pi * 0.8**2 / 4.0
    for hands in (1, 2):
        for year in grouping_years(machine(wire_diameter_mm=0.8, wires_in_hand=hands), source):
            # A lead's amps are shared by the paths, and √3 times a phase's in delta.
            amps = year.phase_amps_rms[0] / year.grouping.parallel
            amps /= np.sqrt(3.0) if year.grouping.connection == "delta" else 1.0
            assert year.amps_per_mm2[0] == pytest.approx(amps / (hands * mm2))
            assert year.idle_watts == 0.0
