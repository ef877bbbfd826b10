"""Waveforms of the bridge: against the integrated result, against Kirchhoff's laws, and against textbook intervals."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.bridge.rectifier import bridge
from statorbook.bridge.waveforms import bridge_waveforms
from statorbook.errors import BadInput
from strategies import bridges

wording = sentences_of("bridge")

# One for each way of conducting, with and without resistance on the DC side: u, ωL/R, DC-side over phase resistance.
CASES = [(0.95, 1.0, 0.0), (0.9, 0.05, 0.3), (0.8, 0.01, 0.0), (0.5, 0.5, 0.0), (0.5, 10.0, 0.1), (0.7, 30.0, 0.5)]
DROP = 0.9


def machine(u, q, dc_share=0.0, emf=100.0, ohm=1.5):
    return {
        "emf_peak_v": emf,
        "resistance_ohm": ohm,
        "reactance_ohm": q * ohm,
        "dc_volts": u * 3.0**0.5 * emf - 2.0 * DROP,
        "diode_drop_v": DROP,
        "dc_resistance_ohm": dc_share * ohm,
    }


def conducting(waves):
    """Signs at each angle, taken from the intervals; angles on a switching are left out."""
    signs, clear = np.zeros((len(waves.angle_deg), 3)), np.zeros(len(waves.angle_deg), bool)
    for each in waves.intervals:
        inside = (waves.angle_deg > each.start_deg + 1e-6) & (waves.angle_deg < each.end_deg - 1e-6)
        signs[inside], clear = each.signs, clear | inside
    return signs, clear


@pytest.mark.parametrize("case", CASES)
def test_mean_and_rms_are_those_of_the_bridge(case):
    waves, whole = bridge_waveforms(**machine(*case), points=7201), bridge(**machine(*case), method="exact")
    assert np.trapezoid(waves.dc_amps, waves.angle_deg) / 360.0 == pytest.approx(whole.dc_amps, rel=1e-5)
    rms = np.sqrt(np.trapezoid(waves.phase_amps**2, waves.angle_deg, axis=0) / 360.0)
    assert rms == pytest.approx(np.full(3, whole.phase_amps_rms), rel=1e-5)


@given(bridges(most_ratio=1.2))
def test_kirchhoff_holds_at_every_moment(given_bridge):
    waves = bridge_waveforms(**given_bridge, points=121)
    scale = given_bridge["emf_peak_v"] / np.hypot(given_bridge["resistance_ohm"], given_bridge["reactance_ohm"])
    assert np.abs(waves.phase_amps.sum(axis=1)).max() <= 1e-9 * scale
    assert np.abs(waves.line_volts.sum(axis=1)).max() <= 1e-9 * given_bridge["emf_peak_v"]
    assert waves.dc_amps.min() >= -1e-9 * scale


@pytest.mark.parametrize("case", CASES)
def test_between_two_conducting_leads_stand_the_volts_of_the_dc_side(case):
    waves, given_bridge = bridge_waveforms(**machine(*case)), machine(*case)
    signs, clear = conducting(waves)
    outside = given_bridge["dc_volts"] + 2.0 * DROP + given_bridge["dc_resistance_ohm"] * waves.dc_amps
    for pair in range(3):
        both = clear & (signs[:, pair] * signs[:, (pair + 1) % 3] != 0)
        expected = 0.5 * (signs[:, pair] - signs[:, (pair + 1) % 3]) * outside
        assert waves.line_volts[both, pair] == pytest.approx(expected[both], abs=1e-8)
    assert (np.abs(waves.line_volts) <= outside[:, None] + 1e-6).all()


@pytest.mark.parametrize("case", CASES)
def test_currents_flow_the_way_the_diodes_let_them(case):
    waves = bridge_waveforms(**machine(*case))
    signs, clear = conducting(waves)
    assert (waves.phase_amps[clear] * signs[clear] >= -1e-9).all()
    assert np.abs(waves.phase_amps[clear][signs[clear] == 0]).max(initial=0.0) <= 1e-9
    plus = np.maximum(waves.phase_amps, 0.0).sum(axis=1)
    assert waves.dc_amps[clear] == pytest.approx(plus[clear], abs=1e-9)


@pytest.mark.parametrize("case", CASES)
def test_the_period_is_six_equal_parts(case):
    waves = bridge_waveforms(**machine(*case), points=361)
    after_sixty = np.arange(0, 300) + 60
    for later, earlier in zip(range(3), (1, 2, 0), strict=True):
        assert waves.phase_amps[after_sixty, later] == pytest.approx(-waves.phase_amps[:300, earlier], abs=1e-9)
    assert waves.dc_amps[after_sixty] == pytest.approx(waves.dc_amps[:300], abs=1e-9)
    assert waves.phase_amps[0] == pytest.approx(waves.phase_amps[-1], abs=1e-9)


@pytest.mark.parametrize("case", CASES)
def test_no_current_jumps(case):
    coarse, fine = (bridge_waveforms(**machine(*case), points=n).phase_amps for n in (3601, 36001))
    jumps = [np.abs(np.diff(amps, axis=0)).max() for amps in (coarse, fine)]
    assert jumps[1] < 0.15 * jumps[0]


@given(bridges(most_ratio=1.1))
def test_intervals_fill_the_period(given_bridge):
    intervals = bridge_waveforms(**given_bridge, points=13).intervals
    assert intervals[0].start_deg == 0.0 and intervals[-1].end_deg == 360.0
    for before, after in zip(intervals, intervals[1:], strict=False):
        assert before.end_deg == after.start_deg and before.signs != after.signs
    assert all(sum(map(abs, each.signs)) != 1 for each in intervals)


@given(bridges(least_ratio=1.0, most_ratio=3.0))
def test_nothing_flows_into_a_bank_above_the_peak(given_bridge):
    given_bridge["dc_volts"] = 3.0**0.5 * given_bridge["emf_peak_v"] * 1.0001
    waves = bridge_waveforms(**given_bridge)
    assert not waves.phase_amps.any() and not waves.dc_amps.any() and waves.conduction == "no current"
    assert waves.line_volts == pytest.approx(waves.line_emf_volts)
    assert [(each.signs, each.diodes) for each in waves.intervals] == [((0, 0, 0), "")]


@pytest.mark.parametrize(
    "u, q, words",
    [
        (1.5, 1.0, "no current"),
        (0.97, 0.02, "pulses with gaps"),
        (0.97, 50.0, "pulses with gaps"),
        # Lossless source: three diodes all the time while V ≤ 1.2926 E, u = 0.7463; by hand from sin δ = V/3E and
        # cos δ = 2πV/9E. The same bridge: Pejović and Kolar, IEEE Trans. CAS-II 55(8) 2008 (content not seen).
        (0.745, 5000.0, "always three diodes"),
        (0.748, 5000.0, "two and three diodes by turns"),
        # Resistive source: below V = 1.5 E, u = 0.8660, the third lead joins in; above it a gap opens between pulses.
        (0.86, 1e-4, "two and three diodes by turns"),
        (0.87, 1e-4, "pulses with gaps"),
    ],
)
def test_conduction_has_a_name(u, q, words):
    assert bridge_waveforms(**machine(u, q)).conduction == words


@pytest.mark.outside(
    "half-angle of a rectifier charging a battery",
    source="Rashid, Power Electronics, 4th ed., ch. 3, cos = V / peak",
    number="acos 0.95 = 18.19°",
    tolerance="0.02°",
    seen="from memory",
)
def test_a_resistive_source_conducts_where_the_line_volts_exceed_the_bank():
    half = np.degrees(np.arccos(0.95))
    pulses = [each for each in bridge_waveforms(**machine(0.95, 1e-4)).intervals if any(each.signs)]
    ab = next(each for each in pulses if each.diodes == "A+ B−")
    # Line volts AB lead phase A by 30° and peak at 60°.
    assert (ab.start_deg, ab.end_deg) == pytest.approx((60.0 - half, 60.0 + half), abs=0.02)


@pytest.mark.outside(
    "amps of R and X in series, and their lag",
    source="Bird, Electrical Circuit Theory and Technology, ch. 24",
    number="20 A, atan(4/3) for 100 V, 3 Ω, 4 Ω",
    tolerance="1e-8",
    seen="from memory",
)
def test_a_shorted_source_carries_sinusoids():
    waves = bridge_waveforms(100.0, 3.0, 4.0, 0.0, diode_drop_v=0.0)
    assert waves.angle_deg == pytest.approx(np.linspace(0.0, 360.0, 361))
    lag = np.arctan2(4.0, 3.0)
    expected = 20.0 * np.sin(np.radians(waves.angle_deg)[:, None] - lag - 2.0 * np.pi / 3.0 * np.arange(3))
    assert waves.phase_amps == pytest.approx(expected, abs=1e-8)
    assert waves.line_volts == pytest.approx(np.zeros_like(expected), abs=1e-7)


# By hand: with ωL = √3 R the amps lag by 60°, so that one lead or another switches just at 0°, where the period is cut.
def test_a_switching_at_the_start_of_the_period_leaves_no_scrap():
    waves = bridge_waveforms(100.0, 1.0, 3.0**0.5, 0.0, diode_drop_v=0.0)
    assert [(each.start_deg, each.end_deg) for each in waves.intervals] == [
        pytest.approx((60.0 * n, 60.0 * (n + 1)), abs=1e-6) for n in range(6)
    ]
    assert [each.diodes for each in waves.intervals[:2]] == ["A− B− C+", "A+ B− C+"]
    expected = 50.0 * np.sin(np.radians(waves.angle_deg)[:, None] - np.pi / 3.0 * np.array([1.0, 3.0, 5.0]))
    assert waves.phase_amps == pytest.approx(expected, abs=1e-5)


@pytest.mark.outside(
    "volts lost by commutation, 208 V, 0.5 mH, 60 A",
    source="Rashid, Power Electronics, 4th ed., example 3.16",
    number="10.8 V of 280.9 V",
    tolerance="3 %, a resistor holds the current",
    seen="in a reproduction",
)
def test_commutation_takes_angle_and_volts():
    # cos μ = 1 − 2 ωL I / line peak; the current ripples a little and μ follows its end.
    peak, reactance, dc_ohm = 2.0**0.5 * 208.0, 2.0 * np.pi * 60.0 * 0.5e-3, 270.1 / 60.0
    waves = bridge_waveforms(
        peak / 3.0**0.5, 1e-4, reactance, 0.0, diode_drop_v=0.0, dc_resistance_ohm=dc_ohm, points=3601
    )
    mean_amps = np.trapezoid(waves.dc_amps, waves.angle_deg) / 360.0
    assert 280.9 - dc_ohm * mean_amps == pytest.approx(10.8, rel=0.03)
    overlap = [each for each in waves.intervals if sum(map(abs, each.signs)) == 3][1]
    amps = np.interp(overlap.end_deg, waves.angle_deg, waves.dc_amps)
    expected = np.degrees(np.arccos(1.0 - 2.0 * reactance * amps / peak))
    assert overlap.end_deg - overlap.start_deg == pytest.approx(expected, rel=0.03)


@given(st.sampled_from(CASES))
def test_diodes_are_named_by_lead_and_rail(case):
    names = {each.diodes for each in bridge_waveforms(**machine(*case)).intervals}
    assert names <= {
        "",
        *(f"{x}+ {y}−" if x < y else f"{y}− {x}+" for x in "ABC" for y in "ABC" if x != y),
        "A+ B+ C−",
        "A+ B− C+",
        "A− B+ C+",
        "A+ B− C−",
        "A− B+ C−",
        "A− B− C+",
    }


def test_one_bridge_at_a_time():
    with pytest.raises(BadInput, match=exactly(wording("several values were given; one"))):
        bridge_waveforms(**machine(0.5, 1.0) | {"emf_peak_v": np.array([100.0, 200.0])})


@pytest.mark.parametrize(
    "change, words",
    [
        ({"resistance_ohm": 0.0}, "phase resistance: 0 Ω was given"),
        ({"dc_resistance_ohm": -1.0}, "DC-side resistance: a value below 0"),
        ({"points": 3}, "points: 3 was given"),
        ({"points": 100_002}, "points: 100"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change, words):
    with pytest.raises(BadInput, match=words):
        bridge_waveforms(**machine(0.5, 1.0) | change)
