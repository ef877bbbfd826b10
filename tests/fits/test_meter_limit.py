"""What the meter stands: the speed at which open leads reach it, rows that would go past it, readings above it."""

from dataclasses import replace
from math import sqrt

import pytest

from samples.made_up_logs import spin_row
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.bench.meters import Meters
from statorbook.bench.spin import read_spin
from statorbook.drives.known_speed import KnownSpeed
from statorbook.first_run.rows import read_run
from statorbook.fits.emf import fit_emf
from statorbook.fits.meter_limit import volts_limit
from statorbook.job.parts.meters import MetersPart
from statorbook.winding.stator import Stator

wording = sentences_of("fits")

WIND = Stator(slots=42, poles=56)
# 56 poles: 28 pairs. 55 V between two leads at 100 rpm are 0.55 V/rpm, so 660 V at 1,200 rpm and 600 V at 1,091 rpm.
SLOW = {"volts": "55.0", "connection": "star"}
PLATE = {"speed_by": "name plate", "volts": ""}


def log(*rows, meters=Meters()):
    readings = read_spin([spin_row(rpm, 55.0) | SLOW | cells for rpm, cells in rows], WIND, meters=meters)
    fit = fit_emf(readings, WIND) if any(each.usable for each in readings) else None
    return readings, volts_limit(readings, fit, WIND, meters.volts)


def test_the_first_row_says_at_which_speed_the_limit_comes():
    _, limit = log((100, {}))
    # A single row is taken as ± 5 % and more, so the speed is that much on the safe side of 600 / 0.55 rpm.
    assert 0.8 * 600 / 0.55 < limit.speed_rpm < 0.95 * 600 / 0.55
    assert limit.electrical_hz == pytest.approx(28 * limit.speed_rpm / 60)
    at = f"{limit.speed_rpm:.0f} rpm ({limit.electrical_hz:.0f} Hz)"
    assert "600 V (assumed)" in limit.words and at in limit.words
    assert "stop the rotor before you touch" in limit.words


def test_a_name_plate_row_past_the_limit_is_warned_before_its_volts_are_read():
    readings, limit = log((100, {}), (1200, PLATE), (700, PLATE), (300, {"volts": ""}))
    first, plate, geared, slow = (limit.ahead_words(each, WIND) for each in readings)
    assert first == geared == slow == ""
    assert plate.startswith(wording("spin log, row 2: do")) and "600 V (assumed)" in plate


def test_a_row_past_the_limit_tells_the_volts_that_would_stand_at_the_meter():
    readings, limit = log((100, {}), (1400, {"volts": ""}), (1400, PLATE))
    measured, plate = (limit.ahead_words(each, WIND) for each in readings[1:])
    # 0.55 V/rpm and its ± at 1400 rpm.
    assert f"up to {600 / limit.speed_rpm * 1400:.0f} V would stand" in measured and "trigger" not in measured
    assert wording("a drill with the trigger") in plate
    assert "between two leads" in limit.words


def test_a_row_without_a_speed_of_its_own_is_not_warned():
    # Its cell is empty, so nothing is said, whatever the limit.
    readings, limit = log((100, {}), (1, {"volts": "", "speed_rpm": ""}))
    assert replace(limit, speed_rpm=0.5).ahead_words(readings[1], WIND) == ""


def test_behind_a_bridge_the_limit_names_the_reading():
    readings = read_spin([spin_row(100, 55.0) | SLOW | {"volts": "76.6", "quantity": "DC bridge, capacitor"}], WIND)
    limit = volts_limit(readings, fit_emf(readings, WIND), WIND, Meters().volts)
    assert limit.known and "reading of DC bridge, capacitor" in limit.words


# A drill may turn 15 % faster than its name plate (`NAME_PLATE_SHARE`), one read by a meter does not.
def test_a_name_plate_counts_as_the_fastest_that_it_may_mean():
    rpm = 0.95 * log((100, {}))[1].speed_rpm
    readings, limit = log((100, {}), (round(rpm), PLATE), (round(rpm), {"volts": ""}))
    assert limit.ahead_words(readings[1], WIND) and not limit.ahead_words(readings[2], WIND)


def test_before_any_row_the_strongest_machine_is_assumed():
    readings, limit = log((1200, PLATE))
    # 3 V/rpm of star phase, the high end of what is usual: 600 / (3 √3) = 115 rpm.
    assert limit.speed_rpm == pytest.approx(600 / (3 * sqrt(3)))
    assert wording("First row below 115 rpm") in limit.words
    assert wording("no row tells how many") in limit.ahead_words(readings[0], WIND)


def test_behind_a_capacitor_the_limit_comes_sooner_by_the_square_root_of_two():
    _, bare = log((100, {}))
    readings = read_spin([spin_row(100, 55.0) | SLOW | {"volts": "76.6", "quantity": "DC bridge, capacitor"}], WIND)
    peak = volts_limit(readings, fit_emf(readings, WIND), WIND, Meters().volts)
    assert peak.shown_v_per_rpm == pytest.approx(sqrt(2) * bare.shown_v_per_rpm, rel=0.02)


def test_a_reading_above_the_limit_is_bad_and_says_stop():
    (reading,), _ = log((1200, {"volts": "655"}))
    assert not reading.usable and reading.raw["volts"] == "655"
    # 1,200 rpm × 600 / 655 = 1,099 rpm; 28 pairs make 513 Hz of it.
    assert wording("655 V was given; your") in reading.refusal
    assert "stop the rotor" in reading.refusal and "below 1099 rpm (513 Hz)" in reading.refusal


def test_the_readers_own_meter_counts_instead_of_the_assumed_one():
    (reading,), limit = log((1200, {"volts": "655"}), meters=MetersPart(limit_volts=1000.0).to_meters())
    assert reading.usable and "1000 V" in limit.words and "assumed)" not in limit.words
    (reading,), _ = log((1200, {"volts": "500"}), meters=MetersPart(limit_volts=300.0).to_meters())
    assert wording("your meter and its probes") in reading.refusal


def test_lamps_are_no_meter():
    (reading,), _ = log((1200, {"volts": "655", "volts_by": "lamps"}))
    assert reading.usable


def test_the_run_log_holds_line_volts_against_the_meter_too():
    row = blank_row("run") | {"speed_rpm": "1200", "line_volts": "655"}
    (reading,) = read_run([row], WIND, KnownSpeed(working_rpm=1200.0))
    assert wording("655 V was given; your") in reading.refusal
