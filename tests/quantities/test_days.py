"""A day as people write it: every usual order is read, one that can mean two days is asked, nothing else is guessed."""

from datetime import date

import pytest
from dateutil.parser import parse
from hypothesis import given
from hypothesis import strategies as st

from samples.job_samples import sample
from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.bench.paste import pasted_rows
from statorbook.bench.spin import read_spin
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.registry import ServicePart
from statorbook.panels.measuring.job_log import log_grid
from statorbook.quantities.cells import days_meant, tidy_day, typed_day
from statorbook.service.rows import read_service
from statorbook.widgets.form import Form
from statorbook.winding.stator import Stator

wording = sentences_of("quantities")

DAY = date(2026, 11, 28)
ASKED = '"03/04/2026" can mean 4 March 2026 or 3 April 2026'
DAYS = st.dates(date(1970, 1, 1), date(2069, 12, 31))


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-28",
        "28.11.2026",
        "28/11/2026",
        "11/28/2026",
        "28-11-2026",
        "11-28-2026",
        "2026/11/28",
        "2026.11.28",
        "28 Nov 2026",
        "28 November 2026",
        "Nov 28, 2026",
        "November 28 2026",
        "28-Nov-2026",
        "28. Nov. 2026",
        "28th November 2026",
        "Nov 28th, 2026",
        " 28  nov  2026 ",
        "28\u00a0Nov\u00a02026",
    ],
)
def test_usual_orders(text):
    assert typed_day(text, where="x") == DAY and tidy_day(text) == "2026-11-28"


def test_short_days_and_months():
    assert typed_day("3.4.2026", where="x") == date(2026, 4, 3) == typed_day("2026-4-3", where="x")
    assert typed_day("3/3/2026", where="x") == date(2026, 3, 3) and tidy_day("Sept 3, 2026") == "2026-09-03"


@pytest.mark.parametrize(
    "text",
    [
        "31.5.26",
        "11/28/26",
        "28 Nov",
        "Nov 2026",
        "2026",
        "20261128",
        "30.02.2026",
        "31/31/2026",
        "2026-28-11",
        "soon",
        "28.11.2026 14:30",
        "28 11 2026",
        "٢٨.١١.٢٠٢٦",
        "12.5",
        "28.11/2026",
        "Sat 28 Nov 2026",
    ],
)
def test_anything_else_is_refused_and_kept(text):
    with pytest.raises(BadInput, match=wording("a day as year-month-day, such")):
        typed_day(text, where="x")
    assert tidy_day(text) == text


def test_one_that_can_mean_two_days_is_asked():
    with pytest.raises(
        BadInput,
        match=exactly(
            f"x: {ASKED}; a day as year-month-day, such as 2026-05-31, is allowed; type 2026-03-04 or 2026-04-03."
        ),
    ):
        typed_day("03/04/2026", where="x")
    assert tidy_day("03/04/2026") == "03/04/2026" and len(days_meant("3-4-2026")) == 2


@given(DAYS, st.sampled_from(["%Y-%m-%d", "%d.%m.%Y", "%d %b %Y", "%B %d, %Y", "%b %d %Y", "%Y/%m/%d"]))
def test_orders_that_can_mean_one_day_only_give_it_back(day, order):
    assert days_meant(day.strftime(order)) == (day,)


@given(DAYS, st.sampled_from(["%d/%m/%Y", "%m/%d/%Y", "%d-%m-%Y", "%m-%d-%Y"]))
def test_the_other_orders_are_read_as_a_general_library_reads_them_both_ways(day, order):
    text = day.strftime(order)
    both = {parse(text, dayfirst=True).date(), parse(text, dayfirst=False).date()}
    assert set(days_meant(text)) == both and day in both


@given(st.text(max_size=20))
def test_no_text_whatever_is_more_than_a_day_or_a_question(text):
    assert len(days_meant(text)) <= 2


SPIN = {"speed_rpm": "100", "volts": "12", "terminals": "AB", "connection": "star", "quantity": "AC"}


def test_rows_of_a_log_are_read_and_asked():
    rows = [blank_row("spin") | SPIN | {"taken_on": text} for text in ("28.11.2025", "03/04/2026", "")]
    good, asked, none = read_spin(rows, Stator(slots=36, poles=48))
    assert good.taken_on == date(2025, 11, 28) and none.taken_on is None
    assert asked.refusal.startswith(f"spin log, row 2, Date: {ASKED};")
    (look,) = read_service([blank_row("service") | {"taken_on": "28 Nov 2025"}])
    assert look.day == date(2025, 11, 28)


def test_a_day_typed_into_a_grid_is_shown_and_kept_in_one_order(tmp_path):
    job = Job.create("mill", tmp_path)
    grid = log_grid(job, "spin", lambda rows: [])
    cell = grid.row(1).cells["taken_on"]
    cell.value = "28.11.2026"
    assert cell.value == "2026-11-28" == job.read_log("spin")[0]["taken_on"]
    cell.value = "03/04/2026"
    assert cell.value == "03/04/2026" == job.read_log("spin")[0]["taken_on"]
    grid.undo()
    assert cell.value == "2026-11-28"


def test_a_note_that_looks_like_a_day_stays_as_typed(tmp_path):
    grid = log_grid(Job.create("mill", tmp_path), "spin", lambda rows: [])
    grid.row(1).cells["note"].value = "28.11.2026"
    assert grid.rows()[0]["note"] == "28.11.2026"


def test_a_pasted_column_is_kept_in_one_order_and_asks_what_can_mean_two_days():
    found = pasted_rows("spin", "Date\tSpeed\tVolts\n28.11.2026\t100\t12\n03/04/2026\t200\t24\nNov 28, 2026\t300\t36\n")
    assert [row["taken_on"] for row in found.rows] == ["2026-11-28", "03/04/2026", "2026-11-28"]


@pytest.mark.parametrize("text", ["28.11.2026", "28 November 2026", "2026-11-28"])
def test_a_form_takes_a_day_and_shows_how_it_was_understood(text):
    kept = []
    form = Form(ServicePart, sample("service"), save=kept.append)
    field = form.fields["installed_on"]
    field.control.value = text
    form.save()
    assert kept[0].installed_on == "2026-11-28"
    assert ("= 2026-11-28" in field.beside.value) == (text != "2026-11-28")


def test_a_form_asks_what_can_mean_two_days():
    with pytest.raises(
        BadInput,
        match=exactly(
            f"service, First day at work: {ASKED}; a day as year-month-day, such as 2026-05-31, is allowed; type "
            "2026-03-04 or 2026-04-03."
        ),
    ):
        ServicePart(installed_on="03/04/2026")
