"""Steps: volts by hand, the worst operations of a day, and what a relay then lasts."""

from dataclasses import replace

import pytest

from samples.charging_samples import plan
from statorbook.bank.battery import Bank
from statorbook.charging.control import ABOVE, Relay, Rule, RuleSet
from statorbook.charging.dump_steps import YEAR_CYCLE_S, dump_steps, worst_a_day
from statorbook.charging.plan import DumpElement


def step(inner_ohm=0.01, **rule):
    """One load of 2 Ω on a bank held at 50 V, with a rule."""
    usual = dict(name="dump", output="dump_1", input="bank_volts", side=ABOVE, on_at=50.0, off_at=49.0)
    rules = RuleSet(rules=(Rule(**usual | rule),), relays=(Relay(number=1, output="dump_1"),), scan_ms=100)
    bank = Bank(chemistry="LiFePO4", cells=16, inner_ohm=inner_ohm)
    load = DumpElement(output="dump_1", ohm=2.0, cold_ohm=2.0, standing_watts=2000.0)
    return dump_steps(plan(bank=bank, absorption_volts=50.0, dumps=(load,), rules=rules))[0]


# By hand: 25 A × 0.01 Ω.
def test_the_step_in_volts():
    found = step()
    assert (found.amps, found.volts, found.most_volts) == (25.0, pytest.approx(0.25), pytest.approx(0.25))
    assert found.between_volts == pytest.approx(1.0) and not found.may_chatter
    assert step(on_at=50.0, off_at=49.8).may_chatter


# By hand: 2 s until it takes hold and 58 s on at least, or 30 s until it lets go; 0.1 s a scan where there is no delay.
@pytest.mark.parametrize(
    ("rule", "cycle_s"),
    [
        ({"on_delay_s": 2.0, "least_on_s": 58.0}, 60.0),
        ({"on_delay_s": 2.0, "least_on_s": 5.0, "off_delay_s": 30.0}, 32.0),
        ({}, 0.2),
    ],
)
def test_the_worst_day(rule, cycle_s):
    found = step(**rule)
    assert found.worst_a_day == pytest.approx(86_400.0 / cycle_s)
    assert found.least_days == pytest.approx(100_000.0 * cycle_s / 86_400.0)


# By hand: 365 × 86 400 s / 100 000.
def test_a_cycle_with_which_a_relay_lasts_a_year():
    assert pytest.approx(315.36) == YEAR_CYCLE_S
    assert step(least_on_s=YEAR_CYCLE_S - 0.1).least_days == pytest.approx(365.0)


def test_a_bank_of_unknown_ohms_has_two_ends():
    made = plan()
    found = dump_steps(made)[0]
    low, high = made.bank.internal_ohm_ends
    assert found.most_volts == pytest.approx(found.amps * high) and found.volts < found.most_volts
    silent = replace(made, rules=RuleSet(rules=(), relays=()))
    assert (
        dump_steps(silent)[0].worst_a_day == worst_a_day(silent, "dump_1") == 0.0
        and dump_steps(silent)[0].between_volts is None
    )
