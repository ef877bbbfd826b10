"""Check of a plan: every single fault is covered or named, and each gap is shown by simulated days."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from samples import charging_samples
from statorbook.charging import check
from statorbook.charging.check import Covered, check_plan
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, PASSING_S
from statorbook.charging.check_gap import Gap
from statorbook.charging.control import ABOVE, BELOW, Rule, RuleSet
from statorbook.charging.control_faults import NOTHING, faults_of
from statorbook.charging.events import (
    DEAD,
    GUARD_DEAD,
    INPUT_ABSENT,
    INPUT_FROZEN,
    INPUT_HIGH,
    INPUT_LOW,
    NO_CONTROL_POWER,
    WELDED,
)
from statorbook.charging.plan import DumpElement
from statorbook.charging.supply import supply_of

LOADS = ("dump_1", "dump_2", "water_heater", "air_heater")
OUTSIDE = {FULL: "above", EMPTY: "below", FORBIDDEN: "forbidden"}


def lead(**changes):
    return charging_samples.plan(bank=charging_samples.LEAD_BANK, **changes)


def one_dump(**changes):
    """A plan whose only dump load takes a tenth less than comes, with a guard and nothing that stops the source."""
    made = charging_samples.plan(inverter=None, **changes)
    points, dump = made.points, made.dumps[0]
    amps = supply_of(made).amps_at(1.0, points.most_volts)
    dumps = (replace(dump, ohm=points.most_volts / (0.9 * amps)),)
    return charging_samples.plan(inverter=None, dumps=dumps, **changes)


def found(checked, kind, target, side):
    """What became of a side with a fault."""
    for each in checked.faults:
        if (each.fault.kind, each.fault.target) == (kind, target):
            return each.sides[side]
    raise AssertionError(f"{kind} {target} was not looked at")


def test_every_input_that_a_rule_reads_and_every_output_fails_in_each_of_its_ways():
    plan = charging_samples.plan(stops_source=True)
    faults = {(fault.kind, fault.target) for fault in faults_of(plan)}
    for name in ("bank_volts", "cell_c", "water_c"):
        assert {(kind, name) for kind in (INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN)} <= faults
    for name in ("dump_1", "dump_2", "water_heater", "air_heater", "inverter_enable", "source_stop"):
        assert {(WELDED, name), (DEAD, name)} <= faults
    assert {(NOTHING, ""), (NO_CONTROL_POWER, ""), (GUARD_DEAD, ""), (INPUT_LOW, "inverter_healthy")} <= faults
    assert (GUARD_DEAD, "") not in {(f.kind, f.target) for f in faults_of(charging_samples.plan(guard=None))}


def test_the_ready_rules_of_a_lead_bank_with_a_guard_are_complete():
    checked = check_plan(lead())
    assert checked.complete and not checked.gaps
    # The guard is needed for it: a bank volts reading that is stuck high keeps loads on at an empty bank.
    assert not found(checked, INPUT_HIGH, "bank_volts", EMPTY).by_rules
    alone = found(checked, NOTHING, "", FULL)
    assert isinstance(alone, Covered) and alone.by_rules and {"dump_1", "dump_2"} <= set(alone.takes)


def test_without_a_guard_the_gap_names_the_reading_that_shows_it():
    plan = charging_samples.plan(guard=None)
    gap = found(check_plan(plan), INPUT_LOW, "bank_volts", FULL)
    assert gap.readings["bank_volts"] == pytest.approx(plan.rules.valid["bank_volts"][0])
    # Nothing is on, so all that comes has nowhere to go: Kirchhoff's current law.
    assert gap.on == () or set(gap.on) <= {"inverter_enable"}
    assert gap.amps == pytest.approx(supply_of(plan).amps_at(1.0, gap.held.volts), rel=0.05)
    assert "bank volts" in gap.sentence and "nowhere to go" in gap.sentence


def test_a_dump_load_that_takes_less_than_comes_is_a_gap_of_just_that_much():
    plan = one_dump()
    gap = found(check_plan(plan), NOTHING, "", FULL)
    come = supply_of(plan).amps_at(1.0, gap.held.volts)
    # A tenth is left over: by the ohms chosen, Ohm's law.
    assert gap.amps == pytest.approx(0.1 * come, rel=0.02) and gap.on == ("dump_1",)


def test_a_gap_that_is_there_while_nothing_fails_is_told_once():
    checked = check_plan(one_dump())
    assert [gap.fault.kind for gap in checked.gaps if gap.side == FULL] == [NOTHING]


@pytest.mark.parametrize("make", [lambda: charging_samples.plan(guard=None), lambda: lead(guard=None), one_dump])
def test_simulated_days_show_every_gap(make):
    checked = check_plan(make())
    assert checked.gaps
    for gap in checked.gaps:
        outside = getattr(gap.simulated(), OUTSIDE[gap.side])
        assert outside.longest_s > PASSING_S.value, gap.sentence


def test_rules_that_wait_too_long_for_a_bank_that_is_full_are_named_as_late():
    made = charging_samples.plan(guard=None)
    slow = tuple(replace(r, on_delay_s=900.0) if r.output in LOADS else r for r in made.rules.rules)
    gap = found(check_plan(replace(made, rules=replace(made.rules, rules=slow))), NOTHING, "", FULL)
    assert gap.is_late and "waited" in gap.sentence
    assert gap.simulated().above.longest_s > PASSING_S.value
    assert isinstance(found(check_plan(made), NOTHING, "", FULL), Covered)


# By hand: the rule on the load waits 900 s from 57 V; a rule above the limit, one on low volts and one on an alarm do
# not begin at the bank's volts, and the alarm's delay keeps nothing waiting.
def test_too_late_is_what_leaps_past_the_limit_and_stays_there_for_longer_than_passes(monkeypatch):
    load = Rule(name="load", output="dump_1", input="bank_volts", side=ABOVE, on_at=57.0, off_at=55.0, on_delay_s=900.0)
    rules = (
        load,
        replace(load, name="top", on_at=59.0, on_delay_s=1.0),
        replace(load, name="low", side=BELOW, on_at=58.0, off_at=58.2, on_delay_s=1.0, output="dump_2"),
        replace(load, name="ring", output="alarm_high", on_at=58.3, on_delay_s=2000.0),
        replace(load, name="warm", input="cell_c", on_at=50.0, off_at=40.0, on_delay_s=1.0),
    )
    loads = tuple(
        DumpElement(output=name, ohm=2.0, cold_ohm=2.0, standing_watts=5000.0) for name in ("dump_1", "dump_2")
    )
    bare = {"cylinder": None, "room": None, "inverter": None, "guard": None, "most_volts": 58.4}
    asked = []

    def of_full(leap_volts, longest_s):
        def leaps(bank, amps, cell_c, *, from_volts, seconds):
            asked.append((from_volts, seconds))
            return leap_volts

        monkeypatch.setattr(check, "leaps_to", leaps)
        days = SimpleNamespace(above=SimpleNamespace(longest_s=longest_s))
        monkeypatch.setattr(Gap, "simulated", lambda gap: days)
        made = charging_samples.plan(rules=RuleSet(rules=rules, relays=()), dumps=loads, **bare)
        return found(check_plan(made), NOTHING, "", FULL)

    late = of_full(58.5, 6.1)
    assert isinstance(late, Gap) and late.is_late and late.amps > 0.0 and set(asked) == {(57.0, 900.0)}
    assert isinstance(of_full(58.5, 6.0), Covered) and isinstance(of_full(58.3, 99.0), Covered)
