"""What a set of rules may not be: each slip of the pen in one sentence that names rule or relay."""

from dataclasses import replace

import pytest

from sentences import sentences_of
from statorbook.charging.control import ABOVE, BELOW, FALSE, MEASURED, OFF, TRUE, Relay, Rule, RuleSet
from statorbook.charging.rule_checks import check_rules, complaints
from statorbook.errors import BadInput

wording = sentences_of("charging_rules")

FULL = Rule(name="full", output="dump_1", input="bank_volts_25", side=ABOVE, on_at=28.8, off_at=27.6, on_delay_s=2.0)
HOT = Rule(name="hot", output="dump_2", input="water_c", side=ABOVE, on_at=60.0, off_at=55.0)
SET = RuleSet(
    rules=(FULL, HOT),
    relays=(Relay(number=1, output="dump_1"), Relay(number=2, output="dump_2")),
    valid={"bank_volts": (10.0, 40.0), "water_c": (-10.0, 110.0)},
)


def changed(**changes):
    """The set with its second rule changed."""
    return replace(SET, rules=(FULL, replace(HOT, **changes)))


def test_a_sound_set_passes_as_it_is():
    assert check_rules(SET) is SET


@pytest.mark.parametrize(
    ("column", "changes"),
    [
        ("output", {"output": "lamp"}),
        ("output", {"output": ""}),
        ("output", {"output": "dump_3"}),
        ("action", {"action": "toggle"}),
        ("input", {"input": "water"}),
        ("input", {"input": "air_c_valid", "side": TRUE, "on_at": None, "off_at": None}),
        ("side", {"side": TRUE}),
        ("side", {"input": "control_power", "on_at": None, "off_at": None}),
        ("on_at", {"on_at": None}),
        ("on_at", {"on_at": float("nan")}),
        ("on_at", {"on_at": 111.0}),
        ("on_at", {"input": "control_power", "side": FALSE, "on_at": 1.0, "off_at": None}),
        ("off_at", {"off_at": None}),
        ("off_at", {"off_at": 60.0}),
        ("off_at", {"off_at": 61.0}),
        ("off_at", {"side": BELOW}),
        ("off_at", {"off_at": 59.96}),  # no whole tenth between: alike for the controller
        ("on_delay_s", {"on_delay_s": 0.05}),
        ("off_delay_s", {"off_delay_s": -1.0}),
        ("least_on_s", {"least_on_s": 90_000.0}),
        ("only_if", {"only_if": ("nobody",)}),
        ("only_if", {"only_if": ("hot",)}),
        ("only_if", {"only_if": ("bank_volts",)}),
        ("only_if", {"only_if": ("not air_c_valid",)}),
        ("priority", {"priority": 0}),
        ("priority", {"priority": 1.5}),
        ("priority", {"output": "dump_1", "action": OFF}),
        ("rule", {"name": "FULL"}),
        ("rule", {"name": "two__bars"}),
        ("rule", {"name": "bar_"}),
        ("rule", {"name": "1st"}),
        ("rule", {"name": "too hot"}),
        ("rule", {"name": "limit"}),
        ("rule", {"name": "End_Action"}),
        ("rule", {"name": "control_power"}),
        ("rule", {"name": "a" * 25}),
    ],
)
def test_a_rule_that_cannot_work_is_refused_by_its_column(column, changes):
    found = list(complaints(changed(**changes)))
    assert [(kind, at, name) for kind, at, name, _ in found] == [("rule", 1, column)]
    with pytest.raises(BadInput) as refused:
        check_rules(changed(**changes))
    assert "rule" in refused.value.where
    assert str(refused.value).count(". ") == 0


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"on_at": 111.0}, wording("beyond the sensor")),
        ({"on_at": -10.1, "off_at": -10.0, "side": BELOW}, wording("below the sensor")),
        ({"on_at": None}, wording("no limit")),
        ({"off_at": 61.0}, wording("crossed above")),
        ({"side": BELOW}, wording("crossed below")),
        ({"input": "control_power", "side": ABOVE, "on_at": None, "off_at": None}, wording("side of a word")),
        ({"input": "control_power", "side": TRUE, "off_at": None}, wording("limit of a word")),
        ({"on_delay_s": 0.05}, wording("too short")),
        ({"only_if": ("hot",)}, wording("a rule below")),
        ({"only_if": ("cell_c",)}, wording("a number")),
        ({"output": "dump_1", "action": OFF}, wording("same priority")),
        ({"input": "air_c_valid", "side": TRUE, "on_at": None, "off_at": None}, wording("no range")),
    ],
)
def test_what_is_said_of_it(changes, said):
    ((*_, complaint),) = complaints(changed(**changes))
    assert str(complaint) == said


def test_both_limits_of_a_yes_or_no_are_too_many():
    found = complaints(changed(input="control_power", side=FALSE))
    assert [column for _, _, column, _ in found] == ["on_at", "off_at"]


def test_of_several_with_the_same_priority_one_is_named():
    third = replace(HOT, name="third", output="dump_1", action=OFF)
    rules = (FULL, replace(FULL, name="again"), third)
    assert [each[2] for each in complaints(replace(SET, rules=rules))] == ["priority"]


def test_a_limit_may_lie_at_the_ends_of_its_sensor():
    assert check_rules(changed(on_at=110.0, off_at=-10.0)) and check_rules(
        changed(on_at=-10.0, off_at=110.0, side=BELOW)
    )
    # Volts as at 25 °C have the sensor of the bank's volts, 10 to 40 V.
    for on_at, off_at, fits in ((40.0, 10.0, True), (40.1, 10.0, False), (40.0, 9.9, False)):
        rules = (replace(FULL, on_at=on_at, off_at=off_at), HOT)
        assert not list(complaints(replace(SET, rules=rules))) == fits


def test_a_rule_below_may_not_be_named_and_one_above_may():
    assert check_rules(changed(only_if=("not full", "water_c_valid")))
    with pytest.raises(BadInput, match="rules above it"):
        check_rules(replace(SET, rules=(replace(FULL, only_if=("hot",)), HOT)))


def test_one_scan_is_the_shortest_delay():
    assert check_rules(replace(changed(on_delay_s=0.2), scan_ms=200))
    with pytest.raises(BadInput, match="one scan"):
        check_rules(replace(changed(on_delay_s=0.2), scan_ms=201))


def test_the_same_priority_is_allowed_where_both_ask_for_the_same():
    assert check_rules(changed(output="dump_1"))
    assert check_rules(changed(output="dump_1", action=OFF, priority=2))


@pytest.mark.parametrize(
    ("column", "relay"),
    [
        ("relay", Relay(number=1, output="alarm_low")),
        ("output", Relay(number=3, output="dump_1")),
        ("output", Relay(number=3, output="lamp")),
        ("relay", Relay(number=33, output="alarm_low")),
        ("relay", Relay(number=1.5, output="alarm_low")),
        ("contact", Relay(number=3, output="alarm_low", contact="open")),
    ],
)
def test_a_relay_that_cannot_work_is_refused_by_its_column(column, relay):
    found = [complaint[:3] for complaint in complaints(replace(SET, relays=(*SET.relays, relay)))]
    assert found == [("relay", 2, column)]


def test_a_controller_without_a_rule_or_with_hundreds_is_refused():
    many = tuple(replace(FULL, name=f"r{number}") for number in range(61))
    for rules in ((), many):
        with pytest.raises(BadInput, match="rule") as refused:
            check_rules(replace(SET, rules=rules))
        assert refused.value.given == (f"{len(rules)} rules were given" if rules else "no rule was given")


def test_a_limit_may_lie_anywhere_within_what_its_sensor_gives():
    for name, measured in MEASURED.items():
        rule = Rule(name="r", output="dump_1", input=name, side=ABOVE, on_at=50.0, off_at=40.0)
        assert check_rules(replace(SET, rules=(rule,), valid={})), measured


def test_a_refusal_names_the_rule_or_its_place():
    nameless, named = changed(name="2nd", on_at=None), changed(on_at=None)
    assert [complaint[3].where for complaint in complaints(nameless)] == ["rule 2", "rule 2"]
    assert check_rules(changed(name="a" * 24))
    assert [complaint[3].where for complaint in complaints(named)] == ["rule hot"]


# Rules, letters of a name, relays, priorities and delays are taken up to their ends: rules of the house, no source.
def test_counts_and_times_are_taken_up_to_their_ends():
    def found(**changes):
        return [complaint[2] for complaint in complaints(changed(**changes))]

    many = tuple(replace(FULL, name=f"r{number}") for number in range(60))
    assert check_rules(replace(SET, rules=many))
    assert found(priority=0) == found(priority=1.5) == ["priority"]
    for priority in (1, 99):
        assert found(priority=priority) == []
    assert found(priority=100) == ["priority"]
    assert found(on_delay_s=86_400.0) == found(on_delay_s=0.0) == []
    assert found(on_delay_s=86_400.1) == found(on_delay_s=-1.0) == ["on_delay_s"]
    for number, said in ((0, ["relay"]), (1, []), (32, []), (33, ["relay"])):
        relays = (Relay(number=31, output="dump_1"), Relay(number=number, output="dump_2"))
        assert [each[2] for each in complaints(replace(SET, relays=relays))] == said
