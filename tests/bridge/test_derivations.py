"""Derived formulas: against the values that books print, and against the library."""

from math import acos, degrees

import pytest

from statorbook.bridge.derivations import (
    best_ratios,
    commutation_drop,
    delta_as_star,
    letters,
    lossless_current,
    number,
    resistive_gaps,
    resistive_overlap,
    scaling,
    shorted_current,
    six_pulse_mean,
)


def test_the_six_pulse_mean_is_the_books():
    # Rashid, Power Electronics 4th ed., §3.10: 1.654 × phase peak; 1.3505 × line rms (from memory).
    assert number(six_pulse_mean(), E=1.0) == pytest.approx(1.654, abs=5e-4)
    assert number(six_pulse_mean(), E=2.0**0.5 / 3.0**0.5) == pytest.approx(1.3505, abs=5e-5)


def test_the_commutation_drop_is_the_books():
    # Rashid 4th ed., Ex. 3.16: 208 V line, 60 Hz, 0.5 mH a phase, 60 A: 10.8 V; μ = 22.62° recomputed.
    values = dict(E=208.0 * (2.0 / 3.0) ** 0.5, X=0.188496, I=60.0)
    lost, cosine = commutation_drop()
    assert number(lost, **values) == pytest.approx(10.8, rel=1e-3)
    assert degrees(acos(number(cosine, **values))) == pytest.approx(22.62, abs=0.01)


# Time-stepping with ωL = 1000 R (tests of the lossless form, 0.3 %); the limit 1.2926 by hand, 9 / √(9 + 4 π²).
@pytest.mark.parametrize("volts, amps", [(0.5, 0.8945), (0.8, 0.7913), (1.0, 0.6828), (1.2, 0.5206), (1.29, 0.4143)])
def test_the_lossless_current_is_the_simulated_one(volts, amps):
    assert number(lossless_current().current, E=1.0, X=1.0, V=volts) == pytest.approx(amps, rel=3e-3)


def test_limits_by_hand():
    assert number(lossless_current().limit, E=1.0) == pytest.approx(1.2926, abs=5e-5)
    assert number(resistive_gaps().limit, E=2.0) == pytest.approx(3.0)
    assert number(resistive_overlap().limit, E=2.0) == pytest.approx(3.0)


# Time-stepping of a resistive source, E = R = 1.
@pytest.mark.parametrize("volts, amps", [(1.55, 0.053422), (1.60, 0.032953), (1.65, 0.016117), (1.70, 0.003929)])
def test_the_resistive_current_with_gaps_is_the_simulated_one(volts, amps):
    assert number(resistive_gaps().current, E=1.0, R=1.0, V=volts) == pytest.approx(amps, abs=1e-6)


@pytest.mark.parametrize("volts, amps", [(0.5, 0.63489), (1.0, 0.34182), (1.2, 0.23240), (1.4, 0.12760)])
def test_the_resistive_current_with_overlap_is_the_simulated_one(volts, amps):
    assert number(resistive_overlap().current, E=1.0, R=1.0, V=volts) == pytest.approx(amps, abs=1e-5)


def test_the_two_resistive_forms_meet():
    gaps, overlap = (number(f.current, E=1.0, R=1.0, V=1.5) for f in (resistive_gaps(), resistive_overlap()))
    assert gaps == pytest.approx(overlap, rel=1e-12)


def test_the_shorted_current_is_three_over_pi():
    # Caliskan et al., IEEE Trans. CAS-I 50(9) 2003 (from memory): 3 E / (π ω L) into no volts.
    assert number(shorted_current(), E=1.0, R=3.0, X=4.0) == pytest.approx(0.190986, abs=1e-6)
    assert number(lossless_current().current, E=1.0, X=5.0, V=0.0) == pytest.approx(0.190986, abs=1e-6)


def test_turns_cancel():
    # By hand: r = 1/√(1 + q²), x = q/√(1 + q²); k E over k² Z leaves E²/Z alone.
    found = scaling()
    assert (number(found["resistance"], q=0.75), number(found["reactance"], q=0.75)) == pytest.approx((0.8, 0.6))
    assert found["watts"] == 1 and found["voltage ratio"] == 1 / letters("k")


def test_delta_is_a_star():
    delta, star = delta_as_star()
    assert delta == star
    # A third of Z between the lead currents, and the whole EMF of the side: Bird, ch. 19 (from memory).
    assert {str(part) for part in delta.args} == {"E_ab", "-Z*i_a/3", "Z*i_b/3"}


def test_best_ratios_are_the_best():
    # V √(1 − (2πV/9E)²) is largest at V = 9E/(2π√2), by hand; the other by a fine search over the printed form.
    slow, fast = map(float, best_ratios())
    assert fast == pytest.approx(9.0 / (2.0 * 6.0**0.5 * 3.14159265), rel=1e-7)
    watts = {n: n * number(resistive_overlap().current, E=1.0, R=1.0, V=n * 1e-3 * 3.0**0.5) for n in range(440, 475)}
    assert max(watts, key=watts.get) == round(1000.0 * slow)
