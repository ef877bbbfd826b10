"""The speed of a row, and what is said when its rpm and Hz do not belong together."""

import pytest

from samples.made_up_logs import spin_row
from sentences import sentences_of
from statorbook.bench.spin import read_spin
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)


def spin(changes=(), **cells):
    changes = dict(changes) | cells
    return read_spin([spin_row(120, 48.1) | changes, spin_row(200, 80.2), spin_row(300, 120.4)], STATOR)[0]


@pytest.mark.outside(
    "electrical frequency of a rotor with 24 pairs of poles",
    source="f = p n / 60, definition of electrical frequency",
    number="200 Hz at 500 rpm",
    tolerance="exact",
    seen="derived",
)
@pytest.mark.parametrize(
    "cells",
    [dict(speed_rpm="500"), dict(speed_rpm="", electrical_hz="200"), dict(speed_rpm="500", electrical_hz="200,5")],
)
def test_speed_from_rpm_or_from_hz(cells):
    reading = spin(cells)
    assert reading.usable and reading.speed_rpm == pytest.approx(500) and reading.warnings == ()


# f = p n / 60: 42 poles turn 120 rpm into 42 Hz, 48 poles into 48 Hz.
@pytest.mark.parametrize(
    "hz, words",
    [
        ("42", wording("makes 48 Hz but 42")),
        ("56", "56 poles would agree"),
        # the wave counted twice, or every second one missed
        ("96", wording("makes 48 Hz but 96")),
        ("24", "that is half the count"),
        pytest.param(
            "36",
            "no likely pole count for 36 slots would agree",
            marks=pytest.mark.outside(
                "slots and poles that cannot be balanced",
                source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. EPA 153(3) 2006",
                number="36 / (3 gcd(36, 18)) is not whole",
                tolerance="exact",
                seen="from memory",
            ),
        ),
        ("3000", "no likely pole count"),
    ],
)
def test_rpm_and_hz_that_disagree_name_the_pole_count_that_would_agree(hz, words):
    reading = spin(electrical_hz=hz)
    assert reading.usable and reading.speed_rpm == 120 and words in reading.warnings[0]
    assert reading.warnings[0].startswith(wording("spin log, row 1: 120"))


def test_three_percent_between_rpm_and_hz_pass():
    assert spin(electrical_hz="49.3").warnings == ()
    assert spin(electrical_hz="49.6").warnings != ()


def test_rpm_and_hz_exchanged_are_recognised():
    assert "they look exchanged" in spin(speed_rpm="48", electrical_hz="120").warnings[0]
