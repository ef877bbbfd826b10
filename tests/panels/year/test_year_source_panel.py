"""The panel of the source over a year: it asks what the drive asks for, keeps it, and says what the year is."""

import pytest

from samples.pages import refused, shown
from sentences import sentences_of
from statorbook.assembly.year import source_year_from, with_year
from statorbook.bench.logs import blank_row
from statorbook.bench.year_logs import MONTHS
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts import DrivePart, YearPart
from statorbook.panels.year.year_source import NO_DRIVE, YearSourcePanel

wording = sentences_of("panels_year")

DRIVES = {
    "wind": dict(kind="wind rotor", rotor_diameter_m=2.2, wind_m_s=6.0),
    "water": dict(kind="water jet", head_m=28.0, nozzle_mm=14.0, pitch_diameter_mm=260.0),
    "pedals": dict(kind="pedals", rider_watts=80.0, gear_ratio=6.5),
    "engine": dict(kind="engine", rated_watts=2000.0, engine_rpm=3000.0, pulley_ratio=2.0),
    "known": dict(kind="known speed", speed_rpm=500.0),
}


def job_with(tmp_path, name):
    """A job that holds a drive and nothing else."""
    job = Job.create(name, tmp_path)
    job.save_part("drive", DrivePart(**DRIVES[name]))
    return job


def type_in(panel, name, text):
    panel.form.fields[name].control.value = text


def fields_shown(panel):
    return [name for name, field in panel.form.fields.items() if field.widget.layout.display != "none"]


def test_without_a_drive_it_says_where_to_begin(tmp_path):
    panel = YearSourcePanel(Job.create("mill", tmp_path))
    assert panel.sentence == NO_DRIVE and fields_shown(panel) == [] and panel.grid is None


def test_a_mean_wind_is_a_year_and_is_kept_as_typed(tmp_path):
    job = job_with(tmp_path, "wind")
    panel = YearSourcePanel(job)
    assert panel.sentence == wording("Nothing is known of the year yet: fill in Mean wind")
    assert fields_shown(panel) == ["wind_year_from", "mean_wind_m_s", "weibull_shape"]
    told = []
    panel.follow(lambda: told.append(source_year_from(job)))
    type_in(panel, "mean_wind_m_s", "5")
    assert job.year.mean_wind_m_s == 5.0 and job.year.assumed == ("weibull_shape",)
    (year,) = told
    # Rayleigh: the mean of the hours is the mean that was typed (definition).
    assert year.hours_by_setting @ year.setting / 8760 == pytest.approx(5.0, rel=0.01)
    assert panel.sentence.startswith(year.words) and wording("It is there for") in panel.sentence
    assert "<svg" in shown(panel)[1] and job.states()["04b_add_up_the_year"] == "done"


def test_wind_by_month_is_typed_into_a_log_that_is_judged_row_by_row(tmp_path):
    job = job_with(tmp_path, "wind")
    panel = YearSourcePanel(job)
    type_in(panel, "wind_year_from", "mean of each month")
    assert panel.grid is not None and "mean_wind_m_s" not in fields_shown(panel)
    assert panel.sentence == wording("Nothing is known of the year yet: fill in the log")
    panel.grid.add_rows([{"month": month, "mean_wind": "5.2"} for month in (*MONTHS[:7], "Jan")])
    assert "✗" in panel.grid.row(8).sign.value and wording("1 row of the log is not used") in shown(panel)[0]
    panel.grid.row(8).cells["month"].value = "Aug"
    assert [row["month"] for row in job.read_log("wind_months")] == list(MONTHS[:8])
    year = source_year_from(job)
    assert year.months_known and panel.sentence.startswith(year.words)
    assert wording("1 row of the log is not used") not in shown(panel)[0]


@pytest.mark.parametrize("typed", ["0", "-3", "abc", "55"])
def test_a_wind_that_cannot_be_is_one_sentence_and_is_not_saved(tmp_path, typed):
    job = job_with(tmp_path, "wind")
    panel = YearSourcePanel(job)
    type_in(panel, "mean_wind_m_s", typed)
    assert job.year is None and "Mean wind" in refused(panel)


def test_the_panels_below_show_the_example_until_the_year_is_there(tmp_path):
    example.write(tmp_path)
    job = example.write(tmp_path, "ridge_rotor")
    job.save_part("year", YearPart())
    shown_job = with_year(job)
    assert shown_job.name == "spring_pipe" and shown_job.notice == wording("Your job ridge_rotor cannot be added up")
    job.save_part("year", YearPart(mean_wind_m_s=5.0))
    assert with_year(job) is job


@pytest.mark.parametrize(
    "kind, fields, rows, hours",
    [
        ("water", {"water_year_from": "the same all year"}, [], 8760.0),
        ("water", {}, [{"month": month, "flow_l_s": "4"} for month in MONTHS], 8760.0),
        # 5 hours in each of the 365/7 weeks of a year.
        ("pedals", {"pedal_hours_a_week": "5"}, [], 5 * 365 / 7),
        ("pedals", {"pedal_year_from": "log of riders"}, [{"rider_watts": "60", "week_hours": "7"}], 365.0),
        ("engine", {"engine_hours_a_year": "300"}, [], 300.0),
        ("engine", {"engine_year_from": "run hours of each month"}, [{"month": "Jan", "run_hours": "40"}], 40.0),
        ("known", {"speed_hours_a_year": "900"}, [], 900.0),
        ("known", {"speed_year_from": "log of speeds"}, [{"speed_rpm": "400", "held_hours": "700"}], 700.0),
    ],
)
def test_every_drive_asks_for_its_own_year_and_gets_it(tmp_path, kind, fields, rows, hours):
    job = job_with(tmp_path, kind)
    panel = YearSourcePanel(job)
    assert panel.message.last_fault == "" and source_year_from(job) is None
    for name, text in fields.items():
        type_in(panel, name, text)
    if rows:
        log = YearPart.log_asked(DRIVES[kind]["kind"], fields)
        panel.grid.add_rows([blank_row(log) | row for row in rows])
    else:
        assert panel.grid is None
    assert source_year_from(job).hours.sum() == pytest.approx(hours, rel=1e-6)
    assert panel.sentence.startswith(source_year_from(job).words) and panel.message.text == ""
    assert job.states()["04b_add_up_the_year"] == "done"
    others = set(DRIVES) - {kind}
    assert not any(name.startswith(tuple(others)) for name in fields_shown(panel))


def test_the_panels_below_follow_another_year_and_nothing_else(tmp_path):
    job = job_with(tmp_path, "pedals")
    panel, told = YearSourcePanel(job), []
    panel.follow(lambda: told.append(source_year_from(job)))
    type_in(panel, "pedal_hours_a_week", "5")
    type_in(panel, "pedal_year_from", "log of riders")
    panel.form.save()
    panel.grid.add_rows([blank_row("pedal_weeks") | {"rider_watts": "60", "week_hours": "7"}])
    count = len(told)
    row = panel.grid.row(1)
    row.cells["note"].value, row.cells["week_hours"].value = "at dusk", "abc"  # no other year, then none to be used
    row.cells["week_hours"].value = "7"
    assert len(told) == count and told[-1].hours.sum() == pytest.approx(365.0)
    row.cells["week_hours"].value = "14"
    assert len(told) == count + 1 and told[-1].hours.sum() == pytest.approx(730.0)
