"""The quick look: a few numbers in, a few groupings with an honest band out."""

import re
from itertools import product
from math import sqrt

import pytest

from samples.machine_samples import BANK, COIL, STATOR
from sentences import exactly, sentences_of
from statorbook.choice.comparison import compare
from statorbook.choice.first_guess import quick_look
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("choice")

SIX = {"line_volts_rms": 40.0, "reading_rpm": 100.0, "line_ohm": 13.2, "working_rpm": 800.0}


def looked(**changes):
    options = {"stator": STATOR, "bank": BANK, **SIX, **changes}
    return quick_look(options.pop("stator"), options.pop("bank"), **options)


@pytest.fixture(scope="module")
def look():
    return looked()


def test_the_found_volts_are_scaled_to_the_working_speed(look):
    # Hand algebra: 40 V at 100 rpm is 320 V at 800 rpm.
    assert look.found_volts_rms == pytest.approx(320.0)
    assert look.sentence.startswith(wording("As found, the leads make 320"))


@pytest.mark.parametrize("connection, parallel", [("star", 1), ("delta", 1), ("star", 4), ("delta", 12)])
def test_the_wiring_as_found_shows_the_readings_again(connection, parallel):
    found = Grouping(series=12 // parallel, parallel=parallel, connection=connection)
    winding = looked(connection=connection, parallel=parallel).comparison.find(found).winding
    assert winding.line_volts_rms(100.0) == pytest.approx(40.0)
    # Two leads see two star phases in series, or one delta phase beside the two others.
    between = winding.phase_ohm() * (2.0 if connection == "star" else 2.0 / 3.0)
    assert between == pytest.approx(13.2)


@pytest.mark.outside(
    "henries over ohms of salvaged many-pole stators",
    source="common practice, no source",
    number="3 to 9 ms, middle 6 ms",
    tolerance="1e-6",
    seen="from memory",
)
def test_the_assumed_inductance_is_6_ms_times_the_resistance(look):
    coil = look.comparison.rows[0].winding.coil
    assert coil.henry / coil.ohm == pytest.approx(0.006)


def test_every_grouping_has_a_band_around_its_watts(look):
    assert set(look.watts) == set(STATOR.groupings())
    for row in look.comparison.rows:
        least, most = look.watts[row.grouping]
        assert 0.0 <= least <= row.point.bank_watts * (1 + 1e-9) and row.point.bank_watts <= most * (1 + 1e-9)
    widest = max(most / least for least, most in look.watts.values() if least > 50.0)
    assert widest > 1.5  # a factor of three in the inductance cannot leave a narrow band


def test_the_band_is_that_of_5_and_10_percent_and_3_to_9_ms(look):
    # Common practice, no source; the extremes of eight comparisons.
    middle = look.comparison.rows[0].winding.coil
    ends = product((0.95, 1.05), (0.9, 1.1), (3e-3, 9e-3))
    coils = [
        CoilConstants(emf_v_per_rpm=e * middle.emf_v_per_rpm, ohm=r * middle.ohm, henry=s * middle.ohm)
        for e, r, s in ends
    ]
    found = [compare(STATOR, coil, KnownSpeed(working_rpm=800.0), BANK) for coil in coils]
    for grouping, band in look.watts.items():
        watts = [each.find(grouping).point.bank_watts for each in found]
        assert band == pytest.approx((min(watts), max(watts)), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("emf, ohm, ms", [(1.0, 1.0, 3.0), (0.96, 1.08, 9.0), (1.04, 0.92, 4.5), (1.0, 1.0, 8.0)])
def test_a_machine_within_the_assumed_shares_gives_watts_within_the_band(look, emf, ohm, ms):
    middle = look.comparison.rows[0].winding.coil
    true = CoilConstants(emf_v_per_rpm=emf * middle.emf_v_per_rpm, ohm=ohm * middle.ohm, henry=1e-3 * ms * middle.ohm)
    for row in compare(STATOR, true, KnownSpeed(working_rpm=800.0), BANK).rows:
        least, most = look.watts[row.grouping]
        assert 0.98 * least <= row.point.bank_watts <= 1.02 * most


def test_at_most_three_are_shown_the_recommended_first_then_by_watts(look):
    watts = [row.point.bank_watts for row in look.best]
    assert len(watts) == 3 and watts[1] >= watts[2] and look.best[0] is look.comparison.recommended
    assert all(row.verdict != "rejected" for row in look.best)


def test_the_sentence_holds_the_band_of_the_recommended_one_and_says_what_is_assumed(look):
    row = look.comparison.recommended
    least, most = look.watts[row.grouping]
    guess = look.sentence.split("A first guess: ")[1]
    gone = f"with the bank gone it can run away to {row.runaway.dc_volts_peak:.0f} V"
    assert guess.startswith(f"{row.grouping.label}; {gone}")
    assert f"; {least:.0f} to {most:.0f} W into the half-full bank, parts sized for {row.most.dc_amps:.0f} A" in guess
    assert "inductance, drag and temperatures are assumed" in guess and guess.endswith("so measure before you cut.")


def test_when_nothing_charges_the_way_out_is_said():
    slow = looked(working_rpm=10.0)
    assert slow.best == [] and slow.sentence == wording("As found, the leads make 4")


def test_the_runaway_ratio_reaches_the_danger(look):
    wild = looked(runaway_ratio=3.6)
    for calm, fast in zip(look.comparison.rows, wild.comparison.rows, strict=True):
        assert fast.runaway.dc_volts_peak == pytest.approx(2.0 * calm.runaway.dc_volts_peak)


def test_a_few_readings_of_a_known_machine_lead_to_its_best_groupings():
    # The readings that a machine of known constants would give, 6 ms, into the same comparison by another way.
    coil = CoilConstants(emf_v_per_rpm=COIL.emf_v_per_rpm, ohm=COIL.ohm, henry=0.006 * COIL.ohm)
    found = Winding(stator=STATOR, coil=coil, grouping=Grouping(series=12, parallel=1))
    got = looked(line_volts_rms=found.line_volts_rms(100.0), line_ohm=2.0 * found.phase_ohm())
    wanted = compare(STATOR, coil, KnownSpeed(working_rpm=800.0), BANK)
    assert [row.grouping for row in got.comparison.rows] == [row.grouping for row in wanted.rows]
    assert [row.point.bank_watts for row in got.comparison.rows] == pytest.approx(
        [row.point.bank_watts for row in wanted.rows], rel=1e-6
    )
    assert got.found_volts_rms == pytest.approx(sqrt(3.0) * found.phase_emf_v_per_rpm * 800.0)


@pytest.mark.parametrize(
    "name, sentence",
    [
        ("line_volts_rms", wording("volts between two leads: 0.0")),
        ("reading_rpm", wording("speed of the reading: 0.0")),
        ("line_ohm", wording("ohms between two leads: 0.0")),
        ("working_rpm", wording("working speed: 0.0 rpm was")),
    ],
)
def test_a_zero_is_refused_by_name(name, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        looked(**{name: 0.0})


@pytest.mark.parametrize("value", [-1.0, float("nan"), float("inf"), "many", None])
@pytest.mark.parametrize("name", SIX)
def test_nothing_but_a_number_above_0_is_taken(name, value):
    with pytest.raises(BadInput, match="is allowed; measure or type the"):
        looked(**{name: value})


def test_an_illegal_wiring_as_found_is_refused_with_the_legal_path_counts():
    with pytest.raises(BadInput, match=re.escape(wording("12 slots with 10 poles"))):
        looked(stator=Stator(slots=12, poles=10), parallel=4)
    with pytest.raises(BadInput, match=wording("connection: 'wye' was given; star")):
        looked(connection="wye")
