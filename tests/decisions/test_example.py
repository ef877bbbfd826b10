"""The example job: its truth is found again, its planted row is named, and what is shipped is what it writes."""

import json
from pathlib import Path

import pytest

from statorbook import example
from statorbook.errors import BadInput
from statorbook.fit import coil_estimates, terminal_constants
from statorbook.job import Job
from statorbook.readings import read_logs

SHIPPED = Path(__file__).resolve().parent.parent.parent / "data" / "spring_pipe"
WINDING = example.TRUE_WINDING


@pytest.fixture(scope="module")
def constants():
    return terminal_constants(read_logs(example.raw_rows(), WINDING.stator), WINDING.stator)


@pytest.mark.parametrize("name", ["emf_v_per_rpm", "ohm", "henry"])
def test_the_truth_is_within_the_stated_plus_minus(constants, name):
    coil = getattr(coil_estimates(WINDING.stator, WINDING.grouping, constants), name)
    assert coil.low < getattr(example.TRUE_COIL, name) < coil.high
    assert coil.plus_minus < 0.04 * coil.value and not coil.assumed


def test_the_planted_row_and_only_it_is_named(constants):
    odd = [*constants.emf_fit.odd_rows, *constants.ohms_fit.odd_rows, *constants.inductance_fit.odd_rows]
    assert [row.row for row in odd] == [example.PLANTED_ROW]
    assert odd[0].percent_off == pytest.approx(-15, abs=2)
    assert odd[0].sentence.startswith("spin log, row 9: 15.7 % below what the other 13 rows say")


def test_the_planted_row_does_not_give_itself_away():
    rows = example.raw_rows()["spin"]
    assert {row["note"] for row in rows[6:]} == {rows[example.PLANTED_ROW - 1]["note"]}


def test_nothing_else_is_complained_about(constants):
    sentences = [s for s in constants.sentences if "DC turned into AC rms" not in s]
    assert len(sentences) == 2 and len(constants.sentences) == 4  # the odd row with what it changes, two DC rows


def test_the_log_is_as_varied_as_a_real_one():
    rows = example.raw_rows()
    assert [len(rows[log]) for log in ("spin", "shorted", "ohms")] == [14, 6, 3]
    assert {row["terminals"] for row in rows["spin"]} == {"AB", "BC", "CA", "ABC"}
    assert {row["lead"] for row in rows["shorted"]} == {"A", "B", "C"}
    by_hz = [row for row in rows["spin"] if not row["speed_rpm"]]
    assert len(by_hz) == 4 and sum(row["quantity"].startswith("DC") for row in rows["spin"]) == 2
    assert example.raw_rows() == rows


def test_what_is_shipped_is_what_the_example_writes(tmp_path):
    job = example.write(tmp_path)
    for name in ("spin.csv", "shorted.csv", "ohms.csv"):
        assert (SHIPPED / name).read_bytes() == (job.folder / name).read_bytes(), name
    shipped, written = ((folder / "job.json").read_text(encoding="utf-8") for folder in (SHIPPED, job.folder))
    assert json.loads(shipped) == json.loads(written)


def test_the_written_job_is_ready_for_the_choice(tmp_path):
    job = example.write(tmp_path, "another")
    assert Job.names(tmp_path) == ["another"]
    assert job.stator.to_stator() == WINDING.stator and job.stator.to_found_grouping() == WINDING.grouping
    assert job.coil.to_coil(job.stator).emf_v_per_rpm == pytest.approx(example.TRUE_COIL.emf_v_per_rpm, rel=0.02)
    assert job.drive.head_m == 28 and {"efficiency", "drag_nm"} <= set(job.drive.assumed)
    assert job.bank.cells == 16 and job.bank.device_max_volts == 64 and job.choice is None
    assert "invented" in job.stator.notes.lower()


def test_writing_again_restores_the_example(tmp_path):
    job = example.write(tmp_path)
    job.save_log("spin", job.read_log("spin")[:3])
    example.write(tmp_path)
    assert Job.open("spring_pipe", tmp_path).read_log("spin") == example.raw_rows()["spin"]


def test_a_name_that_is_not_allowed_is_refused(tmp_path):
    with pytest.raises(BadInput, match="job name"):
        example.write(tmp_path, "../elsewhere")


def test_the_data_page_says_what_is_invented():
    page = (SHIPPED.parent / "README.md").read_text(encoding="utf-8")
    assert "Nothing in it was measured on a real machine" in page
    for log, rows in example.raw_rows().items():
        assert f"### `spring_pipe/{log}.csv`" in page and f"{len(rows)} rows" in page
        assert all(column in page for column in rows[0])
