"""Joined leads: amps of the switch, first swing, and seconds that the winding bears them."""

from math import inf, isinf, isnan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.operation.speed_sweep import Conditions
from statorbook.protection.brake_heat import brake_curves, brake_heat, first_swing_ratio, joined_at, peak_factor
from statorbook.protection.joined_leads import shorted_amps_rms, shorted_torque_nm
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import WindingHeat
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from strategies import numbers

# A machine with 0.5 V·s/rad peak, 1 Ω and 8 mH a coil, 36 slots and 48 poles; winding and magnets at 20 °C.
REFERENCE = CoilConstants(emf_v_per_rpm=0.5 / sqrt(2.0) * 2.0 * pi / 60.0, ohm=1.0, henry=8e-3)
AT_20 = Conditions(copper_c=20.0, magnet_c=20.0, drag_nm=0.0)


def reference(parallel, series):
    return Winding(
        stator=Stator(slots=36, poles=48), coil=REFERENCE, grouping=Grouping(series=series, parallel=parallel)
    )


@pytest.mark.outside(
    "torque of joined leads, the same for every grouping",
    source="exact, T = 3 k² ω R / (R² + (p L ω)²); its peak also on a grid of 2 million speeds",
    number="11.719 N·m at 49.74 rpm, 9.345 at 100, 1.930 at 600 rpm",
    tolerance="0.03 %",
    seen="derived",
)
@pytest.mark.outside(
    "amps of joined leads at 600 rpm and without end",
    source="exact, I = k ω / √(R² + (p L ω)²), limit k / (p L)",
    number="22.02, 11.01, 7.341 A; limit 22.10, 11.05, 7.366 A rms",
    tolerance="0.1 %",
    seen="derived",
)
@pytest.mark.parametrize(
    "parallel, series, amps, most", [(12, 1, 22.02, 22.10), (6, 2, 11.01, 11.05), (4, 3, 7.341, 7.366)]
)
def test_torque_and_amps_of_a_reference_machine(parallel, series, amps, most):
    winding = reference(parallel, series)
    torque = shorted_torque_nm(winding, np.array([49.74, 100.0, 600.0]), AT_20)
    assert torque == pytest.approx([11.719, 9.345, 1.930], rel=3e-4)
    assert torque[0] > shorted_torque_nm(winding, np.array([49.0, 50.5]), AT_20).max()
    assert shorted_amps_rms(winding, 600.0, AT_20) == pytest.approx(amps, rel=1e-3)
    assert shorted_amps_rms(winding, 1e7, AT_20) == pytest.approx(most, rel=1e-3)


@pytest.mark.outside(
    "peak factor κ of a sudden short circuit",
    source="IEC 60909-0, κ = 1.02 + 0.98 e^(−3R/X)",
    number="2.00, 1.746, 1.239, 1.069 at R/X 0, 0.1, 0.5, 1",
    tolerance="0.001",
    seen="from memory",
)
@pytest.mark.parametrize("ratio, kappa", [(0.0, 2.00), (0.1, 1.746), (0.5, 1.239), (1.0, 1.069), (inf, 1.02)])
def test_peak_of_a_sudden_short(ratio, kappa):
    assert peak_factor(ratio) == pytest.approx(kappa, abs=1e-3)


@pytest.mark.outside(
    "first swing of one phase against the exact transient",
    source="exact, i / (√2 I) = sin(x + δ) − sin δ e^(−x R/X), highest over all moments of closing",
    number="its highest value at R/X 0.03, 0.1, 0.3, 1",
    tolerance="3 %",
    seen="derived",
)
@pytest.mark.parametrize("ratio", [0.03, 0.1, 0.3, 1.0])
def test_the_first_swing_against_the_exact_transient(ratio):
    x, delta = np.linspace(0.0, 4.0 * pi, 2001), np.linspace(-pi, pi, 361)[:, None]
    exact = np.abs(np.sin(x + delta) - np.sin(delta) * np.exp(-ratio * x)).max()
    assert peak_factor(ratio) == pytest.approx(exact, rel=0.03)


def test_the_switch_is_sized_at_runaway_by_the_coldest_machine():
    now = plant()
    worst = brake_heat(now).worst
    cold = shorted_amps_rms(now.winding, now.runaway_rpm, now.cold)
    assert worst.lead_amps_rms == pytest.approx(cold) and cold > shorted_amps_rms(
        now.winding, now.runaway_rpm, now.conditions
    )
    assert worst.first_swing_amps == pytest.approx(first_swing_ratio(now.winding, now.runaway_rpm, now.cold) * cold)
    assert sqrt(2.0) * cold < worst.first_swing_amps <= 2.0 * sqrt(2.0) * cold


# Amps that stay: C dθ/dt = a (235 + θ) − (θ − 40) / K, in closed form by hand, as in the test of warming.
def test_seconds_from_cold_and_from_warm_in_closed_form():
    now = plant(heat=WindingHeat(k_per_w=1.0, thermal_class="A"))
    ends = brake_heat(now).ends
    a = 36 * ends.coil_amps_rms**2 * 0.56 / 255.0
    settled, slope = (a * 235.0 + 40.0) / (1.0 - a), 1.0 - a
    assert (ends.settles_c if settled < 200.0 else inf) == pytest.approx(
        settled if 0.0 < settled < 200.0 else inf, rel=1e-3
    )
    cold = 1019.0 / slope * np.log((settled - 40.0) / (settled - 100.0))
    assert ends.cold_s == pytest.approx(cold, rel=5e-3) and ends.warm_s < ends.cold_s


def test_a_winding_that_bears_it_is_said_so_and_one_of_unknown_wire_is_told_seconds():
    cool = brake_heat(plant(heat=WindingHeat(k_per_w=0.01)))
    assert isinf(cool.ends.cold_s) and "bears it" in cool.bears
    unknown = brake_heat(plant(wire_diameter_mm=None, heat=WindingHeat(k_per_w=20.0)))
    assert isnan(unknown.ends.cold_s) and "count on seconds" in unknown.sentence


@settings(max_examples=10, deadline=None)
@given(numbers(50.0, 900.0), st.floats(-10.0, 60.0))
def test_faster_colder_and_hotter_air_never_spare_switch_or_winding(speed_rpm, hottest_c):
    now, colder = plant(site=Site(hottest_c=hottest_c)), plant(site=Site(hottest_c=hottest_c), cold_c=-30.0)
    hotter = plant(site=Site(hottest_c=hottest_c + 10.0))
    first, faster = joined_at(now, speed_rpm, 70.0), joined_at(now, 1.2 * speed_rpm, 70.0)
    assert faster.lead_amps_rms >= first.lead_amps_rms and faster.first_swing_amps >= first.first_swing_amps
    assert faster.warm_s <= first.warm_s
    assert joined_at(colder, speed_rpm, 70.0).first_swing_amps >= first.first_swing_amps
    assert joined_at(hotter, speed_rpm, 70.0).cold_s <= first.cold_s


def test_the_first_swing_is_a_peak_of_at_most_twice_the_steady_one():
    # A sudden short circuit, any text on synchronous machines: from √2 of the rms amps to twice that.
    made = plant()
    curves = brake_curves(made)
    swing = curves.first_swing_amps / curves.lead_amps_rms
    assert np.all(swing >= sqrt(2.0) - 1e-9) and np.all(swing <= 2.0 * sqrt(2.0) + 1e-9) and swing[-1] > 1.5
    assert curves.speed_rpm[-1] == pytest.approx(made.runaway_rpm) and curves.drive_nm.shape == curves.speed_rpm.shape
    assert curves.drive_nm == pytest.approx(made.drive.unguarded().strongest().torque_nm(curves.speed_rpm))
