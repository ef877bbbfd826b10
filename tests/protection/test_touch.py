"""Volts wherever a hand can reach: the limits of the standard on their edges, and what a plant makes."""

from dataclasses import replace
from math import inf, nextafter, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bank import short_circuit
from statorbook.bank.battery import Bank, cells_for
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.operation.converter import Converter
from statorbook.operation.speed_sweep import winding_waveforms
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.site import DAMP, DRY, PLACES, WET, Site
from statorbook.protection.touch import (
    BANK,
    BANK_LOST,
    CABLE,
    CHARGING,
    JOINED,
    LEADS,
    RECTIFIER,
    RUN_AWAY,
    SPOTS,
    STOPPED,
    touch,
    touch_grade,
)

wording = sentences_of("protection_touch")


def above(limit):
    return nextafter(limit, inf)


# "Does not exceed", so each limit is inside.
EDGES = [
    (DRY, 25.0, 0.0, 0),
    (DRY, above(25.0), 0.0, 1),
    (DRY, 0.0, 60.0, 0),
    (DRY, 0.0, above(60.0), 1),
    (DAMP, 12.0, 0.0, 0),
    (DAMP, above(12.0), 0.0, 1),
    (WET, 0.0, 30.0, 0),
    (WET, 0.0, above(30.0), 1),
    *((place, 50.0, 120.0, 1) for place in PLACES),
    *((place, above(50.0), 0.0, 2) for place in PLACES),
    *((place, 0.0, above(120.0), 2) for place in PLACES),
    *((place, 1000.0, 1500.0, 2) for place in PLACES),
    *((place, above(1000.0), 0.0, 3) for place in PLACES),
    *((place, 0.0, above(1500.0), 3) for place in PLACES),
]


@pytest.mark.outside(
    "volts without cover where dry",
    source="IEC 60364-4-41 (BS 7671), 414.4.5",
    number="25 V AC, 60 V DC",
    tolerance="none, the limit itself is allowed",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "volts without cover in other than dry places",
    source="IEC 60364-4-41 (BS 7671), 414.4.5",
    number="12 V AC, 30 V DC",
    tolerance="none, the limit itself is allowed",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "where extra-low voltage ends",
    source="IEC glossary, extra-low voltage",
    number="50 V AC, 120 V DC",
    tolerance="none, the limit itself is inside",
    seen="read",
)
@pytest.mark.outside(
    "where low voltage ends",
    source="IEC glossary, low voltage",
    number="1000 V AC, 1500 V DC",
    tolerance="none, the limit itself is inside",
    seen="read",
)
@pytest.mark.parametrize(("place", "line_volts_rms", "dc_volts", "level"), EDGES)
def test_each_limit_is_inside_and_what_is_just_above_it_is_not(place, line_volts_rms, dc_volts, level):
    assert touch_grade(place, line_volts_rms, dc_volts).level == level


@pytest.mark.parametrize(
    ("place", "volts", "clause"),
    [(DRY, 61.0, "414.4.5, dry"), (WET, 31.0, "414.4.5, other than dry"), (WET, 121.0, "clause 411")],
)
def test_the_grade_names_the_clause_that_decides(place, volts, clause):
    assert clause in touch_grade(place, 0.0, volts).limit


def test_what_is_no_place_or_no_volts_is_refused():
    with pytest.raises(BadInput):
        touch_grade("under water", 1.0, 1.0)
    with pytest.raises(BadInput):
        touch_grade(WET, -1.0, 0.0)


def test_the_bank_itself_is_graded_by_the_place():
    # Charging limit 3.65 V a cell (common practice, no source): 29.2 V of 8 cells pass in the wet, 58.4 V of 16 do
    # not, but pass in the dry.
    for volts, place, level in ((24, WET, 0), (48, WET, 1), (48, DRY, 0)):
        bank = Bank(chemistry="LiFePO4", cells=cells_for("LiFePO4", volts))
        assert touch(plant(bank=bank, site=Site(place=place))).state(STOPPED).at(BANK).grade.level == level


def test_with_the_bank_lost_every_place_but_the_bank_has_the_open_volts():
    made = plant()
    found = touch(made).state(RUN_AWAY)
    # Six diodes without load: DC peak = √2 × line rms, by hand.
    for where in (LEADS, RECTIFIER):
        assert found.at(where).dc_volts == pytest.approx(sqrt(2.0) * found.at(where).line_volts_rms)
    assert found.at(LEADS).line_volts_rms == pytest.approx(made.winding.line_volts_rms(made.runaway_rpm, 0.0))
    assert found.at(CABLE).dc_volts == found.at(RECTIFIER).dc_volts and found.at(CABLE).line_volts_rms == 0.0
    assert found.at(BANK).dc_volts == made.bank.highest_volts


def test_what_is_joined_is_one_circuit_and_graded_by_its_worst_place():
    # IEC 60364-4-41, 414: the limits are those of a SELV or PELV circuit, and a bridge separates nothing (from memory).
    found = touch(plant(drive=KnownSpeed(working_rpm=500.0), bank=Bank(chemistry="LiFePO4", cells=4)))
    assert {spot.grade.level for spot in found.state(CHARGING).spots} == {1}  # 13 V AC at the leads of a 14.6 V bank
    lost = found.state(BANK_LOST)
    assert lost.at(CABLE).grade == lost.at(LEADS).grade and lost.at(CABLE).grade.level == 2
    assert lost.at(BANK).grade.level == 0  # no longer joined, 14.6 V DC


def test_an_ac_run_has_the_volts_of_the_leads():
    found = touch(plant(run=CableRun(rectifier_at=AT_BANK), ac_cable_ohm=0.2))
    assert [spot.where for spot in found.states[0].spots] == list(SPOTS)
    for state in found.states:
        assert state.at(CABLE).line_volts_rms == state.at(LEADS).line_volts_rms >= state.at(RECTIFIER).line_volts_rms
    charging, joined = found.state(CHARGING), found.state(JOINED)
    # Kirchhoff: between two of three wires √3 × amps × ohms of one.
    assert joined.at(LEADS).line_volts_rms == pytest.approx(sqrt(3.0) * joined.lead_amps_rms * 0.2)
    assert charging.at(LEADS).line_volts_rms > charging.at(RECTIFIER).line_volts_rms


@pytest.mark.parametrize("rpm", [330.0, 400.0, 600.0, 1300.0])
def test_line_volts_while_charging_are_never_less_than_the_exact_waveform(rpm):
    made = plant(drive=KnownSpeed(working_rpm=rpm))
    exact = winding_waveforms(made.winding, rpm, made.bank.states[2], made.conditions).line_volts[:-1]
    assert touch(made).state(CHARGING).at(LEADS).line_volts_rms >= np.sqrt((exact**2).mean(axis=0)).max()


def test_a_converter_puts_its_input_volts_on_the_cable_and_not_on_the_bank():
    converter = Converter(low_volts=80.0, high_volts=150.0, survives_dc_volts=160.0)
    charging = touch(plant(converter=converter)).state(CHARGING)
    assert charging.at(CABLE).dc_volts == 160.0 and charging.at(CABLE).grade.level == 2
    assert charging.at(BANK).dc_volts == pytest.approx(58.4)


def test_joined_leads_carry_no_more_than_emf_over_reactance():
    made = plant()
    star = made.winding.star_equivalent(0.0, 0.0)
    # One star phase on itself at high speed, I = k / (p L): any text on synchronous machines.
    limit = star.emf_v_per_rpm / (2.0 * np.pi * made.winding.stator.pole_pairs / 60.0 * star.henry)
    assert 0.98 * limit < touch(made).state(JOINED).lead_amps_rms <= limit


@pytest.mark.outside(
    "volts from which US workplaces ask for guards",
    source="29 CFR 1910.303(g)(2)(i), OSHA letter of 4 September 2015",
    number="50 V, AC or DC",
    tolerance="none, 50 V itself is guarded",
    seen="read",
)
@pytest.mark.parametrize(("cells", "guarded"), [(8, False), (16, True)])
def test_us_workplaces_ask_for_guards_from_50_volts(cells, guarded):
    slow = plant(drive=KnownSpeed(working_rpm=80.0), bank=Bank(chemistry="LiFePO4", cells=cells))
    assert touch(slow).guarded_at_us_work is guarded


def test_the_sentence_says_the_worst_first():
    said = touch(plant()).sentence
    assert said.index("272 V DC") < said.index("charges")
    assert wording("closed in like mains") in said


def test_volts_just_above_a_limit_do_not_read_as_the_limit():
    # 33 cells of 3.65 V make 120.45 V, which would round to the very limit that it passes.
    found = touch(plant(bank=Bank(chemistry="LiFePO4", cells=33)))
    assert found.state(STOPPED).at(BANK).words == "120.5 V DC" and found.state(STOPPED).at(BANK).grade.level == 2


levels = st.floats(0.0, 1.0)


def worst_levels(**changes):
    return [state.at(where).grade.level for state in touch(plant(**changes)).states for where in SPOTS]


@settings(max_examples=8)
@given(levels, levels)
def test_faster_colder_or_wetter_is_never_graded_safer(one, other):
    mild, hard = sorted((one, other))
    for changes in (
        lambda x: {"drive": KnownSpeed(working_rpm=50.0 + 1000.0 * x)},
        lambda x: {"cold_c": 30.0 - 70.0 * x},
        lambda x: {"drive": KnownSpeed(working_rpm=120.0), "site": Site(place=PLACES[round(2 * x)])},
    ):
        assert all(a <= b for a, b in zip(worst_levels(**changes(mild)), worst_levels(**changes(hard)), strict=True))


@settings(max_examples=8)
@given(levels, levels, st.sampled_from([{}, {"run": CableRun(rectifier_at=AT_BANK)}]))
def test_a_longer_cable_is_never_graded_safer(one, other, run):
    short, long = sorted((one, other))
    found = [worst_levels(cable_ohm=ohm, ac_cable_ohm=ohm if run else 0.0, **run) for ohm in (short, long)]
    assert all(a <= b for a, b in zip(*found, strict=True))


def test_the_states_are_those_that_a_hand_can_meet():
    assert [state.name for state in touch(plant()).states] == [CHARGING, BANK_LOST, RUN_AWAY, JOINED, STOPPED]


# Six diodes on a stiff bank while three conduct: line rms = √(2/3) of the DC between the rails (any power-electronics
# text). The rest by Ohm's law: amps times ohms of the cable, √3 between two of three AC wires, their peak √2 higher.
def test_each_state_has_its_speed_its_volts_and_its_amps():
    made = plant(run=CableRun(rectifier_at=AT_BANK), ac_cable_ohm=0.2, cable_ohm=0.1)
    most, bank, spanner = made.most, made.bank, short_circuit(made.bank).most_amps
    found = touch(made)
    assert (found.place, found.spanner_amps) == (WET, spanner)
    charging, lost, away, joined, stopped = found.states
    dc = bank.highest_volts + 0.1 * most.dc_amps
    line = sqrt(2.0 / 3.0) * (dc + 2.0 * made.conditions.diode_drop_v)
    drop = sqrt(3.0) * 0.2 * most.lead_amps_rms
    assert (charging.speed_rpm, charging.dc_amps) == (most.speed_rpm, most.dc_amps)
    assert charging.lead_amps_rms == most.lead_amps_rms
    assert charging.at(RECTIFIER).line_volts_rms == pytest.approx(line)
    assert charging.at(RECTIFIER).dc_volts == pytest.approx(dc)
    assert charging.at(LEADS).line_volts_rms == pytest.approx(line + drop)
    assert charging.at(LEADS).dc_volts == pytest.approx(dc + sqrt(2.0) * drop)
    fastest = max(made.settled(state).speed_rpm for state in range(3))
    for state, rpm in ((lost, fastest), (away, made.runaway_rpm)):
        assert state.speed_rpm == pytest.approx(rpm, rel=1e-6)
        for where in (LEADS, RECTIFIER, CABLE):
            spot = state.at(where)
            assert (spot.line_volts_rms, spot.dc_volts) == pytest.approx(made.open_volts(rpm), rel=1e-6)
        assert (state.lead_amps_rms, state.dc_amps) == (0.0, 0.0)
    for state, rpm in ((joined, made.runaway_rpm), (stopped, 0.0)):
        assert (state.speed_rpm, state.dc_amps) == (rpm, 0.0)
        assert (state.at(RECTIFIER).line_volts_rms, state.at(RECTIFIER).dc_volts) == (0.0, bank.highest_volts)
        assert (state.at(BANK).line_volts_rms, state.at(BANK).dc_volts) == (0.0, bank.highest_volts)
    assert stopped.at(LEADS).line_volts_rms == stopped.lead_amps_rms == 0.0
    slow = touch(plant(drive=KnownSpeed(working_rpm=5.0)))
    for name in (BANK_LOST, RUN_AWAY):  # a cable that still hangs on the bank
        assert slow.state(name).at(CABLE).dc_volts == bank.highest_volts


def test_the_worst_is_the_gravest_and_of_those_the_one_with_most_volts():
    found = touch(plant())
    assert (found.worst.name, found.worst.worst.where) == (RUN_AWAY, LEADS)
    assert found.worst_at(BANK).dc_volts == plant().bank.highest_volts
    assert found.worst_at(RECTIFIER) == found.state(RUN_AWAY).at(RECTIFIER)
    assert found.state(CHARGING).worst.where == LEADS


@pytest.mark.parametrize(("volts", "guarded"), [(50.0, True), (nextafter(50.0, 0.0), False)])
@pytest.mark.parametrize("kind", ["line_volts_rms", "dc_volts"])
def test_50_volts_of_either_kind_are_guarded_at_us_workplaces(volts, guarded, kind):
    found = touch(plant())
    spot = replace(found.states[0].spots[0], **{"line_volts_rms": 0.0, "dc_volts": 0.0, kind: volts})
    assert replace(found, states=(replace(found.states[0], spots=(spot,)),)).guarded_at_us_work is guarded


# With a converter the rectifier has what it lets stand at its input, but no more than the machine makes at all, and
# no less than the bank's highest volts.
@pytest.mark.parametrize("survives", [155.0, 1000.0])
def test_a_converter_lets_no_more_stand_than_it_survives_or_the_machine_makes(survives):
    made = plant(converter=Converter(low_volts=80.0, high_volts=150.0, survives_dc_volts=survives))
    most = min(survives, made.open_volts(made.runaway_rpm)[1])
    assert touch(made).state(CHARGING).at(RECTIFIER).dc_volts == pytest.approx(most)


def test_volts_in_words():
    spot = touch(plant()).states[0].spots[0]

    def said(ac, dc):
        return replace(spot, line_volts_rms=ac, dc_volts=dc).words

    assert said(193.4, 272.0) == " and ".join(("193 V AC", "272 V DC"))
    assert (said(0.4, 0.5), said(0.4, 0.4)) == ("0 V DC", "0 V")
    # 25 and 60 V are limits (IEC 60364-4-41): just above them a tenth is shown, rounded up; below them it is not.
    assert (said(25.01, 0.0), said(25.0, 0.0), said(0.0, 59.9)) == ("25.1 V AC", "25 V AC", "60 V DC")
    assert said(0.0, 60.31) == "60.4 V DC"


def test_the_whole_sentence():
    found = touch(plant())
    away, charging, joined = (found.state(name) for name in (RUN_AWAY, CHARGING, JOINED))
    assert found.sentence == wording("the worst, at work and at rest").format(
        rpm=f"{away.speed_rpm:.0f}",
        worst=away.at(LEADS).words,
        limit=away.at(LEADS).grade.limit,
        usual=charging.at(LEADS).words,
        bank="58 V DC",
        amps=f"{joined.lead_amps_rms:.2g} A",
    )


@pytest.mark.parametrize(
    ("volts", "level", "word", "advice"),
    [
        (20.0, 0, "touchable", wording("nothing to cover")),
        (100.0, 1, "cover", wording("all insulated")),
        (200.0, 2, "as mains", wording("closed in like mains").removesuffix(".")),
        (1600.0, 3, "beyond low voltage", "Do not build it"),
    ],
)
def test_each_grade_says_what_follows(volts, level, word, advice):
    grade = touch_grade(WET, 0.0, volts)
    assert (grade.level, grade.word, grade.advice) == (level, word, advice)
