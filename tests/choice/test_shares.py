"""Shares of a ±: they add up to the whole, and what is then known is gone from it by as much as its share said."""

from dataclasses import replace

import numpy as np
import pytest

from statorbook.assembly.judged import usable_year
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.shares import CONSTANTS, shares_in_squares, shares_of
from statorbook.choice.uncertainty import with_plus_minus
from statorbook.examples import jobs as example
from statorbook.job.places import EXAMPLES
from statorbook.year.plus_minus import kwh_shares, kwh_spread

HELD = ("bank_watts", "speed_rpm", "runaway_dc_volts_peak", "most_dc_amps")


@pytest.fixture(scope="module", params=EXAMPLES)
def case(request, tmp_path_factory):
    """An example's machine, its grouping and its year."""
    job = example.write(tmp_path_factory.mktemp("data"), request.param)
    return machine_from(job), choice_of(job).to_grouping(), usable_year(job)[0]


def test_steps_of_three_and_four_share_nine_and_sixteen():
    # Pythagoras: 3² + 4² = 5².
    constants = np.array([10.0, 7.0, 13.0, 10.0, 10.0, 10.0, 10.0])
    # Of a step to either side the larger one, from the best value: 2 up, 4 down.
    assumed = np.array([10.0, 12.0, 6.0, 10.0, 10.0])
    assert shares_in_squares(constants, assumed) == pytest.approx([0.36, 0.0, 0.0, 0.64, 0.0])
    assert not shares_in_squares(np.full(7, 2.0), np.full(3, 2.0)).any()


def test_shares_have_the_names_of_all_that_moves_the_answer_and_add_up(case):
    machine, grouping, source = case
    names = [*CONSTANTS, *(variation.name for variation in variations(machine))]
    assert len(set(names)) == len(names)
    shares = shares_of(machine, grouping)
    assert set(shares) == set(with_plus_minus(machine, grouping))
    for each in shares.values():
        assert list(each) == names and sum(each.values()) == pytest.approx(1.0)
    of_year = kwh_shares(machine, source, grouping)
    assert [name for name in of_year if name != "hours"] == names and sum(of_year.values()) == pytest.approx(1.0)
    assert ("hours" in of_year) == bool(source.other_hours)


def test_what_is_typed_is_gone_from_the_plus_minus_by_its_share(case):
    machine, grouping, source = case
    before, shares = with_plus_minus(machine, grouping), shares_of(machine, grouping)
    kwh, of_year = kwh_spread(machine, source, grouping), kwh_shares(machine, source, grouping)
    first = max(machine.assumed_fields & shares["bank_watts"].keys(), key=shares["bank_watts"].get)
    typed = replace(machine, assumed_fields=machine.assumed_fields - {first})
    after = with_plus_minus(typed, grouping)
    for name in HELD:
        left = before[name].plus_minus * np.sqrt(1.0 - shares[name][first])
        assert after[name].plus_minus == pytest.approx(left, rel=1e-6), name
    left = kwh.plus_minus * np.sqrt(1.0 - of_year[first])
    assert kwh_spread(typed, source, grouping).plus_minus == pytest.approx(left, rel=1e-6)


def test_an_exact_constant_has_no_share(case):
    machine, grouping, _ = case
    sure = replace(machine, ends=(machine.coil, machine.coil, *machine.ends[2:]))
    shares = shares_of(sure, grouping)
    assert {each["emf_v_per_rpm"] for each in shares.values()} == {0.0}
    assert shares_of(machine, grouping)["speed_rpm"]["emf_v_per_rpm"] > 0.0
