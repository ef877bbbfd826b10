"""Rules tried by hand: how long readings last decides what is on, and what was is remembered."""

import pytest

from statorbook.charging.control import ABOVE, Relay, Rule, RuleSet
from statorbook.charging.tried_rules import TriedRules


def waiting(on_delay_s, scan_ms=100):
    """A rule on the bank's volts that waits so long, of six lead-acid cells."""
    rule = Rule(name="full", output="dump_1", input="bank_volts_25", side=ABOVE, on_at=14.4, off_at=13.8,
                on_delay_s=on_delay_s)  # fmt: skip
    relays = (Relay(number=1, output="dump_1"),)
    valid = {"bank_volts": (5.0, 20.0), "cell_c": (-40.0, 85.0)}
    rules = RuleSet(rules=(rule,), relays=relays, scan_ms=scan_ms, compensation_mv_per_k=-18.0, valid=valid)
    return TriedRules(rules)


# By hand: the first scan starts the clock, so that n scans let a limit be met for n - 1 of them. A short while goes by
# the controller's own scan, a long one in sixty longer ones: a minute is 59 s, ten minutes are 590 s.
@pytest.mark.parametrize(
    ("lasting_s", "scan_ms", "met_s"),
    [(0.0, 100, 0.0), (0.1, 100, 0.0), (2.0, 100, 1.9), (2.0, 500, 1.5), (60.0, 100, 59.0), (600.0, 100, 590.0)],
)
def test_readings_last_as_long_as_was_said(lasting_s, scan_ms, met_s):
    full = {"bank_volts": 14.4, "cell_c": 25.0}
    assert waiting(met_s, scan_ms).take(full, lasting_s)["dump_1"]
    assert not waiting(met_s + 0.01, scan_ms).take(full, lasting_s)["dump_1"]


def test_what_was_is_remembered_between_the_limits():
    tried = waiting(0.0)
    for volts, is_on in ((14.39, False), (14.4, True), (13.81, True), (13.8, False), (14.0, False)):
        assert tried.take({"bank_volts": volts, "cell_c": 25.0}, 1.0)["dump_1"] == tried.held["full"] == is_on


# 20 K colder than 25 °C at -18 mV/K: 14.40 V there are as 14.04 V.
def test_volts_as_at_25_c_are_told_in_volts():
    tried = waiting(0.0)
    tried.take({"bank_volts": 14.4, "cell_c": 5.0}, 1.0)
    assert tried.compensated_volts == pytest.approx(14.04)
