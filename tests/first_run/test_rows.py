"""Rows of the run log: what the meters do to their sigmas, what is missing in them, what the source's cell may hold."""

from dataclasses import replace
from math import hypot, isnan

import pytest

from samples.run_samples import machine_built
from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.bench.meters import Meter, Meters
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.first_run.case import run_case
from statorbook.first_run.rows import read_run

wording = sentences_of("first_run")

OPEN = {"speed_rpm": "300", "line_volts": "20"}


@pytest.fixture(scope="module")
def machine(tmp_path_factory):
    return machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")[0]


def read(machine, *rows, **ways):
    return read_run([blank_row("run") | row for row in rows], machine.stator, machine.drive, **ways)


@pytest.mark.parametrize(
    "cells, said",
    [
        ({"dc_amps": "10"}, wording("amps without the bank's volts")),
        ({"dc_amps": "10", "line_volts": "20"}, wording("amps without the bank's volts")),
        ({"dc_amps": "10", "dc_volts": "52"}, ""),
        ({"dc_amps": "0"}, ""),
        ({"line_volts": "20"}, ""),
        ({"dc_volts": "52"}, wording("nothing to compare yet")),
        ({"line_volts": "0"}, wording("nothing to compare yet")),
        ({}, wording("nothing to compare yet")),
    ],
)
def test_a_row_that_cannot_be_compared_says_what_is_missing(machine, cells, said):
    (reading,) = read(machine, {"speed_rpm": "300"} | cells)
    assert reading.warnings == ((said,) if said else ())
    assert reading.usable and isnan(reading.source) and isnan(reading.copper_c)
    assert reading.charging is ({*cells.values()} == {"10", "52"}) and reading.open_leads is (
        cells == {"line_volts": "20"}
    )


@pytest.mark.outside(
    "one sigma of amps and volts from class, digits and band of the meter",
    source="JCGM 100:2008 (GUM), 4.3.7 and 5.1.2; a first-order low-pass above the band",
    number="3 % and 4 digits of 10.00 A, 2 % and 3 digits of 20.0 V at 120 Hz with a band of 50 Hz",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_meter_that_was_described_counts_with_its_class_digits_and_band(machine):
    amps = Meter(quantity="amps", percent=3.0, digits=4.0)
    volts = Meter(quantity="volts", percent=2.0, digits=3.0, band_hz=50.0)
    rows = ({"speed_rpm": "900", "dc_amps": "10.00", "dc_volts": "52"}, OPEN | {"line_volts": "20.0"})
    charging, still = read(machine, *rows, meters=Meters(amps=amps, volts=volts))
    shared = 0.03 * 10.0 / 1.96
    assert (charging.dc_amps_shared, charging.dc_amps_sigma) == pytest.approx((shared, hypot(shared, 0.04 / 2)))
    assert charging.line_volts_shared == still.dc_amps_shared == 0.0  # what was not read has no error
    # 24 pairs of poles at 300 rpm are 120 Hz; such a meter loses 2 % at its 50 Hz.
    lost = 1.0 - 1.0 / (1.0 + (1.0 / 0.98**2 - 1.0) * (120.0 / 50.0) ** 2) ** 0.5
    shared = hypot(0.02, lost - 0.02) * 20.0 / 1.96
    assert (still.line_volts_shared, still.line_volts_sigma) == pytest.approx((shared, hypot(shared, 0.3 / 2)))


def test_volts_that_neither_meter_nor_bank_has_are_refused_in_their_cell(machine):
    small = Meters(volts=Meter(quantity="volts", limit_volts=10.0))
    said = [
        read(machine, OPEN, meters=small)[0].refusal,
        read(machine, {"speed_rpm": "300", "dc_volts": "52"}, meters=small)[0].refusal,
        read(machine, {"speed_rpm": "300", "dc_amps": "1", "dc_volts": "230"}, bank=machine.bank)[0].refusal,
    ]
    columns = ("Line volts", "Bank volts", "Bank volts")
    assert all(words.startswith(f"run log, row 1, {column}") for words, column in zip(said, columns))
    assert read(machine, {"speed_rpm": "300", "dc_amps": "1", "dc_volts": "230"})[0].usable


@pytest.mark.parametrize("typed", ["0", "-3", "100001"])
def test_a_source_that_no_drive_has_is_refused(machine, typed):
    (reading,) = read(machine, {"speed_rpm": "300", "drive_reading": typed})
    assert reading.refusal.startswith("run log, row 1, Source, Net")


def test_a_known_speed_has_no_source_to_read(machine):
    (reading,) = read(replace(machine, drive=KnownSpeed(working_rpm=300.0)), OPEN | {"drive_reading": "9" * 50})
    assert reading.refusal.startswith(wording('run log, row 1, Source: "9').replace("…", "9" * 40))


def test_an_empty_log_has_no_readings(machine):
    assert read_run([], machine.stator, machine.drive) == read(machine, {}) == ()


def test_rows_that_hold_nothing_to_compare_are_no_run(machine):
    with pytest.raises(BadInput, match=exactly(wording("run log: no row can"))):
        run_case(machine, machine.found, read(machine, {"speed_rpm": "300", "dc_volts": "52"}))
