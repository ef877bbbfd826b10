"""What a job's source does hour by hour: its year's month, or the drive as it stands."""

import numpy as np
import pytest

from samples.plant_samples import plant
from samples.year_samples import own_job
from statorbook.assembly.charging_course import course_from
from statorbook.assembly.plant import plant_from
from statorbook.assembly.year import source_year_from
from statorbook.drives.pedals import Pedals
from statorbook.examples import jobs as example
from statorbook.job.job import Job


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
