"""Most amps: no setting of the source, state of the bank or temperature ever drives more, and parts are sized by it."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import BANK, COIL, JET, SETTING, STATOR, compared
from statorbook.bank.battery import Bank
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.converter import Converter
from statorbook.operation.largest_amps import most_amps
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import sweep
from statorbook.winding.winding import Winding

DRIVES = {
    "water": JET,
    "wind": WindRotor(rotor_diameter_m=2.2, wind_m_s=6.0, furls_from_m_s=10.0),
    "pedals": Pedals(rider_watts=100.0, gear_ratio=6.5),
    "engine": Engine(rated_watts=2000.0, engine_rpm=3000.0, pulley_ratio=0.3),
    "known": KnownSpeed(working_rpm=800.0),
}
WINDINGS = [Winding(stator=STATOR, coil=COIL, grouping=grouping) for grouping in STATOR.groupings()]


@pytest.mark.parametrize("drive", DRIVES.values(), ids=DRIVES)
def test_no_operating_point_of_the_strongest_source_drives_more(drive):
    most = np.array([each.dc_amps for each in most_amps([(drive, w, BANK, SETTING.cold) for w in WINDINGS])])
    for source in (drive, drive.strongest()):
        for state in BANK.states:
            for around in (SETTING.conditions, SETTING.cold):
                amps = operating_points(source, WINDINGS, state, around).dc_amps[:, 0]
                assert np.all(amps <= most * (1.0 + 1e-6) + 1e-9)


def test_amps_never_fall_with_speed_up_to_runaway():
    top = JET.runaway_speed_rpm
    amps = sweep(WINDINGS, np.linspace(10.0, top, 200), BANK.states[0], SETTING.cold).dc_amps
    most = [each.dc_amps for each in most_amps([(JET, winding, BANK, SETTING.cold) for winding in WINDINGS])]
    assert np.all(np.diff(amps, axis=1) >= -1e-4 * amps.max()) and amps[:, -1] == pytest.approx(most, rel=1e-3)


def test_more_wind_than_the_one_asked_about_is_in_it():
    light, fresh = (replace(DRIVES["wind"], wind_m_s=wind) for wind in (4.0, 9.0))
    at_work, more = (
        operating_points(each, WINDINGS, BANK.states[1], SETTING.conditions).dc_amps.max() for each in (light, fresh)
    )
    most = max(each.dc_amps for each in most_amps([(light, w, BANK, SETTING.cold) for w in WINDINGS]))
    assert at_work < more < most


def test_a_full_bank_or_a_warm_machine_takes_less():
    found = compared()
    warm = compared(cold_c=20.0)
    fuller = compared(bank=Bank(chemistry="LiFePO4", cells=17, capacity_ah=200.0))
    for row in found.rows:
        assert warm.find(row.grouping).most.dc_amps <= row.most.dc_amps
        assert fuller.find(row.grouping).most.dc_amps <= row.most.dc_amps
        assert row.most.dc_amps >= row.point.dc_amps


def test_lead_and_coil_amps_belong_together():
    # Star and delta, any electrical text: the lead is one coil's path, or √3 of a delta's phase.
    for row in compared().rows:
        share = 3.0**0.5 if row.grouping.connection == "delta" else 1.0
        assert row.most.coil_amps_rms * row.grouping.parallel * share == pytest.approx(row.most.lead_amps_rms)


def test_a_converter_that_gives_more_than_its_bypass_counts():
    # Many turns straight on the bank give the amps of a short circuit; stepped down the same watts are more amps.
    step_down = Converter(low_volts=60.0, high_volts=900.0, survives_dc_volts=1000.0)
    behind = replace(SETTING.cold, converter=step_down)
    pairs = [[(JET, winding, BANK, around) for winding in WINDINGS] for around in (SETTING.cold, behind)]
    straight, most = (np.array([each.dc_amps for each in most_amps(cases)]) for cases in pairs)
    top = np.array([JET.runaway_speed_rpm])
    through = sweep(WINDINGS, top, BANK.states[0], behind).dc_amps[:, 0]
    assert most == pytest.approx(np.maximum(straight, through)) and (most > 1.5 * straight).any()
    assert (straight > through).any()
