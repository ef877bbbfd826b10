"""The job as the notebooks use it: create, open, save, read back, and who may write what."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.job_samples import PARTS, sample, spin_rows
from sentences import sentences_of
from statorbook.bench.logs import ALL_LOGS, LOGS, blank_row
from statorbook.errors import BadInput
from statorbook.job.job import Job

wording = sentences_of("job")


@pytest.fixture
def job(tmp_path):
    return Job.create("mill", tmp_path)


def sentence(act, *arguments):
    with pytest.raises(BadInput) as caught:
        act(*arguments)
    return str(caught.value)


def document(job):
    return json.loads((job.folder / "job.json").read_text(encoding="utf-8"))


def test_a_new_job_is_complete_and_empty(job, tmp_path):
    assert sorted(p.name for p in job.folder.iterdir()) == [".lock", "job.json", "ohms.csv", "shorted.csv", "spin.csv"]
    assert document(job) == {"schema_version": 1}
    assert (job.folder / "ohms.csv").read_text(encoding="utf-8") == (
        "terminals,ohms,lead_zero_ohm,copper_c,taken_on,note\npair,Ω,Ω,°C,date,text\n"
    )
    assert [getattr(job, name) for name in PARTS] == [None] * len(PARTS)
    assert [job.read_log(log) for log in LOGS] == [[], [], []]
    assert repr(job) == "Job 'mill'" and job.notice == "" and Job.names(tmp_path) == ["mill"]


@pytest.mark.parametrize("name", PARTS)
def test_a_part_comes_back_as_it_was_saved(job, name, tmp_path):
    job.save_part(name, sample(name))
    assert getattr(Job.open("mill", tmp_path), name) == sample(name)


def test_job_json_reads_like_text(job):
    job.save_part("stator", sample("stator"))
    text = (job.folder / "job.json").read_text(encoding="utf-8")
    assert '\n    "wire_diameter_mm": 0.9,\n' in text and wording('"notes": "found at 3 °C') in text
    assert text.endswith("}\n")


@settings(max_examples=25)
@given(notes=st.lists(st.text(max_size=30), max_size=4))
def test_a_log_comes_back_cell_by_cell(tmp_path_factory, notes):
    job = Job.create("mill", tmp_path_factory.mktemp("data"))
    rows = [row | {"note": note} for note, row in zip(notes, spin_rows(len(notes)))]
    if any(0xD800 <= ord(letter) <= 0xDFFF for note in notes for letter in note):
        assert wording("is not text; cells are") in sentence(job.save_log, "spin", rows)
    else:
        job.save_log("spin", rows)
        assert job.read_log("spin") == rows and job.log_notes("spin") == ()


def test_the_version_before_is_kept(job):
    job.save_part("bank", sample("bank", capacity_ah=100.0))
    before = (job.folder / "job.json").read_bytes()
    job.save_part("bank", sample("bank", capacity_ah=200.0))
    assert (job.folder / "job.previous.json").read_bytes() == before
    job.save_log("spin", spin_rows(1))
    before = (job.folder / "spin.csv").read_bytes()
    job.save_log("spin", spin_rows(2))
    assert (job.folder / "spin.previous.csv").read_bytes() == before


def test_saving_the_same_again_does_not_push_out_the_version_before(job):
    job.save_log("spin", spin_rows(1))
    job.save_log("spin", spin_rows(2))
    before = (job.folder / "spin.previous.csv").read_bytes()
    job.save_log("spin", spin_rows(2))
    assert (job.folder / "spin.previous.csv").read_bytes() == before


def test_two_open_jobs_do_not_undo_each_other(job, tmp_path):
    other = Job.open("mill", tmp_path)
    job.save_part("stator", sample("stator"))
    other.save_part("bank", sample("bank"))
    job.save_part("drive", sample("drive"))
    other.save_log("ohms", [blank_row("ohms")])
    job.save_log("spin", spin_rows(2))
    for each in (job, other):
        assert (each.stator, each.bank, each.drive) == (sample("stator"), sample("bank"), sample("drive"))
        assert each.read_log("spin") == spin_rows(2)


def test_a_reading_of_another_notebook_is_not_overwritten(job, tmp_path):
    other = Job.open("mill", tmp_path)
    job.save_log("spin", spin_rows(1))
    assert sentence(other.save_log, "spin", spin_rows(3)) == wording("mill/spin.csv: the file was changed")
    assert job.read_log("spin") == spin_rows(1)
    other.save_log("spin", other.read_log("spin") + spin_rows(1))
    assert job.read_log("spin") == spin_rows(1) * 2


def test_strange_keys_and_columns_are_kept(job):
    job.save_part("bank", sample("bank"))
    keys = document(job)
    keys["bank"]["serial"], keys["weather"] = "A-17", {"rain": [1, None, 2.5]}
    (job.folder / "job.json").write_text(json.dumps(keys), encoding="utf-8")
    assert job.bank == sample("bank")
    job.save_part("bank", sample("bank", capacity_ah=90.0))
    job.save_part("drive", sample("drive"))
    assert document(job)["weather"] == {"rain": [1, None, 2.5]}
    assert (document(job)["bank"]["serial"], document(job)["bank"]["capacity_ah"]) == ("A-17", 90.0)
    log = job.folder / "ohms.csv"
    heads = "terminals,ohms,lead_zero_ohm,copper_c,taken_on,note,damp\npair,Ω,Ω,°C,date,text,%\n"
    log.write_text(f"{heads}AB,1.2,0.2,16,,,60\n", encoding="utf-8")
    job.save_log("ohms", job.read_log("ohms") * 2)
    assert log.read_text(encoding="utf-8") == f"{heads}AB,1.2,0.2,16,,,60\nAB,1.2,0.2,16,,,60\n"


def test_only_a_checked_part_of_that_name_is_saved(job):
    assert sentence(job.save_part, "engine", sample("bank")) == wording('part: "engine" was given; allowed')
    assert sentence(job.save_part, "bank", sample("drive")) == wording("bank: a DrivePart was given")
    assert sentence(job.save_part, "bank", sample("bank").model_copy(update={"capacity_ah": -1.0})) == wording(
        "bank, Capacity [Ah]: -1.0 was"
    )
    assert document(job) == {"schema_version": 1}


@pytest.mark.parametrize(
    "rows, words",
    [
        ("100", wording("mill/spin.csv: something else than rows")),
        ([{"speed_rpm": "100", "volt": "12"}], wording("mill/spin.csv, row 1: the column")),
        ([*spin_rows(1), spin_rows(1)[0] | {"volts": 12.5}], wording("mill/spin.csv, row 2, 'volts': '12.5'")),
        ([spin_rows(1)[0] | {None: "12"}], wording("mill/spin.csv, row 1, 'beyond the")),
    ],
)
def test_rows_that_cannot_be_stored(job, rows, words):
    before = (job.folder / "spin.csv").read_bytes()
    assert sentence(job.save_log, "spin", rows) == words
    assert (job.folder / "spin.csv").read_bytes() == before


@pytest.mark.parametrize("log", ["coast", "drill"])
def test_a_job_may_do_without_the_logs_of_the_drag(job, log):
    states = job.states()
    assert job.read_log(log) == [] and not (job.folder / f"{log}.csv").exists()
    assert job.log_notes(log) == (f"mill/{log}.csv is not there yet; saving a reading makes it.",)
    rows = [blank_row(log) | {"speed_rpm": "120", "note": "first"}]
    job.save_log(log, rows)
    assert Job.open(job.name, job.folder.parent).read_log(log) == rows and job.states() == states


@pytest.mark.parametrize("log", ["spinn", "../spin", None, ["spin"]])
def test_no_other_log_is_known(job, log):
    words = f"log: {str(log)!r} was given; allowed are {', '.join(ALL_LOGS)}; choose one of them."
    assert [sentence(job.read_log, log), sentence(job.log_notes, log), sentence(job.save_log, log, [])] == [words] * 3


def test_a_name_is_taken_whatever_the_capitals(job, tmp_path):
    for name in ("mill", "Mill"):
        assert sentence(Job.create, name, tmp_path) == wording("job name: there is already")


def test_a_job_half_made_is_made_whole(job, tmp_path):
    job.save_log("spin", spin_rows(2))
    (job.folder / "spin.previous.csv").unlink()
    (job.folder / "job.json").unlink()
    (job.folder / "ohms.csv").unlink()
    assert Job.names(tmp_path) == []
    assert Job.create("mill", tmp_path).read_log("spin") == spin_rows(2)


def test_a_missing_job_names_those_that_exist(job, tmp_path):
    Job.create("barn", tmp_path)
    assert sentence(Job.open, "mil", tmp_path) == wording("job name: there is no job 'mil'")


def test_a_lost_file_is_told_from_its_previous_version(job, tmp_path):
    job.save_part("bank", sample("bank"))
    job.save_log("spin", spin_rows(1))
    (job.folder / "job.json").unlink()
    (job.folder / "spin.csv").unlink()
    words = wording("mill/job.json: the file is missing; job.previous.json")
    assert sentence(Job.open, "mill", tmp_path) == words and sentence(lambda: job.bank) == words
    assert sentence(job.read_log, "spin") == wording("mill/spin.csv: the file is missing")
    assert "already a folder" in sentence(Job.create, "mill", tmp_path)


def test_a_log_that_never_was_is_empty_and_says_so(job):
    (job.folder / "ohms.csv").unlink()
    fresh = Job.open("mill", job.folder.parent)
    assert fresh.read_log("ohms") == []
    assert fresh.log_notes("ohms") == (wording("mill/ohms.csv is not there yet"),)
    fresh.save_log("ohms", [blank_row("ohms") | {"ohms": "1.2"}])
    assert fresh.read_log("ohms")[0]["ohms"] == "1.2"


def test_states_say_what_is_missing(job):
    assert job.states() == {
        "00_start_here": "done",
        "01_know_your_stator": wording("empty: still missing the stator"),
        "02_spin_and_log": wording("empty: still missing the volts"),
        "03_what_turns_it": "empty: still missing the drive",
        "04_choose_a_grouping": wording("empty: still missing the bank"),
        "04b_add_up_the_year": wording("empty: still missing the source"),
        "05_cut_and_join": wording("empty: still missing the chosen"),
        "06_protect_it": wording("empty: still missing the place"),
        "07_charge_and_dump": wording("empty: still missing the dump"),
        "08_first_run": wording("empty: still missing the run"),
    }
    job.save_part("stator", sample("stator"))
    job.save_log("ohms", [blank_row("ohms")])
    job.save_log("spin", spin_rows(1))
    job.save_part("bank", sample("bank"))
    assert list(job.states().values())[1:] == [
        "started: still missing the winding ohms",
        wording("started: still missing the shorted-lead"),
        "empty: still missing the drive",
        "started: still missing the chosen grouping",
        wording("empty: still missing the source"),
        wording("empty: still missing the chosen"),
        wording("empty: still missing the place"),
        wording("empty: still missing the dump"),
        wording("empty: still missing the run"),
    ]
    for name in PARTS:
        job.save_part(name, sample(name))
    job.save_log("run", [blank_row("run") | {"speed_rpm": "900"}])
    assert set(job.states().values()) == {"done"}
    job.save_part("coil", sample("coil", henry_assumed=True, ohm_assumed=True))
    assert job.states()["01_know_your_stator"] == "started: still missing the winding ohms"
    assert job.states()["02_spin_and_log"] == "started: still missing the shorted-lead amps"


def test_states_tell_a_damaged_log(job):
    (job.folder / "shorted.csv").write_bytes(b"")
    assert job.states()["02_spin_and_log"] == "started: " + sentence(job.read_log, "shorted")
