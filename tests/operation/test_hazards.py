"""Grades of open-circuit volts against IEC limits, edges included."""

from math import inf, nan, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.operation.hazards import grade, grade_dc, highest_touch_rpm, open_circuit_volts
from statorbook.quantities import facts as constants
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("operation")

MACHINE = Winding(
    stator=Stator(slots=36, poles=48),
    coil=CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3),
    grouping=Grouping(series=2, parallel=6),
)


@pytest.mark.outside(
    "edges of extra-low and of low voltage",
    source="IEC glossary, extra-low voltage and low voltage, std.iec.ch/terms",
    number="50 V AC, 1000 V AC, inclusive",
    tolerance="none",
    seen="read",
)
@pytest.mark.outside(
    "AC without basic protection, wet and dry",
    source="IEC 60364-4-41, 414.4.5",
    number="12 V AC, 25 V AC",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    ("line_volts_rms", "level", "word"),
    [
        (0.0, 0, "touchable even wet"),
        (12.0, 0, "touchable even wet"),
        (12.0001, 1, "touchable only dry"),
        (25.0, 1, "touchable only dry"),
        (25.0001, 2, "cover all live parts"),
        (50.0, 2, "cover all live parts"),
        (50.0001, 3, "can kill"),
        (1000.0, 3, "can kill"),
        (1000.0001, 4, "beyond low voltage"),
    ],
)
def test_published_limits_are_inclusive(line_volts_rms, level, word):
    found = grade(line_volts_rms)
    assert (found.level, found.word) == (level, word)
    assert found.dc_volts_peak == pytest.approx(sqrt(2) * line_volts_rms)


# A 24 V bank charges at 29 V, a 48 V bank at 58 V.
@pytest.mark.outside(
    "edges of extra-low and of low direct voltage",
    source="IEC glossary, extra-low voltage and low voltage, std.iec.ch/terms",
    number="120 V DC, 1500 V DC, inclusive",
    tolerance="none",
    seen="read",
)
@pytest.mark.outside(
    "DC without basic protection, wet and dry",
    source="IEC 60364-4-41, 414.4.5",
    number="30 V DC, 60 V DC",
    tolerance="none",
    seen="in a reproduction",
)
def test_published_direct_voltage_limits():
    assert (constants.WET_DC_VOLTS.value, constants.DRY_DC_VOLTS.value, constants.ELV_DC_VOLTS.value) == (
        30.0,
        60.0,
        120.0,
    )
    assert 29.0 <= constants.WET_DC_VOLTS.value < 58.0 <= constants.DRY_DC_VOLTS.value
    assert (constants.LV_AC_VOLTS.value, constants.LV_DC_VOLTS.value) == (1000.0, 1500.0)


# Ours asks for covers well before it.
@pytest.mark.outside(
    "volts from which live parts are guarded at work",
    source="US OSHA 29 CFR 1910.303(g)(2)(i), letter of 4 September 2015",
    number="50 V, AC or DC",
    tolerance="none",
    seen="read",
)
def test_whatever_osha_wants_guarded_is_covered_here():
    assert grade(50.0).level >= 2
    assert grade(50.0 / sqrt(2)).level >= 2


@pytest.mark.parametrize(
    ("line_volts_rms", "sentence"),
    [
        (10.0, wording("10 V AC line rms")),
        (20.0, wording("20 V AC line rms")),
        (40.0, wording("40 V AC line rms")),
        (400.0, wording("400 V AC line rms")),
        (2000.0, wording("2000 V AC line rms")),
    ],
)
def test_the_grade_in_a_sentence(line_volts_rms, sentence):
    assert grade(line_volts_rms).sentence == sentence


@pytest.mark.parametrize(
    ("device_max_volts", "destroyed"), [(None, False), (57.0, False), (sqrt(2) * 40.0, False), (56.0, True)]
)
def test_a_device_that_would_be_destroyed_is_named(device_max_volts, destroyed):
    found = grade(40.0, device_max_volts=device_max_volts)
    said = wording("A device that stands 56")
    assert found.device_exceeded == (said if destroyed else "")
    assert found.sentence.endswith(said if destroyed else "turn.")


# 10, 40 and 400 V AC line rms: nothing, covers, and a closed box between them and hands.
@pytest.mark.parametrize(
    "line_volts_rms, covered, closed_in",
    [(10.0, False, False), (25.0, False, False), (40.0, True, False), (400.0, False, True)],
)
def test_what_must_stand_between_volts_and_hands(line_volts_rms, covered, closed_in):
    plain = grade(line_volts_rms).guard
    assert ("live parts covered" in plain, "closed in and earthed" in plain) == (covered, closed_in)
    assert (plain == "") == (not covered and not closed_in) and " and " not in plain.replace("in and earthed", "")
    peak = sqrt(2.0) * line_volts_rms
    assert grade(line_volts_rms, device_max_volts=1.01 * peak).guard == plain
    for device, at_once in (("device", False), ("converter", True)):
        broken = grade(line_volts_rms, device_max_volts=5.0, device=device).guard
        assert broken.startswith("an over-voltage load at the rectifier") and "below 5 V DC" in broken
        assert ("within milliseconds" in broken) == at_once and broken.endswith(plain)
        assert broken.removesuffix(plain).endswith(" and ") == bool(plain)


@pytest.mark.outside(
    "peak behind a bridge of 400 V mean",
    source="Bimbhra, Power Electronics, example 3.19, p. 115",
    number="418.88 V",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "peak behind a bridge on 120 V phases",
    source="Rashid, Power Electronics, 4th ed., example 3.9",
    number="294 V",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("line_volts_rms", "expected_peak_volts"), [(400 / 1.350474, 418.88), (120 * sqrt(3), 294.0)])
def test_published_peak_after_the_bridge(line_volts_rms, expected_peak_volts):
    assert grade(line_volts_rms).dc_volts_peak == pytest.approx(expected_peak_volts, rel=1e-3)


@given(st.floats(0.0, 3000.0), st.floats(0.0, 3000.0))
def test_more_volts_are_never_graded_lower(one, other):
    low, high = sorted((one, other))
    assert grade(low).level <= grade(high).level


def test_open_circuit_volts_of_a_machine():
    # 2 coils of 0.023 V/rpm in series, star: √3 × 0.046 × 900 rpm = 71.7 V line rms, 101.4 V peak, by hand.
    line, peak = open_circuit_volts(MACHINE, 900.0, 20.0)
    assert (line, peak) == pytest.approx((71.706, 101.408), rel=1e-4)
    # Cold ferrite is 0.2 %/K stronger, common practice, no source.
    assert open_circuit_volts(MACHINE, 900.0, 0.0)[0] == pytest.approx(71.706 * 1.04, rel=1e-4)
    lines, peaks = open_circuit_volts(MACHINE, np.array([450.0, 900.0]), 20.0)
    assert lines == pytest.approx([line / 2, line])
    assert peaks == pytest.approx([peak / 2, peak])


@pytest.mark.parametrize("line_volts_rms", [-0.1, nan, inf])
def test_impossible_volts_are_refused(line_volts_rms):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"open-circuit line volts: {line_volts_rms} V rms was given; a number at least 0 V rms "
            "is allowed; measure or type the open-circuit line volts again."
        ),
    ):
        grade(line_volts_rms)


@pytest.mark.parametrize("device_max_volts", [nan, -60.0, 0.0, "60 V"])
def test_an_impossible_device_limit_is_refused(device_max_volts):
    # A limit that cannot be compared must not pass as "nothing is exceeded".
    with pytest.raises(BadInput, match=r"^[^:]*device[^:]*: "):
        grade(400.0, device_max_volts=device_max_volts)


@pytest.mark.parametrize(
    ("dc_volts", "level", "word"),
    [
        # IEC 60364-4-41 reg. 414.4.5 (from memory): 30 V DC wet, 60 V DC dry; ELV ends at 120 V DC.
        (29.0, 0, "touchable even wet"),
        (30.0, 0, "touchable even wet"),
        (58.0, 1, "touchable only dry"),
        (60.0, 1, "touchable only dry"),
        (61.0, 2, "cover all live parts"),
        (120.0, 2, "cover all live parts"),
        (121.0, 3, "can kill"),
    ],
)
def test_the_volts_of_a_bank_are_graded_by_the_dc_limits(dc_volts, level, word):
    hazard = grade_dc(dc_volts)
    assert (hazard.level, hazard.word, hazard.line_volts_rms) == (level, word, 0.0)


# 40 V at 100 rpm pass 25 V at 62.5 rpm.
@pytest.mark.outside(
    "touch limits at a turning speed",
    source="IEC 60364-4-41, 414.4.5",
    number="25 V AC where dry, 12 V AC elsewhere",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    "per_rpm, limit, rpm",
    [
        (0.4, constants.DRY_AC_VOLTS, 62.0),
        (0.4, constants.WET_AC_VOLTS, 30.0),
        (0.01, constants.DRY_AC_VOLTS, 2500.0),
        (2.0, constants.DRY_AC_VOLTS, 12.0),
        (0.0, constants.DRY_AC_VOLTS, inf),
    ],
)
def test_the_highest_speed_keeps_open_ends_within_the_touch_limit(per_rpm, limit, rpm):
    assert highest_touch_rpm(per_rpm, limit) == rpm


@given(st.floats(1e-4, 50.0))
def test_the_highest_speed_is_never_rounded_up(per_rpm):
    rpm = highest_touch_rpm(per_rpm)
    assert 22.0 < rpm * per_rpm <= 25.0 * (1.0 + 1e-9)


@pytest.mark.parametrize("bad", [nan, -1.0])
def test_the_highest_speed_needs_volts(bad):
    with pytest.raises(BadInput, match="volts for each rpm"):
        highest_touch_rpm(bad)
