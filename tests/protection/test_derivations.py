"""Derived formulas of the plant: against textbooks, limit cases and the library."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.machine_samples import JET
from samples.plant_samples import plant
from statorbook.bridge import DiodeAmps
from statorbook.protection.derivations import bank_comes_off, capacitor_at_rectifier, diode_heat, heat_in_a_row
from statorbook.protection.guard_needs import GuardNeeds
from statorbook.protection.load_lost import load_lost, struck_volts
from statorbook.protection.rectifier import rectifier_needs
from statorbook.protection.rectifier_fit import rectifier_fit
from statorbook.protection.rectifier_label import Rectifier
from statorbook.protection.rotor import Rotor
from statorbook.quantities import RAD_S_PER_RPM, number

LINE = replace(JET, runaway_ratio=2.0)  # Euler's straight line of torque, to 0 at twice the best speed


@settings(max_examples=10, deadline=None)
@given(dc_amps=st.floats(0.1, 200.0), drop_v=st.floats(0.2, 1.5), slope_ohm=st.floats(0.0, 0.1))
def test_the_diodes_heat_is_the_librarys(dc_amps, drop_v, slope_ohm):
    # rms over average of a third of a turn of even current, and of half a sinusoid: √3 and π/2, by hand.
    for name, ratio in (("smooth", 3.0**0.5), ("sinusoid", pi / 2.0)):
        amps = DiodeAmps(mean_amps=dc_amps / 3.0, amps_rms=ratio * dc_amps / 3.0, amps_peak=dc_amps)
        formula = number(diode_heat()[name], V=drop_v, r=slope_ohm, I=dc_amps)
        assert amps.bridge_watts(drop_v, slope_ohm) == pytest.approx(formula)


@settings(max_examples=8, deadline=None)
@given(diode=st.floats(0.2, 3.0), sink=st.floats(0.1, 3.0), amps=st.floats(20.0, 90.0))
def test_the_junction_of_a_block_is_the_librarys(diode, sink, amps):
    block = Rectifier(label_amps=amps, reverse_volts=1600.0, junction_case_k_per_w=diode, heat_sink_k_per_w=sink)
    made = plant(rectifier=block)
    needs = rectifier_needs(made)
    fit = rectifier_fit(made, needs)
    way = {"R_jc": diode / 6.0, "R_cs": 0.1, "R_ba": 0.0}
    at = {"P": needs.watts, "theta_a": made.site.hottest_c, **way}
    found = {step.name: step.most_c for step in fit.steps}
    for name in ("heat sink", "base", "junction"):
        assert found[name] == pytest.approx(number(heat_in_a_row()[name], R_sb=sink, **at))
    # The junction's limit is that of the sheet less 15 K; base and junction, whichever asks for more.
    of_junction = number(heat_in_a_row()["needed"], theta_j=110.0, **at)
    of_base = number(heat_in_a_row()["needed"], theta_j=80.0, **at | {"R_jc": 0.0})
    assert fit.needed_k_per_w == pytest.approx(min(of_junction, of_base))


# B. R. Gupta and Singhal, Power Electronics, example 2.23 (in a reproduction): 1.20 °C/W, as in test_heat_path.
def test_the_heat_sink_of_a_textbook():
    row = number(heat_in_a_row()["needed"], P=30.0, theta_j=125.0, theta_a=50.0, R_jc=1.0, R_cs=0.3, R_ba=0.0)
    assert row == pytest.approx(1.20, abs=0.005)


@settings(max_examples=6, deadline=None)
@given(inertia=st.floats(0.02, 2.0), share=st.floats(0.05, 0.95))
def test_the_run_up_on_a_jet_is_the_librarys(inertia, share):
    made = plant(drive=LINE, rotor=Rotor(inertia_kgm2=inertia))
    found = load_lost(made)
    starts, ends = found.starts_rpm * RAD_S_PER_RPM, found.ends_rpm * RAD_S_PER_RPM
    at = {"J": inertia, "T": LINE.torque_nm(0.0), "omega_0": starts, "omega_r": ends}
    volts = found.dc_volts[0] + share * (found.ends_dc_volts - found.dc_volts[0])
    seconds = number(bank_comes_off()["seconds"], omega=starts + share * (ends - starts), **at)
    assert found.seconds_to(volts) == pytest.approx(seconds, rel=5e-3)
    back = number(bank_comes_off()["speed"], t=seconds, **at)
    assert back == pytest.approx(starts + share * (ends - starts))


def test_the_leap_is_the_librarys():
    made = plant()
    found = load_lost(made)
    phase_v = made.winding.star_equivalent(magnet_c=made.machine.setting.cold_c).emf_v_per_rpm * found.starts_rpm
    assert found.at_once_dc_volts == pytest.approx(number(bank_comes_off()["volts"], E=2.0**0.5 * phase_v))


# Bimbhra, Power Electronics, example 3.19 (in a reproduction): 418.88 V peak at 400 V mean.
def test_the_peak_behind_a_bridge_is_a_textbooks():
    # Its 400 V are the mean of the humps, 3√3/π of the peak of a phase.
    peak = 400.0 * pi / (3.0 * 3.0**0.5)
    assert number(bank_comes_off()["volts"], E=peak) == pytest.approx(418.88, abs=0.01)


@settings(max_examples=15, deadline=None)
@given(
    source=st.floats(50.0, 400.0),
    before=st.floats(0.0, 50.0),
    henry=st.floats(1e-4, 1e-2),
    amps=st.floats(0.0, 60.0),
    farad=st.floats(1e-4, 1e-1),
)
def test_the_capacitor_is_the_librarys(source, before, henry, amps, farad):
    formula = number(capacitor_at_rectifier()["struck"], E=source, V_0=before, L=henry, I=amps, C=farad)
    assert struck_volts(source, before, henry, amps, farad) == pytest.approx(formula)


@settings(max_examples=15, deadline=None)
@given(amps=st.floats(1.0, 100.0), seconds=st.floats(0.001, 0.1), before=st.floats(20.0, 90.0))
def test_the_capacitor_to_buy_is_the_librarys(amps, seconds, before):
    needs = GuardNeeds(
        is_needed=True,
        limit_dc_volts=100.0,
        limit_words="",
        everyday_dc_volts=60.0,
        set_dc_volts=70.0,
        within_s=0.0,
        most_amps=amps,
        before_dc_volts=before,
    )
    formula = number(capacitor_at_rectifier()["farad"], I=amps, t=seconds, V_m=100.0, V_0=max(before, 70.0))
    # Rounded up to two figures, so at most a tenth above.
    assert 1e6 * formula <= needs.capacitor_uf(seconds) * (1.0 + 1e-9) <= 1.1e6 * formula * (1.0 + 1e-9)


def test_limits_by_mechanics_and_energy():
    # With no torque left it stays; after one time constant 1/e of the way is left; no inductance adds nothing.
    at = {"J": 0.25, "T": 40.0, "omega_0": 50.0, "omega_r": 100.0}
    assert number(bank_comes_off()["speed"], t=0.25 * 100.0 / 40.0, **at) == pytest.approx(100.0 - 50.0 / 2.718281828)
    assert number(bank_comes_off()["seconds"], omega=50.0, **at) == pytest.approx(0.0)
    assert number(capacitor_at_rectifier()["struck"], E=50.0, V_0=50.0, L=1e-3, I=0.0, C=1e-3) == pytest.approx(50.0)
