"""A drive whose speed does not give way."""

from math import inf, isnan, nan

import numpy as np
import pytest

from sentences import exactly, sentences_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput

wording = sentences_of("drives")


@pytest.mark.outside(
    "unloaded speed over best speed of a micro-hydro runner",
    source="Int. J. Rotating Machinery 2017, 3030217, table 5",
    number="1.8, 650 to 1170 rpm",
    tolerance="1e-6",
    seen="read",
)
def test_speed_and_runaway():
    drive = KnownSpeed(working_rpm=650)
    assert drive.best_speed_rpm == 650.0
    assert drive.runaway_speed_rpm == pytest.approx(1170.0)
    assert KnownSpeed(working_rpm=650, runaway_ratio=1).runaway_speed_rpm == 650.0


def test_torque_is_without_limit_up_to_the_speed_and_none_above():
    drive = KnownSpeed(working_rpm=500.0)
    assert [drive.torque_nm(n) for n in (0.0, 499.9, 500.0, 500.1, 900.0)] == [inf, inf, inf, 0.0, 0.0]
    assert isinstance(drive.torque_nm(100.0), float)
    assert drive.torque_nm(np.array([[400.0], [600.0]])).tolist() == [[inf], [0.0]]


def test_the_power_behind_the_shaft_is_unknown_and_the_limit_is_said():
    drive = KnownSpeed(working_rpm=500.0)
    assert isnan(drive.source_watts)
    assert drive.limits == wording("The speed is taken as")


@pytest.mark.parametrize("working_rpm", [0, -500, nan, inf, 20001])
def test_a_bad_speed_is_refused(working_rpm):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"working speed: {working_rpm} rpm was given; a number above 0 and at most 20000 rpm "
            "is allowed; measure or type the working speed again."
        ),
    ):
        KnownSpeed(working_rpm=working_rpm)


@pytest.mark.parametrize("runaway_ratio", [0.99, -1, 5.01, nan])
def test_a_bad_runaway_ratio_is_refused(runaway_ratio):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"runaway ratio: {runaway_ratio} was given; a number from 1 to 5 is allowed; "
            "measure or type the runaway ratio again."
        ),
    ):
        KnownSpeed(working_rpm=500, runaway_ratio=runaway_ratio)


def test_text_is_refused_by_name():
    with pytest.raises(BadInput, match=exactly(wording("working speed: 'fast' is not"))):
        KnownSpeed(working_rpm="fast")
