"""The year of a job's wind rotor: where it is known from, what is refused, what is assumed."""

import pytest

from sentences import exactly, sentences_of
from statorbook.assembly.year import source_year_from
from statorbook.bench.logs import blank_row
from statorbook.job.job import Job
from statorbook.job.parts.base import part_from_fields
from statorbook.job.parts.fields import BadField
from statorbook.job.parts.registry import DrivePart, YearPart

wording = sentences_of("assembly")


@pytest.fixture
def job(tmp_path):
    made = Job.create("ridge", tmp_path)
    made.save_part("drive", DrivePart(kind="wind rotor", rotor_diameter_m=2.2, wind_m_s=6.0, hub_height_m=14.0))
    return made


def year(job, **fields):
    job.save_part("year", YearPart(**fields))
    return source_year_from(job)


def test_nothing_is_added_up_before_the_year_is_there(job):
    assert source_year_from(job) is None
    assert [year(job, wind_year_from=chosen) for chosen in ("mean of each month", "table of hours")] == [None, None]


@pytest.mark.outside(
    "wind at 14 m over that at 10 m, power 0.14",
    source="windpowerlib 0.2.2, wind_speed.hellman(v, 10, 14, hellman_exponent=0.14)",
    number="1.0482",
    tolerance="0.1 %",
    seen="computed by package",
)
def test_a_mean_with_an_assumed_and_with_a_given_shape(job):
    assumed = year(job, mean_wind_m_s=4.5)
    assert assumed.hours_by_setting @ assumed.setting / 8760.0 == pytest.approx(4.5 * 1.0482, rel=1e-3)
    given = year(job, mean_wind_m_s=4.5, weibull_shape=1.7)
    assert len(given.assumed) == len(assumed.assumed) - 1


def test_months_and_a_table_come_from_their_logs(job):
    months = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    rows = [blank_row("wind_months") | {"month": name, "mean_wind": "5"} for name in months]
    job.save_log("wind_months", rows)
    job.save_log("wind_hours", [blank_row("wind_hours") | {"wind_from": "3", "wind_to": "6", "wind_hours": "8760"}])
    assert year(job, wind_year_from="mean of each month").months_known
    assert year(job, wind_year_from="table of hours").setting[-1] == pytest.approx(6.0 * 1.0482, rel=1e-3)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"mean_wind_m_s": 0}, wording("year, Mean wind of the year")),
        ({"weibull_shape": 0.2}, wording("year, Shape of the wind's spread")),
    ],
)
def test_a_mean_or_a_shape_that_no_year_has(fields, said):
    with pytest.raises(BadField, match=exactly(said)):
        part_from_fields(YearPart, fields)
