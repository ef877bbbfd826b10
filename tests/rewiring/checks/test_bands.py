"""Bands as a meter shows them, checks gathered for the page, and readings of which a check asks for one half."""

from math import inf

import pytest

from rewiring.test_circuit import planned
from samples.job_samples import sample
from statorbook.bench.logs import blank_row
from statorbook.cautions import Exposure, Instruction
from statorbook.rewiring.checks.bands import MeterCheck, numbered, ohm_band, volt_band
from statorbook.rewiring.checks.expected import bench_checks
from statorbook.rewiring.checks.groups import check_groups
from statorbook.rewiring.checks.rows import read_checks
from statorbook.rewiring.checks.verdicts import compare_readings

COIL = sample("coil")
LOOK = Instruction("Look.", harmless="looking")


def check(kind, expected, low, high, step=1, name="A1"):
    unit = {"ohms": "Ω", "volts": "V", "megohm": "MΩ", "look": ""}[kind]
    return MeterCheck(name=name, kind=kind, step=step, words=LOOK, expected=expected, low=low, high=high, unit=unit)


# Outward to what the meter shows: a tenth from 1 Ω and from 10 V on, thousandths of an ohm and hundredths of a volt
# below; 10 V at twice the speed are 20 V.
@pytest.mark.parametrize(
    "made, scale, band",
    [
        (check("ohms", 1.0, 0.951, 1.049), 1.0, ("0.9", "1.1")),
        (check("ohms", 0.999, 0.9511, 1.0491), 1.0, ("0.951", "1.050")),
        (check("volts", 9.5, 9.012, 10.0), 1.0, ("9.0", "10.0")),
        (check("volts", 9.5, 9.012, 9.988), 1.0, ("9.01", "9.99")),
        (check("volts", 5.0, 4.51, 5.01), 2.0, ("9.0", "10.1")),
        (check("volts", 0.0, None, 0.482), 1.0, ("", "0.49")),
    ],
)
def test_a_band_as_the_meter_shows_it(made, scale, band):
    assert made.shown_band(scale) == band


@pytest.mark.parametrize(
    "made, says",
    [
        (check("volts", 0.0, None, 0.482), "at most 0.49 V"),
        (check("ohms", inf, 1e5, None), "OL (open)"),
        (check("megohm", None, 1.0, None), "at least 1 MΩ"),
        (check("look", None, None, None, name=""), "no reading"),
    ],
)
def test_what_it_should_say(made, says):
    assert made.expects == says


def test_bands_at_their_ends():
    made = check("ohms", 4.0, 3.9, 4.1)
    assert made.lies_in_band(3.9) and made.lies_in_band(4.1) and not made.lies_in_band(3.89)
    assert made.lies_in_band(3.85, 0.1) and made.lies_in_band(4.149, 0.1) and not made.lies_in_band(4.16, 0.1)
    twice = check("volts", 10.0, 9.0, 11.0)
    assert twice.lies_in_band(18.0, 0.0, 2.0) and twice.lies_in_band(22.0, 0.0, 2.0)
    assert not twice.lies_in_band(17.9, 0.0, 2.0) and not twice.lies_in_band(22.1, 0.0, 2.0)
    assert check("megohm", None, 1.0, None).lies_in_band(1e9)
    # Nothing reads below nothing, and from 1 Ω on the meter's own last digit counts: 1.96 × 0.1 Ω / √12.
    assert ohm_band(0.0, COIL.resistance) == (0.0, 0.0) and volt_band(0.0, COIL.emf) == (0.0, 0.0)
    assert ohm_band(1.0, COIL.resistance)[1] - 1.0 > 1.96 * 0.1 / 12.0**0.5 > ohm_band(0.99, COIL.resistance)[1] - 0.99


def test_a_look_has_no_number_and_groups_hold_every_check():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    checks = bench_checks(plan, made, COIL, sample("stator"), 20.0, 60.0)
    order = numbered(checks)
    assert [number for number, each in order if each.kind != "look"] == [*range(1, 1 + sum(map(bool, dict(order))))]
    assert all(number is None for number, each in order if each.kind == "look")
    groups = check_groups(checks, plan.wired)
    rows = [row for group in groups for row in group.rows]
    looks = [look for group in groups for look in group.looks]
    assert sorted(row.number for row in rows) == [number for number, _ in order if number]
    assert len(rows) + len(looks) == len(checks)
    for group in groups:
        same = {row.check.words.text for row in group.rows}
        assert (group.words.text in same and len(same) == 1) if group.rows else group.words is None
        assert group.steps == tuple(sorted({each.step for each in (*(row.check for row in group.rows), *group.looks)}))
        assert group.title == (group.rows[0].check if group.rows else group.looks[0]).group
    # Each danger is said in full once, where it is met first.
    said = [exposure for group in groups for exposure in group.cautions]
    assert len(said) == len(set(said)) and Exposure.VOLTS in said
    assert all(exposure in said for group in groups for exposure in group.reminders)
    paths = [row for row in rows if row.check.name == "A1"]
    assert paths and all(row.path == "A1" and len(row.places) == 2 for row in paths)
    assert all(row.path == "" for row in rows if row.check.name == "A-B")


def test_of_a_row_the_half_that_a_check_asks_for_counts():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    checks = bench_checks(plan, made, COIL, sample("stator"), 20.0, 60.0)
    gap = next(each.name for each in checks if each.kind == "volts" and each.low is None)
    rows = [dict(between=gap, ohms="0.5", volts="0.0", speed_rpm="60"), dict(between="tooth 7", ohms="0.5")]
    rows.append(dict(between="A-B", ohms="12.0"))
    readings = read_checks([blank_row("checks") | row for row in rows], plan.wired)
    found = compare_readings(checks, readings, 60.0)
    assert [(each.check.name, each.check.kind) for each in found] == [(gap, "volts"), ("A-B", "ohms")]
