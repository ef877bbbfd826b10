"""Derived formulas of dump loads: against the library, textbooks and limit cases."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import plan
from statorbook.bank.battery import Bank
from statorbook.charging.derivations import dump_ohms, dump_step_volts, element_group_ohms
from statorbook.charging.dump_loads import judged_dumps
from statorbook.charging.dump_steps import dump_steps
from statorbook.charging.heater_elements import ElementGroup, element_groups
from statorbook.quantities import number

PLAN = plan()


@settings(max_examples=6, deadline=None)
@given(volts=st.floats(50.0, 58.0))
def test_the_most_ohms_are_the_librarys(volts):
    needs = judged_dumps(PLAN.plant, replace(PLAN.points, absorption_volts=volts), PLAN.dumps).needs
    ohms = dump_ohms()["ohms"]
    assert needs.ohm == pytest.approx(number(ohms, V=volts, I=needs.source_amps, k=1.5, n=1))
    assert needs.alone_ohm == pytest.approx(number(ohms, V=volts, I=needs.source_amps, k=1.1, n=1))
    # Two alike, each of twice the ohms, take the same together.
    assert number(ohms, V=volts, I=10.0, k=1.5, n=2) == pytest.approx(2.0 * number(ohms, V=volts, I=10.0, k=1.5, n=1))


# NEC 690.72(B) (from memory): 150 % of a source of 500 W.
def test_the_dump_load_of_the_code():
    ohm = number(dump_ohms()["ohms"], V=50.0, I=500.0 / 50.0, k=1.5, n=1)
    assert number(dump_ohms()["watts"], V=50.0, R=ohm) == pytest.approx(750.0)


@settings(max_examples=20, deadline=None)
@given(each=st.floats(0.1, 100.0), series=st.integers(1, 4), parallel=st.integers(1, 12))
def test_a_group_is_the_librarys(each, series, parallel):
    group = ElementGroup(label="", each_ohm=each, each_watts=1.0, series=series, parallel=parallel)
    assert group.ohm == pytest.approx(number(element_group_ohms()["ohms"], r=each, s=series, p=parallel))


@settings(max_examples=10, deadline=None)
@given(most_ohm=st.floats(0.5, 6.0), volts=st.sampled_from([14.4, 28.8, 57.6]))
def test_no_element_that_is_proposed_takes_more_than_it_stands(most_ohm, volts):
    for group in element_groups(most_ohm, volts):
        takes = number(element_group_ohms()["watts"], V=volts, r=group.each_ohm, s=group.series)
        assert takes <= group.each_watts * (1.0 + 1e-8) and group.ohm <= most_ohm * (1.0 + 1e-8)


@settings(max_examples=6, deadline=None)
@given(inner_ohm=st.floats(1e-3, 0.05))
def test_the_step_is_the_librarys_to_first_order(inner_ohm):
    made = plan(bank=Bank(chemistry="LiFePO4", cells=16, inner_ohm=inner_ohm))
    step, ohm = dump_steps(made)[0], made.dumps[0].ohm
    at = {"V": made.points.absorption_volts, "r": inner_ohm, "R": ohm}
    assert step.volts == pytest.approx(number(dump_step_volts()["small"], **at))
    # Never told smaller than it is.
    assert (
        number(dump_step_volts()["exact"], **at)
        <= step.volts
        <= (1.0 + inner_ohm / ohm) * (number(dump_step_volts()["exact"], **at) * (1.0 + 1e-9))
    )


# Robertson, example 1.10: 12 V and 0.1 Ω fall to 11.5 V at 5 A; Bird, example 4.2: 2.0 V and 0.02 Ω to 1.9 V at 5 A
# (both in a reproduction).
@pytest.mark.parametrize(
    ("volts", "inner_ohm", "load_ohm", "falls"), [(12.0, 0.1, 11.5 / 5.0, 0.5), (2.0, 0.02, 1.9 / 5.0, 0.1)]
)
def test_the_fall_of_a_battery_is_a_textbooks(volts, inner_ohm, load_ohm, falls):
    assert number(dump_step_volts()["exact"], V=volts, r=inner_ohm, R=load_ohm) == pytest.approx(falls)
