"""Derived formulas: against the values that books print, and against the library."""

from math import acos, asin, degrees, pi

import pytest

from statorbook.bridge.derivations import (
    best_ratios,
    commutation_drop,
    delta_as_star,
    lossless_current,
    resistive_gaps,
    resistive_overlap,
    scaling,
    shorted_current,
    six_pulse_mean,
)
from statorbook.quantities.algebra import letters, number


@pytest.mark.outside(
    "mean of a six-pulse wave over the phase peak",
    source="Rashid, Power Electronics, 4th ed., §3.10, used in example 3.16",
    number="1.654",
    tolerance="0.0005",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "mean of a six-pulse wave over the line volts rms",
    source="Mohan, Undeland, Robbins, Power Electronics, 3rd ed., ch. 5",
    number="1.3505",
    tolerance="0.00005",
    seen="from memory",
)
def test_the_six_pulse_mean_is_the_books():
    assert number(six_pulse_mean(), E=1.0) == pytest.approx(1.654, abs=5e-4)
    assert number(six_pulse_mean(), E=2.0**0.5 / 3.0**0.5) == pytest.approx(1.3505, abs=5e-5)


@pytest.mark.outside(
    "volts lost by commutation, 208 V line, 60 Hz, 0.5 mH, 60 A",
    source="Rashid, Power Electronics, 4th ed., example 3.16",
    number="10.8 V",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "overlap angle of the same bridge",
    source="cos μ = 1 − 2ωLI / (√2 × line volts), worked out by hand",
    number="22.62°",
    tolerance="0.01°",
    seen="derived",
)
def test_the_commutation_drop_is_the_books():
    values = dict(E=208.0 * (2.0 / 3.0) ** 0.5, X=0.188496, I=60.0)
    lost, cosine = commutation_drop()
    assert number(lost, **values) == pytest.approx(10.8, rel=1e-3)
    assert degrees(acos(number(cosine, **values))) == pytest.approx(22.62, abs=0.01)


@pytest.mark.outside(
    "amps of a bridge behind inductance alone, by time-stepping",
    source="fixed-step integration of three phases with ωL = 1000 R, E = ωL = 1",
    number="0.8945, 0.7913, 0.6828, 0.5206, 0.4143",
    tolerance="0.3 %",
    seen="derived",
)
@pytest.mark.parametrize("volts, amps", [(0.5, 0.8945), (0.8, 0.7913), (1.0, 0.6828), (1.2, 0.5206), (1.29, 0.4143)])
def test_the_lossless_current_is_the_simulated_one(volts, amps):
    assert number(lossless_current().current, E=1.0, X=1.0, V=volts) == pytest.approx(amps, rel=3e-3)


def test_limits_by_hand():
    # 9 / √(9 + 4 π²).
    assert number(lossless_current().limit, E=1.0) == pytest.approx(1.2926, abs=5e-5)
    assert number(resistive_gaps().limit, E=2.0) == pytest.approx(3.0)
    assert number(resistive_overlap().limit, E=2.0) == pytest.approx(3.0)


# By hand: half a period of E sin θ from δ is 2 E cos δ, against 4/3 V times 60°; the pulse ends where √3 E cos is V;
# the third lead joins where its EMF against the middle of the other two, 3/2 E sin b, is V/2.
def test_the_angles_of_the_printed_forms_by_hand():
    delta, half, join = (form().condition.rhs for form in (lossless_current, resistive_gaps, resistive_overlap))
    assert number(delta, E=2.0, V=1.5) == pytest.approx(acos(2.0 * pi / 9.0 * 0.75))
    assert number(half, E=2.0, V=3.2) == pytest.approx(acos(1.6 / 3.0**0.5))
    assert number(join, E=2.0, V=1.5) == pytest.approx(asin(0.25))


@pytest.mark.outside(
    "amps of a bridge behind ohms alone, with gaps",
    source="closed form (3/πR)[√(3E² − V²) − V(π/2 − asin(V/√3E))] and fixed-step integration, E = R = 1",
    number="0.053422, 0.032953, 0.016117, 0.003929",
    tolerance="0.000001",
    seen="derived",
)
@pytest.mark.parametrize("volts, amps", [(1.55, 0.053422), (1.60, 0.032953), (1.65, 0.016117), (1.70, 0.003929)])
def test_the_resistive_current_with_gaps_is_the_simulated_one(volts, amps):
    assert number(resistive_gaps().current, E=1.0, R=1.0, V=volts) == pytest.approx(amps, abs=1e-6)
    assert number(resistive_gaps().current, E=2.0, R=4.0, V=2.0 * volts) == pytest.approx(amps / 2.0, abs=1e-6)


@pytest.mark.outside(
    "amps of a bridge behind ohms alone, without gaps",
    source="fixed-step integration of three phases, E = R = 1",
    number="0.63489, 0.34182, 0.23240, 0.12760",
    tolerance="0.00001",
    seen="derived",
)
@pytest.mark.parametrize("volts, amps", [(0.5, 0.63489), (1.0, 0.34182), (1.2, 0.23240), (1.4, 0.12760)])
def test_the_resistive_current_with_overlap_is_the_simulated_one(volts, amps):
    assert number(resistive_overlap().current, E=1.0, R=1.0, V=volts) == pytest.approx(amps, abs=1e-5)
    # Twice the EMF and twice the volts drive twice the amps.
    assert number(resistive_overlap().current, E=2.0, R=1.0, V=2.0 * volts) == pytest.approx(2.0 * amps, abs=2e-5)


def test_the_two_resistive_forms_meet():
    gaps, overlap = (number(f.current, E=1.0, R=1.0, V=1.5) for f in (resistive_gaps(), resistive_overlap()))
    assert gaps == pytest.approx(overlap, rel=1e-12)


@pytest.mark.outside(
    "mean amps into no volts behind inductance, 3E/(πωL)",
    source="Caliskan, Perreault, Jahns, Kassakian, IEEE Trans. Circuits and Systems I 50(9), 2003",
    number="0.190986 at E = 1, ωL = 5",
    tolerance="0.000001",
    seen="from memory",
)
def test_the_shorted_current_is_three_over_pi():
    assert number(shorted_current(), E=1.0, R=3.0, X=4.0) == pytest.approx(0.190986, abs=1e-6)
    assert number(lossless_current().current, E=1.0, X=5.0, V=0.0) == pytest.approx(0.190986, abs=1e-6)


def test_turns_cancel():
    # By hand: r = 1/√(1 + q²), x = q/√(1 + q²); k E over k² Z leaves E²/Z alone.
    found = scaling()
    assert (number(found["resistance"], q=0.75), number(found["reactance"], q=0.75)) == pytest.approx((0.8, 0.6))
    assert found["watts"] == 1 and found["voltage ratio"] == 1 / letters("k")


@pytest.mark.outside(
    "star of a delta of equal sides",
    source="Bird, Electrical Circuit Theory and Technology, ch. 34, delta–star transformation",
    number="Z/3",
    tolerance="exact",
    seen="from memory",
)
def test_delta_is_a_star():
    delta, star = delta_as_star()
    assert delta == star
    # A third of Z between the lead currents, and the whole EMF of the side.
    assert {str(part) for part in delta.args} == {"E_ab", "-Z*i_a/3", "Z*i_b/3"}


@pytest.mark.outside(
    "best DC volts behind inductance alone, V = 9E/(2π√2)",
    source="exact: slope of V√(1 − (2πV/9E)²) set to zero",
    number="1.012856 E, so u = 0.584773",
    tolerance="0.0000001",
    seen="derived",
)
def test_best_ratios_are_the_best():
    # V √(1 − (2πV/9E)²) is largest at V = 9E/(2π√2), by hand; the other by a fine search over the printed form.
    slow, fast = map(float, best_ratios())
    assert fast == pytest.approx(9.0 / (2.0 * 6.0**0.5 * 3.14159265), rel=1e-7)
    watts = {n: n * number(resistive_overlap().current, E=1.0, R=1.0, V=n * 1e-3 * 3.0**0.5) for n in range(440, 475)}
    assert max(watts, key=watts.get) == round(1000.0 * slow)
