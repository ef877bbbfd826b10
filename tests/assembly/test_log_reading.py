"""The bench logs of a job without the sessions left out, and the units of the reader's own job."""

import pytest

from samples.job_samples import sample, spin_rows
from sentences import exactly, sentences_of
from statorbook.assembly.judged import judged_from, usable_year
from statorbook.assembly.log_reading import bench_logs, choose_sessions, sessions_used
from statorbook.assembly.machine import with_parts
from statorbook.assembly.stands_on import how_sure
from statorbook.assembly.units import own_job, speak_to_reader_of, units_for
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.parts.site import SitePart
from statorbook.quantities import units_now, use_units

wording = sentences_of("assembly")


@pytest.fixture
def job(tmp_path):
    example.write(tmp_path)
    return Job.create("mill", tmp_path)


def test_logs_are_read_for_the_stator_of_the_job_or_the_one_given(job):
    with pytest.raises(BadInput, match=exactly(wording("bench logs: the slots and poles"))):
        bench_logs(job)
    given = bench_logs(job, sample("stator"), spin=spin_rows(3))
    assert len(given.spin) == 3 and given.shorted == given.ohms == ()
    job.save_part("stator", sample("stator"))
    assert bench_logs(job).spin == ()
    job.save_log("spin", spin_rows(2))
    assert len(bench_logs(job).spin) == 2 and len(bench_logs(job, spin=spin_rows(4)).spin) == 4


def test_a_session_that_is_left_out_of_one_log_stays_in_the_others(job):
    job.save_part("stator", sample("stator"))
    days = ("2026-05-01", "2026-05-01", "2026-05-02")
    job.save_log("spin", [row | {"taken_on": day} for row, day in zip(spin_rows(3), days)])
    assert sessions_used(job, "spin") == "all" and not any(row.left_out for row in bench_logs(job).spin)
    choose_sessions(job, "spin", "2026-05-01")
    choose_sessions(job, "ohms", "2026-05-02")
    assert [sessions_used(job, log) for log in ("spin", "ohms", "shorted")] == ["2026-05-01", "2026-05-02", "all"]
    assert [bool(row.left_out) for row in bench_logs(job).spin] == [False, False, True]


def test_a_page_that_shows_the_example_speaks_the_units_of_the_own_job(job, monkeypatch):
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)
    job.save_part("reader", ReaderPart(units="US"))
    job.make_current()
    shown = with_parts(job, "stator")
    assert shown.name == "spring_pipe" and own_job(shown).name == "mill" and units_for(shown) == "US"
    # The example itself, opened for its own sake, is told in its own.
    itself = Job.open("spring_pipe", job.folder.parent)
    assert own_job(itself) is itself and units_for(itself) == "metric"
    try:
        speak_to_reader_of(shown)
        assert units_now() == "US"
    finally:
        use_units("metric")
    (job.folder / "job.json").write_text("{", encoding="utf-8")
    assert own_job(shown) is shown


def test_the_coldest_air_is_assumed_until_it_is_typed(tmp_path):
    job = example.write(tmp_path, "shed_pedals")
    for site, known, how in (
        (SitePart(), "assumed", ""),
        (SitePart(coldest_c=-12.0), "typed", "on page 06_protect_it, "),
    ):
        job.save_part("site", site)
        cold = next(each for each in how_sure(job).inputs if each.name == "cold_c")
        assert cold.known == known and cold.how.startswith(f"{how}its ends: ")


def test_a_year_that_cannot_be_used_is_left_out_and_says_why(tmp_path):
    job = example.write(tmp_path, "spring_pipe")
    source, fault = usable_year(job)
    assert source is not None and fault == ""
    by_year = judged_from(job)
    assert by_year.rows[0].worth is not None  # kilowatt-hours
    rows = job.read_log("water_months")
    job.save_log("water_months", [rows[0] | {"flow_l_s": "lots"}, *rows[1:]])
    source, fault = usable_year(job)
    assert source is None and fault.startswith("water months log, row 1, Flow")
    assert judged_from(job).rows[0].worth is None  # then the one setting decides
