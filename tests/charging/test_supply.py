"""What the source pushes into the bus, against the operating points that are sought one by one."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import plan
from samples.year_samples import ROTOR
from statorbook.bank.battery import BankState
from statorbook.charging.plan import Course
from statorbook.charging.supply import supply_of
from statorbook.drives.drive import shaft_watts
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_points

_WINDS = tuple(np.arange(1.0, 16.0, 1.0).tolist())
_CONVERTER = Converter(low_volts=60.0, high_volts=150.0, survives_dc_volts=200.0, idle_watts=4.0)


def _windy(made):
    drives = tuple(replace(ROTOR, wind_m_s=wind) for wind in _WINDS)
    return replace(made, course=Course(settings=_WINDS, drives=drives, by_hour=(5.0,), name="wind", unit="", words=""))


JET, WIND = plan(), _windy(plan(drive=ROTOR))


def _sought(made, at, volts):
    state = BankState(name="", volts=volts, ohm=0.0)
    found = operating_points(made.course.drives[at], [made.plant.winding], state, made.plant.conditions)
    return found.dc_amps[0, 0], found.speed_rpm[0, 0]


@settings(max_examples=15)
@given(made=st.sampled_from((JET, WIND)), at=st.integers(0, 14), volts=st.floats(0.0, 110.0))
def test_amps_and_speed_are_those_of_the_operating_point(made, at, volts):
    at = at % len(made.course.drives)
    supply, setting = supply_of(made), made.course.settings[at]
    amps, rpm = _sought(made, at, volts)
    assert supply.amps_at(setting, volts) == pytest.approx(amps, abs=0.003 * supply.most_amps)
    assert supply.rpm_at(setting, volts) == pytest.approx(rpm, rel=0.01, abs=2.0)


@settings(max_examples=15)
@given(made=st.sampled_from((JET, WIND)), at=st.integers(0, 14), volts=st.floats(0.0, 300.0))
def test_the_bus_never_gets_more_than_the_shaft_has(made, at, volts):
    at = at % len(made.course.drives)
    drive, supply = made.course.drives[at], supply_of(made)
    most = float(shaft_watts(drive, drive.best_speed_rpm))
    assert volts * supply.amps_at(made.course.settings[at], volts) <= 1.002 * most


def test_nothing_flows_from_the_open_circuit_volts_up():
    supply, at_work = supply_of(JET), JET.plant.conditions
    star = JET.plant.winding.star_equivalent(at_work.copper_c, at_work.magnet_c)
    # DC peak of a six-diode bridge: sqrt(3) times sqrt(2) times the phase's rms EMF; power electronics texts.
    open_volts = 6.0**0.5 * star.emf_v_per_rpm * JET.plant.drive.free_speed_rpm
    # The table ends 2 % beyond, or half as far again as the bank goes, 5 % over its highest volts, if that is more.
    assert supply.volts[-1] == pytest.approx(1.02 * open_volts) and open_volts > 1.5 * 1.05 * JET.bank.highest_volts
    slow = plan(drive=replace(JET.plant.drive, head_m=3.0))
    assert supply_of(slow).volts[-1] == pytest.approx(1.5 * 1.05 * slow.bank.highest_volts)
    assert supply.amps_at(1.0, open_volts) == pytest.approx(0.0, abs=0.002 * supply.most_amps)
    assert supply.amps_at(1.0, 1e4) == 0.0


def test_at_rest_nothing_flows_and_half_way_to_a_setting_half():
    supply = supply_of(JET)
    assert supply.amps_at(0.0, 50.0) == 0.0 == supply.rpm_at(0.0, 50.0)
    assert supply.amps_at(0.5, 50.0) == pytest.approx(0.5 * supply.amps_at(1.0, 50.0))
    assert supply.amps_at(7.0, 50.0) == supply.amps_at(1.0, 50.0)


def test_a_converter_draws_at_rest_and_gives_what_the_operating_point_gives():
    made = plan(converter=_CONVERTER)
    supply = supply_of(made)
    assert supply.amps_at(0.0, 50.0) == pytest.approx(-4.0 / 50.0, rel=1e-3)
    for volts in (45.0, 51.3, 57.9):
        assert supply.amps_at(1.0, volts) == pytest.approx(_sought(made, 0, volts)[0], rel=0.004)
    assert np.isfinite(supply.amps).all()


def test_a_table_is_worked_out_once_and_cannot_be_changed():
    supply = supply_of(JET)
    assert supply_of(replace(JET, start_charge=0.2)) is supply
    with pytest.raises(ValueError):
        supply.amps[0, 0] = 1.0


@pytest.mark.parametrize("made", (JET, WIND), ids=("jet", "wind"))
def test_axes_rise_and_the_first_row_is_rest(made):
    supply = supply_of(made)
    assert (np.diff(supply.volts) > 0.0).all() and (np.diff(supply.settings) > 0.0).all()
    assert supply.volts[0] == supply.settings[0] == 0.0
    # From a short to just below the bank's volts in even steps, and past them in even ratios: no gap at either end.
    low, high = 0.95 * made.bank.lowest_volts, 1.05 * made.bank.highest_volts
    steps, ratios = np.diff(supply.volts[supply.volts <= 1.0001 * low]), supply.volts[supply.volts >= 0.9999 * high]
    assert steps == pytest.approx(np.full(16, low / 16)) and np.diff(np.log(ratios)) == pytest.approx(
        np.full(24, np.log(supply.volts[-1] / high) / 24)
    )
    assert supply.amps.shape == supply.rpm.shape == (len(supply.settings), len(supply.volts))
