"""What tells causes apart asks for no bare end of a running plant, and says how fast the rotor may turn."""

import re
from dataclasses import replace

import numpy as np
import pytest

from samples.run_samples import logged
from sentences import sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.cautions import Exposure
from statorbook.drives.engine import Engine
from statorbook.examples import jobs as example
from statorbook.first_run.case import run_case
from statorbook.first_run.causes import causes_for
from statorbook.first_run.rows import read_run
from statorbook.first_run.tells import Tells

wording = sentences_of("first_run")


@pytest.fixture(scope="module", params=["spring_pipe", "ridge_rotor", "shed_pedals"])
def case(request, tmp_path_factory):
    job = example.write(tmp_path_factory.mktemp("data"), name=request.param)
    machine, grouping = machine_from(job), choice_of(job).to_grouping()
    best, volts = machine.drive.best_speed_rpm, machine.bank.states[1].volts
    rows = logged(machine, grouping, np.random.default_rng(3), rpms=(1.6 * best, 1.8 * best), bank_v=volts)
    return run_case(machine, grouping, read_run(rows, machine.stator, machine.drive))


def test_every_reading_is_taken_with_the_bank_off_at_rest(case):
    tells = Tells(case=case)
    every = {each.tell for each in causes_for(case)} | {tells.open_leads, tells.joined_leads, tells.coast, tells.source}
    assert len(every) >= 4
    for each in every - {tells.source}:
        assert "bank" in each.text or Exposure.STANDING in each.exposures
        assert Exposure.BANK in each.exposures or Exposure.STANDING in each.exposures, each.text
    # Bare ends are read on a rotor that is tied, or that turns by hand or drill behind a guard.
    assert all(Exposure.VOLTS in each.exposures for each in every if "leads in insulated terminals" in each.text)


@pytest.mark.outside(
    "volts between open leads where it is wet",
    source="IEC 60364-4-41, 414.4.5",
    number="12 V AC",
    tolerance="not above, 26 % below at most",
    seen="in a reproduction",
)
def test_open_leads_are_turned_no_faster_than_wet_hands_stand(case):
    # √3 of a star phase, magnets taken a fifth stronger in frost.
    words = Tells(case=case).open_leads.text
    rpm = float(re.search(r"at most (\d+) rpm \(12 V AC", words)[1])
    now, grouping = case.machine, case.grouping
    in_star = np.sqrt(3) if grouping.connection == "star" else 1.0
    line = in_star * grouping.series * now.stator.distribution_factor * now.coil.emf_v_per_rpm * rpm
    assert 12.0 / 1.35 < line <= 12.0
    assert wording("by hand or by a") in words and "clip the meter on; then turn" in words


# Below half of the ohms a reactance hides behind them: judgement, no source.
@pytest.mark.parametrize("over_ohms, by_lcr", [(0.45, True), (0.55, False)])
def test_joined_leads_are_read_where_the_reactance_shows_beside_the_ohms(case, over_ohms, by_lcr):
    now, rpm = case.machine, Tells(case=case).highest_rpm
    # In star and delta alike, and in every grouping, the ratio is that of a coil: 2π f L / R.
    hz = now.stator.poles / 2 * rpm / 60
    coil = replace(now.coil, henry=over_ohms * now.coil.ohm / (2 * np.pi * hz))
    said = Tells(case=replace(case, machine=replace(now, coil=coil))).joined_leads
    assert ("with an LCR meter, rotor tied" in said.text) is by_lcr
    assert (f"at most {rpm:.0f} rpm" in said.text) is not by_lcr
    turned = {Exposure.BANK, Exposure.TURNING, Exposure.VOLTS, Exposure.HEAT}
    assert set(said.exposures) == ({Exposure.BANK, Exposure.STANDING} if by_lcr else turned)


def test_a_rotor_is_spun_no_faster_than_its_drive_runs_away(case):
    now = case.machine
    weak = replace(now, coil=replace(now.coil, emf_v_per_rpm=1e-6))
    assert Tells(case=replace(case, machine=weak)).highest_rpm == pytest.approx(now.drive.runaway_speed_rpm)


def test_the_gauge_of_the_source_is_read_with_what_its_source_exposes_to(case):
    words = {"WaterJet": Exposure.WATER, "WindRotor": Exposure.HEIGHT, "Pedals": Exposure.CHAIN}
    source = words[type(case.machine.drive).__name__]
    assert set(Tells(case=case).source.exposures) == {Exposure.TURNING, source}
    engine = Engine(rated_watts=1500.0, engine_rpm=3000.0, pulley_ratio=0.31)
    driven = replace(case, machine=replace(case.machine, drive=engine))
    assert set(Tells(case=driven).source.exposures) == {Exposure.TURNING, Exposure.ENGINE}
    coast = Tells(case=case).coast
    assert set(coast.exposures) == {Exposure.BANK, Exposure.TURNING, Exposure.VOLTS}
    assert f"at most {Tells(case=case).highest_rpm:.0f} rpm" in coast.text


def test_nobody_probes_a_diode_or_a_cable_at_full_amps(case):
    said = " ".join(each.tell.text for each in causes_for(case))
    assert wording("at full amps no diode") in said or "diode" not in said
    assert "right after stopping" not in said and "along each wire" not in said
