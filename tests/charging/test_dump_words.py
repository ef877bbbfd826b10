"""What is said of dump loads, hot water and contacts: every case that changes what a reader does."""

from dataclasses import replace
from math import ceil

import pytest

from samples.charging_samples import CYLINDER, ROOM, inverter, plan
from sentences import in_us, sentences_of
from statorbook.charging.contact_words import contact_words
from statorbook.charging.contacts import ContactLabel, judged_contacts
from statorbook.charging.control import CLOSED_AT_REST, Relay, Rule, RuleSet
from statorbook.charging.dump_loads import judged_dumps
from statorbook.charging.dump_steps import dump_steps
from statorbook.charging.dump_words import dump_words, water_words
from statorbook.charging.plan import DumpElement
from statorbook.protection import two_figures
from statorbook.quantities import rounded_down, rounded_up

wording = sentences_of("charging_dump")


@pytest.fixture(scope="module")
def usual():
    return plan(absorption_volts=58.4)


def with_load(made, ohm, *, cold=1.0, contact="normally open", guard=True):
    """The plan with one load of some ohms on a relay."""
    load = DumpElement(output="dump_1", ohm=ohm, cold_ohm=ohm / cold, standing_watts=1e5)
    relays = (Relay(number=1, output="dump_1", contact=contact),)
    rules = RuleSet(rules=made.rules.rules, relays=relays)
    return replace(made, dumps=(load,), rules=rules, guard=made.guard if guard else None)


# By hand: 2000 W (58.4 / 230)² = 129 W; at 120 V 474 W.
def test_need_loads_and_mains_elements(usual):
    said = dump_words(usual, typed=False)
    needs = judged_dumps(usual.plant, usual.points, usual.dumps).needs
    assert f"{needs.source_amps:.0f} A into the bank" in said
    assert wording("mains") in said and "470 W" in in_us(dump_words, usual, typed=False)
    assert wording("one may die") in said and "Assumed until you type yours" in said
    assert "Yours, " in dump_words(usual, typed=True)


def test_one_that_dies_leaves_nothing(usual):
    said = dump_words(with_load(usual, 0.5), typed=True)
    assert f"{wording('nothing left')}: {wording('stop it')}." in said
    stopped = dump_words(replace(with_load(usual, 0.5), stops_source=True), typed=True)
    assert wording("stop it") not in stopped
    assert "does not do" in dump_words(with_load(usual, 50.0), typed=True)


# By hand: 200 Ah over 58.4 V / 2.92 Ω = 20 A are 10 h.
def test_control_power_lost(usual):
    bank = replace(usual.bank, capacity_ah=200.0)
    made = replace(usual, plant=replace(usual.plant, machine=replace(usual.plant.machine, bank=bank)))
    open_said = dump_words(with_load(made, 2.92), typed=True)
    assert wording("no closed contact") in open_said
    closed = dump_words(with_load(made, 2.92, contact=CLOSED_AT_REST), typed=True)
    assert wording("comes on") in closed and "within 10 h, until the guard" in closed
    bare = dump_words(with_load(made, 2.92, contact=CLOSED_AT_REST, guard=False), typed=True)
    assert wording("never ends") in bare
    stopped = with_load(made, 2.92)
    relays = (*stopped.rules.relays, Relay(number=2, output="source_stop", contact=CLOSED_AT_REST))
    stopped = replace(stopped, rules=replace(stopped.rules, relays=relays), stops_source=True)
    assert wording("source stops") in dump_words(stopped, typed=True)
    assert "there is no guard" in dump_words(with_load(made, 2.92, guard=False), typed=True)


# By hand: 58.4 V / (2 Ω / 15) = 438 A.
def test_lamps_are_called_a_short_circuit(usual):
    said = dump_words(with_load(usual, 2.0, cold=15.0), typed=True)
    assert wording("short circuit") in said and "440 A" in said and "15 times" in said
    assert wording("short circuit") not in dump_words(with_load(usual, 2.0, cold=1.06), typed=True)


# By hand: 120 L × 55 K × 1.1617 Wh = 7.67 kWh; 600 W / 60 W/K; 45 K × 1.6 W/K = 72 W.
def test_hot_water_and_room(usual):
    said = water_words(replace(usual, cylinder=CYLINDER, room=ROOM))
    assert "takes 7.7 kWh from 10 to" in said and "72 W" in said and "10 K warmer" in said
    assert "50 to 149 °F" in in_us(water_words, replace(usual, cylinder=CYLINDER))
    assert wording("no inverter") in water_words(replace(usual, inverter=None))
    weak = replace(usual, inverter=inverter(usual.bank, rated_watts=1000.0))
    assert wording("too many watts") in water_words(weak)
    leaky = replace(CYLINDER, loss_w_per_k=20.0)
    assert wording("never there") in water_words(replace(usual, cylinder=leaky))
    assert water_words(replace(usual, cylinder=None, room=None)) == ""


def test_contacts_and_steps(usual):
    rule = Rule(name="d", output="dump_1", input="bank_volts", side="at or above", on_at=57.0, off_at=56.99)
    made = with_load(usual, 2.0)
    tight = replace(made, rules=RuleSet(rules=(rule,), relays=made.rules.relays))
    label = {"dump_1": ContactLabel(volts=250.0, amps=16.0, current="AC")}
    said = contact_words(tight, judged_contacts(tight, label), dump_steps(tight), ac_amps=10.0)
    assert f"first dump load ({wording('AC on DC')}" in said and wording("chatter") in said
    assert wording("a year") in said
    calm = replace(rule, off_at=50.0, least_on_s=3600.0)
    wide = replace(tight, rules=replace(tight.rules, rules=(calm,)))
    told = contact_words(wide, judged_contacts(wide, {}), dump_steps(wide), ac_amps=10.0)
    # By hand: an hour a time is 24 a day, 100 000 / 24 = 4167 days or 11 years.
    assert "up to 24 times a day" in told and "11 years" in told
    # Between 6 A at 30 V and 0.5 A at 110 V DC of a label of 10 A AC, as the two sources have it (read).
    assert 0.5 < float(told.partition("may break about ")[2].partition(" A")[0]) < 6.0
    assert wording("chatter") not in told and wording("a year") not in told
    week = {"dump_1": 14}
    counted = contact_words(wide, judged_contacts(wide, {}), dump_steps(wide), ac_amps=10.0, operations=week)
    # By hand: 100 000 / 2 a day are 137 years, and nobody knows so far ahead.
    assert "first dump load 14 times" in counted and "over 20 years" in counted
    assert contact_words(wide, (), (), ac_amps=10.0).startswith("There is no relay")


# By hand: 58.4 V / 5 Ω = 11.7 A each, 682 W; one and a half of that for wires; 200 Ah over 23.4 A, 8.6 h. A mains
# element takes 2000 W (58.4 / 230)² = 129 W.
def test_whole_lines_of_the_dump_loads(usual):
    load = DumpElement(output="dump_1", ohm=5.0, cold_ohm=5.0, standing_watts=1e5)
    two = replace(with_load(usual, 5.0), dumps=(load, replace(load, output="dump_2")))
    needs = judged_dumps(two.plant, two.points, two.dumps).needs
    source = two_figures(needs.source_amps, "A")
    need, own, mains, _lost = dump_words(two, typed=True).split("\n")
    assert need == wording("need").format(
        source=source,
        amps=f"{rounded_up(needs.amps):g} A",
        ohm=two_figures(rounded_down(needs.ohm), "Ω"),
        watts=f"{rounded_up(needs.watts):g} W",
    )
    assert own == wording("yours do").format(source=source)
    assert mains == wording("mains and how many").format(
        pieces=ceil(needs.amps * 58.4 / (2000.0 * (58.4 / 230.0) ** 2))
    )
    weak = judged_dumps(usual.plant, usual.points, with_load(usual, 50.0).dumps)
    said = dump_words(with_load(usual, 50.0), typed=True).split("\n")[1]
    assert said == wording("yours does not").format(why="; ".join(weak.faults))
    halves = replace(two, dumps=(replace(load, ohm=10.0), replace(load, output="dump_2", ohm=10.0)), stops_source=True)
    assert wording("one dead").format(source=source) in dump_words(halves, typed=True)


def test_two_that_come_on_without_control_power_empty_the_bank_together(usual):
    load = DumpElement(output="dump_1", ohm=1.46, cold_ohm=1.46, standing_watts=1e5)
    two = replace(with_load(usual, 1.46), dumps=(load, replace(load, output="dump_2")))
    relays = tuple(
        Relay(number=at, output=output, contact=CLOSED_AT_REST) for at, output in ((1, "dump_1"), (2, "dump_2"))
    )
    two = replace(two, rules=replace(two.rules, relays=relays))
    # 200 Ah over 2 · 58.4 V / 1.46 Ω = 80 A.
    guard = f"{two.guard.low_off_volts:.1f} V"
    assert dump_words(two, typed=True).split("\n")[-1] == wording("both come on").format(volts=guard)
