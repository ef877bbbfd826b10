"""From the open-corner reading in the job to the warning in the comparison."""

from math import isnan

import numpy as np
import pytest

from samples.job_samples import sample
from samples.machine_samples import compared
from sentences import sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.winding.coil import CoilConstants
from statorbook.winding.stator import Stator

wording = sentences_of("choice")

TEN_POLES = Stator(slots=12, poles=10)
STRONG = CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=0.004)
WARNING = wording("measure the open delta")


def at_800(volts_per_rpm, **changes):
    """12 slots, 10 poles at 800 rpm into 48 V."""
    return compared(
        stator=TEN_POLES,
        coil=STRONG,
        drive=KnownSpeed(working_rpm=800.0),
        open_corner_v_per_rpm=volts_per_rpm,
        wire_diameter_mm=1.5,
        **changes,
    )


def delta_of(found, parallel=1):
    return next(row for row in found.rows if row.grouping.connection == "delta" and row.grouping.parallel == parallel)


def test_the_part_keeps_the_reading():
    part = sample("stator", open_corner_volts_rms=24.0, open_corner_rpm=100.0)
    # 12 coils in series as found, one path: 24 V / (100 rpm × 12).
    assert part.to_open_corner().open_corner_v_per_rpm == pytest.approx(0.02)
    assert sample("stator").to_open_corner() is None


def job_with(tmp_path, volts):
    job = Job.create("corner", tmp_path)
    job.save_part("stator", sample("stator", open_corner_volts_rms=volts, open_corner_rpm=100.0))
    for name in ("coil", "drive", "bank"):
        job.save_part(name, sample(name))
    return Job.open("corner", tmp_path)


def test_the_reading_reaches_the_comparison(tmp_path):
    # 36 slots, 12 coils in series of 0.02 V/rpm make 24 V a phase at 100 rpm; 2.4 V is a tenth of that.
    assert machine_from(job_with(tmp_path, 2.4)).setting.open_corner_v_per_rpm == pytest.approx(0.002)


def test_a_reversed_phase_stops_the_comparison(tmp_path):
    with pytest.raises(BadInput, match=wording("one phase is joined the")):
        machine_from(job_with(tmp_path, 48.0))


def test_without_a_reading_the_warning_stays():
    found = at_800(None)
    assert isnan(delta_of(found).circulating_watts)
    assert all(WARNING not in row.reason for row in found.rows if row.grouping.connection == "star")
    workable = [row for row in found.rows if row.grouping.connection == "delta" and row.verdict != "rejected"]
    assert workable and all(row.reason.endswith(WARNING) for row in workable)


def test_a_reading_heats_the_coils_of_every_delta():
    before, after = at_800(None), at_800(0.003)
    for row in after.rows:
        without = before.find(row.grouping)
        assert row.point == without.point  # the amps into the bank stay
        if row.grouping.connection == "star":
            assert row.circulating_watts == 0.0 and row.coil_amps_rms == without.coil_amps_rms
            continue
        # By hand: gap 0.003 × s × 800 V × 0.94 (ferrite at 50 °C) round 3 s/a × 0.5 Ω × 315/255 (copper at 80 °C).
        s, a = row.grouping.series, row.grouping.parallel
        amps = 0.003 * s * 800.0 * 0.94 / (3.0 * s / a * 0.5 * 315.0 / 255.0)
        assert row.circulating_watts == pytest.approx(3.0 * s / a * 0.5 * 315.0 / 255.0 * amps**2)
        assert row.coil_amps_rms == pytest.approx(np.hypot(without.coil_amps_rms, amps / a))
        # π/4 × 1.5² = 1.767 mm².
        assert row.amps_per_mm2 == pytest.approx(row.coil_amps_rms / 1.76715, rel=1e-5)
        assert WARNING not in row.reason


def test_what_circulates_is_that_of_the_half_full_bank():
    # A jet turns at another speed for each of the bank's states; the rest by hand as above.
    found = compared(coil=STRONG, open_corner_v_per_rpm=0.003)
    row = next(row for row in found.sound if row.grouping.connection == "delta")
    empty, half, charging = (point.speed_rpm for point in row.points)
    assert min(abs(empty - half), abs(charging - half)) > 0.5
    s, round_ohm = row.grouping.series, 3.0 * row.grouping.series / row.grouping.parallel * 0.5 * 315.0 / 255.0
    assert row.circulating_watts == pytest.approx((0.003 * s * half * 0.94) ** 2 / round_ohm)


def test_the_reason_says_what_it_costs():
    row = next(row for row in at_800(0.006).rows if row.grouping.connection == "delta" and row.verdict != "rejected")
    assert row.circulating_watts > 1.0
    assert row.reason.endswith(
        f"; third-harmonic current round the delta heats its coils with up to {row.circulating_watts:.0f} W."
    )


def test_too_much_of_it_rejects_the_delta():
    row = delta_of(at_800(0.2))
    assert row.verdict == "rejected" and wording("A/mm², more than the 10") in row.reason
    assert "third-harmonic current round the delta" in row.reason


def test_a_silent_corner_frees_the_delta():
    found = at_800(0.0)
    assert all("third-harmonic" not in row.reason for row in found.rows)


def test_a_delta_is_chosen_only_when_it_wins_with_the_loss_taken_off():
    found = at_800(0.004)
    net = {row.grouping: row.point.bank_watts - row.circulating_watts for row in found.sound}
    # 1 % apart no meter tells them apart (common practice, no source).
    assert net[found.without_limit.grouping] >= 0.99 * max(net.values())
