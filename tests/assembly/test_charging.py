"""A job's parts put together into its charging plan and its need: what is typed counts, what is not is said."""

import numpy as np
import pytest

from samples.year_samples import own_job
from statorbook.assembly.charging import charging_from
from statorbook.assembly.need import need_from
from statorbook.assembly.plant import plant_from
from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example
from statorbook.job.parts.control import ControlPart
from statorbook.job.parts.dump import DumpPart
from statorbook.job.parts.inverter import InverterPart
from statorbook.job.parts.need import NeedPart
from statorbook.job.parts.site import SitePart
from statorbook.job.parts.water import WaterPart


@pytest.fixture
def bare(tmp_path):
    """A reader's job with a machine and a year, and nothing of pages 06 and 07."""
    return own_job(tmp_path, "spring_pipe", water_year_from="the same all year")


def test_a_plan_of_nothing_typed_says_that_all_of_it_is_assumed(bare):
    made = charging_from(bare)
    assert made.rules.scan_ms == 100 and made.guard is not None and not made.stops_source
    assert (made.cylinder, made.room) == (None, None) and made.dumps
    assert made.house and made.inverter is not None
    said = " ".join(made.assumed)
    assert all(words in said for words in ("the set-points, usual ones", "the appliances of the house", "inverter of"))
    assert charging_from(bare, ready=True).rules == made.rules


def test_each_part_that_is_typed_counts_before_that_of_the_job(bare):
    dump = DumpPart(dump_1_ohm=7.5, dump_1_watts=500.0, stops_source=True)
    water = WaterPart(litres=80.0, heater_watts=400.0)
    control = ControlPart(scan_ms=20)
    made = charging_from(bare, dump=dump, water=water, control=control, inverter=InverterPart(house_on="nothing"))
    assert [load.ohm for load in made.dumps] == [7.5] and made.stops_source
    assert made.cylinder.litres == 80.0 and made.rules.scan_ms == 20
    assert (made.house, made.inverter) == ((), None)
    assert "the appliances of the house" not in made.assumed
    for part, typed in (("dump", dump), ("water", water), ("control", control)):
        bare.save_part(part, typed)
    saved = charging_from(bare)
    assert (saved.dumps, saved.cylinder, saved.stops_source, saved.rules.scan_ms) == (
        made.dumps,
        made.cylinder,
        True,
        20,
    )
    assert charging_from(bare, dump=DumpPart(dump_1_ohm=5.0, dump_1_watts=500.0)).dumps[0].ohm == 5.0


def test_a_volts_relay_that_is_not_there_guards_nothing(bare):
    for words, there in (("there", True), ("none", False)):
        assert (charging_from(bare, control=ControlPart(volts_relay=words)).guard is not None) is there


def test_the_plant_that_is_given_and_the_month_asked_for_are_taken(bare):
    plant = plant_from(bare, site=SitePart(coldest_c=-25.0))
    made = charging_from(bare, plant, inverter=InverterPart(source_month="February"))
    assert made.plant is plant and len(made.course.by_hour) == 24 * 28


def test_appliances_of_the_log_are_the_house_and_a_need_sets_a_usual_one(bare):
    usual = charging_from(bare).house
    bare.save_part("need", NeedPart(need_kwh_a_day=8.0))
    by_need = charging_from(bare)
    hours = [load.watts * load.minutes / 60.0 * (load.to_hour - load.from_hour) for load in by_need.house]
    assert sum(hours) == pytest.approx(8000.0) and by_need.house != usual
    row = {"appliance": "lamp", "watts": "50", "from_hour": "18", "to_hour": "22", "minutes": "60"}
    bare.save_log("house_loads", [blank_row("house_loads") | row])
    typed = charging_from(bare)
    assert [load.name for load in typed.house] == ["lamp"] and "the appliances of the house" not in typed.assumed


# 200 Ah at the 52.5 V of half-full LiFePO4 are 10.5 kWh; nine tenths of it are used day by day, as the form says.
def test_a_need_takes_what_is_typed_and_says_what_is_not(bare):
    assert need_from(bare) is None
    usual = need_from(bare, NeedPart(need_kwh_a_day=8.0))
    assert usual.kwh_a_day == pytest.approx(np.full(12, 8.0)) and usual.usable_kwh == pytest.approx(
        0.9 * 10.5, rel=0.05
    )
    said = " ".join(usual.assumed)
    assert "% of the energy comes out" in said and "90% of the bank is used" in said and "10 W idle" in said
    assert usual.assumed[-1] == "each day as a usual household's" and "inverter efficiency 90%" in usual.assumed
    assert "every month alike over the year" in usual.assumed
    typed = NeedPart(
        need_kwh_a_day=8.0,
        need_from="months of a usual household",
        inverter_efficiency=0.8,
        inverter_idle_watts=5.0,
        round_trip_share=0.7,
        usable_share=0.5,
    )
    made = need_from(bare, typed)
    assert (made.round_trip_share, made.inverter_efficiency, made.inverter_idle_watts) == (0.7, 0.8, 5.0)
    assert made.usable_kwh == pytest.approx(usual.usable_kwh * 0.5 / 0.9)
    assert made.assumed == ("each day as a usual household's",)
    days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    assert made.kwh_a_day @ days == pytest.approx(8.0 * 365.0) and made.kwh_a_day[0] > 1.3 * made.kwh_a_day[6]


def test_the_log_of_months_says_the_need_of_each(tmp_path):
    job = example.write(tmp_path)
    january = need_from(job).kwh_a_day[0]
    assert january == 9.5  # as typed in the example's log
    rows = [row | {"need_kwh_a_day": "3"} for row in job.read_log("need_months")]
    assert need_from(job, rows=rows).kwh_a_day == pytest.approx(np.full(12, 3.0))
