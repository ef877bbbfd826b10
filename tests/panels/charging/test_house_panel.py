"""The panel of the house: what a reader types, sees and moves."""

import pytest

from samples.pages import by_gid, cells, overlapping, refused, shown
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.charging.house import HousePanel
from statorbook.panels.charging.page import ChargingPage

KETTLE = {"appliance": "kettle", "watts": "2000", "surge_watts": "", "from_hour": "7", "to_hour": "8", "minutes": "6"}


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path, "ridge_rotor")


@pytest.fixture
def panel(job):
    return HousePanel(ChargingPage(job))


def fill(panel, row, **cells):
    for name, text in cells.items():
        panel.grid.row(row).cells[name].value = text


def test_the_example_says_need_peak_hours_and_days(panel, job):
    assert panel.message.text == panel.grid.message.text == ""
    assert shown(panel)[1].count("<svg") == 1 and overlapping(panel.figure) == []
    rows = cells(panel.shown_answer.table.html())
    assert [row[0] for row in rows] == [row["appliance"] for row in job.read_log("house_loads")]
    # Watts times hours of the fridge: 60 W for 20 of 60 minutes, 24 h.
    assert float(rows[0][-1]) == pytest.approx(60.0 * 20.0 / 60.0 * 24.0)
    said = panel.sentence.splitlines()
    assert [line.split()[0] for line in said] == ["The", "At", "In", "With", "Assumed:"]


def test_a_row_is_typed_saved_and_counted(panel, job):
    before = panel.shown_answer.headline["the house takes"]
    number = len(job.read_log("house_loads")) + 1
    fill(panel, number, **KETTLE)
    assert job.read_log("house_loads")[-1]["appliance"] == "kettle"
    assert panel.shown_answer.headline["the house takes"] != before
    assert "it trips then" in panel.sentence and panel.message.text == ""
    runs = by_gid(panel.figure.axes[0].lines, "runs")
    assert runs.get_ydata().max() >= 2600.0  # both kettles


def test_a_row_that_cannot_be_is_refused_and_mended(panel):
    bad = {
        ("to_hour", "25"): "1 to 24",
        ("to_hour", "3"): "two rows",
        ("minutes", "61"): "60",
        ("watts", "lots"): "lots",
    }
    for (cell, text), words in bad.items():
        good = panel.grid.row(4).cells[cell].value
        fill(panel, 4, **{cell: text})
        assert words in refused(panel) and "row 4" in refused(panel)
        fill(panel, 4, **{cell: good})
        assert panel.message.text == ""


def test_a_small_inverter_trips_and_its_volts_may_not_cross(panel):
    panel.form.fields["rated_watts"].control.value = "500"
    panel.form.fields["surge_watts"].control.value = "900"
    assert "the 500 W of the inverter" in panel.sentence
    panel.form.fields["trips_below_volts"].control.value = "30"
    assert "cross" in refused(panel)


def test_another_month_a_dc_house_and_nothing_fed(panel):
    fields = panel.form.fields
    fields["source_month"].control.value = "its weakest month"
    weak = panel.sentence
    assert "its weakest month" in weak
    fields["source_month"].control.value = "January"
    assert "January" in panel.sentence and panel.sentence != weak
    fields["house_on"].control.value = "the bank itself, DC"
    assert "The feed" in panel.sentence and "inverter" not in panel.sentence
    fields["house_on"].control.value = "nothing"
    assert panel.message.text == "" and panel.sentence.startswith("The house takes 0 Wh")


def test_the_readers_own_rows_are_shown_on_the_example(job):
    mine = Job.create("mine", job.folder.parent)
    example.write(job.folder.parent)
    panel = HousePanel(ChargingPage(mine))
    assert panel.sentence.startswith("Job spring_pipe, not your own: ")
    fill(panel, 1, **KETTLE)
    assert [row[0] for row in cells(panel.shown_answer.table.html())] == ["kettle"]
    assert mine.read_log("house_loads")[0]["watts"] == "2000"
