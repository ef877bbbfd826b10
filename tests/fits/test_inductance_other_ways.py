"""The inductance from an LCR meter, from one loaded reading, and from all ways together."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from judges.ode_bridge import settled_bridge
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.fits.inductance_other_ways import combined, from_lcr, from_load, from_resistors
from statorbook.quantities.estimate import Estimate
from statorbook.quantities.facts import DIODE_DROP_V
from statorbook.winding.stator import Stator

wording = sentences_of("fits")

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


@pytest.mark.outside(
    "amps of a machine on a bridge and a bank, three cases",
    source="differential equations of six diodes integrated with scipy's solve_ivp",
    number="37 mH given back at 120, 300, 500 rpm",
    tolerance="1 %",
    seen="derived",
)
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
    with pytest.raises(BadInput, match=exactly(wording("loaded reading: 40 A at"))):
        from_load(STATOR, EMF, OHM, speed_rpm=300, dc_amps=40, dc_volts=26)
    with pytest.raises(BadInput, match=wording("a current that the inductance")):
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


def on_resistors(rpm, resistor, joined):
    """Line amps and volts, rms, by phasors: meshes of source, winding and resistors as complex numbers."""
    turn = np.exp(-2j * pi / 3)
    sources = 0.23 * rpm * np.array([1, turn, turn**2])
    inner = 6.7 + 1j * 2 * pi * 24 * rpm / 60 * HENRY
    if joined == "star":
        # The star points float; by symmetry both lie at the same potential, so each phase is a loop of its own.
        amps = sources / (inner + resistor)
        return abs(amps[0]), abs(amps[0] - amps[1]) * resistor
    # Currents j of the three resistors between A-B, B-C, C-A; lead A carries j_AB - j_CA, and so on round.
    lead = np.array([[1, 0, -1], [-1, 1, 0], [0, -1, 1]])
    drops = resistor * np.eye(3) + inner * lead.T @ lead
    across = np.linalg.solve(drops, sources @ lead)
    return abs((lead @ across)[0]), abs(across[0]) * resistor


@pytest.mark.outside(
    "amps and volts on three resistors, star and delta",
    source="meshes of complex phasors, solved as a matrix",
    number="37 mH given back at 200 and 400 rpm",
    tolerance="1e-9",
    seen="derived",
)
@pytest.mark.parametrize("joined", ["star", "delta"])
@pytest.mark.parametrize("rpm, resistor", [(200, 5.0), (400, 20.0), (400, 3.0)])
def test_a_reading_on_resistors_gives_back_the_inductance_that_made_it(rpm, resistor, joined):
    amps, volts = on_resistors(rpm, resistor, joined)
    for read in ({"line_amps": amps}, {"line_volts": volts}):
        found = from_resistors(STATOR, EMF, OHM, speed_rpm=rpm, resistor_ohm=resistor, joined=joined, **read)
        assert found.value == pytest.approx(HENRY, rel=1e-9) and found.plus_minus > 0 and not found.assumed


def test_small_resistors_tell_more_than_big_ones():
    def share(resistor):
        amps, _ = on_resistors(300, resistor, "star")
        found = from_resistors(STATOR, EMF, OHM, speed_rpm=300, resistor_ohm=resistor, joined="star", line_amps=amps)
        return found.plus_minus / found.value

    assert share(2.0) < share(10.0) < share(40.0)


@pytest.mark.outside(
    "copper at 80 °C against 20 °C",
    source="IEC 60034-1, resistance method, 235 for copper",
    number="(235 + 80) / (235 + 20)",
    tolerance="0.01 %",
    seen="from memory",
)
def test_a_warm_winding_counts():
    # 6.7 Ω become 8.276 Ω. ωL = √((69/I)² − (8.276 + 5)²), 69 V at 300 rpm.
    found = from_resistors(STATOR, EMF, OHM, speed_rpm=300, resistor_ohm=5, joined="star", line_amps=2.0, copper_c=80)
    assert found.value == pytest.approx(sqrt(34.5**2 - 13.276**2) / (2 * pi * 120), rel=1e-4)


@pytest.mark.parametrize(
    "given, words",
    [
        ({"joined": "star", "line_amps": 9.0}, wording("reading on resistors: 9 A")),
        ({"joined": "delta", "line_volts": 90.0}, wording("reading on resistors: 90 V")),
        ({"joined": "star"}, wording("reading on resistors: neither or")),
        ({"joined": "ring", "line_amps": 2.0}, wording("reading on resistors: 'ring' was")),
    ],
)
def test_a_reading_on_resistors_that_cannot_be_is_refused(given, words):
    with pytest.raises(BadInput, match=exactly(words)):
        from_resistors(STATOR, EMF, OHM, speed_rpm=300, resistor_ohm=5, **given)


def test_its_plus_minus_holds_the_truth_as_often_as_it_says():
    """500 readings, every input off by its own error, one sigma a 1.96th of its ±."""
    rng, hits = np.random.default_rng(11), 0
    for _ in range(500):
        rpm, resistor, joined = rng.uniform(150, 450), rng.uniform(2, 15), rng.choice(["star", "delta"])
        amps, _ = on_resistors(rpm, resistor, joined)
        off = 1 + rng.normal(0, np.array([0.02, 0.02, 0.01, 0.01, 0.1 / 6.7]) / 1.96)
        emf, ohm = replace(EMF, value=0.23 * off[3]), replace(OHM, value=6.7 * off[4])
        found = from_resistors(
            STATOR,
            emf,
            ohm,
            speed_rpm=rpm * off[2],
            resistor_ohm=resistor * off[1],
            joined=joined,
            line_amps=amps * off[0],
        )
        hits += found.low <= HENRY <= found.high
    least, most = stats.binom.interval(0.999, 500, 0.95)
    assert least <= hits <= most, hits
