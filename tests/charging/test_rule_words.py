"""What a rule does, in words."""

from sentences import sentences_of
from statorbook.charging.control import ABOVE, FALSE, OFF, Rule
from statorbook.charging.rule_words import rule_words
from statorbook.quantities import reader_units

wording = sentences_of("charging_rules")
WATER = Rule(
    name="hot", output="water_heater", action=OFF, input="water_c", side=ABOVE, on_at=60.0, off_at=55.0,
    only_if=("full", "not control_power", "air_c_valid"),
)  # fmt: skip


def test_limits_delays_and_what_it_hangs_on_are_said():
    full = Rule(
        name="full", output="dump_1", input="bank_volts", side=ABOVE, on_at=28.8, off_at=27.61,
        on_delay_s=2.0, off_delay_s=30.0, least_on_s=120.0,
    )  # fmt: skip
    assert rule_words(full) == wording("First dump load on at")
    assert rule_words(WATER) == wording("Water heater kept off")
    lost = Rule(name="lost", output="alarm_high", input="bank_volts_valid", side=FALSE, on_delay_s=5.0)
    assert rule_words(lost) == wording("High alarm on while")


# Two minutes and more in whole minutes are told in minutes.
def test_times_are_told_in_seconds_or_whole_minutes():
    told = {60.0: "60 s", 119.0: "119 s", 120.0: "2 min", 121.0: "121 s", 180.0: "3 min", 0.5: "0.5 s"}
    for seconds, words in told.items():
        rule = Rule(name="r", output="dump_1", input="control_power", side=FALSE, on_delay_s=seconds)
        assert f"after {words} of it" in rule_words(rule)


# 60 °C are 140 °F (definition).
def test_temperatures_are_told_in_the_reader_s_units():
    with reader_units("US"):
        assert "140 °F" in rule_words(WATER)
