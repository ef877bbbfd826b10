"""Verdicts: volts with the bank gone first, then watts; what is rejected, what needs a guard, what is chosen."""

from dataclasses import replace

import pytest

from samples.machine_samples import BANK, COIL, JET, SETTING, at_speed, compared
from sentences import sentences_of
from statorbook.choice.comparison import Comparison
from statorbook.choice.uncertainty import Spread
from statorbook.choice.verdict import (
    Worth,
    accepted_volts,
    choose,
    describe,
    fault_of,
    given_words,
    least_volts,
    recommend,
)
from statorbook.drives.water_jet import WaterJet
from statorbook.operation.speed_sweep import Conditions
from statorbook.winding.coil import CoilConstants
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("choice")

PLAIN = compared(accepted_dc_volts=500.0).chosen
TEN_POLES = Stator(slots=12, poles=10)


def row(
    watts=500.0,
    *,
    volts=100.0,
    connection="star",
    stator=None,
    series=2,
    density=3.0,
    verdict="workable",
    circulating_watts=float("nan"),
):
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


def reasons(rows, limit_dc_volts=500.0):
    return [(each.verdict, each.reason) for each in choose(rows, limit_dc_volts)]


def verdicts(rows, limit_dc_volts=500.0):
    return [each.verdict for each in choose(rows, limit_dc_volts)]


def test_nothing_speaks_against_a_plain_row():
    assert fault_of(row()) == ""


def test_a_machine_that_stands_still_is_rejected():
    still = replace(PLAIN.point, speed_rpm=0.0, dc_amps=0.0, bank_watts=0.0)
    assert fault_of(replace(row(), points=(still,) * 3)) == wording("the drive cannot turn it")


def test_a_grouping_that_never_cuts_in_is_rejected_with_both_speeds():
    idle = replace(PLAIN.point, speed_rpm=1364.4, dc_amps=0.0, bank_watts=0.0)
    never = replace(row(), points=(idle,) * 3, cut_in_rpm=2116.3)
    assert fault_of(never) == wording("it would charge only above")


def test_a_grouping_that_stops_before_the_bank_is_full_is_rejected():
    full = replace(PLAIN.point, dc_amps=0.0, bank_watts=0.0)
    assert fault_of(replace(row(), points=(PLAIN.point, PLAIN.point, full))) == wording("it stops charging before the")


@pytest.mark.outside(
    "most amps that a wound coil stands for hours",
    source="common practice, no source",
    number="10 A/mm²",
    tolerance="exact",
    seen="from memory",
)
def test_too_much_current_in_the_wire_is_rejected():
    assert fault_of(row(density=10.0)) == ""
    assert fault_of(row(density=10.06)) == wording("its coils would carry 10.1")


def test_a_wire_that_was_not_measured_is_no_reason_to_reject():
    assert fault_of(row(density=float("nan"))) == ""
    assert [word for word, _ in reasons([row(density=float("nan"))])] == ["chosen"]


@pytest.mark.parametrize("level, fault", [(3, ""), (4, wording("running away it makes 1700"))])
def test_a_grouping_beyond_low_voltage_is_rejected(level, fault):
    wild = row(volts=1700.0)
    assert fault_of(replace(wild, runaway=replace(wild.runaway, level=level, word="beyond low voltage"))) == fault


@pytest.mark.outside(
    "end of low voltage",
    source="IEC glossary, low voltage, std.iec.ch/terms",
    number="1000 V AC, 1500 V DC",
    tolerance="exact",
    seen="read",
)
def test_every_rejection_comes_out_of_a_real_comparison():
    stuck = compared(conditions=Conditions(drag_nm=80.0))
    assert {each.reason for each in stuck.rows} == {wording("the drive cannot turn it")}
    slow = at_speed(90.0)
    assert all(
        each.reason == f"it would charge only above {each.cut_in_rpm:.0f} rpm and turns at 90 rpm."
        for each in slow.rows
        if each.cut_in_rpm > 91.0
    )
    # Just above the cut-in of the half-full bank the charging limit, 3.55 V a cell, is out of reach.
    nearly = at_speed(1.01 * max(each.cut_in_rpm for each in slow.rows))
    assert nearly.rows[-1].reason == wording("it stops charging before the")
    thin = compared(wire_diameter_mm=0.4)
    hot = [each for each in thin.rows if each.amps_per_mm2 > 10.0]
    assert hot and all(each.verdict == "rejected" and each.reason.startswith("its coils would carry") for each in hot)
    many_turns = compared(coil=CoilConstants(emf_v_per_rpm=0.0579, ohm=5.04, henry=0.0279))
    wild = [each for each in many_turns.rows if each.runaway.line_volts_rms > 1000.0]
    assert wild and all(
        each.reason == f"running away it makes {each.runaway.dc_volts_peak:.0f} V DC peak, beyond low voltage."
        for each in wild
    )


def test_the_most_watts_within_the_accepted_volts_are_chosen():
    rows = [row(500.0, volts=300.0), row(490.0, volts=200.0), row(400.0, volts=120.0), row(300.0, volts=50.0)]
    assert verdicts(rows, 120.0) == ["above the limit", "above the limit", "chosen", "workable"]
    assert verdicts(rows, 119.9) == ["above the limit", "above the limit", "above the limit", "chosen"]
    assert verdicts(rows, 300.0) == ["chosen", "workable", "workable", "workable"]


def test_watts_that_no_meter_tells_apart_go_to_the_lower_volts():
    assert verdicts([row(500.0, volts=300.0), row(496.0, volts=200.0)]) == ["workable", "chosen"]
    assert verdicts([row(500.0, volts=300.0), row(490.0, volts=200.0)]) == ["chosen", "workable"]


def test_star_is_chosen_when_watts_and_volts_are_alike():
    rows = [row(500.0, connection="delta"), row(498.0, connection="star")]
    assert verdicts(rows) == ["workable", "chosen"]


def test_when_nothing_stays_within_the_least_volts_for_most_of_the_watts_need_a_guard_and_none_is_chosen():
    # 80 % of 500 W is 400 W: 410 W has the lowest volts of those, 240 W is too little for it.
    rows = [row(500.0, volts=300.0), row(410.0, volts=150.0), row(240.0, volts=90.0)]
    assert verdicts(rows, 60.0) == ["above the limit", "needs a guard", "above the limit"]
    assert recommend(rows, 60.0) is rows[1]
    assert least_volts(rows, 0.8) is rows[1] and least_volts(rows, 0.5) is rows[1] and least_volts(rows, 0.4) is rows[2]


def test_a_row_that_is_rejected_for_its_fault_is_no_way_out():
    bad = replace(row(240.0, volts=20.0, verdict="rejected"), reason="it stops charging before the bank is full.")
    made = choose([row(500.0, volts=300.0), bad], 60.0)
    assert [each.verdict for each in made] == ["needs a guard", "rejected"] and made[1] is bad


@pytest.mark.outside(
    "end of extra-low voltage",
    source="IEC glossary, extra-low voltage, std.iec.ch/terms",
    number="120 V DC",
    tolerance="exact",
    seen="read",
)
@pytest.mark.parametrize(
    "given, device, limit",
    [(None, None, 120.0), (None, 64.0, 64.0), (None, 400.0, 120.0), (90.0, 64.0, 90.0), (20.0, None, 20.0)],
)
def test_the_limit_is_what_was_said_else_the_lower_of_device_and_extra_low_voltage(given, device, limit):
    assert accepted_volts(given, device) == limit


def test_a_rejected_row_is_never_chosen_and_keeps_its_place_and_reason():
    bad = replace(row(900.0, volts=10.0, verdict="rejected"), reason="it stops charging before the bank is full.")
    made = choose([bad, row(500.0), row(300.0)], 500.0)
    assert made[0] is bad
    # The share is that of the most watts among the sound ones.
    assert [each.verdict for each in made[1:]] == ["chosen", "workable"]
    assert made[2].reason == "60% of the most watts."


def test_when_all_are_rejected_none_is_chosen():
    rows = [row(verdict="rejected"), row(verdict="rejected")]
    assert choose(rows) == rows


def test_the_reasons_in_words():
    rows = [row(500.0, volts=157.4), row(450.0, volts=118.0), row(400.0, volts=90.0)]
    accepted = "the 120 V that you accept with the bank gone"
    assert reasons(rows, 120.0) == [
        ("above the limit", wording("100% of the most watts")),
        ("chosen", f"it gives the most watts within {accepted}, 90% of the most watts whatever the volts."),
        ("workable", "80% of the most watts."),
    ]
    assert reasons(rows, 60.0)[2] == ("needs a guard", wording("80% of the most watts"))


@pytest.mark.outside(
    "amps from which a coil needs moving air",
    source="common practice, no source",
    number="6 A/mm²",
    tolerance="exact",
    seen="from memory",
)
def test_warm_coils_are_said():
    rows = [row(500.0, density=6.0), row(300.0, density=7.25)]
    assert [("moving air" in reason) for _, reason in reasons(rows)] == [False, True]
    assert reasons(rows)[1][1] == wording("60% of the most watts")


def test_third_harmonic_is_said_of_deltas_that_can_carry_it_and_of_no_other():
    words = wording("measure the open delta")

    def ends(stator, connection):
        return reasons([row(500.0, stator=stator, series=2, connection=connection)])[0][1].endswith(words)

    # 12 slots, 10 poles: |sin(3 π 5 / 12)| = 0.71; 36 slots, 48 poles: |sin(3 π 24 / 36)| = 0.
    assert ends(TEN_POLES, "delta") and not ends(TEN_POLES, "star") and not ends(None, "delta")


def test_what_circulates_in_a_delta_is_taken_off_before_choosing():
    # 500 W less 60 W is 440 W: 92 % of the star's 480 W, though its runaway volts are lower.
    rows = [row(500.0, volts=90.0, connection="delta", circulating_watts=60.0), row(480.0, volts=100.0)]
    assert verdicts(rows) == ["workable", "chosen"]
    assert reasons(rows)[0][1] == wording("92% of the most watts")


def told_row(**changes):
    told = replace(row(537.4, volts=136.0), cut_in_rpm=611.4, **changes)
    return replace(told, points=(replace(told.point, dc_amps=10.24, speed_rpm=937.3),) * 3)


def test_a_row_in_a_sentence_says_the_volts_before_the_watts():
    told = told_row(most=replace(PLAIN.most, dc_amps=18.24))
    assert describe(told) == (
        "2 in series, 6 paths, star: with the bank gone it can run away to 136 V DC peak, 96 V AC line rms: "
        f"{told.runaway.word}, so it needs {told.runaway.guard}; it gives 537 W (10.2 A) into the half-full bank at "
        "937 rpm, charging from 611 rpm; its most amps, for which bridge, cable and fuse are sized, are 18.2 A."
    )


def test_a_device_that_would_be_destroyed_puts_its_guard_into_the_same_sentence():
    loud = replace(PLAIN.runaway, dc_volts_peak=136.0, device_max_volts=64.0)
    assert wording("an over-voltage load at the") in describe(told_row(runaway=loud))
    quiet = replace(loud, device_max_volts=140.0)
    assert "over-voltage load" not in describe(told_row(runaway=quiet))


def test_the_volts_when_the_drive_s_guard_fails_stand_beside_those_with_it():
    bare = replace(PLAIN.unguarded, dc_volts_peak=430.0, word="can kill")
    said = describe(told_row(unguarded=bare, guard_words="furling from 11 m/s"))
    assert wording("(430 V DC peak, can") in said
    assert "fails" not in describe(told_row(unguarded=replace(bare, dc_volts_peak=100.0)))


def test_a_delta_whose_open_corner_was_not_measured_says_so_and_no_other():
    words = "the open corner of this delta was never measured"
    delta = row(500.0, connection="delta")
    assert words in describe(delta)
    assert words not in describe(replace(delta, circulating_watts=0.0))
    assert words not in describe(row(500.0))


@pytest.mark.parametrize("limit_dc_volts", [30.0, 60.0, 120.0, 150.0, 400.0])
@pytest.mark.parametrize("nozzle_mm", [8.0, 14.0, 20.0])
def test_the_rule_holds_in_a_real_comparison(nozzle_mm, limit_dc_volts):
    jet = WaterJet(head_m=28.0, nozzle_mm=nozzle_mm, pitch_diameter_mm=260.0)
    found = compared(drive=jet, accepted_dc_volts=limit_dc_volts)
    inside = [each for each in found.sound if each.runaway.dc_volts_peak <= limit_dc_volts]
    if inside:
        assert found.chosen in inside and found.recommended is found.chosen
        assert found.chosen.point.bank_watts >= 0.99 * max(each.point.bank_watts for each in inside)
    else:
        assert found.chosen is None and found.recommended.verdict == "needs a guard"
        most = max(each.point.bank_watts for each in found.sound)
        good = [each.runaway.dc_volts_peak for each in found.sound if each.point.bank_watts >= 0.8 * most]
        assert found.recommended.runaway.dc_volts_peak == min(good)
    assert all(each.reason.endswith(".") for each in found.rows)


def test_a_held_speed_says_what_it_takes_from_whatever_turns_it():
    held = at_speed(800.0).shown
    watts = dict(held.point.chain_watts)["shaft"]
    assert f" rpm, which takes {watts:.0f} W from whatever turns it, charging from " in describe(held)
    assert "whatever turns it" not in describe(PLAIN)


def test_what_it_is_ranked_by_comes_before_the_watts_of_the_one_setting():
    ranked = told_row(worth=Worth(value=640.0, given=650.4, unit="kWh a year"))
    assert wording("gives 650 kWh a year, and") in describe(ranked)
    told = {
        name: Spread(value=9.0, constants=0.0, assumed=2.0, unit="W") for name in ("bank_watts", "dc_amps", "speed_rpm")
    }
    told["worth"] = Spread(value=650.4, constants=30.0, assumed=40.0, unit="kWh a year")
    assert wording("gives 650 ± 50 kWh a year, and") in describe(ranked, told)
    assert given_words(ranked) == "650 kWh a year" and given_words(told_row()) == "537 W"


# Nothing within 30 V: least volts for four fifths of the most, and for half of it the same row, or another.
@pytest.mark.parametrize("weak, other", [(240.0, False), (260.0, True)])
def test_half_of_the_most_watts_may_have_the_same_least_volts(weak, other):
    rows = choose([row(500.0, volts=300.0), row(450.0, volts=200.0), row(weak, volts=100.0)], 30.0)
    found = Comparison(rows=tuple(rows), bank=BANK, drive=JET, setting=replace(SETTING, accepted_dc_volts=30.0))
    assert found.recommended.runaway.dc_volts_peak == 200.0
    told = f"For {'50%'} of the most watts"
    assert found.beside_words.startswith(f" {told}, " if other else f" {told} the least volts are the same.")
    assert ("100 V DC peak" in found.beside_words) is other
