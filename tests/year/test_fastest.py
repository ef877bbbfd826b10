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


def test_a_two_hundredth_is_no_faster_and_half_an_hour_is_in_use():
    # A speed that is held is the speed that it runs away to: the words follow the ratio of two of them.
    page = KnownSpeed(working_rpm=1000.0)
    ratio = page.runaway_speed_rpm / 1000.0
    assert ratio == pytest.approx(KnownSpeed(working_rpm=500.0).runaway_speed_rpm / 500.0)
    for rpm, hours, told in ((1004.0, 100.0, False), (1006.0, 100.0, True), (1500.0, 0.5, True)):
        said = faster_words(page, year_of([page, KnownSpeed(working_rpm=rpm)], [4000.0, hours]))
        assert bool(said) is told and (f"runs away to {ratio * rpm:.0f} rpm" in said) is told
