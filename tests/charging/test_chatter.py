"""Rules that chatter, take turns, come too late or drain the bank are named; the ready ones are none of it."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from samples import charging_samples
from statorbook.bank.battery import Bank
from statorbook.charging.chatter import Busiest, amps_of, busiest_day, remarks_on
from statorbook.charging.control import ABOVE, ON, OUTPUTS

WEAK = Bank(chemistry="LiFePO4", cells=16, capacity_ah=100.0, inner_ohm=0.1)


def with_rule(plan, name, **changes):
    rules = tuple(replace(rule, **changes) if rule.name == name else rule for rule in plan.rules.rules)
    return replace(plan, rules=replace(plan.rules, rules=rules))


def naming(plan, name):
    return [said for said in remarks_on(plan) if name in said]


@pytest.mark.parametrize("changes", [{}, {"bank": charging_samples.LEAD_BANK}, {"stops_source": True}])
def test_the_ready_rules_give_no_cause_for_a_remark(changes):
    assert remarks_on(charging_samples.plan(**changes)) == ()


def test_a_load_chatters_when_its_own_step_is_wider_than_its_limits_lie_apart():
    plan = charging_samples.plan(bank=WEAK)
    rule = next(r for r in plan.rules.rules if r.output == "dump_2" and r.side == ABOVE and r.input == "bank_volts_25")
    # Ohm's law by hand: V / R of the load through 0.1 Ω inside the bank.
    step = plan.points.absorption_volts / plan.dumps[1].ohm * 0.1
    assert amps_of(plan, "dump_2") * 0.1 == pytest.approx(step)
    wide = with_rule(plan, rule.name, off_at=rule.on_at - 1.1 * step)
    narrow = with_rule(plan, rule.name, off_at=rule.on_at - 0.9 * step)
    assert not any("chatters" in said for said in naming(wide, rule.name))
    assert any("chatters" in said for said in naming(narrow, rule.name))


def test_two_loads_take_turns_when_one_pulls_the_volts_to_where_the_other_lets_go():
    plan = charging_samples.plan(bank=WEAK)
    first, second = (next(r for r in plan.rules.rules if r.name == f"dump_{n}_full") for n in (1, 2))
    step = amps_of(plan, "dump_2") * 0.1
    second_off = second.on_at - 2.0 * step
    for off_at, said in ((second.on_at - 0.9 * step, True), (second.on_at - 1.1 * step, False)):
        changed = with_rule(with_rule(plan, "dump_1_full", off_at=off_at), "dump_2_full", off_at=second_off)
        both = [
            line for line in remarks_on(changed) if "take turns" in line and first.name in line and second.name in line
        ]
        assert bool(both) == said


def test_a_heater_that_draws_on_below_where_the_inverter_goes_off_is_named():
    plan = charging_samples.plan()
    off_at = next(r.off_at for r in plan.rules.rules if r.output == "inverter_enable" and r.action == ON)
    assert naming(with_rule(plan, "water", off_at=off_at), "water heater draws")
    assert not naming(with_rule(plan, "water", off_at=off_at + 0.1), "water heater draws")


def test_a_load_whose_limit_lies_above_the_banks_own_is_named_as_too_late():
    plan = charging_samples.plan()
    assert naming(with_rule(plan, "dump_2_full", on_at=plan.points.most_volts + 0.1), "too late")


def test_least_times_on_keep_the_busiest_output_below_what_they_allow():
    plan = charging_samples.plan()
    found = busiest_day(plan)
    rules = [rule for rule in plan.rules.rules if rule.output == found.output and rule.action == ON]
    # A day of 86 400 s over the shortest least time on of its rules.
    assert 0 < found.a_day <= 86_400 / min(rule.least_on_s for rule in rules if rule.least_on_s)


# Invented counts: which day is the worst is plain to see, and the days themselves are tested elsewhere.
def test_the_busiest_of_days_with_a_quarter_half_three_quarters_and_all_is_told(monkeypatch):
    made, asked = charging_samples.plan(), []
    course = replace(made.course, settings=(0.5, 2.0), drives=made.course.drives * 2)

    def day(plan, *, days, start_charge):
        assert (days, start_charge, plan.house) == (1, 1.0, ())
        (setting,) = set(plan.course.by_hour)
        asked.append(setting)
        count = {0.5: 3, 1.0: 5, 1.5: 9, 2.0: 7}[setting]
        return SimpleNamespace(operations=dict.fromkeys(OUTPUTS, 0) | {"dump_1": 2, "dump_2": count, "dump_3": 99})

    monkeypatch.setattr("statorbook.charging.chatter.simulate", day)
    # The third dump load is not there, so that its count says nothing.
    assert busiest_day(replace(made, course=course)) == Busiest(output="dump_2", a_day=9, share=0.75)
    assert sorted(asked) == [0.5, 1.0, 1.5, 2.0]
