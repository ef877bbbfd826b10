"""Rules that chatter, take turns, come too late or drain the bank are named; the ready ones are none of it."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from samples import charging_samples
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.charging.chatter import Busiest, amps_of, busiest_day, remarks_on
from statorbook.charging.control import ABOVE, BELOW, OFF, ON, OUTPUTS, Rule, RuleSet
from statorbook.charging.plan import DumpElement

wording = sentences_of("charging_rules")
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


# Loads of 10 A and 20 A at 56.8 V on 0.1 Ω: steps of 1 V and 2 V, Ohm's law.
LOADS = tuple(
    DumpElement(output=name, ohm=ohm, cold_ohm=ohm, standing_watts=1e4)
    for name, ohm in (("dump_1", 5.68), ("dump_2", 2.84))
)
ONE = Rule(name="one", output="dump_1", input="bank_volts", side=ABOVE, on_at=57.2, off_at=55.8)
TWO = Rule(name="two", output="dump_2", input="bank_volts_25", side=ABOVE, on_at=57.5, off_at=55.0)


def by_rules(*rules, **changes):
    """What is remarked of a plan with these rules."""
    made = charging_samples.plan(
        bank=WEAK, dumps=LOADS, absorption_volts=56.8, most_volts=58.4, rules=RuleSet(rules=rules, relays=()), **changes
    )
    return remarks_on(made)


# By hand: 2 s until it takes hold and 10 s on at least are 12 s, 7200 times a day.
def test_a_load_that_chatters_in_words_and_at_its_edge():
    narrow = replace(ONE, off_at=ONE.on_at - 0.5, on_delay_s=2.0, off_delay_s=3.0, least_on_s=10.0)
    assert by_rules(narrow) == (wording("chatters"),)
    (quick,) = by_rules(replace(narrow, on_delay_s=0.0, off_delay_s=0.0, least_on_s=0.0))
    assert "432000 operations" in quick  # 86 400 s over twice the scan of 0.1 s
    (off,) = by_rules(replace(narrow, off_delay_s=22.0))
    assert "3600 operations" in off
    assert by_rules(replace(ONE, off_at=ONE.on_at - 1.01)) == () != by_rules(replace(ONE, off_at=ONE.on_at - 0.99))
    # Another side, another reading or another action does not switch it on by too many volts.
    for changes in ({"side": BELOW, "on_at": 55.0, "off_at": 55.1}, {"input": "cell_c"}, {"action": OFF}):
        assert by_rules(replace(narrow, **changes)) == ()
    assert by_rules(replace(narrow, output="dump_3")) == by_rules(replace(narrow, output="alarm_high")) == ()


# 57.5 V less 2 V are 55.5 V, below the 55.8 V of the first one.
def test_loads_that_take_turns_in_words_and_at_their_edges():
    assert by_rules(ONE, TWO) == (wording("take turns"),)
    assert by_rules(replace(ONE, off_at=55.51), TWO) != () == by_rules(replace(ONE, off_at=55.49), TWO)
    # Only a load that was on before goes off; with the same limit each takes off the other.
    assert by_rules(replace(ONE, on_at=57.6, off_at=55.8), TWO) == ()
    assert len(by_rules(replace(ONE, on_at=57.5), TWO)) == 1
    # One that chatters by itself is told as that.
    assert ["take turns" in said for said in by_rules(ONE, replace(TWO, off_at=55.6))] == [False]
    third = Rule(name="third", output="alarm_high", input="cell_c", side=ABOVE, on_at=40.0, off_at=30.0)
    for one, two in (("third", "not third"), ("not third", "third")):
        assert by_rules(third, replace(ONE, only_if=(one,)), replace(TWO, only_if=(two,))) == ()
    assert len(by_rules(third, replace(ONE, only_if=("third",)), replace(TWO, only_if=("third",)))) == 1


def test_a_limit_above_the_bank_s_own_in_words_and_at_its_edge():
    assert by_rules(replace(ONE, on_at=58.5)) == (wording("too late"),)
    assert by_rules(replace(ONE, on_at=58.4)) == ()


# The inverter goes off at 46 V by its rule, or at 44 V by itself; the heater hangs on the water, which says nothing of
# the bank.
def test_a_heater_that_drains_the_bank_in_words_and_what_holds_it():
    house = Rule(name="house", output="inverter_enable", input="bank_volts", side=ABOVE, on_at=52.0, off_at=46.0)
    hot = Rule(name="hot", output="water_heater", input="water_c", side=BELOW, on_at=50.0, off_at=60.0)
    assert by_rules(house, hot) == (wording("drains"),)
    full = Rule(name="full", output="alarm_high", input="bank_volts", side=ABOVE, on_at=57.0, off_at=46.1)
    low = Rule(name="low", output="alarm_low", input="bank_volts", side=BELOW, on_at=46.1, off_at=48.0)
    hangs, not_low = replace(hot, only_if=("house", "full")), replace(hot, only_if=("not low", "inverter_healthy"))
    assert by_rules(house, full, hangs) == by_rules(house, low, not_low) == ()
    assert len(by_rules(house, replace(full, off_at=46.0), hangs)) == 1
    assert len(by_rules(house, replace(low, on_at=46.0), not_low)) == 1
    assert len(by_rules(house, full, replace(hot, only_if=("not full",)))) == 1
    assert len(by_rules(house, low, replace(hot, only_if=("low",)))) == 1
    # What holds the inverter itself is no help, and without such a rule the inverter's own trip is the floor.
    assert len(by_rules(house, replace(hot, only_if=("house",)))) == 1
    (said,) = by_rules(hot, inverter=charging_samples.inverter(WEAK, trips_below_volts=44.0))
    assert "down to 44 V" in said
    assert by_rules(house, hot, inverter=None) == ()


# By hand: 800 W over 90 % and 56.8 V.
def test_amps_of_heaters_and_of_what_draws_none():
    made = charging_samples.plan(dumps=LOADS, absorption_volts=56.8)
    assert amps_of(made, "dump_2") == pytest.approx(20.0)
    assert amps_of(made, "water_heater") == pytest.approx(800.0 / 0.9 / 56.8)
    assert amps_of(made, "air_heater") == pytest.approx(600.0 / 0.9 / 56.8)
    assert amps_of(made, "alarm_high") == amps_of(made, "dump_3") == 0.0
    for gone in ("inverter", "cylinder"):
        assert amps_of(replace(made, **{gone: None}), "water_heater") == 0.0
