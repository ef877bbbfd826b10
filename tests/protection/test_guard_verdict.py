"""An over-voltage load at hand against what the plant needs: one that does, and each way not to."""

from dataclasses import replace

import pytest

from samples.plant_samples import plant
from statorbook.protection.guard_needs import guard_needs
from statorbook.protection.guard_verdict import judged_guard
from statorbook.protection.over_voltage_load import OverVoltageLoad

PLANT = plant(device_max_volts=80.0)


@pytest.fixture(scope="module")
def good():
    needs = guard_needs(PLANT)
    farad = {"capacitor_uf": needs.capacitor_uf(0.001), "acts_within_s": 0.001}
    return OverVoltageLoad(set_dc_volts=needs.set_dc_volts, ohm=needs.ohm, watts=needs.watts, **farad)


def test_a_load_as_asked_for_does(good):
    found = judged_guard(PLANT, good)
    assert found.fits and found.lost.highest_dc_volts <= 80.0


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"set_dc_volts": 55.0}, "set too low"),  # LiFePO4, 16 cells at 3.55 V: 56.8 V in everyday work
        ({"set_dc_volts": 85.0}, "set too high"),
        ({"acts_within_s": 0.03}, "too slow"),
        ({"capacitor_uf": 0.0}, "too slow"),
        ({"ohm": 60.0, "watts": 1e5}, "too weak"),
        ({"watts": 300.0}, "too small"),
    ],
)
def test_each_way_not_to_do_is_named(good, changes, fault):
    faults = judged_guard(PLANT, replace(good, **changes)).faults
    assert any(words.startswith(fault) for words in faults)


def test_a_load_that_never_comes_on_is_not_called_weak(good):
    faults = judged_guard(PLANT, replace(good, set_dc_volts=1900.0)).faults
    assert len(faults) == 1 and faults[0].startswith("set too high")


@pytest.mark.outside(
    "watts asked of an over-voltage load over what it takes",
    source="NEC 690.72(B), diversion loads",
    number="150 %",
    tolerance="none, 150 % itself is enough",
    seen="from memory",
)
def test_half_as_much_again_is_asked_of_its_watts(good):
    takes = judged_guard(PLANT, good).lost.load_watts
    assert judged_guard(PLANT, replace(good, watts=1.5 * takes)).fits
    assert not judged_guard(PLANT, replace(good, watts=1.4 * takes)).fits
