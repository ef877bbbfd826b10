"""The example jobs: their truth is found again, their planted row is named, and what is shipped is what they write."""

import json
from pathlib import Path

import pytest

from house.sources import project_files
from sentences import sentences_of
from statorbook.assembly.charging import charging_from
from statorbook.assembly.machine import machine_from
from statorbook.assembly.need import need_from
from statorbook.assembly.plant import plant_from
from statorbook.assembly.year import source_year_from
from statorbook.bench.readings import read_logs
from statorbook.charging.dump_loads import judged_dumps
from statorbook.choice.comparison import compare
from statorbook.drives.pedals import Pedals
from statorbook.drives.water_jet import WaterJet
from statorbook.drives.wind_rotor import WindRotor
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.examples.charging import charging_rows
from statorbook.examples.years import year_rows
from statorbook.fits.constants import coil_estimates, terminal_constants
from statorbook.job.job import Job
from statorbook.job.places import EXAMPLES
from statorbook.year.energy import grouping_years

wording = sentences_of("examples")

DATA = Path(__file__).resolve().parent.parent.parent / "data"


@pytest.fixture(scope="module", params=EXAMPLES)
def name(request):
    return request.param


@pytest.fixture(scope="module")
def made_up(name):
    return example.MADE_UP[name]


@pytest.fixture(scope="module")
def constants(name, made_up):
    winding = made_up.winding
    logs = read_logs(example.raw_rows(name), winding.stator)
    return terminal_constants(logs, winding.stator, conductor=winding.coil.conductor, magnet=winding.coil.magnet)


@pytest.fixture
def job(tmp_path, name):
    return example.write(tmp_path, name)


@pytest.mark.parametrize("constant", ["emf_v_per_rpm", "ohm", "henry"])
def test_the_truth_is_within_the_stated_plus_minus(constants, made_up, constant):
    winding = made_up.winding
    found = coil_estimates(winding.stator, winding.grouping, constants, magnet=winding.coil.magnet)
    coil = getattr(found, constant)
    assert coil.low < getattr(winding.coil, constant) < coil.high
    assert coil.plus_minus < 0.05 * coil.value and not coil.assumed


def test_the_planted_row_and_only_it_is_named(constants, made_up):
    odd = [*constants.emf_fit.odd_rows, *constants.ohms_fit.odd_rows, *constants.inductance_fit.odd_rows]
    assert [row.row for row in odd] == [made_up.planted_row]
    assert odd[0].percent_off == pytest.approx(100 * (made_up.planted_factor - 1), abs=2)
    side = "below" if made_up.planted_factor < 1 else "above"
    assert odd[0].sentence.startswith(f"spin log, row {made_up.planted_row}: ")
    assert f"{side} what the other {len(made_up.spins) - 1} rows say" in odd[0].sentence


def test_the_planted_row_does_not_give_itself_away(name, made_up):
    rows = example.raw_rows(name)["spin"]
    alike = [row for row in rows if row["note"] == rows[made_up.planted_row - 1]["note"]]
    assert len(alike) > 2


def test_nothing_else_is_complained_about(constants, name):
    usual = ("DC turned into AC rms", "rows read with an averaging meter")
    sentences = [s for s in constants.sentences if not any(words in s for words in usual)]
    by_dc = sum(row["quantity"].startswith("DC") for row in example.raw_rows(name)["spin"])
    assert len(sentences) == 2 and len(constants.sentences) == 3 + by_dc  # the odd row with what it changes, the
    # averaging meter, DC rows


def test_the_logs_are_as_varied_as_real_ones(name):
    rows = example.raw_rows(name)
    assert len(rows["spin"]) >= 10 and len(rows["shorted"]) >= 5 and len(rows["ohms"]) == 3
    assert {row["terminals"] for row in rows["spin"]} >= {"AB", "BC", "CA"}
    assert {row["lead"] for row in rows["shorted"]} == {"A", "B", "C"}
    assert any(not row["speed_rpm"] for row in rows["spin"]) and example.raw_rows(name) == rows


def test_what_is_shipped_is_what_the_example_writes(job):
    logs = sorted(path.name for path in job.folder.glob("*.csv"))
    shipped = [name for name in project_files() if name.startswith(f"data/{job.name}/") and name.endswith(".csv")]
    assert sorted(Path(name).name for name in shipped) == logs and {"spin.csv", "need_months.csv"} < set(logs)
    for log in logs:
        assert (DATA / job.name / log).read_bytes() == (job.folder / log).read_bytes(), log
    shipped, written = ((folder / "job.json").read_text(encoding="utf-8") for folder in (DATA / job.name, job.folder))
    assert json.loads(shipped) == json.loads(written)


def test_the_written_job_is_ready_for_the_choice(job, made_up):
    winding = made_up.winding
    assert job.stator.to_stator() == winding.stator and job.stator.to_found_grouping() == winding.grouping
    assert job.coil.to_coil(job.stator).emf_v_per_rpm == pytest.approx(winding.coil.emf_v_per_rpm, rel=0.02)
    assert "drag_nm" in job.drive.assumed and job.choice is None
    assert "invented" in job.stator.notes.lower()


def test_every_example_has_a_grouping_worth_building(job):
    machine = machine_from(job)
    found = compare(machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)
    assert found.recommended is not None and found.recommended.point.bank_watts > 30.0
    assert found.recommended.grouping != machine.found  # else nothing would have to be cut


@pytest.mark.outside(
    "most hours in which a stream, a wind rotor and two riders charge in a year",
    source="common practice, no source",
    number="8760, 8760, 365 h",
    tolerance="at most",
    seen="from memory",
)
def test_every_example_has_a_year_and_a_need(job, name):
    year, need = source_year_from(job), need_from(job)
    assert year.months_known == (name != "shed_pedals") and year.gaps == ()
    most = max(grouping_years(machine_from(job), year), key=lambda found: found.kwh)
    assert most.kwh > 10.0 and {"spring_pipe": 8760, "ridge_rotor": 8760, "shed_pedals": 365}[name] >= most.charging_h
    assert need.kwh_a_day.shape == (12,) and need.kwh_a_day.min() > 0.0
    assert job.states()["04b_add_up_the_year"] == "done"


@pytest.mark.outside(
    "fuse over the amps that flow for hours",
    source="NEC 210.20(A)",
    number="1.25",
    tolerance="at least",
    seen="in a reproduction",
)
def test_every_example_has_what_protects_it(job):
    assert job.states()["06_protect_it"] == "done"
    plant = plant_from(job)
    # The rectifier stands the volts of the runaway.
    assert plant.fuse.amps >= 1.25 * plant.most.dc_amps and plant.fuse.dc_volts > plant.bank.highest_volts
    assert plant.rectifier.label_amps > plant.most.dc_amps
    assert plant.rectifier.reverse_volts > plant.open_volts(plant.runaway_rpm)[1]


def test_every_example_has_what_is_switched_on_its_bank(job, name):
    assert job.states()["07_charge_and_dump"] == "started: still missing the program"
    plan = charging_from(job)
    judged = judged_dumps(plan.plant, plan.points, plan.dumps)
    assert judged.faults == () and plan.dumps == job.dump.to_dumps()
    # Any one load may be dead where the source does not stop by itself.
    assert judged.one_may_die == (name != "shed_pedals")


def test_the_appliances_of_every_example_come_to_a_day_of_its_need(job):
    need = [float(row["need_kwh_a_day"]) for row in job.read_log("need_months")]
    loads = job.read_log("house_loads")
    # By hand: watts times hours a day times the share of the hour.
    hours = [(int(load["to_hour"]) - int(load["from_hour"])) * float(load["minutes"]) / 60.0 for load in loads]
    kwh = sum(float(load["watts"]) * each for load, each in zip(loads, hours, strict=True)) / 1000.0
    assert min(need) <= kwh <= max(need)


@pytest.mark.outside(
    "paths of 24 slots with 22 poles",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="1 or 2",
    tolerance="exact",
    seen="from memory",
)
def test_the_three_are_complete_and_different(tmp_path):
    jobs = [example.write(tmp_path, name) for name in EXAMPLES]
    assert Job.names(tmp_path) == sorted(EXAMPLES)
    assert [type(job.drive.to_drive()) for job in jobs] == [WaterJet, WindRotor, Pedals]
    assert [(job.bank.nominal_volts, job.bank.chemistry) for job in jobs] == [
        (48.0, "LiFePO4"),
        (24.0, "flooded lead-acid"),
        (12.0, "AGM"),
    ]
    assert len({(job.stator.slots, job.stator.poles) for job in jobs}) == 3
    few = {grouping.parallel for grouping in jobs[1].stator.to_stator().groupings()}
    assert few == {1, 2}


def test_another_name_is_given_the_first_example(tmp_path):
    job = example.write(tmp_path, "another")
    assert Job.names(tmp_path) == ["another"] and job.stator.slots == 36 and job.drive.kind == "water jet"


def test_writing_again_restores_the_example(tmp_path, name):
    job = example.write(tmp_path, name)
    job.save_log("spin", job.read_log("spin")[:3])
    example.write(tmp_path, name)
    assert Job.open(name, tmp_path).read_log("spin") == example.raw_rows(name)["spin"]


def test_a_name_that_is_not_allowed_is_refused(tmp_path):
    with pytest.raises(BadInput, match="job name"):
        example.write(tmp_path, "../elsewhere")


def test_the_data_page_says_what_is_invented(name):
    page = (DATA / "README.md").read_text(encoding="utf-8")
    assert wording("Nothing in it was measured") in page
    for log, rows in (example.raw_rows(name) | year_rows(name) | charging_rows(name)).items():
        assert f"`{name}/{log}.csv`" in page and f"{len(rows)} rows" in page
        assert all(column in page for column in rows[0])
