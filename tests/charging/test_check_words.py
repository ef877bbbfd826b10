"""What the check of a plan says of faults, sides and gaps, word for word."""

from dataclasses import replace
from math import nan

import pytest

from samples import charging_samples
from sentences import sentences_of
from statorbook.charging.check import SIDES, Checked, Covered, check_plan
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL
from statorbook.charging.check_gap import Gap, reading_words
from statorbook.charging.check_words import check_words, fault_words, side_words
from statorbook.charging.control_faults import NOTHING, ControlFault
from statorbook.charging.events import COLD, INPUT_FROZEN, INPUT_HIGH, INPUT_LOW, NO_CONTROL_POWER, TRIP

wording = sentences_of("charging_check")


@pytest.fixture(scope="module")
def complete():
    return check_plan(charging_samples.plan(bank=charging_samples.LEAD_BANK))


@pytest.fixture(scope="module")
def open_plan():
    return check_plan(charging_samples.plan(guard=None))


def of(checked, kind, target=""):
    return next(each for each in checked.faults if (each.fault.kind, each.fault.target) == (kind, target))


def count(checked, fits):
    return sum(any(fits(found) for found in each.sides.values()) for each in checked.faults)


def test_what_came_of_it_in_a_sentence(complete, open_plan):
    relay = count(complete, lambda found: isinstance(found, Covered) and not found.by_rules)
    assert relay > 1
    faults = len(complete.faults) - 1
    assert check_words(complete) == wording("complete").format(faults=faults, relay=relay)
    # A fault that only adds to what is a gap while nothing fails is not a case of its own; nothing failing is one.
    of_its_own = {each.fault.words for each in open_plan.faults for gap in each.gaps if gap.side != FORBIDDEN}
    frozen = of(open_plan, INPUT_FROZEN, "bank_volts")
    assert frozen.gaps and frozen.fault.words in of_its_own
    unseen = {each.fault.words for each in open_plan.faults if each.fault.kind == INPUT_FROZEN}
    gaps = len(of_its_own - unseen) + 1
    said = wording("not complete").format(gaps=gaps, cases=len(open_plan.faults))
    assert check_words(open_plan) == said
    # With the frozen reading alone it is as complete as rules can make it.
    seen = Checked(faults=(of(complete, NOTHING), of(complete, INPUT_LOW, "bank_volts"), frozen))
    assert check_words(seen) == wording("but frozen").format(faults=2, frozen=len(frozen.gaps))


def test_each_side_in_a_few_words(complete, open_plan):
    nothing, high = of(complete, NOTHING), of(complete, INPUT_HIGH, "bank_volts")
    rules, off = "rules: first dump load, second dump load", "all that draws is off"
    assert [side_words(complete, nothing, side) for side in SIDES] == [rules, off, "does not come up"]
    assert side_words(complete, high, EMPTY) == "only the volts relay"
    assert fault_words(complete, nothing) == wording("sound")
    sound = of(open_plan, NOTHING)
    amps = {FORBIDDEN: sound.sides[FORBIDDEN].amps, EMPTY: of(open_plan, INPUT_HIGH, "bank_volts").sides[EMPTY].amps}
    assert side_words(open_plan, sound, FORBIDDEN) == f"gap: {amps[FORBIDDEN]:.2g} A too much"
    low = of(open_plan, INPUT_LOW, "bank_volts")
    assert side_words(open_plan, low, FORBIDDEN) == "gap, as while nothing fails"
    assert side_words(open_plan, low, FULL) == f"gap: {low.sides[FULL].amps:.2g} A too much"
    high = of(open_plan, INPUT_HIGH, "bank_volts")
    assert side_words(open_plan, high, EMPTY) == f"gap: {abs(amps[EMPTY]):.2g} A from the bank"
    idle = replace(sound, sides={FULL: Covered(by_rules=True, takes=("inverter_enable",), amps=0.0)})
    assert side_words(open_plan, idle, FULL) == "nothing has to be done"


def test_a_gap_in_a_sentence(open_plan):
    low = of(open_plan, INPUT_LOW, "bank_volts").sides[FULL]
    reads = ", ".join(reading_words(name, low.readings[name]) for name in low.shown.rules.inputs_used)
    begins = f"If {low.fault.words}"
    filled = {"begins": begins, "amps": f"{low.amps:.2g} A", "reads": reads}
    assert low.sentence == wording("nowhere to go").format(**filled)
    assert replace(low, is_late=True).sentence == wording("too late").format(**filled)
    empty = replace(low, side=EMPTY, amps=-low.amps)
    assert empty.sentence == wording("still gives").format(**filled)
    cold = of(open_plan, NOTHING).sides[FORBIDDEN]
    reads = ", ".join(reading_words(name, cold.readings[name]) for name in cold.shown.rules.inputs_used)
    said = {"begins": "Also while nothing fails", "amps": f"{cold.amps:.2g} A", "reads": reads}
    assert cold.sentence == wording("not to be charged").format(**said)
    dead = replace(low, fault=ControlFault(kind=NO_CONTROL_POWER))
    assert dead.sentence.endswith(": the controller reads nothing.")


@pytest.mark.parametrize(
    ("tripped", "water_c", "closed", "beside"),
    [
        (True, 65.0, False, " while the inverter is out and the water is hot"),
        (True, 65.0, True, " while the inverter is out"),
        (False, 65.0, False, " while the water is hot"),
        (False, 65.0, True, ""),
        (True, nan, False, " while the inverter is out"),
        (False, nan, False, ""),
    ],
)
def test_what_is_so_beside_the_fault(open_plan, tripped, water_c, closed, beside):
    sound = of(open_plan, NOTHING).sides[FORBIDDEN]
    held = replace(sound.held, tripped=tripped, water_c=water_c, thermostat_closed=closed)
    assert replace(sound, held=held).sentence.startswith(f"Also while nothing fails{beside}, ")
    assert replace(sound, held=held, side=EMPTY).sentence.startswith("Also while nothing fails, ")


def test_a_reading_in_words():
    assert reading_words("bank_volts", 57.04) == "57 V bank volts"
    assert reading_words("speed_rpm", 1066.4) == "1066 rpm shaft speed"
    assert reading_words("speed_rpm", -3e9).endswith("shaft speed beyond every limit")
    assert reading_words("inverter_healthy", False).startswith("no to “the inverter")


# A colder spell than usual comes with the case, and half a kelvin more so that the limit is passed.
def test_the_days_that_show_a_gap_have_its_cold_and_its_trip(open_plan):
    cold = of(open_plan, NOTHING).sides[FORBIDDEN]
    (spell,) = cold.events
    usual = cold.shown.bank.temperature_c
    assert (spell.kind, spell.amount) == (COLD, pytest.approx(usual - cold.held.cell_c + 0.5))
    tripped = replace(cold, held=replace(cold.held, tripped=True, cell_c=usual))
    assert [event.kind for event in tripped.events] == [TRIP]
    assert isinstance(cold, Gap)
