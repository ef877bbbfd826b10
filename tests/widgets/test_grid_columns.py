"""A log shows what differs from row to row; what is the same is said once above it and hides nothing."""

from datetime import date

import pytest

from bench.test_logs import SOUND_LOG
from samples.job_samples import sample
from samples.made_up_logs import ohms_row, spin_row
from statorbook.bench.logs import ALL_LOGS, blank_row
from statorbook.job.job import Job
from statorbook.panels.measuring.coil_survey import CoilSurveyPanel
from statorbook.panels.measuring.job_log import log_grid
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.spin_log import SpinPanel
from statorbook.widgets.grid import LogGrid
from statorbook.widgets.grid_row import NEEDED

TODAY = date.today().isoformat()
# What a hand reads anew for each row; all the rest is said once or seldom typed.
SHOWN = {
    "spin": ["speed_rpm", "volts", "terminals", "note"],
    "shorted": ["speed_rpm", "amps", "lead", "note"],
    "ohms": ["terminals", "ohms", "note"],
    "coast": ["time_s", "speed_rpm", "note"],
    "drill": ["speed_rpm", "watts_coupled", "watts_alone", "note"],
    "coils": ["tooth", "volts", "note"],
    "checks": ["between", "ohms", "volts", "note"],
    "run": ["speed_rpm", "dc_volts", "dc_amps", "drive_reading", "note"],
    "service": ["hours_run", "play", "noise", "water", "note"],
    "water_months": ["month", "flow_l_s", "note"],
    "pedal_weeks": ["rider_watts", "week_hours", "note"],
    "engine_months": ["month", "run_hours", "note"],
    "speed_hours": ["speed_rpm", "held_hours", "note"],
    "need_months": ["month", "need_kwh_a_day", "note"],
    "wind_months": ["month", "mean_wind", "note"],
    "wind_hours": ["wind_from", "wind_to", "wind_hours", "note"],
    "wind_series": ["time", "wind"],
    "house_loads": ["appliance", "watts", "surge_watts", "from_hour", "to_hour", "minutes", "note"],
    "control_rules": [
        *("rule", "output", "action", "input", "side", "on_at", "off_at"),
        *("on_delay_s", "least_on_s", "only_if", "priority", "note"),
    ],
    "control_relays": ["relay", "output", "contact", "contact_volts", "contact_amps", "contact_current", "note"],
}
SAID = {
    "spin": ["connection", "quantity", "meter", "speed_by", "volts_by", "taken_on"],
    "shorted": ["connection", "meter", "taken_on"],
    "ohms": ["lead_zero_ohm", "copper_c", "taken_on"],
    "coast": ["taken_on"],
    "drill": ["taken_on"],
    "coils": ["speed_rpm", "taken_on"],
    "checks": [],
    "run": ["taken_on"],
    "service": ["taken_on"],
    "water_months": [],
    "pedal_weeks": [],
    "engine_months": [],
    "speed_hours": [],
    "need_months": [],
    "wind_months": [],
    "wind_hours": [],
    "wind_series": [],
    "house_loads": [],
    "control_rules": [],
    "control_relays": [],
}


@pytest.fixture
def job(tmp_path):
    job = Job.create("mill", tmp_path)
    job.save_part("stator", sample("stator"))
    return job


def shown(grid):
    """The columns in sight, by the cells of the first row."""
    box = grid.widget.children[1].children
    return [name for name in grid.columns if any(cell is grid.row(1).cells.get(name) for cell in box)]


def to_fill(grid, row=1):
    return [name for name in shown(grid) if NEEDED in grid.row(row).cells[name].get_state()["_dom_classes"]]


def stands(grid, row, name):
    return grid.row(row).cells[name].value


@pytest.mark.parametrize("log", ALL_LOGS)
def test_each_log_shows_what_differs_and_says_the_rest_once(job, log):
    grid = log_grid(job, log, lambda rows: [])
    assert shown(grid) == SHOWN[log] and list(grid.said.fields) == SAID[log]


def test_a_made_up_log_needs_no_more_than_its_line(monkeypatch):
    monkeypatch.setitem(ALL_LOGS, "sound", SOUND_LOG)
    heads = {column.name: column.heading for column in SOUND_LOG.columns}
    grid = LogGrid(heads, log="sound")
    assert shown(grid) == ["speed_rpm", "volts", "place", "note"] and list(grid.said.fields) == ["taken_on"]
    grid.row(1).cells["volts"].value = "2.5"
    assert grid.rows()[0]["taken_on"] == TODAY


def test_a_row_takes_what_is_said_above_from_the_first_thing_typed(job):
    grid = log_grid(job, "spin", lambda rows: [])
    assert grid.rows() == []
    assert grid.said.words["connection"] == "star"  # as found, in the stator facts
    grid.said.fields["meter"].value = "true rms"
    grid.row(1).cells["speed_rpm"].value = "120"
    grid.said.fields["meter"].value = "averaging"
    grid.row(2).cells["volts"].value = "50"
    words = {"terminals": "AB", "connection": "star", "quantity": "AC line rms", "speed_by": "measured"}
    same = blank_row("spin") | words | {"volts_by": "meter"}
    saved = [same | {"speed_rpm": "120", "meter": "true rms"}, same | {"volts": "50", "meter": "averaging"}]
    assert job.read_log("spin") == grid.rows() == saved
    assert "meter" in shown(grid)  # the two rows differ, so it came up by itself
    grid.row(2).cells["volts"].value = ""
    assert len(grid.rows()) == 1  # nothing of the reader's is left in it


def test_an_empty_row_in_between_stays_empty(job):
    grid = log_grid(job, "ohms", lambda rows: [])
    grid.row(3).cells["ohms"].value = "1.2"
    assert grid.rows()[:2] == [blank_row("ohms")] * 2 and grid.rows()[2]["terminals"] == "CA"


def test_a_row_that_differs_from_what_is_said_is_not_hidden(job):
    job.save_log("spin", [spin_row(120, 48.1), spin_row(200, 80.2, meter="averaging")])
    assert "meter" in shown(log_grid(job, "spin", lambda rows: []))
    job.save_log("spin", [spin_row(120, 48.1), spin_row(200, 80.2)])
    grid = log_grid(job, "spin", lambda rows: [])
    # An empty cell of an older log means that the speed was measured, by a meter.
    assert shown(grid) == SHOWN["spin"] and grid.said.words["meter"] == "true rms"
    grid.said.fields["meter"].value = "averaging"
    assert "meter" in shown(grid)


def test_a_bad_cell_comes_into_sight_and_stays(job):
    panel = OhmsPanel(job)
    panel.grid.row(1).cells["ohms"].value = "1.3"
    assert "lead_zero_ohm" in shown(panel.grid) and "Probes touching [Ω]: " in (panel.grid.row(1).sentence.value)
    panel.grid.row(1).cells["lead_zero_ohm"].value = "0.2"
    assert "lead_zero_ohm" in shown(panel.grid) and "✓ good" in panel.grid.row(1).sign.value
    # Said nowhere yet, so the rows to come begin with it.
    assert panel.grid.said.words["lead_zero_ohm"] == "0.2" == stands(panel.grid, 2, "lead_zero_ohm")


def test_more_columns_are_one_press_away_and_survive_a_redraw(job):
    grid = log_grid(job, "spin", lambda rows: [])
    grid.buttons["More columns"].click()
    assert shown(grid) == list(grid.columns) and grid.buttons["More columns"].description == "Fewer columns"
    grid.judge()
    grid.row(1).cells["speed_rpm"].value = "120"
    assert shown(grid) == list(grid.columns)
    grid.buttons["More columns"].click()
    assert shown(grid) == SHOWN["spin"]


def test_a_row_that_is_being_typed_is_not_blamed_for_its_next_cell_but_a_row_above_is(job):
    job.save_log("spin", [spin_row(100, 55)])
    grid = SpinPanel(job.reopen()).grid
    # 55 V at 100 rpm: at 20,000 rpm no meter stands the volts, so this is said before they are read.
    grid.row(2).cells["speed_rpm"].value = "20000"
    assert "✗ bad" in grid.row(2).sign.value and "do not turn it" in grid.row(2).sentence.value
    grid.row(2).cells["speed_rpm"].value = "120"
    assert "…" in grid.row(2).sign.value and grid.row(2).sentence.layout.display == "none"
    grid.row(3).cells["speed_rpm"].value = "130"
    assert "✗ bad" in grid.row(2).sign.value and grid.row(2).sentence.layout.display is None


def test_leads_stand_ready_in_turn(job):
    grid = log_grid(job, "ohms", lambda rows: [])
    assert [stands(grid, row, "terminals") for row in range(1, 7)] == ["AB", "BC", "CA"] * 2
    grid.row(1).cells["terminals"].value = "BC"
    assert stands(grid, 2, "terminals") == "CA"


def test_clips_stay_where_they_are_until_moved(job):
    grid = log_grid(job, "spin", lambda rows: [])
    grid.row(1).cells["volts"].value = "50"
    grid.row(2).cells["terminals"].value = "CA"
    assert [stands(grid, row, "terminals") for row in (1, 2, 3, 4)] == ["AB", "CA", "CA", "CA"]


def test_a_row_stands_ready_for_each_tooth(job):
    grid = CoilSurveyPanel(job).grid
    for row in range(1, 37):
        assert stands(grid, row, "tooth") == str(row)
        grid.row(row).cells["volts"].value = "1.2"
    assert stands(grid, 37, "tooth") == "1" and len(grid.rows()) == 36


@pytest.mark.parametrize(
    "log, cells",
    [
        ("ohms", ["ohms"]),
        ("coils", ["volts"]),
        ("spin", ["speed_rpm", "volts"]),
        ("shorted", ["speed_rpm", "amps"]),
        ("coast", ["time_s", "speed_rpm"]),
        ("drill", ["speed_rpm", "watts_coupled", "watts_alone"]),
    ],
)
def test_the_enter_key_leads_only_to_what_a_row_needs(job, log, cells):
    teeth = {"tooth": ["1", "2"]} if log == "coils" else None
    assert to_fill(log_grid(job, log, lambda rows: [], in_turn=teeth)) == cells


def test_the_speed_is_read_in_rpm_or_in_hz(job):
    grid = log_grid(job, "spin", lambda rows: [])
    grid.said.read_by["electrical_hz"].value = "electrical_hz"
    assert shown(grid) == ["electrical_hz", "volts", "terminals", "note"] and to_fill(grid) == [
        "electrical_hz",
        "volts",
    ]
    grid.row(1).cells["electrical_hz"].value = "48"
    grid.said.read_by["electrical_hz"].value = "speed_rpm"
    assert shown(grid)[:2] == ["speed_rpm", "electrical_hz"]  # a reading is never hidden
    assert to_fill(grid) == ["speed_rpm", "volts"]


def test_what_is_said_above_outlives_the_page(job):
    first = log_grid(job, "ohms", lambda rows: [])
    first.said.fields["lead_zero_ohm"].value = "0.2"
    first.said.fields["taken_on"].value = "2026-05-02"
    again = log_grid(job, "ohms", lambda rows: [])
    assert again.said.words == {"lead_zero_ohm": "0.2", "copper_c": "", "taken_on": ""}  # but for the day


def test_rows_to_come_begin_as_the_last_row_of_the_file(job):
    job.save_log("ohms", [ohms_row(13.4, copper_c="16")])
    assert log_grid(job, "ohms", lambda rows: []).said.words == {
        "lead_zero_ohm": "0.20",
        "copper_c": "16",
        "taken_on": "",
    }


@pytest.mark.parametrize("last, day", [(TODAY, TODAY), ("2026-05-01", "")])
def test_a_page_opened_again_goes_on_with_the_session_of_today(job, last, day):
    job.save_log("ohms", [ohms_row(13.4, taken_on=last)])
    assert log_grid(job, "ohms", lambda rows: []).said.words["taken_on"] == day


def test_a_new_session_takes_no_reading_of_another_day_over(job):
    job.save_log("ohms", [ohms_row(13.4, copper_c="16", taken_on="2026-05-01")])
    grid = log_grid(job, "ohms", lambda rows: [])
    grid.start_session()
    assert grid.said.words == {"lead_zero_ohm": "", "copper_c": "", "taken_on": TODAY}
    assert all(grid.columns[name] in grid.message.text for name in ("lead_zero_ohm", "copper_c"))


def test_good_rows_have_no_sentence_and_what_is_assumed_is_said_once_below(job):
    job.save_log("spin", [spin_row(rpm, 0.5 * rpm, "ABC", quantity="DC bridge, bare") for rpm in (100, 150)])
    grid = SpinPanel(job).grid
    assert grid.row(1).sentence.layout.display == "none" == grid.row(2).sentence.layout.display
    assert grid.remarks.value.count("0.45 V per diode") == 1 and "Rows 1, 2: " in grid.remarks.value


def test_a_long_log_makes_a_few_things_a_row_for_the_page(job):
    job.save_log("spin", [spin_row(100 + n, 40 + n) for n in range(40)])
    grid = log_grid(job, "spin", lambda rows: [])
    row = [grid.row(20).sign, grid.row(20).sentence, *grid.row(20).cells.values()]
    assert len(grid.row(20).cells) == len(SHOWN["spin"])
    assert {id(part.layout) for part in row} <= {id(part.layout) for part in (grid.row(1).sign, grid.row(1).sentence)}


def test_words_for_a_number_said_above_are_refused_at_once_and_name_the_place(job):
    made = OhmsPanel(job).grid
    made.said.fields["lead_zero_ohm"].value = "abc"
    assert made.message.text.startswith("Not usable") and "ohms log, Probes touching [Ω]" in made.message.text
    made.said.fields["lead_zero_ohm"].value = "0.2"
    assert made.message.text == ""


def test_words_for_a_number_in_a_row_that_waits_are_refused_at_once(job):
    made = log_grid(job, "coast", lambda rows: {1: "bad: coast log, row 1, Time [s]: the cell is empty"})
    made.row(1).cells["speed_rpm"].value = "abc"
    said = made.row(1).sentence.value
    assert "✗" in made.row(1).sign.value and "row 1, Speed [rpm]: " in said and "abc" in said
    made.row(1).cells["speed_rpm"].value = "120"
    assert "…" in made.row(1).sign.value
