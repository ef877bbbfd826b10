"""What every part of the plant is sized from."""

import pytest

from samples.plant_samples import plant


@pytest.mark.parametrize("cable_ohm", [0.05, 2.0])
def test_a_longer_cable_makes_no_part_smaller(cable_ohm):
    short, long = plant(cable_ohm=0.0), plant(cable_ohm=cable_ohm)
    assert long.most == short.most
    assert long.working.dc_amps < short.working.dc_amps
