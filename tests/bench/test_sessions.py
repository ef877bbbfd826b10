"""Sessions of readings: the day of a row, the sessions of a log, and leaving some of them out of a fit."""

from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats

from samples.made_up_logs import MACHINE, STATOR, clean_logs, random_machine, spin_row
from sentences import exactly, sentences_of
from statorbook.assembly.log_reading import bench_logs, choose_sessions, sessions_used
from statorbook.bench.logs import SESSION_LOGS
from statorbook.bench.readings import read_logs
from statorbook.bench.sessions import (
    day_questions,
    leave_out,
    require_choice,
    session_options,
    sessions_of,
    sessions_words,
)
from statorbook.bench.spin import read_spin
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.fits.constants import terminal_constants
from statorbook.job.parts.registry import SessionsPart

wording = sentences_of("bench")

DAYS = ("2026-05-09", "", "2026-05-02", "2026-05-09")


def spun(days=DAYS):
    return read_spin([spin_row(100 + 50 * n, 40 + 20 * n, taken_on=day) for n, day in enumerate(days)], STATOR)


def test_a_log_knows_its_sessions():
    assert sessions_of(spun()) == {"2026-05-02": 1, "2026-05-09": 2, "without a day": 1}
    assert sessions_words(spun()) == wording("3 sessions: 2026-05-02 (1 row)")
    assert sessions_words(spun(("", ""))) == "" and sessions_words(()) == ""


def test_what_can_be_chosen():
    assert session_options(spun(("", ""))) == ["all"] and session_options(()) == ["all"]
    assert session_options(spun(("2026-05-02", ""))) == ["all", "2026-05-02", "without a day"]
    assert session_options(spun())[4:] == ["all but 2026-05-02", "all but 2026-05-09", "all but without a day"]


@pytest.mark.parametrize(
    "chosen, rows",
    [
        ("all", [1, 2, 3, 4]),
        ("2026-05-09", [1, 4]),
        ("without a day", [2]),
        ("all but 2026-05-09", [2, 3]),
        ("all but without a day", [1, 3, 4]),
    ],
)
def test_rows_of_other_sessions_are_kept_and_not_used(chosen, rows):
    found = leave_out(spun(), chosen)
    assert [each.row for each in found if each.usable] == rows and [each.row for each in found] == [1, 2, 3, 4]
    assert all(each.raw == before.raw for each, before in zip(found, spun(), strict=True))


def test_a_row_left_out_says_so():
    assert leave_out(spun(), "2026-05-02")[0].left_out == wording("Not used: the session 2026-05-09")


@pytest.mark.parametrize("chosen", ["", "2026-5-2", "all but", "all but all", "yesterday"])
def test_another_choice_is_refused(chosen):
    words = (
        f'fit: "{chosen}" was given; "all", a day, "without a day", or "all but" one of them is allowed; choose '
        "again on the page of that log."
    )
    with pytest.raises(BadInput, match=exactly(words)):
        require_choice(chosen, "fit")


def test_a_day_that_is_none_is_refused_and_one_to_come_is_questioned():
    (bad,) = spun(("31.5.26",))
    assert bad.refusal == wording("spin log, row 1, Date")
    (odd,) = spun(((date.today() + timedelta(days=2)).isoformat(),))
    assert odd.usable and odd.warnings == tuple(day_questions(odd.taken_on, "spin log, row 1"))
    day = date(2026, 5, 31)
    assert day_questions(day, "spin log, row 1", date(2026, 5, 30)) == [wording("spin log, row 1: dated")]
    assert day_questions(day, "x", day) == [] and day_questions(None, "x") == []


def test_the_choice_is_kept_in_the_job_and_the_fit_follows(tmp_path):
    job = example.write(tmp_path)
    assert job.sessions is None and sessions_used(job, "spin") == "all"
    choose_sessions(job, "spin", "2025-04-12")
    choose_sessions(job, "coast", "without a day")
    again = type(job).open(job.name, tmp_path)
    assert again.sessions == SessionsPart(spin="2025-04-12", coast="without a day")
    logs = bench_logs(again)
    assert [each.row for each in logs.spin if each.usable] == [1, 2, 3, 4, 5] and all(r.usable for r in logs.ohms)
    assert terminal_constants(logs, again.stator.to_stator()).emf_fit.used_rows == (1, 2, 3, 4, 5)
    with pytest.raises(BadInput, match=wording("sessions used, Sessions used, spin")):
        choose_sessions(again, "spin", "soon")


def test_logs_from_before_there_were_days_open_as_one_session(tmp_path):
    job = example.write(tmp_path)
    path = job.folder / "spin.csv"
    old = path.read_text(encoding="utf-8").replace(",taken_on", "").replace(",date", "")
    path.write_text(old.replace(",2025-04-12", "").replace(",2025-04-19", ""), encoding="utf-8")
    assert job.log_notes("spin") == () and sessions_of(bench_logs(job).spin) == {"without a day": 14}
    assert set(SESSION_LOGS) == {"spin", "shorted", "ohms", "coast", "drill", "coils"}


@pytest.mark.slow
def test_the_plus_minus_keeps_its_promise_with_sessions_left_out():
    """Rows of 500 random machines spread over two days, the fit taken from one of them or from both."""
    rng = np.random.default_rng(61)
    hits = np.zeros(3, int)
    for _ in range(500):
        machine = random_machine(rng)
        rows = clean_logs(machine, rng=rng)
        for row in (row for log in rows.values() for row in log):
            row["taken_on"] = f"2026-05-0{rng.integers(1, 3)}"
        logs = read_logs(rows, machine.stator)
        used = {log: leave_out(getattr(logs, log), rng.choice(session_options(getattr(logs, log)))) for log in rows}
        found = terminal_constants(type(logs)(**used), machine.stator)
        pairs = ((found.emf_v_per_rpm, machine.emf), (found.ohm, machine.ohm), (found.henry, machine.henry))
        hits += [estimate.low <= truth <= estimate.high for estimate, truth in pairs]
    # Binomial distribution: 99.9 % of such counts if 95 % is true; single rows and assumed bands are wide on the safe
    # side, so no upper bound is asked for here.
    least, _ = stats.binom.interval(0.999, 500, 0.95)
    assert np.all(hits >= least), hits


def test_clean_logs_of_one_session_fit_as_before():
    rows = clean_logs(MACHINE)
    logs = read_logs(rows, STATOR)
    dated = {log: [row | {"taken_on": "2026-05-02"} for row in rows[log]] for log in rows}
    assert terminal_constants(read_logs(dated, STATOR), STATOR).henry == terminal_constants(logs, STATOR).henry
