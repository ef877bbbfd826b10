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
from statorbook.bridge import bridge
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


ON_RESISTORS = {"speed_rpm": 300.0, "resistor_ohm": 5.0, "joined": "star"}
ON_A_BANK = {"speed_rpm": 300.0, "dc_amps": 2.0, "dc_volts": 26.0}


def refused(way, *values, **read):
    """What a reading is refused for; nothing when it is taken."""
    try:
        way(*values, **read)
    except BadInput as complaint:
        return str(complaint)
    return ""


@pytest.mark.parametrize(
    "name, most, way, read",
    [
        ("speed_rpm", "20000 rpm", from_load, ON_A_BANK),
        ("dc_amps", "1000 A", from_load, ON_A_BANK),
        ("dc_volts", "1000 V", from_load, ON_A_BANK),
        ("speed_rpm", "20000 rpm", from_resistors, ON_RESISTORS | {"line_amps": 2.0}),
        ("resistor_ohm", "10000 Ω", from_resistors, ON_RESISTORS | {"line_amps": 2.0}),
        ("line_amps", "2000 A", from_resistors, ON_RESISTORS),
        ("line_volts", "2000 V", from_resistors, ON_RESISTORS),
    ],
)
def test_what_a_reading_may_be(name, most, way, read):
    value, unit = most.split()
    allowed = f"a number above 0 and at most {value} {unit} is allowed"
    for beyond in (0.0, 1.01 * float(value)):
        assert allowed in refused(way, STATOR, EMF, OHM, **read | {name: beyond})
    for within in (0.5, float(value)):
        assert allowed not in refused(way, STATOR, EMF, OHM, **read | {name: within})
    assert "at most 10 H" in refused(from_lcr, 10.5, rotor_on=True) and not refused(from_lcr, 10.0, rotor_on=True)


def test_two_phases_lie_between_two_leads():
    found = from_lcr(0.074, rotor_on=True)
    assert found.value == pytest.approx(0.037) and found.plus_minus == pytest.approx(0.05 * 0.037)
    assert not found.assumed


def test_without_the_rotor_the_band_reaches_from_the_reading_to_twice_the_reading():
    found = from_lcr(0.04, rotor_on=False)
    assert found.assumed and found.low < 0.02 < 0.04 < found.high
    # 1.5 times 20 mH is 30 mH, and so much that it reaches past 20 and 40 mH without reaching nothing.
    assert found.value == pytest.approx(0.03) and 0.01 < found.plus_minus < 0.02


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


def test_a_warm_winding_on_a_bank_counts():
    # Copper at 80 °C has 315/255 of its ohms: IEC 60034-1 (from memory).
    reading = {"speed_rpm": 300, "dc_volts": 26.0}
    reactance = 2 * pi * 24 * 300 / 60 * HENRY
    amps = float(settled_bridge(sqrt(2) * 0.23 * 300, 6.7 * 315 / 255, reactance, 26.0, DIODE_DROP_V.value)[0])
    found = from_load(STATOR, EMF, OHM, dc_amps=amps, copper_c=80.0, **reading)
    assert found.value == pytest.approx(HENRY, rel=0.01)


@pytest.mark.outside(
    "± of a value that depends on five readings",
    source="JCGM 100:2008 (GUM), 5.1.2, with the derivatives of an implicit function",
    number="∂L/∂x = −(∂I/∂x) / (∂I/∂L), 5 parts in quadrature",
    tolerance="3 %",
    seen="derived",
)
@pytest.mark.parametrize("of_emf, of_ohm", [(0.004, 0.5), (0.0, 0.0)])
def test_its_plus_minus_is_that_of_its_five_inputs(of_emf, of_ohm):
    emf, ohm = replace(EMF, plus_minus=of_emf), replace(OHM, plus_minus=of_ohm)
    found = from_load(STATOR, emf, ohm, speed_rpm=250.0, dc_amps=3.0, dc_volts=26.0, copper_c=60.0)
    at = {"emf": 0.23, "ohm": 6.7 * 295 / 255, "rpm": 250.0, "volts": 26.0, "henry": found.value}

    def amps(emf, ohm, rpm, volts, henry):
        reactance = 2 * pi * 24 * rpm / 60 * henry
        return bridge(
            sqrt(2) * emf * rpm, ohm, reactance, volts, diode_drop_v=DIODE_DROP_V.value, method="exact"
        ).dc_amps

    def per(name):  # by a share of it
        up, down = (amps(**at | {name: at[name] * (1 + sign * 1e-3)}) for sign in (1, -1))
        return (up - down) / 2e-3

    # Classes of 1 % and 2 %, speed of 1 %: as the meters are assumed.
    parts = [per("emf") * of_emf / 0.23, per("ohm") * of_ohm / 6.7, per("rpm") * 0.01, per("volts") * 0.01, 3.0 * 0.02]
    assert found.plus_minus / found.value == pytest.approx(np.hypot.reduce(parts) / -per("henry"), rel=0.03)


@pytest.mark.parametrize("copper_c", [20.0, 80.0])
def test_where_one_end_of_a_plus_minus_cannot_be_the_other_end_counts(copper_c):
    # Near the amps that EMF and ohms alone drive.
    warm = (235 + copper_c) / 255
    ohm = replace(OHM, plus_minus=0.67)
    most = 69.0 / (6.7 * warm + 5.0)
    read = {"speed_rpm": 300.0, "resistor_ohm": 5.0, "joined": "star", "copper_c": copper_c}
    found = from_resistors(STATOR, EMF, ohm, line_amps=0.999 * most, **read)

    def henry(amps, ohms, load=5.0, emf=69.0):
        return sqrt((emf / amps) ** 2 - (ohms + load) ** 2) / (2 * pi * 120)

    middle = henry(0.999 * most, 6.7 * warm)
    # Less of a kind than needed has no answer on one side: more amps, more ohms, larger resistors, less EMF.
    ends = (
        henry(0.98 * 0.999 * most, 6.7 * warm),
        henry(0.999 * most, 6.03 * warm),
        henry(0.999 * most, 6.7 * warm, 4.9),
        henry(0.999 * most, 6.7 * warm, emf=69.0 * 1.01),
        # A higher speed is more EMF and more reactance a henry.
        henry(0.999 * most, 6.7 * warm, emf=69.0 * 1.01) / 1.01,
    )
    assert found.plus_minus == pytest.approx(np.hypot.reduce([end - middle for end in ends]), rel=1e-3)


def test_one_of_the_readings_being_nothing_known_leaves_no_henries():
    # So wide a ± of the EMF that neither end can be: one drives no such amps, the other more than the search allows.
    wide = replace(EMF, plus_minus=0.22)
    reading = {"speed_rpm": 300, "dc_amps": 0.9, "dc_volts": 26.0}
    found = from_load(STATOR, wide, OHM, **reading)
    assert found.plus_minus > from_load(STATOR, EMF, OHM, **reading).plus_minus


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


@pytest.mark.outside(
    "by how much disagreement widens the error of a weighted mean",
    source="Birge, Phys. Rev. 40, 207 (1932)",
    number="√(χ² / (n − 1)), three values",
    tolerance="1e-6",
    seen="from memory",
)
def test_three_ways_that_disagree_widen_the_mean():
    # 10, 12, 14, each ± 1 (one sigma 1/1.96): mean 12, χ² = 8 × 1.96² over 2, widened by √4 × 1.96; ± 1/√3.
    found, _ = combined({name: estimate(value, 1.0) for name, value in (("a", 10.0), ("b", 12.0), ("c", 14.0))})
    assert found.value == pytest.approx(12.0) and found.plus_minus == pytest.approx(2 * 1.96 / sqrt(3))


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
