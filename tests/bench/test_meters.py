"""Meters and weaker evidence: what they make of the ± of a row and of a fit, and whether that ± keeps its promise."""

from math import hypot, sqrt

import numpy as np
import pytest
from scipy import stats

from samples.made_up_logs import STATOR, ohms_row, random_machine, said, shorted_row, spin_row
from samples.metered_logs import metered_logs, random_meters
from sentences import exactly, sentences_of
from statorbook.bench.csv_text import parse_log
from statorbook.bench.logs import blank_row
from statorbook.bench.meters import Meter, Meters
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.bench.shorted import read_shorted
from statorbook.bench.spin import read_spin
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.first_run.rows import read_run
from statorbook.fits.constants import terminal_constants
from statorbook.fits.emf import fit_emf
from statorbook.fits.ohms import fit_ohms
from statorbook.job.parts.meters import MetersPart

wording = sentences_of("bench")

GOOD = MetersPart(
    volts_percent=0.5,
    volts_digits=3.0,
    volts_kind="true rms",
    volts_band_hz=1000.0,
    amps_percent=1.5,
    amps_digits=4.0,
    amps_kind="true rms",
    amps_band_hz=60.0,
    ohms_percent=0.4,
    ohms_digits=2.0,
    star_point="not reachable",
).to_meters()


def spin(meters=GOOD, rpm=120, volts="48.1", **cells):
    return read_spin([spin_row(rpm, 48.1) | {"volts": volts} | cells], STATOR, meters=meters)[0]


def emf(rows, meters=GOOD):
    return fit_emf(read_spin(rows, STATOR, meters=meters), STATOR, machine_c=20.0)


@pytest.mark.outside(
    "one sigma of a ± at 95 %, and of a rounded digit",
    source="JCGM 100:2008 (GUM), 4.3.4 and 4.3.7",
    number="half of it; 1 / √12",
    tolerance="1e-6",
    seen="from memory",
)
def test_digits_count_with_the_last_digit_typed():
    # 48.1 V shows tenths, of which the meter may be 3 off; 120 rpm shows units; 1 % of row-to-row error is assumed.
    assert spin().own_share == pytest.approx(hypot(0.01, 0.15 / 48.1, 0.5 / 120))
    assert spin(volts="48").own_share == pytest.approx(hypot(0.01, 1.5 / 48, 0.5 / 120))
    assert Meter(quantity="ohms", digits=0.0).digits_sigma(0.1) == pytest.approx(0.1 / sqrt(12))


def test_the_class_is_shared_and_weighs_no_row_more_than_another():
    reading = spin()
    assert reading.shared == {"class": 0.005}
    assert reading.star_emf_sigma_v == pytest.approx(reading.own_share * reading.star_emf_v_rms)


# First-order low-pass by hand: gain 0.99 at 400 Hz; 0.99⁻² − 1 = 0.020304, four times that at 800 Hz gives a gain of
# 1 / √1.081216 = 0.96171, so 3.829 % are lost, 2.829 % more than the class.
def test_beyond_the_band_the_plus_minus_grows_with_the_square_at_first():
    meter = Meter(quantity="volts", percent=1.0, band_hz=400.0)
    assert meter.band_share(400.0, "averaging") == 0.0
    assert meter.band_share(800.0, "averaging") == pytest.approx(0.02829, abs=1e-5)
    assert 0.9 < meter.band_share(1e5, "averaging") < 0.99


def test_a_row_above_the_band_says_by_how_much_and_is_leaned_on_less():
    meters = MetersPart(volts_percent=1.0, volts_kind="averaging").to_meters()
    # 48 poles make 800 Hz of 2000 rpm; a true-rms meter is taken to reach 1000 Hz.
    assert spin(meters, rpm=2000, meter="true rms").warnings == ()
    averaging = spin(meters, rpm=2000, meter="averaging")
    assert averaging.warnings == (wording("spin log, row 1: read"),)
    assert averaging.shared["band"] == pytest.approx(0.02829, abs=1e-5)
    assert averaging.star_emf_sigma_v > averaging.own_share * averaging.star_emf_v_rms
    amps = read_shorted([shorted_row(300, 2.1)], STATOR, meters=GOOD)[0]  # 120 Hz, twice the clamp's 60 Hz
    assert amps.shared["band"] == pytest.approx(1 - 1 / sqrt(1 + 4 * (0.985**-2 - 1)) - 0.015)


def test_an_averaging_meter_is_given_a_share_for_the_wave_and_it_is_said_once():
    rows = [spin_row(r, 0.4 * r, meter="averaging") for r in (100, 200, 300, 400)]
    fit, sine = emf(rows), emf([row | {"meter": "true rms"} for row in rows])
    assert said(fit, "averaging meter") == [wording("4 rows read with an")]
    # the same rows, so nearly the same scatter: only 1 % more in quadrature
    share, of_a_sine = (each.estimate.plus_minus / each.estimate.value for each in (fit, sine))
    assert share**2 - of_a_sine**2 == pytest.approx(0.01**2, rel=1e-3)
    assert spin(meter="averaging", quantity="AC phase rms", terminals="AN").shared["wave"] == 0.05


def test_what_the_job_says_of_the_meter_stands_in_for_an_empty_cell_and_the_row_goes_first():
    averaging = Meters(volts=Meter(quantity="volts", kind="averaging"))
    assert "wave" in spin(averaging, meter="").shared and "wave" in spin(averaging, meter="unknown").shared
    assert "wave" not in spin(averaging, meter="true rms").shared
    assert "wave" in spin(Meters(), meter="").shared and spin(Meters(), meter="").usable
    assert "wave" not in spin(Meters(volts=Meter(quantity="volts", kind="true rms")), meter="").shared


def test_a_phase_reading_is_questioned_when_the_star_point_cannot_be_reached():
    reading = spin(quantity="AC phase rms", terminals="AN")
    assert reading.usable and reading.warnings == (wording("spin log, row 1, What"),)
    assert spin(Meters(), quantity="AC phase rms", terminals="AN").warnings == ()


def test_ohms_take_the_meters_class_and_digits():
    row = ohms_row(13.4) | {"ohms": "13.4", "lead_zero_ohm": "0.2"}
    (reading,) = read_ohms([row], meters=GOOD)
    # two digits at 95 % are one at one sigma, in each of two readings, halved for one phase: 0.1 √2 / 2
    assert reading.rounding_ohm == pytest.approx(0.1 * sqrt(2) / 2) and reading.shared == {"class": 0.004}
    rows = [ohms_row(13.4, pair) for pair in ("AB", "BC", "CA") * 3]
    fine, poor = (fit_ohms(read_ohms(rows, meters=MetersPart(ohms_percent=p).to_meters())).estimate for p in (0.3, 3.0))
    assert poor.plus_minus**2 - fine.plus_minus**2 == pytest.approx((0.03**2 - 0.003**2) * fine.value**2, rel=1e-6)


# Half of 95 % is one sigma: 1.5 % / 1.96 of 6.20 A and two of its hundredths; 0.5 % / 1.96 of 40.0 V and 1.5 tenths.
def test_the_run_log_takes_the_meters_too():
    row = blank_row("run") | {"speed_rpm": "120", "dc_amps": "6.20", "dc_volts": "52", "line_volts": "40.0"}
    (reading,) = read_run([row], STATOR, KnownSpeed(working_rpm=120.0), meters=GOOD)
    assert reading.dc_amps_sigma == pytest.approx(hypot(0.015 / 1.96 * 6.2, 0.02))
    assert reading.line_volts_sigma == pytest.approx(hypot(0.005 / 1.96 * 40.0, 0.15))


def test_a_drill_and_lamps_are_weak_and_say_so():
    drill, lamps = spin(speed_by="name plate"), spin(volts_by="lamps", volts="48", meter="")
    assert drill.shared == {"plate": 0.15, "class": 0.005} and lamps.shared == {"lamps": 0.2}
    assert drill.warnings == (wording("spin log, row 1: speed"),)
    assert lamps.warnings == (wording("spin log, row 1: volts"),)
    refusal = spin(volts_by="lamps", quantity="DC bridge, bare", terminals="").refusal
    assert refusal == wording("spin log, row 1, Volts")
    assert spin(speed_by="guess").refusal == wording("spin log, row 1, Speed")


def test_the_meters_hz_takes_the_place_of_the_name_plate():
    reading = spin(speed_by="name plate", speed_rpm="150", electrical_hz="48")
    assert reading.speed_rpm == pytest.approx(120) and "plate" not in reading.shared and reading.warnings == ()


def test_the_fit_leans_on_the_better_rows():
    good = [spin_row(r, 0.4 * r) for r in (100, 200, 300)]
    weak = [spin_row(r, 0.5 * r, speed_by="name plate") for r in (150, 250, 350)]  # 25 % too much
    fit, alone = emf(good + weak), emf(good)
    # weights go with 1/σ²: the weak rows have 7.7 % against 1.1 %, so they pull by less than their third of 2 %
    assert fit.estimate.value == pytest.approx(alone.estimate.value, rel=0.01) and not fit.odd_rows
    assert said(fit, "drill's name plate") == [wording("3 rows with the speed")]
    assert fit.estimate.plus_minus < 1.5 * alone.estimate.plus_minus


@pytest.mark.parametrize("rows", [1, 2, 6])
def test_weak_rows_alone_still_give_a_constant_however_many_with_a_wide_plus_minus(rows):
    fit = emf([spin_row(100 + 50 * i, 0.4 * (100 + 50 * i), volts_by="lamps") for i in range(rows)])
    assert fit.estimate.value == pytest.approx(0.4 / sqrt(3), rel=0.02)
    assert fit.estimate.plus_minus / fit.estimate.value >= 0.2 and fit.shared_share == pytest.approx(0.2)
    assert len(said(fit, wording("No row was measured in"))) == 1


@pytest.mark.outside(
    "one sigma of two diode drops anywhere within 0.6 V",
    source="JCGM 100:2008 (GUM), 4.3.7, rectangular distribution",
    number="0.6 V / √12 = 0.1732 V",
    tolerance="0.1 %",
    seen="from memory",
)
def test_the_assumed_drop_is_the_same_in_every_row_behind_a_bridge():
    rows = [spin_row(100, 9.1, quantity="DC bridge, bare") for _ in range(40)]
    fit = emf(rows, Meters())
    assert fit.shared_share == pytest.approx(hypot(0.01, 1.96 * 0.1732 / 10.0), rel=1e-3)


def test_logs_of_older_jobs_open_without_a_word():
    text = (
        "speed_rpm,electrical_hz,volts,terminals,connection,quantity,meter,note\n"
        "rpm,Hz,V,pair,wiring,kind,meter,text\n"
        "120,,48.1,AB,star,AC line rms,averaging,drill\n"
    )
    log = parse_log("spin", text.encode(), "mill/spin.csv")
    assert log.notes == () and log.rows[0]["speed_by"] == log.rows[0]["volts_by"] == ""
    assert read_spin(log.rows, STATOR)[0].shared == {"class": 0.01, "wave": 0.01}


def test_half_a_spin_is_refused_and_an_empty_part_assumes_all():
    assert MetersPart().to_meters() == Meters()
    half = wording("meters, Same spin, rpm meter")
    with pytest.raises(BadInput, match=exactly(half)):
        MetersPart(spin_hz=120.0)
    strange = wording("meter: 'watts' was given; allowed")
    with pytest.raises(BadInput, match=exactly(strange)):
        Meter(quantity="watts")


@pytest.mark.slow
def test_the_plus_minus_keeps_its_promise_with_any_meter_and_weaker_rows():
    """A quarter of 1000 machines with two in five spin rows by name plate or lamps, a quarter with nothing else."""
    rng, hits, alarms = np.random.default_rng(61), np.zeros(3, int), 0
    for number in range(1000):
        machine, part, weak = random_machine(rng), random_meters(rng), (0.0, 0.0, 0.4, 1.0)[number % 4]
        logs = metered_logs(machine, rng, part, weak=weak)
        read = read_logs(logs, machine.stator, found_connection=machine.connection, meters=part.to_meters())
        found = terminal_constants(read, machine.stator)
        pairs = ((found.emf_v_per_rpm, machine.emf), (found.ohm, machine.ohm), (found.henry, machine.henry))
        hits += [estimate.low <= truth <= estimate.high for estimate, truth in pairs]
        alarms += bool(found.emf_fit.odd_rows)
    # Binomial distribution: 99.9 % of such counts, if 95 % is true; the inductance counts EMF and ohms as independent,
    # which is wide on the safe side.
    least, most = stats.binom.interval(0.999, 1000, 0.95)
    assert np.all(hits >= least) and np.all(hits[:2] <= most) and hits[2] <= 985, hits
    assert alarms <= 50, alarms
