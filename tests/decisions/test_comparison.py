"""All groupings side by side: none lost, one chosen by the rule, sentence and table with the same numbers."""

import re
from dataclasses import replace
from math import isnan, nan, pi, sqrt

import pytest

from sentences import exactly
from statorbook.bank import Bank
from statorbook.coil import CoilConstants
from statorbook.comparison import Setting, compare, watts_band
from statorbook.comparison_table import table
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput
from statorbook.grouping import Grouping
from statorbook.operating_point import operating_point
from statorbook.stator import Stator
from statorbook.sweep import Conditions, cut_in_rpm

MANY = Stator(slots=36, poles=48)
# Plausible for a salvaged many-pole stator; invented.
COIL = CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3)
JET = WaterJet(head_m=31.6, nozzle_mm=14.0, pitch_diameter_mm=240.0)
BANK = Bank(chemistry="LiFePO4", cells=16, capacity_ah=100.0)
SETTING = Setting(wire_diameter_mm=0.9)


def compared(drive=JET, bank=BANK, stator=MANY, coil=COIL, setting=SETTING):
    return compare(stator, coil, drive, bank, setting)


CASES = {
    "jet": compared(),
    "24 V": compared(bank=Bank(chemistry="AGM", cells=12)),
    "known speed": compared(drive=KnownSpeed(working_rpm=300.0)),
    "fine wire": compared(setting=replace(SETTING, wire_diameter_mm=0.5)),
    "fast": compared(drive=KnownSpeed(working_rpm=1500.0, runaway_ratio=2.0)),
    "few paths": compared(stator=Stator(slots=27, poles=30), bank=Bank(chemistry="flooded lead-acid", cells=12)),
    "slow": compared(drive=KnownSpeed(working_rpm=3.0)),
    "stuck": compared(setting=replace(SETTING, conditions=Conditions(drag_nm=500.0))),
}
each = pytest.mark.parametrize("found", CASES.values(), ids=CASES)


@each
def test_every_legal_grouping_keeps_its_row(found):
    stator = found.rows[0].winding.stator
    assert len(found.rows) == len(stator.groupings())
    assert {row.grouping for row in found.rows} == set(stator.groupings())
    assert [row.point.bank_watts for row in found.rows] == sorted(
        (row.point.bank_watts for row in found.rows), reverse=True
    )


@each
def test_every_row_has_a_verdict_and_a_reason(found):
    assert {row.verdict for row in found.rows} <= {"chosen", "workable", "rejected"}
    assert all(re.fullmatch(r"\S.*[^.]\.", row.reason) for row in found.rows)
    assert sum(row.verdict == "chosen" for row in found.rows) == (
        0 if all(row.verdict == "rejected" for row in found.rows) else 1
    )


@each
def test_the_chosen_one_has_the_lowest_runaway_volts_of_those_near_the_most_watts(found):
    sound = [row for row in found.rows if row.verdict != "rejected"]
    if not sound:
        assert found.chosen is None
        return
    most = max(row.point.bank_watts for row in sound)
    near = [row for row in sound if row.point.bank_watts >= 0.95 * most]
    assert found.chosen in near
    assert found.chosen.runaway.dc_volts_peak == min(row.runaway.dc_volts_peak for row in near)
    twins = [row for row in near if row.runaway.dc_volts_peak == found.chosen.runaway.dc_volts_peak]
    assert found.chosen.grouping.connection == "star" or all(row.grouping.connection == "delta" for row in twins)


@each
def test_rejected_rows_have_the_fault_that_they_are_rejected_for(found):
    for row in found.rows:
        half, charging = row.points[1:]
        faults = (
            half.speed_rpm == 0.0,
            not half.charges,
            not charging.charges,
            row.amps_per_mm2 > 10.0,
            row.runaway.level > 3,
        )
        assert (row.verdict == "rejected") is any(faults)
        words = (
            "the drive cannot turn it against its drag.",
            "it would charge only above ",
            "it stops charging before the bank is full.",
            "its coils would carry ",
            "running away it makes ",
        )
        if any(faults):
            assert row.reason.startswith(words[faults.index(True)])


def test_every_kind_of_verdict_was_seen():
    reasons = [row.reason for found in CASES.values() for row in found.rows]
    for words in (
        "the drive cannot turn it",
        "it would charge only above",
        "its coils would carry",
        "running away it makes",
        "as many watts, but",
        "need moving air",
        "measure the open delta corner first",
        "with the lowest runaway volts",
    ):
        assert any(words in reason for reason in reasons), words


@each
def test_the_sentence_has_the_numbers_of_the_table(found):
    lines = table(found).set_index("grouping")
    if found.chosen is None:
        nearest = found.rows[0]
        assert found.sentence == (
            f"No grouping of this stator suits this bank and drive: {nearest.grouping.label} comes nearest, "
            f"but {nearest.reason}"
        )
        return
    line = lines.loc[found.chosen.grouping.label]
    said = re.fullmatch(
        r"(.+): (\d+) W \(([\d.]+) A\) into the half-full bank at (\d+) rpm(?:, which takes \d+ W from "
        r"whatever turns it)?, charging from (\d+) rpm; with the bank "
        r"gone it can run away to (\d+) V AC line rms, (\d+) V DC peak: (.+)\.",
        found.sentence,
    )
    assert said[1] == found.chosen.grouping.label
    names = ("watts", "amps DC", "speed [rpm]", "cut-in [rpm]", "runaway [V AC line rms]", "runaway [V DC peak]")
    assert [float(said[k]) for k in range(2, 8)] == pytest.approx([float(line[name]) for name in names], abs=0.051)
    assert (said[8], line["verdict"]) == (line["danger"], "chosen")


@each
def test_the_table_holds_every_row_as_it_is(found):
    lines = table(found)
    assert list(lines["grouping"]) == [row.grouping.label for row in found.rows]
    assert list(lines["verdict"]) == [row.verdict for row in found.rows]
    assert list(lines["why"]) == [row.reason for row in found.rows]
    for line, row in zip(lines.to_dict("records"), found.rows, strict=True):
        expected = {
            "cut-in [rpm]": row.cut_in_rpm,
            "speed [rpm]": row.point.speed_rpm,
            "amps DC": row.point.dc_amps,
            "watts": row.point.bank_watts,
            "watts, empty": row.points[0].bank_watts,
            "watts, charging": row.points[2].bank_watts,
            "watts, cold": row.cold_point.bank_watts,
            "coil [A rms]": row.coil_amps_rms,
            "open [V AC line rms]": row.working.line_volts_rms,
            "runaway [V AC line rms]": row.runaway.line_volts_rms,
            "runaway [V DC peak]": row.runaway.dc_volts_peak,
        }
        assert {name: line[name] for name in expected} == pytest.approx(expected, abs=0.51)


def test_a_row_is_what_its_parts_say():
    found = CASES["jet"]
    for row in found.rows:
        for state, point in zip(BANK.states, row.points, strict=True):
            alone = operating_point(JET, row.winding, state, SETTING.conditions)
            assert (point.speed_rpm, point.bank_watts) == pytest.approx(
                (alone.speed_rpm, alone.bank_watts), rel=1e-6, abs=1e-6
            )
        assert row.cut_in_rpm == cut_in_rpm(row.winding, BANK.states[1], SETTING.conditions)
        cold = operating_point(JET, row.winding, BANK.states[1], Conditions(copper_c=0.0, magnet_c=0.0))
        assert row.cold_point.bank_watts == pytest.approx(cold.bank_watts, rel=1e-6, abs=1e-6)
        # Worst-case volts: cold magnets at runaway speed; ferrite 4 % stronger at 0 °C, common practice, no source.
        assert row.runaway.line_volts_rms == pytest.approx(
            1.04 * row.winding.line_volts_rms(JET.runaway_speed_rpm), rel=1e-9
        )
        assert row.working.line_volts_rms == pytest.approx(
            1.04 * row.winding.line_volts_rms(row.point.speed_rpm), rel=1e-9
        )


def test_coil_amps_follow_from_the_lead():
    for row in CASES["jet"].rows:
        lead_amps = row.point.phase_amps_rms
        share = sqrt(3) if row.grouping.connection == "delta" else 1.0
        assert row.coil_amps_rms == pytest.approx(lead_amps / share / row.grouping.parallel)
        # Copper loss is the same, counted coil by coil: 36 coils of 0.65 Ω, warm by 60 K (IEC 60034-1, constant 235).
        watts = 36 * row.coil_amps_rms**2 * 0.65 * (235 + 80) / (235 + 20)
        assert watts == pytest.approx(-dict(row.point.chain_watts)["copper"], rel=1e-6, abs=1e-9)
        assert row.amps_per_mm2 == pytest.approx(row.coil_amps_rms / (pi / 4 * 0.9**2))


def test_without_a_measured_wire_the_density_is_not_a_number_and_rejects_nothing():
    found = compared(setting=Setting())
    assert all(isnan(row.amps_per_mm2) for row in found.rows)
    assert not any("A/mm²" in row.reason for row in found.rows)


def test_wires_in_hand_share_the_current():
    two = compared(setting=replace(SETTING, wires_in_hand=2))
    for row in two.rows:
        assert row.amps_per_mm2 == pytest.approx(CASES["jet"].find(row.grouping).amps_per_mm2 / 2)


def test_a_device_limit_reaches_every_row():
    found = compared(setting=replace(SETTING, device_max_volts=100.0))
    assert all(bool(row.runaway.device_exceeded) is (row.runaway.dc_volts_peak > 100.0) for row in found.rows)
    assert {bool(row.runaway.device_exceeded) for row in found.rows} == {True, False}


# Regrouping algebra: more in series, proportionally more open-circuit volts; delta 1/√3 of star.
def test_runaway_volts_grow_with_the_series_count():
    for row in CASES["known speed"].rows:
        base = CASES["known speed"].find(Grouping(series=1, parallel=12)).runaway.dc_volts_peak
        share = row.grouping.series / (sqrt(3) if row.grouping.connection == "delta" else 1.0)
        assert row.runaway.dc_volts_peak == pytest.approx(base * share, rel=1e-9)


def test_delta_is_warned_of_third_harmonics_only_where_they_can_be():
    # 36/48 coils span 120 electrical degrees and link no third harmonic; those of 27/30 do.
    assert not any("delta corner" in row.reason for row in CASES["jet"].rows)
    warned = {
        row.grouping.connection: "delta corner" in row.reason
        for row in CASES["few paths"].rows
        if row.verdict != "rejected"
    }
    assert warned == {"star": False, "delta": True}


def test_watts_band_is_the_extremes_of_the_corners():
    corners = [
        replace(COIL, emf_v_per_rpm=COIL.emf_v_per_rpm * e, henry=COIL.henry * h)
        for e in (0.97, 1.03)
        for h in (0.8, 1.2)
    ]
    band = watts_band(MANY, corners, JET, BANK, SETTING)
    each_alone = [compared(coil=corner) for corner in corners]
    assert set(band) == set(MANY.groupings())
    for grouping, (least, most) in band.items():
        watts = [found.find(grouping).point.bank_watts for found in each_alone]
        assert (least, most) == pytest.approx((min(watts), max(watts)), rel=1e-9, abs=1e-9)


def test_a_grouping_that_is_not_there_is_refused_with_those_that_are():
    stator = Stator(slots=9, poles=8)
    found = compare(stator, COIL, JET, BANK, SETTING)
    with pytest.raises(
        BadInput,
        match=exactly(
            "grouping: 1 in series, 3 paths, star was given; legal here are "
            + "; ".join(row.grouping.label for row in found.rows)
            + "; choose one of them."
        ),
    ):
        found.find(Grouping(series=1, parallel=3))
    assert found.find(Grouping(series=3, parallel=1)).grouping == Grouping(series=3, parallel=1)


@pytest.mark.parametrize(
    "changes",
    [
        {"wire_diameter_mm": -0.9},
        {"wire_diameter_mm": 0.0},
        {"wire_diameter_mm": nan},
        {"wires_in_hand": 0},
        {"wires_in_hand": 1.5},
        {"device_max_volts": -60.0},
        {"device_max_volts": nan},
        {"cold_c": -300.0},
        {"wire_diameter_mm": "0.9 mm"},
    ],
)
def test_an_impossible_setting_is_refused_in_one_sentence(changes):
    with pytest.raises(BadInput, match=r"^[^:;]+: [^;]+; [^;]+ allowed; [^;]+\.$"):
        compared(setting=replace(SETTING, **changes))
