"""Average, rms and peak of one diode: against a circuit simulator, textbooks, and the two ends of conduction."""

import numpy as np
import pytest
from hypothesis import given, settings

from judges import ngspice_bridge
from statorbook.bridge.diode_amps import DiodeAmps, diode_amps
from statorbook.bridge.rectifier import bridge
from statorbook.bridge.waveforms import Waveforms, bridge_waveforms
from strategies import bridges


def of_one_diode(*machine, points=721, **sides):
    return diode_amps(bridge_waveforms(*machine, points=points, **sides))


def of_case(case):
    share = 3.0 if case["connection"] == "delta" else 1.0  # the simulator was given the delta itself
    return of_one_diode(
        case["emf_peak_v"] / share**0.5,
        case["ohm"] / share + case["diode_slope_ohm"],
        2.0 * np.pi * case["hz"] * case["henry"] / share,
        case["bank_volts"],
        diode_drop_v=case["diode_drop_v"],
        dc_resistance_ohm=case["dc_ohm"],
    )


def misses(cases, simulated):
    """Worst miss of the library against the simulator, over all cases."""
    found = [of_case(case) for case in cases]
    ours = np.array([[each.mean_amps, each.amps_rms, each.amps_peak] for each in found])
    theirs = [[case[name] for name in ("diode_mean_amps", "diode_amps_rms", "diode_amps_peak")] for case in simulated]
    return np.abs(ours / np.array(theirs) - 1.0).max()


@pytest.mark.outside(
    "mean, rms and peak amps of a diode in 48 bridges",
    source="ngspice 39, Debian; python -m judges.ngspice_bridge in tests/",
    number="48 rows of tests/published/ngspice_cases.csv",
    tolerance="1 %",
    seen="computed by package",
)
def test_agrees_with_the_kept_circuit_simulations():
    assert len(ngspice_bridge.kept()) >= 40
    assert misses(ngspice_bridge.kept(), ngspice_bridge.kept()) <= 0.01


@pytest.mark.slow
@pytest.mark.skipif(
    ngspice_bridge.missing(), reason="the circuit simulator ngspice is not installed; its kept results are checked"
)
def test_agrees_with_a_circuit_simulator_run_now(tmp_path):
    cases = ngspice_bridge.draw_cases()[:4]
    assert misses(cases, ngspice_bridge.simulate(cases, tmp_path)) <= 0.01


@pytest.mark.outside(
    "amps of a diode, mean, rms, peak, 400 V DC on 10 Ω",
    source="Bimbhra, Power Electronics, example 3.19 p. 115",
    number="13.333, 23.11, 41.89 A",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_a_resistor_behind_a_stiff_source():
    found = of_one_diode(418.88 / 3.0**0.5, 1e-4, 1e-4, 0.0, diode_drop_v=0.0, dc_resistance_ohm=10.0)
    assert found.dc_amps == pytest.approx(40.0, rel=1e-3)
    assert [found.mean_amps, found.amps_rms, found.amps_peak] == pytest.approx([13.333, 23.11, 41.89], rel=1e-3)


@pytest.mark.outside(
    "mean, rms and peak of half a sine of peak 20 A",
    source="exact: I/π, I/2, I",
    number="6.366, 10, 20 A",
    tolerance="0.01 %",
    seen="derived",
)
def test_sinusoids_over_a_shorted_source():
    found = of_one_diode(100.0, 3.0, 4.0, 0.0, diode_drop_v=0.0)
    assert [found.mean_amps, found.amps_rms, found.amps_peak] == pytest.approx([20 / np.pi, 10.0, 20.0], rel=1e-4)


@pytest.mark.outside(
    "rms over mean of a diode: sinusoids, 120° blocks",
    source="exact",
    number="π/2, √3",
    tolerance="0.1 %",
    seen="derived",
)
@settings(max_examples=40)
@given(bridges(least_ratio=0.0, most_ratio=0.99))
def test_pulses_with_gaps_are_harder_on_a_diode_than_a_smooth_current(case):
    waves = bridge_waveforms(**case, points=1441)
    found = diode_amps(waves)
    form = found.amps_rms / found.mean_amps
    assert form >= np.pi / 2 * (1 - 1e-3)
    assert form >= 3**0.5 * (1 - 1e-3) or waves.conduction != "pulses with gaps"
    assert found.mean_amps <= found.amps_rms <= found.amps_peak


@pytest.mark.parametrize(
    "amps, of_slope_w",
    [
        # 120° blocks of smooth current I: 6 r I²/3 = 2 r I²; by hand.
        (DiodeAmps(mean_amps=20.0, amps_rms=60.0 / 3**0.5, amps_peak=60.0), 2.0 * 0.01 * 60.0**2),
        # Sinusoids: I_rms = π/6 I, so 6 r (π/6)² I² = π²/6 r I²; by hand.
        (DiodeAmps(mean_amps=20.0, amps_rms=np.pi / 6 * 60.0, amps_peak=np.pi / 3 * 60.0), np.pi**2 / 6 * 0.01 * 3600),
    ],
)
def test_loss_of_drop_and_slope(amps, of_slope_w):
    assert amps.bridge_watts(0.9, 0.01) == pytest.approx(2 * 0.9 * 60.0 + of_slope_w, rel=1e-9)


def test_loss_of_the_drop_is_that_of_the_bridge():
    sides = {"diode_drop_v": 1.1, "dc_resistance_ohm": 0.02}
    whole = bridge(90.0, 0.8, 1.3, 60.0, **sides, method="exact")
    found = of_one_diode(90.0, 0.8, 1.3, 60.0, **sides).bridge_watts(1.1)
    assert found == pytest.approx(whole.diode_watts, rel=1e-4)


# By hand: a sine of 20 A, looked at from its top to its next one.
def test_a_period_may_begin_anywhere():
    angle = np.linspace(90.0, 450.0, 721)
    amps = 20.0 * np.sin(np.radians(angle[:, None] - [0.0, 120.0, 240.0]))
    waves = Waveforms(
        angle_deg=angle, phase_amps=amps, line_volts=amps, line_emf_volts=amps, dc_amps=amps[:, 0], intervals=()
    )
    found = diode_amps(waves)
    assert [found.mean_amps, found.amps_rms, found.amps_peak] == pytest.approx([20 / np.pi, 10.0, 20.0], rel=1e-4)
