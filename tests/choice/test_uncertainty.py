"""The ± carried through: constants agree with plain sampling, and what is assumed is in it and said apart."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import SETTING
from samples.machine_samples import machine as made_up
from statorbook.assembly.machine import machine_from
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.comparison import compare
from statorbook.choice.uncertainty import Spread, amps_band, half_width, reach, rounded, watts_range, with_plus_minus
from statorbook.examples import jobs as example
from statorbook.operation.hazards import open_circuit_volts
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import Conditions, sweep
from statorbook.winding.coil import CoilConstants
from statorbook.winding.winding import Winding

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
    return compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting).shown.grouping


@pytest.fixture(scope="module")
def drawn(job, machine, grouping):
    """Windings whose constants are normal with the stated 95 % widths, henries with EMF and ohms as they are stated."""
    chance = np.random.default_rng(2)
    bands = (job.coil.emf, job.coil.resistance, job.coil.inductance)
    off = chance.normal(0.0, 1.0 / NORMAL_95, (3, DRAWS))
    emf, ohm = (band.value + band.plus_minus * share for band, share in zip(bands[:2], off[:2]))
    moved = bands[2].moved_by["emf"], bands[2].moved_by["ohm"]
    rest = (bands[2].plus_minus ** 2 - moved[0] ** 2 - moved[1] ** 2) ** 0.5
    henry = bands[2].value + moved[0] * off[0] + moved[1] * off[1] + rest * off[2]
    coils = [CoilConstants(emf_v_per_rpm=e, ohm=r, henry=h) for e, r, h in zip(emf, ohm, henry, strict=True)]
    return [Winding(stator=machine.stator, coil=coil, grouping=grouping) for coil in coils]


def sampled_half_width(values):
    low, high = np.quantile(values, (0.025, 0.975))
    return (high - low) / 2.0


def test_linear_propagation_agrees_with_sampling(machine, grouping, drawn):
    stated = with_plus_minus(machine, grouping)
    found = operating_points(machine.drive, drawn, machine.bank.states[1], machine.setting.conditions)
    volts = [open_circuit_volts(w, machine.drive.runaway_speed_rpm, machine.setting.cold_c)[1] for w in drawn]
    samples = {
        "dc_amps": found.dc_amps,
        "bank_watts": found.bank_watts,
        "speed_rpm": found.speed_rpm,
        "runaway_dc_volts_peak": volts,
    }
    for name, values in samples.items():
        assert stated[name].constants == pytest.approx(sampled_half_width(np.ravel(values)), rel=0.08), name


def test_the_band_of_amps_agrees_with_sampling(machine, grouping, drawn):
    speeds = np.array([800.0, 1000.0, 1300.0])
    measured = replace(machine, assumed_fields=frozenset(), bank=replace(machine.bank, inner_ohm=0.0))
    low, high = amps_band(measured, grouping, speeds)
    warmth = amps_band(replace(measured, ends=(machine.coil,) * 6), grouping, speeds)  # temperatures alone
    amps = sweep(drawn, speeds, measured.bank.states[1], machine.setting.conditions).dc_amps
    for column in range(len(speeds)):
        alone = np.sqrt(((high - low)[column] / 2.0) ** 2 - ((warmth[1] - warmth[0])[column] / 2.0) ** 2)
        assert alone == pytest.approx(sampled_half_width(amps[:, column]), rel=0.08)


def test_the_band_of_amps_holds_what_is_assumed_of_machine_and_bank_and_not_of_the_source(grouping):
    around = replace(SETTING, conditions=Conditions(cable_ohm=0.05))
    made = made_up(setting=around, assumed_fields=frozenset({"efficiency", "cable_ohm"}))
    winding, speeds = Winding(stator=made.stator, coil=made.coil, grouping=grouping), np.array([800.0, 1100.0])

    def amps(now):
        return sweep([winding], speeds, now.bank.states[1], now.setting.conditions).dc_amps[0]

    at_its_own = ("copper_c", "magnet_c", "inner_ohm", "cable_ohm")
    steps = [
        np.max([np.abs(amps(end) - amps(made)) for _, end in each.ends], axis=0)
        for each in variations(made)
        if each.name in at_its_own
    ]
    low, high = amps_band(made, grouping, speeds)
    # Independent steps add as squares, JCGM 100:2008 5.1.2 (from memory).
    assert len(steps) == 4 and (high - low) / 2.0 == pytest.approx(np.sqrt(np.sum(np.square(steps), axis=0)))


def test_runaway_volts_move_with_the_emf_alone(job, machine, grouping):
    volts = with_plus_minus(machine, grouping)["runaway_dc_volts_peak"]
    share = job.coil.emf_plus_minus_v_per_rpm / job.coil.emf_v_per_rpm
    assert volts.constants / volts.value == pytest.approx(share, rel=1e-9)


def test_what_is_assumed_is_in_the_plus_minus_and_said_apart(machine, grouping):
    for name, spread in with_plus_minus(machine, grouping).items():
        assert spread.plus_minus == pytest.approx(np.hypot(spread.constants, spread.assumed)), name
        assert spread.plus_minus > spread.constants, name
        alone = rounded(spread.constants, spread.constants)
        assert f"± {alone} {spread.unit} from the constants alone" in spread.in_parts
        assert spread.both.startswith(f"{alone} and ") and spread.both.endswith(f" {spread.unit}")
    measured = replace(machine, assumed_fields=frozenset())
    less, more = (with_plus_minus(each, grouping)["bank_watts"] for each in (measured, machine))
    assert less.constants == pytest.approx(more.constants) and less.assumed < more.assumed


def test_the_plus_minus_holds_the_answer_at_either_end_of_every_assumption(machine, grouping):
    stated, winding = (
        with_plus_minus(machine, grouping),
        Winding(stator=machine.stator, coil=machine.coil, grouping=grouping),
    )
    seen = set()
    for each in variations(machine):
        seen.add(each.words)
        for words, end in each.ends:
            alone = operating_points(end.drive, [winding], end.bank.states[1], end.setting.conditions)
            for name, unit in (("bank_watts", "W"), ("dc_amps", "A"), ("speed_rpm", "rpm")):
                value, spread = float(getattr(alone, name)[0, 0]), stated[name]
                # The quick sweep that the ± is worked out on may be off by a hundredth of the ±.
                assert abs(value - spread.value) <= 1.01 * spread.assumed + 1e-9, (words, name, unit)
            volts = open_circuit_volts(winding, end.drive.runaway_speed_rpm, end.setting.cold_c)[1]
            spread = stated["runaway_dc_volts_peak"]
            assert abs(volts - spread.value) <= 1.001 * spread.assumed + 1e-9, words
    assert {
        "winding at work",
        "magnets at work",
        "coldest magnets",
        "resistance inside the bank",
        "drag",
        "diode drop",
        "runner efficiency",
        "runaway ratio",
        "net head as read",
    } <= seen


def test_the_reported_machine_is_not_told_to_a_tenth_of_a_watt(machine, grouping):
    # A page once said 100.09 ± 0.39 W beside 80 W cold: the ± holds the watts of the cold machine too.
    cold = operating_points(
        machine.drive,
        [Winding(stator=machine.stator, coil=machine.coil, grouping=grouping)],
        machine.bank.states[1],
        replace(machine.setting.conditions, copper_c=55.0, magnet_c=30.0),
    )
    watts = with_plus_minus(machine, grouping)["bank_watts"]
    assert abs(float(cold.bank_watts[0, 0]) - watts.value) < watts.plus_minus


@pytest.mark.parametrize(
    "value, constants, assumed, said",
    [
        (536.7, 9.0, 81.0, "537 ± 81 W"),
        (536.7, 30.0, 160.0, "540 ± 160 W"),
        (100.09, 0.39, 0.0, "100.09 ± 0.39 W"),
        (4.127, 0.3, 0.4, "4.13 ± 0.50 W"),
        (431.0, 6.2, 330.0, "430 ± 330 W"),
        (12.0, 0.0, 0.0, "12 ± 0 W"),
    ],
)
def test_numbers_are_rounded_to_their_plus_minus(value, constants, assumed, said):
    assert str(Spread(value=value, constants=constants, assumed=assumed, unit="W")) == said


def test_a_peak_between_the_ends_hides_nothing():
    # Both ends lie 3 below the best value: half their distance is 0, the reach is not.
    assert half_width([10.0, 7.0, 7.0]) == 0.0 and reach([10.0, 7.0, 7.0]) == 3.0
    assert reach([0, -3, 3, -4, 4, -12, 12]) == pytest.approx(13.0)


def test_three_independent_shares_add_as_squares():
    # 3-4-12 makes 13: the space diagonal of a box.
    assert half_width([0, -3, 3, -4, 4, -12, 12]) == pytest.approx(13.0)


def test_the_range_over_corners_holds_the_sampled_watts_within_the_bands(machine, grouping, drawn):
    least, most = watts_range(machine, grouping)
    found = operating_points(machine.drive, drawn, machine.bank.states[1], machine.setting.conditions).bank_watts
    assert np.mean((found >= least) & (found <= most)) > 0.95
    alone = with_plus_minus(machine, grouping)["bank_watts"]
    assert least < alone.value < most
