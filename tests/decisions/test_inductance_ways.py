"""The inductance from an LCR meter, from one loaded reading, and from all ways together."""

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judges.ode_bridge import settled_bridge
from sentences import exactly
from statorbook.constants import DIODE_DROP_V
from statorbook.errors import BadInput
from statorbook.estimate import Estimate
from statorbook.inductance_ways import combined, from_lcr, from_load
from statorbook.stator import Stator

STATOR = Stator(slots=36, poles=48)
EMF = Estimate(value=0.23, plus_minus=0.0023, unit="V/rpm", how="made up")
OHM = Estimate(value=6.7, plus_minus=0.1, unit="Ω", how="made up")
HENRY = 0.037


def test_two_phases_lie_between_two_leads():
    found = from_lcr(0.074, rotor_on=True)
    assert found.value == pytest.approx(0.037) and found.plus_minus == pytest.approx(0.05 * 0.037)
    assert not found.assumed


def test_without_the_rotor_the_band_reaches_from_the_reading_to_twice_the_reading():
    found = from_lcr(0.04, rotor_on=False)
    assert found.assumed and found.low < 0.02 < 0.04 < found.high


@pytest.mark.parametrize("rpm, volts", [(120, 26.0), (300, 26.0), (500, 52.0)])
def test_a_loaded_reading_gives_back_the_inductance_that_made_it(rpm, volts):
    # The reading is made by integrating the differential equations (judges/ode_bridge.py), not by the library's solver.
    reactance = 2 * pi * 24 * rpm / 60 * HENRY
    amps = settled_bridge(sqrt(2) * 0.23 * rpm, 6.7, reactance, volts, DIODE_DROP_V.value)[0]
    found = from_load(STATOR, EMF, OHM, speed_rpm=rpm, dc_amps=float(amps), dc_volts=volts)
    assert found.value == pytest.approx(HENRY, rel=0.01) and found.low < HENRY < found.high


def test_its_plus_minus_is_wide_where_ohms_rule_and_narrow_where_henries_do():
    def share(rpm):
        reactance = 2 * pi * 24 * rpm / 60 * HENRY
        amps = settled_bridge(sqrt(2) * 0.23 * rpm, 6.7, reactance, 12.0, DIODE_DROP_V.value)[0]
        found = from_load(STATOR, EMF, OHM, speed_rpm=rpm, dc_amps=float(amps), dc_volts=12.0)
        return found.plus_minus / found.value

    assert share(400) < 0.05 < share(70)


def test_a_current_that_cannot_be_is_refused():
    with pytest.raises(BadInput, match=exactly(
            "loaded reading: 40 A at 300 rpm into 26 V was given; no more than EMF and ohms alone can drive is "
            "allowed; check speed, amps and volts, and that the winding is joined as the stator facts say.")):
        from_load(STATOR, EMF, OHM, speed_rpm=300, dc_amps=40, dc_volts=26)
    with pytest.raises(BadInput, match="a current that the inductance still lets through is allowed"):
        from_load(STATOR, EMF, OHM, speed_rpm=300, dc_amps=0.001, dc_volts=26)


def estimate(value, plus_minus):
    return Estimate(value=value, plus_minus=plus_minus, unit="H", how="made up")


def test_the_weighted_mean_by_hand():
    # (10/1² + 13/2²) / (1 + 1/4) = 13.25/1.25 = 10.6; u = √(1/1.25) = 0.894; χ² with sigmas of ±/1.96:
    # (0.36 + 5.76/4) × 1.96² = 6.9 over 1 degree: widened by 2.63 to 2.35.
    found, apart = combined({"one": estimate(10.0, 1.0), "other": estimate(13.0, 2.0)})
    assert found.value == pytest.approx(10.6) and found.plus_minus == pytest.approx(0.8944 * 2.630, rel=1e-3)
    assert apart == ("other",) and found.how == "weighted mean of one, other"


def test_one_way_alone_stays_what_it_is():
    assert combined({"one": estimate(10.0, 1.0)}) == (estimate(10.0, 1.0), ())
    with pytest.raises(BadInput, match="no estimate was given"):
        combined({})


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(0.5, 2.0), st.floats(0.01, 0.5)), min_size=1, max_size=5))
def test_together_they_lie_between_and_agreeing_ones_are_surer(pairs):
    found, _ = combined({str(n): estimate(value, pm) for n, (value, pm) in enumerate(pairs)})
    values = [value for value, _ in pairs]
    assert min(values) - 1e-9 <= found.value <= max(values) + 1e-9
    if max(values) == min(values):
        assert found.plus_minus <= min(pm for _, pm in pairs) + 1e-12
