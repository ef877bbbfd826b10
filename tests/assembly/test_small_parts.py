"""What pages put together from a job in passing: checks by the choice, promises, what is assumed, units."""

from dataclasses import replace

import pytest

from samples.job_samples import sample
from statorbook.assembly.charging import charging_from
from statorbook.assembly.meter_checks import JobChecks, checks_for
from statorbook.assembly.need import year_with_bore
from statorbook.assembly.plan import choice_of, plan_of, year_promise_words
from statorbook.assembly.plant import assumed_for_plant, assumed_in_list, plant_from
from statorbook.assembly.stands_on import Input
from statorbook.assembly.year import source_year_from, with_year
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.fuse import FusePart
from statorbook.job.parts.rectifier import RectifierPart
from statorbook.job.parts.set_points import SetPointsPart
from statorbook.job.parts.site import SitePart
from statorbook.quantities import reader_units
from statorbook.rewiring.joining_limit import ParallelLimit, parallel_limit
from statorbook.rewiring.plan import cut_and_join
from statorbook.winding.grouping import Grouping


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def test_only_the_choice_that_is_planned_limits_what_may_be_joined(job):
    job.save_part("choice", choice_of(job))
    now = job.read()
    facts, choice, plan = now.stator, now.choice, plan_of(job, now.choice, "neighbours")
    made = checks_for(job, plan, 20.0, 60.0)
    coil = now.coil.to_coil(facts)
    assert made.limit == parallel_limit(plan.wired, coil, speed_rpm=choice.speed_rpm, dc_amps=choice.dc_amps)
    other = next(each for each in facts.to_stator().groupings() if each != choice.to_grouping())
    unplanned = cut_and_join(facts.to_found_wiring(), other, "neighbours")
    assert checks_for(job, unplanned, 20.0, 60.0).limit == ParallelLimit() != made.limit


def test_checks_at_a_speed_read_in_hz_are_closer_than_at_one_counted_by_hand(job):
    job.save_part("choice", choice_of(job))
    now = job.read()
    made = checks_for(job, plan_of(job, now.choice, "neighbours"), 20.0, 60.0)
    by_hand, by_hz = (
        [check for check in checks if check.unit == "V" and check.low is not None]
        for checks in (made.checks, made.by_hz)
    )
    assert by_hand and len(by_hand) == len(by_hz)
    for hand, hz in zip(by_hand, by_hz):
        assert hz.expected == hand.expected and hand.low < hz.low < hz.high < hand.high
    # Without the constants there is nothing to expect.
    bare = Job.create("mill", job.folder.parent)
    bare.save_part("stator", now.stator)
    assert checks_for(bare, plan_of(job, now.choice, "neighbours")) == JobChecks()


FUSE = {"amps": 25.0, "dc_volts": 80.0, "breaking_amps": 20_000.0}


def test_what_nobody_typed_of_a_plant_is_named_with_what_the_comparison_assumes(job):
    bare = Job.create("mill", job.folder.parent)
    for part in ("stator", "coil", "drive", "bank"):
        bare.save_part(part, getattr(job.read(), part))
    said = assumed_for_plant(bare)
    assert {"Place", "Hottest air", "Coldest air", "Runner efficiency", "inner resistance of the bank"} <= set(said)
    assert not [words for words in said if words.endswith("]")]
    assert {"place", "hottest air"} <= set(assumed_in_list(bare))
    # A rectifier that is not filled in assumes nothing, one of which only the label is known does.
    listed = assumed_in_list(bare)
    assert "winding at work" not in listed and "slope of one diode" not in listed
    bare.save_part("rectifier", RectifierPart(label_amps=50.0, reverse_volts=800.0))
    assert set(assumed_in_list(bare)) > set(listed)
    cold = plant_from(bare, site=SitePart(coldest_c=-25.0))
    assert cold.machine.setting.cold_c == -25.0 != plant_from(bare).machine.setting.cold_c
    bare.save_part("site", SitePart(hottest_c=41.0))
    saved, typed = plant_from(bare), plant_from(bare, site=SitePart(hottest_c=44.0), fuse=FusePart(**FUSE))
    assert (saved.site.hottest_c, saved.fuse) == (41.0, None)
    assert (typed.site.hottest_c, typed.fuse.amps) == (44.0, 25.0)
    given = Grouping(series=12, parallel=1)
    assert plant_from(bare, given).grouping == given and plant_from(bare).grouping == choice_of(bare).to_grouping()


def test_a_year_is_promised_with_its_plus_minus_or_not_at_all():
    assert year_promise_words(sample("choice")) == ""
    assert year_promise_words(sample("choice", year_kwh=720.0, year_plus_minus_kwh=330.0)) == "720 ± 330 kWh"


def test_what_nobody_typed_of_the_site_is_in_the_list_and_what_was_typed_is_not(job):
    job.save_part("site", SitePart())
    assert {"place", "hottest air", "coldest air"} <= set(assumed_in_list(job))
    job.save_part("site", SitePart(place="wet outdoors", hottest_c=40.0, coldest_c=0.0))
    assert not {"place", "hottest air", "coldest air"} & set(assumed_in_list(job))


# 1 mph is 0.44704 m/s, 1 ft 0.3048 m.
def test_a_speed_that_an_answer_stands_on_is_one_of_wind():
    wind = Input(name="wind_m_s", words="mean", unit="m/s", value=10.0, low=9.0, high=11.0, known="typed", how="")
    head = replace(wind, words="net head", unit="m", value=28.0, low=27.0, high=29.0)
    assert wind.said == "10.0 ± 1.0 m/s" and head.said == "28.0 ± 1.0 m"
    with reader_units("US"):
        assert wind.said == "22.4 ± 2.2 mph" and head.said == "91.9 ± 3.3 ft"


def test_a_job_with_its_year_is_shown_itself_and_one_without_shows_the_example(job):
    assert with_year(job) is job
    bare = Job.create("mill", job.folder.parent)
    for part in ("stator", "coil", "drive", "bank"):
        bare.save_part(part, sample(part))
    shown = with_year(bare)
    assert shown is not bare and "mill cannot be added up yet" in shown.notice


def test_another_bore_has_the_hours_of_the_same_year(job):
    narrow, as_it_is, wide = year_with_bore(job, 45.0), source_year_from(job), year_with_bore(job, 80.0)
    assert narrow.hours.sum() == as_it_is.hours.sum() == wide.hours.sum()


def test_usual_set_points_are_said_to_be_assumed(job):
    typed = job.read().set_points.model_copy(update={"cut_off_volts": 48.0, "return_volts": 52.0})
    for part, usual in ((SetPointsPart(), True), (typed, False)):
        assert ("the set-points, usual ones" in charging_from(job, set_points=part).assumed) is usual
