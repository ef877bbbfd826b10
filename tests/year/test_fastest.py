"""A year with a setting that runs away faster than the drive of page 03 says so."""

from dataclasses import replace

import pytest

from samples.machine_samples import JET
from samples.year_samples import year_of
from sentences import sentences_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.year.fastest import faster_words

wording = sentences_of("year_source")


def test_more_head_in_a_month_is_more_volts_with_the_bank_gone():
    # Jet and runaway speed go with the root of the head (Torricelli): 44 % more head, 20 % more speed.
    said = faster_words(JET, year_of([JET, replace(JET, head_m=1.44 * JET.head_m)], [4000.0, 100.0]))
    assert wording("expect 20% more volts") in said and wording("Type that setting on page") in said
    rpm = 1.2 * JET.runaway_speed_rpm
    assert f"runs away to {rpm:.0f} rpm, faster than the {JET.runaway_speed_rpm:.0f} rpm" in said


@pytest.mark.parametrize("hours", [[100.0, 0.0], [100.0]])
def test_nothing_is_said_where_no_setting_in_use_is_faster(hours):
    speeds = [KnownSpeed(working_rpm=rpm) for rpm in (400.0, 900.0)][: len(hours)]
    assert faster_words(speeds[0], year_of(speeds, hours)) == ""
