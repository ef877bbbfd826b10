"""Contacts: what they have to break, by hand; labels that fit, do not, or say nothing; log rows."""

from dataclasses import replace
from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samples.charging_samples import plan
from sentences import sentences_of
from statorbook.charging.contacts import (
    FITS,
    MISFIT,
    UNKNOWN,
    ContactLabel,
    contact_labels,
    contact_needs,
    judged_contacts,
    typical_dc_amps,
)
from statorbook.charging.control import CLOSED_AT_REST, Relay, RuleSet
from statorbook.charging.plan import DumpElement
from statorbook.errors import BadInput
from statorbook.quantities import reader_units

wording = sentences_of("charging_dump")
OUTPUTS = ("dump_1", "water_heater", "source_stop", "alarm_high")


def with_relays(*outputs, **changes):
    """A plan whose relays switch these outputs; bank of 16 cells, one load of 2 Ω, cold 1 Ω."""
    relays = tuple(Relay(number=number, output=output) for number, output in enumerate(outputs, 1))
    load = DumpElement(output="dump_1", ohm=2.0, cold_ohm=1.0, standing_watts=5000.0)
    made = plan(dumps=(load,), most_volts=58.4, **changes)
    return replace(made, rules=RuleSet(rules=made.rules.rules, relays=relays))


@pytest.mark.outside(
    "DC amps of contacts labelled 10 A at 250 V AC",
    source="common practice, no source",
    number="10 A at 14 V, 6 A at 30 V, 0.5 A at 110 and 125 V, 0.25 A at 250 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize(("volts", "amps"), [(12, 10.0), (14, 10.0), (30, 6.0), (110, 0.5), (250, 0.25)])
def test_ac_amps_shrink_on_dc(volts, amps):
    assert typical_dc_amps(10.0, volts) == pytest.approx(amps)
    assert typical_dc_amps(10.0, 125.0) <= 0.5


@given(st.floats(5.0, 400.0), st.floats(1.0, 2.0), st.floats(0.1, 100.0))
def test_more_volts_never_leave_more_amps(volts, more, amps):
    assert typical_dc_amps(amps, more * volts) <= typical_dc_amps(amps, volts) * (1 + 1e-9)


# By hand: 58.4 V. Hot 29.2 A, for hours a quarter more (NEC 210.20(A), in a reproduction) 36.5 A; cold 58.4 A at
# switch-on is more.
def test_a_dump_load_by_hand():
    (need, relay), (guard, none) = contact_needs(with_relays("dump_1", inverter=None))
    assert (need.volts, need.current) == (58.4, "DC")
    assert (need.hours_amps, need.make_amps, need.amps) == (pytest.approx(29.2), pytest.approx(58.4), need.make_amps)
    assert relay.number == 1 and none is None and guard.amps == need.amps
    hot = replace(need, make_amps=need.hours_amps)
    assert hot.amps == pytest.approx(36.5)


# By hand: 2000 W at 90 % from 42 V are 52.9 A, a quarter more 66.1 A; 4000 W in the first second 105.8 A.
def test_the_guard_breaks_the_inverters_lead_too():
    made = with_relays("dump_1")
    fed = replace(made.inverter, rated_watts=2000.0, surge_watts=4000.0, efficiency=0.9)
    need = contact_needs(replace(made, inverter=fed, guard=replace(made.guard, low_off_volts=42.0)))[-1][0]
    assert (need.hours_amps, need.amps) == (pytest.approx(52.91, rel=1e-3), pytest.approx(105.8, rel=1e-3))
    assert need.words == "the inverter's lead" and need.current == "DC"


# By hand: 800 W at 230 V and at 120 V.
@pytest.mark.parametrize(("system", "amps"), [("metric", 3.478), ("US", 6.667)])
def test_a_heater_behind_the_inverter_is_ac(system, amps):
    with reader_units(system):
        need = contact_needs(with_relays("water_heater"))[0][0]
    assert need.current == "AC" and need.hours_amps == pytest.approx(amps, rel=1e-3) and need.assumed


def verdict(current, volts, amps, output="dump_1"):
    label = ContactLabel(volts=volts, amps=amps, current=current)
    return judged_contacts(with_relays(output), {output: label})[0]


@pytest.mark.parametrize(
    ("label", "expected"),
    [
        (("DC", 60.0, 60.0), FITS),
        (("DC", 58.4, 58.4), FITS),  # what is just as much as needed
        (("DC", 58.3, 60.0), MISFIT),
        (("DC", 60.0, 58.3), MISFIT),
        (("AC", 250.0, 60.0), MISFIT),
        (("DC", None, 60.0), UNKNOWN),
        ((None, 60.0, 60.0), UNKNOWN),
        (("AC", 250.0, 1e6), UNKNOWN),  # however large: AC says nothing of DC
    ],
)
def test_a_label(label, expected):
    assert verdict(*label).verdict == expected


def test_the_verdict_says_why():
    assert verdict("AC", 250.0, 10.0).why.startswith(wording("AC on DC"))
    assert verdict("DC", 30.0, 100.0).why == wording("too few volts")
    assert verdict("DC", 60.0, 20.0, "water_heater").verdict == UNKNOWN


# By hand: between 30 V and 110 V straight in logarithms, 0.6 to 0.05 of 10 A; in two figures.
def test_what_is_said_of_a_need_and_of_an_ac_label():
    need = judged_contacts(with_relays("source_stop"), {})[0].need
    assert need.said.split(" at ") == ["6.3 A", "58 V DC, a coil"]  # 5 A for hours (assumed) and a quarter more
    assert judged_contacts(with_relays("dump_1"), {})[0].need.said == "59 A at 58 V DC"
    share = exp(log(0.6) + log(0.05 / 0.6) * log(58.4 / 30.0) / log(110.0 / 30.0))
    assert typical_dc_amps(10.0, 58.4) == pytest.approx(10.0 * share)
    assert f"about {10.0 * share:.2g} A at 58 V" in verdict("AC", 250.0, 10.0).why


def test_a_dead_controller_puts_a_normally_closed_load_on():
    made = with_relays("dump_1")
    closed = replace(made.rules, relays=(Relay(number=1, output="dump_1", contact=CLOSED_AT_REST),))
    assert [each.fails_on for each in judged_contacts(replace(made, rules=closed), {})] == [True, False, False]


def test_every_output_has_a_need_and_nothing_there_is_said():
    made = with_relays(*OUTPUTS, cylinder=None)
    judged = judged_contacts(made, {})
    assert [each.need.output for each in judged] == [*OUTPUTS, "guard", "guard"]
    assert "nothing on it" in judged[1].why and judged[2].need.has_coil
    assert len(judged_contacts(replace(made, guard=None), {})) == len(OUTPUTS)


ROW = {"relay": "1", "output": "dump_1", "contact": "normally open"}


def test_labels_of_the_log():
    rows = [
        ROW | {"contact_volts": "60", "contact_amps": "80", "contact_current": "DC"},
        ROW | {"output": "second dump load"},
        {},
    ]
    assert contact_labels(rows) == {
        "dump_1": ContactLabel(volts=60.0, amps=80.0, current="DC"),
        "dump_2": ContactLabel(),
    }
    assert contact_labels(rows)["dump_1"].said == "80 A 60 V DC"


@pytest.mark.parametrize(
    ("cell", "text"), [("contact_volts", "many"), ("contact_amps", "-3"), ("contact_current", "both")]
)
def test_a_label_that_cannot_be_is_refused_with_its_row(cell, text):
    with pytest.raises(BadInput) as refusal:
        contact_labels([ROW | {cell: text}])
    assert "control relays log, row 1" in str(refusal.value) and "\n" not in str(refusal.value)
