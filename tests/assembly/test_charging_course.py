"""What a job's source does hour by hour: its year's month, or the drive as it stands."""

import numpy as np
import pytest

from samples.plant_samples import plant
from samples.year_samples import own_job
from sentences import sentences_of
from statorbook.assembly.charging_course import course_from
from statorbook.assembly.plant import plant_from
from statorbook.assembly.year import source_year_from
from statorbook.drives.pedals import Pedals
from statorbook.examples import jobs as example
from statorbook.job.job import Job

wording = sentences_of("assembly")


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    return {
        name: example.write(tmp_path_factory.mktemp(name), name)
        for name in ("spring_pipe", "ridge_rotor", "shed_pedals")
    }


@pytest.mark.parametrize("name, month", [("spring_pipe", 7), ("ridge_rotor", 0), ("shed_pedals", 3)])
def test_the_hours_of_a_month_are_those_of_the_year(jobs, name, month):
    job = jobs[name]
    source, made = source_year_from(job), course_from(job, plant_from(job), month)
    # A month's mean setting is the sum of its settings by their hours over the hours that the month has.
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[month]
    mean = source.hours[month] @ source.setting / (24.0 * days)
    assert len(made.by_hour) == 24 * days and np.mean(made.by_hour) == pytest.approx(mean)
    assert (np.diff(made.settings) > 0.0).all() and len(made.drives) == len(made.settings)
    assert max(made.by_hour) <= made.settings[-1] + 1e-9


def test_the_strongest_and_the_weakest_month_are_named(jobs):
    job = jobs["spring_pipe"]
    strong, weak = (course_from(job, plant_from(job), month) for month in (None, -1))
    assert "its strongest month" in strong.words and "its weakest month" in weak.words
    assert strong.by_hour[0] > weak.by_hour[0] and len(set(strong.by_hour)) == 1


def test_wind_comes_and_goes_and_a_rider_rides_once_a_day(jobs):
    wind = course_from(jobs["ridge_rotor"], plant_from(jobs["ridge_rotor"]))
    assert np.std(wind.by_hour) > 1.0 and "one such month was drawn" in wind.words
    rides = np.array(course_from(jobs["shed_pedals"], plant_from(jobs["shed_pedals"])).by_hour).reshape(-1, 24)
    assert (rides == rides[0]).all() and rides[0, :17].max() == 0.0 < rides[0, 17]


def test_without_a_year_the_drive_runs_as_it_stands_and_is_said_to_be_assumed(tmp_path):
    bare = Job.create("bare", tmp_path)
    water = course_from(bare, plant())
    assert set(water.by_hour) == {1.0} and water.drives == (plant().drive,) and water.assumed
    rider = plant(drive=Pedals(rider_watts=100.0, gear_ratio=5.0, cadence_rpm=65.0))
    assert sum(course_from(bare, rider).by_hour[:24]) == 2.0


def test_a_month_without_water_stands_still(tmp_path):
    job = own_job(tmp_path, "spring_pipe", water_year_from="water of each month")
    rows = [("Jan", "4"), ("Feb", "4"), ("Jul", "0"), ("Aug", "0"), ("Sep", "0"), ("Dec", "4")]
    cells = {"flow_l_s": "", "head_m": "", "nozzle_mm": "", "jets_open": "", "note": ""}
    job.save_log("water_months", [{"month": month} | cells | {"flow_l_s": flow} for month, flow in rows])
    made = course_from(job, plant_from(job), 7)
    assert set(made.by_hour) == {0.0} and made.words == "August: it stands still."
    assert (made.settings, made.drives, len(made.by_hour)) == ((1.0,), (job.drive.to_drive(),), 24 * 31)


# 28 m drive 3.5 L/s through 14 mm, 2.6 through 12 mm, 1.8 through 10 mm: January's 3.9 are the first to fill the
# largest nozzle, August's 2.3 the first that leave the smallest alone.
def test_the_months_are_found_by_what_they_give_and_named(jobs):
    job = jobs["spring_pipe"]
    said = [course_from(job, plant_from(job), month).words.split(".")[0] for month in (None, -1, 0, 11)]
    assert said == ["January, its strongest month", "August, its weakest month", "January", "December"]


def test_a_rider_of_unknown_hours_rides_from_five_to_seven_for_four_weeks(tmp_path):
    bare = Job.create("bare", tmp_path)
    rider = plant(drive=Pedals(rider_watts=100.0, gear_ratio=5.0, cadence_rpm=65.0))
    made, steady = course_from(bare, rider), course_from(bare, plant())
    day = [0.0] * 17 + [1.0, 1.0] + [0.0] * 5
    assert made.by_hour == tuple(day * 28) and len(steady.by_hour) == 24 * 28
    assert made.settings == steady.settings == (1.0,) and made.drives == (rider.drive,)
    assert made.words == wording("The source runs as page 03 describes it, every")
    assert steady.words == wording("The source runs as page 03 describes it, the")
    assert made.assumed == (wording("the source every day from 17"),)
    assert steady.assumed == (wording("the source the same in"),)


def test_a_year_that_is_alike_in_every_month_says_so(tmp_path):
    job = own_job(tmp_path, "spring_pipe", water_year_from="the same all year")
    for month, days in ((None, 31), (-1, 31), (1, 28)):
        made = course_from(job, plant_from(job), month)
        assert len(made.by_hour) == 24 * days and made.words.startswith("Every month is taken alike. ")


def test_what_is_drawn_says_that_it_is(jobs):
    drawn, typed = (course_from(jobs[name], plant_from(jobs[name]), 0).words for name in ("ridge_rotor", "spring_pipe"))
    assert drawn == wording("January. Only its hours are known") and "drawn" not in typed
