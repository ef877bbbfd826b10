"""What is due when, by hours and by calendar, worked by hand, and what a look means."""

from datetime import date, timedelta

import pytest

from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.registry import ServicePart
from statorbook.service.due_dates import due_items, findings, hours_on
from statorbook.service.rows import read_service

wording = sentences_of("service")

FIRST = "2026-01-01"
TODAY = date(2026, 3, 2)


def row(**cells):
    return blank_row("service") | cells


@pytest.fixture
def job(tmp_path):
    (tmp_path / "data").mkdir()
    return Job.create("mill", tmp_path / "data")


def service(job, *rows, **fields):
    job.save_part("service", ServicePart(**{"installed_on": FIRST, "hours_per_day": 10.0} | fields))
    if rows:
        job.save_log("service", list(rows))
    return due_items(job, TODAY)


def test_a_job_without_the_part_has_nothing_due(job):
    assert due_items(job, TODAY) == ()


def test_by_hours_or_by_calendar_whichever_is_first(job):
    # 500 h at 10 h a day is 50 days after 1 January: 20 February; 90 days would be 1 April. 60 days to 2 March.
    look, renew = service(job)
    assert (look.on_date, look.overdue_days) == (date(2026, 2, 20), 10)
    # 8000 h are 800 days, so the calendar's 365 days count: 1 January 2027.
    assert renew.on_date == date(2027, 1, 1) and renew.overdue_days == (TODAY - date(2027, 1, 1)).days
    assert service(job, hours_per_day=2.0)[0].on_date == date(2026, 4, 1)


def test_a_look_puts_the_next_one_off(job):
    items = service(job, row(taken_on="2026-02-15", hours_run="450", noise="quiet", play="none"))
    # 450 h + 500 h, 50 days after 15 February.
    assert items[0].on_date == date(2026, 4, 6) and items[0].overdue_days < 0


def test_hours_read_without_a_look_bring_it_forward(job):
    # On 1 February 480 h are read: 20 h are left, two days.
    assert service(job, row(taken_on="2026-02-01", hours_run="480"))[0].on_date == date(2026, 2, 3)
    # On 10 February the meter already shows 510 h: it was due by then.
    assert service(job, row(taken_on="2026-02-10", hours_run="510"))[0].on_date == date(2026, 2, 10)


def test_what_grinds_is_due_at_once(job):
    items = service(job, row(taken_on="2026-02-28", hours_run="500", noise="grind", water="inside"))
    said = [item.words.text for item in items if item.overdue_days == 2]
    assert said == [wording("It grinds: stop and renew"), wording("Water inside: stop, dry it")]


def test_a_later_look_does_not_clear_what_only_new_bearings_clear(job):
    items = service(
        job,
        row(taken_on="2026-02-20", noise="grind", bearing_c="70", room_c="20"),
        row(taken_on="2026-02-28", play="none", bearing_c="30", room_c="20"),
    )
    assert [(item.words.text, item.overdue_days) for item in items if "stop" in item.words.text] == [
        (wording("It grinds: stop and renew"), 10)
    ]


def test_a_day_still_to_come_does_not_put_the_next_look_off(job):
    assert service(job, row(taken_on="2062-02-15", hours_run="450", play="none"))[0].on_date == date(2026, 2, 20)


def test_renewed_bearings_start_anew(job):
    items = service(
        job, row(taken_on="2026-02-01", hours_run="300", noise="grind"), renewed_on="2026-02-02", renewed_at_hours=310.0
    )
    assert [item.words.text for item in items] == [wording("Look at the bearings: play"), "Renew both bearings."]
    assert items[1].on_date == date(2027, 2, 2)


def test_hours_run_on_from_the_last_reading(job):
    part = ServicePart(installed_on=FIRST, hours_per_day=10.0)
    rows = read_service([row(taken_on="2026-02-01", hours_run="300"), row(taken_on="2026-05-01", hours_run="999")])
    assert hours_on(part, rows, TODAY) == 300.0 + 29 * 10.0  # 29 days from 1 February to 2 March
    assert hours_on(part, (), TODAY) == 600.0


@pytest.mark.parametrize(
    "cells, urgency, words",
    [
        (dict(bearing_c="66", room_c="20"), "stop", wording("46 K warmer than the")),
        (dict(bearing_c="50", room_c="20"), "soon", wording("30 K warmer than the")),
        (dict(bearing_c="30", room_c="20"), "fine", wording("10 K warmer than the")),
        (dict(play="clear", noise="quiet"), "stop", wording("Clear play: stop; the magnets")),
        (dict(water="Damp outside"), "soon", wording("Damp outside: mend slinger, seal")),
    ],
)
def test_what_a_look_means(cells, urgency, words):
    (reading,) = read_service([row(taken_on="2026-02-01", **cells)])
    assert (findings(reading)[0].urgency, findings(reading)[0].words.text) == (urgency, words)


@pytest.mark.parametrize(
    "cells", [dict(play="none"), dict(noise="quiet"), dict(water="none"), dict(bearing_c="30", room_c="20")]
)
def test_one_thing_looked_at_is_a_look(job, cells):
    # 450 h + 500 h, 50 days after 15 February.
    assert service(job, row(taken_on="2026-02-15", hours_run="450", **cells))[0].on_date == date(2026, 4, 6)


def test_hours_of_bearings_that_were_never_renewed_count_from_the_first_day(job):
    # Hours typed without a day of renewal count for nothing: 8000 h at 24 h a day are 333.3 days, so the 334th.
    _, renew = service(job, hours_per_day=24.0, renewed_at_hours=310.0, renew_days=3650.0)
    assert renew.on_date == date(2026, 1, 1) + timedelta(days=334)


def test_hours_that_divide_evenly_give_no_day_more(job):
    # 500 h at 10 h a day are 50 days, and no hour more.
    assert service(job, row(taken_on="2026-02-01", hours_run="500"))[0].on_date == date(2026, 2, 1)


def test_half_an_hour_of_a_machine_that_runs_half_an_hour_a_day_is_one_day(job):
    assert service(job, look_hours=0.5, hours_per_day=0.5)[0].on_date == date(2026, 1, 2)


def test_warmth_that_has_passed_is_not_urgent_and_warmth_of_the_last_look_is(job):
    hot, fine = dict(bearing_c="70", room_c="20"), dict(bearing_c="30", room_c="20")
    looks = [("2026-02-10", fine), ("2026-02-20", hot), ("2026-02-25", fine)]
    for last in (2, 3):
        items = service(job, *(row(taken_on=day, **cells) for day, cells in looks[:last]))
        assert any("find out why" in item.words.text for item in items) == (last == 2)


def test_hours_before_a_look_do_not_count_after_it(job):
    # 900 h typed on a day before the look at 450 h, a slip, do not make the next one due.
    items = service(
        job, row(taken_on="2026-02-10", hours_run="950"), row(taken_on="2026-02-15", hours_run="450", play="none")
    )
    assert items[0].on_date == date(2026, 4, 6)


@pytest.mark.parametrize("rise, urgency", [(25, "fine"), (26, "soon"), (40, "soon"), (41, "stop")])
def test_at_which_warmth_a_bearing_is_looked_at_or_stopped(rise, urgency):
    # 25 K and 40 K above the air: common practice, no source.
    (reading,) = read_service([row(taken_on="2026-02-01", bearing_c=f"{20 + rise}", room_c="20")])
    assert findings(reading)[0].urgency == urgency


def test_dates_are_never_guessed(job):
    with pytest.raises(BadInput, match=exactly(wording("service: the first day at"))):
        service(job, installed_on="")
