"""Three wires between machine and rectifier: by Kirchhoff the same amps as a winding with so many ohms more."""

from dataclasses import replace

import numpy as np
import pytest

from judges.ode_bridge import settled_bridge
from samples.machine_samples import BANK, COIL, JET, SETTING, STATOR, windings
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.machine import Machine
from statorbook.operation.best_volts import best_dc_volts
from statorbook.operation.converter import Converter
from statorbook.operation.largest_amps import most_amps
from statorbook.operation.operating_point import operating_points, points_from
from statorbook.operation.power_curve import one_curve
from statorbook.operation.settling import settled_at
from statorbook.operation.speed_sweep import Conditions, sweep, winding_waveforms

WIRE_OHM, SPEED = 0.3, 800.0
AT_WORK = Conditions(cable_ohm=0.02)
BEHIND = replace(AT_WORK, ac_cable_ohm=WIRE_OHM)
STEP_DOWN = Converter(low_volts=40.0, high_volts=400.0, survives_dc_volts=450.0, most_output_amps=20.0)
HALF = BANK.states[1]
CHARGING = [made for made in windings() if 1 <= made.grouping.series <= 4]


def with_the_ohms_inside(winding):
    """The same winding with the wire's ohms in each of its star phases."""
    ohm = winding.star_equivalent(AT_WORK.copper_c, AT_WORK.magnet_c).ohm
    return replace(winding, coil=replace(winding.coil, ohm=winding.coil.ohm * (1.0 + WIRE_OHM / ohm)))


def both(ask, **changes):
    """What is asked of windings with the ohms in the cable, and with them in the coils."""
    cabled, plain = replace(BEHIND, **changes), replace(AT_WORK, **changes)
    return [ask([made], cabled) for made in CHARGING], [ask([with_the_ohms_inside(made)], plain) for made in CHARGING]


@pytest.mark.parametrize("converter", [None, STEP_DOWN], ids=["straight on the bank", "with a converter"])
@pytest.mark.parametrize("fixed", [True, False], ids=["at a speed", "where it settles"])
def test_amps_are_those_of_a_winding_with_the_ohms_inside_and_the_watts_are_the_cables(converter, fixed):
    def ask(made, around):
        at = np.array([SPEED])
        return sweep(made, at, HALF, around) if fixed else operating_points(JET, made, HALF, around)

    for cabled, inside in zip(*both(ask, converter=converter), strict=True):
        for name in ("speed_rpm", "dc_amps", "bank_watts", "phase_amps_rms", "diode_watts", "torque_nm"):
            assert getattr(cabled, name) == pytest.approx(getattr(inside, name), rel=1e-9, abs=1e-9)
        wires = 3.0 * WIRE_OHM * inside.phase_amps_rms**2  # I² R in three wires
        assert cabled.cable_watts == pytest.approx(inside.cable_watts + wires, rel=1e-9)
        assert cabled.copper_watts == pytest.approx(inside.copper_watts - wires, rel=1e-9, abs=1e-9)
        assert dict(points_from(JET, cabled)[0].chain_watts)["cable"] == -cabled.cable_watts[0, 0]


@pytest.mark.outside(
    "amps behind three wires",
    source="differential equations integrated to a steady state, scipy solve_ivp",
    number="3 cases",
    tolerance="0.3 %",
    seen="derived",
)
def test_amps_behind_the_wires_are_those_of_an_independent_solution():
    # The differential equations integrated to a steady state (judges/ode_bridge.py), nothing of the library's solver.
    for made in CHARGING[:3]:
        star = made.star_equivalent(AT_WORK.copper_c, AT_WORK.magnet_c)
        reactance = 2.0 * np.pi * STATOR.electrical_hz(SPEED) * star.henry
        around = (HALF.volts, AT_WORK.diode_drop_v, AT_WORK.cable_ohm + HALF.ohm)
        emf = 2.0**0.5 * star.emf_v_per_rpm * SPEED
        found = sweep([made], np.array([SPEED]), HALF, BEHIND, method="exact")
        assert found.dc_amps[0, 0] == pytest.approx(
            settled_bridge(emf, star.ohm + WIRE_OHM, reactance, *around)[0], rel=0.003
        )


def test_a_year_most_amps_and_best_volts_feel_the_wires():
    def year(made, around):
        return settled_at([JET, replace(JET, head_m=20.0)], made, HALF, around)["bank_watts"]

    def volts(made, around):
        return best_dc_volts(made[0], np.array([400.0, SPEED]), HALF, around).dc_volts

    def most(made, around):
        return most_amps([(JET, made[0], BANK, around)])[0].lead_amps_rms

    for ask in (year, volts, most):
        for cabled, inside in zip(*both(ask), strict=True):
            assert cabled == pytest.approx(inside, rel=1e-9, nan_ok=True)


def test_waveforms_show_the_volts_of_the_machines_leads():
    winding = CHARGING[0]
    waves = winding_waveforms(winding, SPEED, HALF, BEHIND)
    star = winding.star_equivalent(AT_WORK.copper_c, AT_WORK.magnet_c)
    swept = sweep([winding], np.array([SPEED]), HALF, BEHIND, method="exact")
    assert np.trapezoid(waves.dc_amps, waves.angle_deg) / 360.0 == pytest.approx(swept.dc_amps[0, 0], rel=1e-3)
    # Kirchhoff: volts of a lead = EMF − R i − L di/dt of the winding alone, whatever hangs on it.
    amps, step = waves.phase_amps, np.radians(waves.angle_deg[1])
    slope = np.gradient(amps, step, axis=0)
    reactance = 2.0 * np.pi * STATOR.electrical_hz(SPEED) * star.henry
    inside = star.ohm * amps + reactance * slope
    expected = waves.line_emf_volts - (inside - np.roll(inside, -1, axis=1))
    off = np.abs(waves.line_volts - expected)
    assert np.quantile(off, 0.9) < 0.01 * HALF.volts  # but for the angles beside a jump of di/dt
    assert np.median(WIRE_OHM * np.abs(amps - np.roll(amps, -1, axis=1))) > 0.02 * HALF.volts  # so that it matters


def test_on_the_one_curve_the_wires_count_as_two_of_them_in_the_dc_path():
    shared, behind = (
        one_curve(CHARGING, SPEED, HALF, around, dc_amps=10.0)
        for around in (replace(AT_WORK, cable_ohm=AT_WORK.cable_ohm + 2.0 * WIRE_OHM), BEHIND)
    )
    assert behind.watts == pytest.approx(shared.watts) and behind.grouping_watts == pytest.approx(shared.grouping_watts)


def test_an_assumed_wire_is_varied():
    setting = replace(SETTING, conditions=BEHIND)
    machine = Machine(
        stator=STATOR,
        found=CHARGING[0].grouping,
        coil=COIL,
        corners=(COIL,),
        ends=(COIL,) * 6,
        drive=JET,
        bank=BANK,
        setting=setting,
        assumed=(),
        assumed_fields=frozenset(["ac_cable_ohm"]),
    )
    (found,) = (each for each in variations(machine) if each.words == "cable before the rectifier")
    ends = [end.setting.conditions for end in (found.low, found.high)]
    assert [each.ac_cable_ohm for each in ends] == [WIRE_OHM / 2.0, WIRE_OHM * 2.0]
    assert {each.cable_ohm for each in ends} == {AT_WORK.cable_ohm}
