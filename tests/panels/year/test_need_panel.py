"""The panel of the need: what a reader types, sees and moves."""

import re

import pytest

from samples.pages import cells, overlapping, refused, shown
from samples.year_samples import own_job
from statorbook.job.parts.need import NeedPart
from statorbook.panels.year.need import NeedPanel


@pytest.fixture
def job(tmp_path):
    return own_job(tmp_path, "ridge_rotor", mean_wind_m_s=4.6)


def typed(panel, **fields):
    for name, text in fields.items():
        panel.form.fields[name].control.value = text


def leading(panel, name):
    return float(re.match(r"[0-9.]+", panel.shown_answer.headline[name])[0])


def test_a_need_is_typed_and_every_size_of_bank_answers(job):
    job.save_part("need", NeedPart(need_kwh_a_day=1.2))
    panel = NeedPanel(job)
    assert panel.message.text == "" and shown(panel)[1].count("<svg") == 1
    assert overlapping(panel.figure) == []
    rows = cells(panel.shown_answer.table.html())
    assert [row[0] for row in rows][::11] == ["Jan", "Dec"] and len(rows) == 12
    assert sum(float(row[1]) for row in rows) == pytest.approx(panel.picked.year.kwh, abs=1.0)
    before, spilt = leading(panel, "short hour by hour"), leading(panel, "spilt")
    panel.bank_times.value = 4.0
    assert leading(panel, "short hour by hour") < before and leading(panel, "spilt") < spilt
    panel.weather.value = 6.0
    assert leading(panel, "short hour by hour") < before  # short lulls are easier for a bank


def test_more_need_is_more_short_and_the_months_carry_the_same(job):
    job.save_part("need", NeedPart(need_kwh_a_day=1.0))
    panel = NeedPanel(job)
    short, carried = leading(panel, "short hour by hour"), leading(panel, "every month carries")
    typed(panel, need_kwh_a_day="2")
    assert leading(panel, "short hour by hour") > short and leading(panel, "every month carries") == carried


def test_before_a_need_is_typed_one_kilowatt_hour_is_shown_and_said(job):
    panel = NeedPanel(job)
    assert panel.sentence.startswith("No need is typed yet")
    typed(panel, need_kwh_a_day="1.3")
    assert "No need is typed yet" not in panel.sentence and job.need.need_kwh_a_day == 1.3


@pytest.mark.parametrize(
    "field, text, words", [("need_kwh_a_day", "-1", "from 0 to 1000"), ("inverter_efficiency", "120 %", "at most 1")]
)
def test_a_need_that_cannot_be_is_refused_at_its_field(job, field, text, words):
    job.save_part("need", NeedPart(need_kwh_a_day=1.0))
    panel = NeedPanel(job)
    typed(panel, **{field: text})
    assert panel.form.fields[field].bad and refused(panel)
    with pytest.raises(ValueError, match=words):
        NeedPart(**{"need_kwh_a_day": 1.0, field: float(text.split()[0]) / (100.0 if "%" in text else 1.0)})


def test_the_log_of_months_shows_and_says_the_need(job):
    job.save_log(
        "need_months", [{"month": m, "need_kwh_a_day": kwh, "note": ""} for m, kwh in (("Jan", "3"), ("Jul", "1"))]
    )
    job.save_part("need", NeedPart(need_from="the log of months"))
    panel = NeedPanel(job)
    assert panel.grid.message.text == panel.message.text == ""
    wanted = [float(row[2]) for row in cells(panel.shown_answer.table.html())]
    # January 31 × 3 kWh, July 31 × 1 kWh, over 0.9, and 10 W all day.
    assert [wanted[0], wanted[6]] == pytest.approx([31 * (3 / 0.9 + 0.24), 31 * (1 / 0.9 + 0.24)], abs=0.06)
    assert "need of February" in panel.sentence
    panel.grid.row(2).cells["need_kwh_a_day"].value = "2"
    wanted = [float(row[2]) for row in cells(panel.shown_answer.table.html())]
    assert wanted[6] == pytest.approx(31 * (2 / 0.9 + 0.24), abs=0.06) and panel.grid.message.text == ""
    panel.grid.row(2).cells["month"].value = "Jan"
    assert "January stands in row 1 already" in refused(panel)


def test_water_asks_for_no_weather(tmp_path):
    water = own_job(tmp_path, "spring_pipe", water_year_from="the same all year")
    water.save_part("need", NeedPart(need_kwh_a_day=3.0))
    panel = NeedPanel(water)
    assert panel.weather not in panel.widget.children and "evenly" in panel.sentence
    # Even water that brings more than the need leaves nothing short, and a small bank is enough.
    assert leading(panel, "short hour by hour") == 0.0
