"""What every part of the plant is sized from."""

import pytest

from samples.plant_samples import plant
from statorbook.choice.assumed_ranges import variations
from statorbook.job.parts.fields import field_facts
from statorbook.job.parts.site import SitePart


@pytest.mark.parametrize("run", [{"cable_ohm": 0.05}, {"cable_ohm": 2.0}, {"ac_cable_ohm": 1.0}])
def test_a_longer_cable_makes_no_part_smaller(run):
    short, long = plant(), plant(**run)
    assert long.most == short.most
    assert long.working.dc_amps < short.working.dc_amps


def test_the_coldest_air_that_may_be_typed_can_be_worked_with():
    coldest = field_facts(SitePart, "coldest_c").least
    at = plant(cold_c=coldest)
    assert at.most.dc_amps > plant().most.dc_amps
    for each in variations(at.machine):
        assert all(end.setting.cold.copper_c >= coldest for end in dict(each.ends).values())
