"""What becomes of a converter when nothing holds the rotor."""

from dataclasses import replace
from math import sqrt

import pytest

from samples.machine_samples import JET, windings
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.converter import Converter
from statorbook.operation.survival import DESTROYED, GUARDED, SAFE, survival

FURLED = WindRotor(rotor_diameter_m=3.0, wind_m_s=6.0, furls_from_m_s=8.0)
STAR = windings()[2]
CONVERTER = Converter(low_volts=30.0, high_volts=100.0, survives_dc_volts=150.0)


def volts(speed_rpm):
    return sqrt(2.0) * STAR.line_volts_rms(speed_rpm, 0.0)


def at(drive, survives):
    return survival(STAR, drive, replace(CONVERTER, survives_dc_volts=survives), 0.0)


def test_the_volts_are_those_of_cold_magnets_at_both_runaway_speeds():
    found = at(FURLED, 150.0)
    assert found.dc_volts_peak == pytest.approx(volts(FURLED.runaway_speed_rpm))
    assert found.unguarded_dc_volts_peak == pytest.approx(volts(FURLED.unguarded_runaway_speed_rpm))


def test_a_guard_that_can_fail_is_no_reason_to_call_it_safe():
    gone, bare = volts(FURLED.runaway_speed_rpm), volts(FURLED.unguarded_runaway_speed_rpm)
    assert at(FURLED, 1.2 * bare).outcome == SAFE
    assert at(FURLED, 1.2 * gone).outcome == GUARDED
    assert at(FURLED, 100.0).outcome == DESTROYED
    for survives in (1.2 * gone, 100.0):
        assert "over-voltage load at the rectifier" in at(FURLED, survives).sentence
    assert FURLED.guard_words in at(FURLED, 1.2 * gone).sentence


@pytest.mark.parametrize("share, outcome", [(0.89, SAFE), (0.92, DESTROYED), (1.01, DESTROYED)])
def test_nearly_too_many_volts_count_as_too_many(share, outcome):
    found = at(JET, volts(JET.runaway_speed_rpm) / share)
    assert found.outcome == outcome
    assert ("which destroys" in found.sentence) == (share > 1.0)
    assert ("too near" in found.sentence) == (outcome == DESTROYED and share < 1.0)
