"""Verdicts: what is rejected and in which words, which grouping is chosen, and what is said of the others."""

from dataclasses import replace

import pytest

from decisions.machine_samples import COIL, at_speed, compared
from statorbook.coil import CoilConstants
from statorbook.drives.water_jet import WaterJet
from statorbook.grouping import Winding
from statorbook.stator import Stator
from statorbook.sweep import Conditions
from statorbook.verdict import choose, describe, fault_of

PLAIN = compared().chosen
TEN_POLES = Stator(slots=12, poles=10)


def row(watts=500.0, *, volts=100.0, connection="star", stator=None, series=2, density=3.0, verdict="workable",
        circulating_watts=float("nan")):
    """A row as `compare` makes it, with the things that the verdict looks at set by hand."""
    legal = (stator or PLAIN.winding.stator).groupings()
    grouping = next(g for g in legal if g.series == series and g.connection == connection)
    point = replace(PLAIN.point, bank_watts=watts)
    return replace(
        PLAIN,
        winding=Winding(stator=stator or PLAIN.winding.stator, coil=COIL, grouping=grouping),
        points=(point, point, point),
        runaway=replace(PLAIN.runaway, dc_volts_peak=volts, line_volts_rms=volts / 2.0**0.5),
        amps_per_mm2=density,
        circulating_watts=circulating_watts,
        verdict=verdict,
        reason="",
    )


def reasons(rows):
    return [(each.verdict, each.reason) for each in choose(rows)]


def test_nothing_speaks_against_a_plain_row():
    assert fault_of(row()) == ""


def test_a_machine_that_stands_still_is_rejected():
    still = replace(PLAIN.point, speed_rpm=0.0, dc_amps=0.0, bank_watts=0.0)
    assert fault_of(replace(row(), points=(still,) * 3)) == "the drive cannot turn it against its drag."


def test_a_grouping_that_never_cuts_in_is_rejected_with_both_speeds():
    idle = replace(PLAIN.point, speed_rpm=1364.4, dc_amps=0.0, bank_watts=0.0)
    never = replace(row(), points=(idle,) * 3, cut_in_rpm=2116.3)
    assert fault_of(never) == "it would charge only above 2116 rpm and turns at 1364 rpm."


def test_a_grouping_that_stops_before_the_bank_is_full_is_rejected():
    full = replace(PLAIN.point, dc_amps=0.0, bank_watts=0.0)
    assert fault_of(replace(row(), points=(PLAIN.point, PLAIN.point, full))) == (
        "it stops charging before the bank is full."
    )


def test_too_much_current_in_the_wire_is_rejected():
    # Common practice, no source: 10 A/mm² is the most that a wound coil stands for hours.
    assert fault_of(row(density=10.0)) == ""
    assert fault_of(row(density=10.06)) == (
        "its coils would carry 10.1 A/mm², more than the 10 that copper stands for hours."
    )


def test_a_wire_that_was_not_measured_is_no_reason_to_reject():
    assert fault_of(row(density=float("nan"))) == ""
    assert [word for word, _ in reasons([row(density=float("nan"))])] == ["chosen"]


@pytest.mark.parametrize("level, fault", [
    (3, ""), (4, "running away it makes 1700 V DC peak, beyond low voltage."),
])
def test_a_grouping_beyond_low_voltage_is_rejected(level, fault):
    wild = row(volts=1700.0)
    assert fault_of(replace(wild, runaway=replace(wild.runaway, level=level, word="beyond low voltage"))) == fault


def test_every_rejection_comes_out_of_a_real_comparison():
    stuck = compared(conditions=Conditions(drag_nm=80.0))
    assert {each.reason for each in stuck.rows} == {"the drive cannot turn it against its drag."}
    slow = at_speed(90.0)
    assert all(each.reason == f"it would charge only above {each.cut_in_rpm:.0f} rpm and turns at 90 rpm."
               for each in slow.rows if each.cut_in_rpm > 91.0)
    # Just above the cut-in of the half-full bank the charging limit, 3.55 V a cell, is out of reach.
    nearly = at_speed(1.01 * max(each.cut_in_rpm for each in slow.rows))
    assert nearly.rows[-1].reason == "it stops charging before the bank is full."
    thin = compared(wire_diameter_mm=0.4)
    hot = [each for each in thin.rows if each.amps_per_mm2 > 10.0]
    assert hot and all(each.verdict == "rejected" and each.reason.startswith("its coils would carry") for each in hot)
    many_turns = compared(coil=CoilConstants(emf_v_per_rpm=0.0579, ohm=5.04, henry=0.0279))
    wild = [each for each in many_turns.rows if each.runaway.line_volts_rms > 1000.0]
    # IEC 60364-4-41 and IEC 60038 end low voltage at 1000 V AC and 1500 V DC.
    assert wild and all(each.reason == f"running away it makes {each.runaway.dc_volts_peak:.0f} V DC peak, beyond low "
                                       "voltage." for each in wild)


def test_the_lowest_runaway_volts_among_nearly_the_most_watts_are_chosen():
    rows = [row(500.0, volts=300.0), row(490.0, volts=200.0), row(475.0, volts=150.0), row(474.9, volts=50.0)]
    assert [word for word, _ in reasons(rows)] == ["workable", "workable", "chosen", "workable"]


def test_star_is_chosen_when_volts_are_equal():
    rows = [row(500.0, connection="delta"), row(490.0, connection="star")]
    assert [word for word, _ in reasons(rows)] == ["workable", "chosen"]


def test_a_rejected_row_is_never_chosen_and_keeps_its_place_and_reason():
    bad = replace(row(900.0, volts=10.0, verdict="rejected"), reason="it stops charging before the bank is full.")
    made = choose([bad, row(500.0), row(300.0)])
    assert made[0] is bad
    # The share is that of the most watts among the sound ones.
    assert [(each.verdict, each.reason.split(",")[0]) for each in made[1:]] == [
        ("chosen", "100% of the most watts"), ("workable", "60% of the most watts."),
    ]


def test_when_all_are_rejected_none_is_chosen():
    rows = [row(verdict="rejected"), row(verdict="rejected")]
    assert choose(rows) == rows


def test_the_reasons_in_words():
    rows = [row(500.0, volts=157.4), row(495.0, volts=136.0), row(450.0, volts=118.0)]
    assert reasons(rows) == [
        ("workable", "as many watts, but 157 V DC peak when it runs away."),
        ("chosen", "99% of the most watts, with the lowest runaway volts of all that give at least 95%."),
        ("workable", "90% of the most watts."),
    ]


def test_warm_coils_are_said():
    # Common practice, no source: from 6 A/mm² a coil needs moving air.
    rows = [row(500.0, density=6.0), row(300.0, density=7.25)]
    assert [("moving air" in reason) for _, reason in reasons(rows)] == [False, True]
    assert reasons(rows)[1][1] == "60% of the most watts; coils at 7.2 A/mm² need moving air."


def test_third_harmonic_is_said_of_deltas_that_can_carry_it_and_of_no_other():
    words = "; measure the open delta corner first, third-harmonic volts there would heat the coils."
    def ends(stator, connection):
        return reasons([row(500.0, stator=stator, series=2, connection=connection)])[0][1].endswith(words)

    # 12 slots, 10 poles: |sin(3 π 5 / 12)| = 0.71; 36 slots, 48 poles: |sin(3 π 24 / 36)| = 0.
    assert ends(TEN_POLES, "delta") and not ends(TEN_POLES, "star") and not ends(None, "delta")


def test_what_circulates_in_a_delta_is_taken_off_before_choosing():
    # 500 W less 60 W is 440 W: 92 % of the star's 480 W, though its runaway volts are lower.
    rows = [row(500.0, volts=90.0, connection="delta", circulating_watts=60.0), row(480.0, volts=100.0)]
    assert reasons(rows) == [
        ("workable", "92% of the most watts; third-harmonic current round the delta heats its coils with up to 60 W."),
        ("chosen", "100% of the most watts, with the lowest runaway volts of all that give at least 95%."),
    ]


def test_a_row_in_a_sentence():
    told = replace(row(537.4, volts=136.0), cut_in_rpm=611.4)
    told = replace(told, points=(replace(told.point, dc_amps=10.24, speed_rpm=937.3),) * 3)
    assert describe(told) == (
        "2 in series, 6 paths, star: 537 W (10.2 A) into the half-full bank at 937 rpm, charging from 611 rpm; with "
        f"the bank gone it can run away to 96 V AC line rms, 136 V DC peak: {told.runaway.word}."
    )


@pytest.mark.parametrize("nozzle_mm", [8.0, 14.0, 20.0])
def test_the_rule_holds_in_a_real_comparison(nozzle_mm):
    found = compared(drive=WaterJet(head_m=28.0, nozzle_mm=nozzle_mm, pitch_diameter_mm=260.0))
    sound = [each for each in found.rows if each.verdict != "rejected"]
    most = max(each.point.bank_watts for each in sound)
    near = [each for each in sound if each.point.bank_watts >= 0.95 * most]
    assert found.chosen in near and sum(each.verdict == "chosen" for each in found.rows) == 1
    assert found.chosen.runaway.dc_volts_peak == min(each.runaway.dc_volts_peak for each in near)
    assert all(each.reason.endswith(".") for each in found.rows)
