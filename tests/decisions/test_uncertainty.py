"""The ± carried through: linear propagation agrees with plain sampling, and each result moves the right way."""

import numpy as np
import pytest

from statorbook import example
from statorbook.coil import CoilConstants
from statorbook.comparison import compare
from statorbook.grouping import Winding
from statorbook.hazards import open_circuit_volts
from statorbook.machine import machine_from
from statorbook.operating_point import operating_points
from statorbook.sweep import sweep
from statorbook.uncertainty import amps_band, half_width, watts_range, with_plus_minus

# Two-sided 95 % point of the normal distribution, any statistics table.
NORMAL_95 = 1.959964
DRAWS = 3000


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return example.write(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="module")
def machine(job):
    return machine_from(job)


@pytest.fixture(scope="module")
def grouping(machine):
    return compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting).chosen.grouping


@pytest.fixture(scope="module")
def drawn(job, machine, grouping):
    """Windings whose constants are drawn independently from normal distributions with the stated 95 % widths."""
    chance = np.random.default_rng(2)
    bands = (job.coil.emf, job.coil.resistance, job.coil.inductance)
    emf, ohm, henry = (chance.normal(b.value, b.plus_minus / NORMAL_95, DRAWS) for b in bands)
    coils = [CoilConstants(emf_v_per_rpm=e, ohm=r, henry=h) for e, r, h in zip(emf, ohm, henry, strict=True)]
    return [Winding(stator=machine.stator, coil=coil, grouping=grouping) for coil in coils]


def sampled_half_width(values):
    low, high = np.quantile(values, (0.025, 0.975))
    return (high - low) / 2.0


def test_linear_propagation_agrees_with_sampling(machine, grouping, drawn):
    stated = with_plus_minus(machine, grouping)
    found = operating_points(machine.drive, drawn, machine.bank.states[1], machine.setting.conditions)
    volts = [open_circuit_volts(w, machine.drive.runaway_speed_rpm, machine.setting.cold_c)[1] for w in drawn]
    samples = {"dc_amps": found.dc_amps, "bank_watts": found.bank_watts, "speed_rpm": found.speed_rpm,
               "runaway_dc_volts_peak": volts}
    for name, values in samples.items():
        assert stated[name].plus_minus == pytest.approx(sampled_half_width(np.ravel(values)), rel=0.08), name


def test_the_band_of_amps_agrees_with_sampling(machine, grouping, drawn):
    speeds = np.array([800.0, 1000.0, 1300.0])
    low, high = amps_band(machine, grouping, speeds)
    amps = sweep(drawn, speeds, machine.bank.states[1], machine.setting.conditions).dc_amps
    for column in range(len(speeds)):
        assert (high - low)[column] / 2.0 == pytest.approx(sampled_half_width(amps[:, column]), rel=0.08)


def test_runaway_volts_move_with_the_emf_alone(job, machine, grouping):
    volts = with_plus_minus(machine, grouping)["runaway_dc_volts_peak"]
    share = job.coil.emf_plus_minus_v_per_rpm / job.coil.emf_v_per_rpm
    assert volts.plus_minus / volts.value == pytest.approx(share, rel=1e-9)


def test_three_independent_shares_add_as_squares():
    # 3-4-12 makes 13: the space diagonal of a box.
    assert half_width([0, -3, 3, -4, 4, -12, 12]) == pytest.approx(13.0)


def test_the_range_over_corners_holds_the_sampled_watts_within_the_bands(machine, grouping, drawn):
    least, most = watts_range(machine, grouping)
    found = operating_points(machine.drive, drawn, machine.bank.states[1], machine.setting.conditions).bank_watts
    assert np.mean((found >= least) & (found <= most)) > 0.95
    alone = with_plus_minus(machine, grouping)["bank_watts"]
    assert least < alone.value < most
