"""What the controller reads and switches in single seconds: faults of inputs, contacts and power, and the guard."""

import numpy as np
import pytest

from charging.uncompiled import Moment, uncompile
from samples.charging_samples import plan
from statorbook.charging import day_arrays as at
from statorbook.charging import day_controls
from statorbook.charging.control import INPUT_NAMES, OUTPUT_NAMES
from statorbook.charging.events import (
    DEAD,
    GUARD_DEAD,
    INPUT_ABSENT,
    INPUT_FROZEN,
    INPUT_HIGH,
    INPUT_LOW,
    NO_CONTROL_POWER,
    WELDED,
    Event,
)

PLAN = plan(stops_source=True)
LEAST, MOST = PLAN.rules.valid["bank_volts"]


@pytest.fixture(autouse=True)
def plainly(monkeypatch):
    uncompile(monkeypatch)


def reading(name, *events, made=PLAN, before=None, **now):
    """What the controller reads, in its own whole numbers, where volts, temperatures and so on are these."""
    moment = Moment(made, events=events)
    for place, value in now.items():
        moment.now[getattr(at, place)] = value
    if before is not None:
        moment.state.inputs[INPUT_NAMES.index(name)] = before
    day_controls.read_once(moment.plan, moment.faults, moment.state)
    return moment.state.inputs[INPUT_NAMES.index(name)]


# Millivolts, milliamps, tenths of a kelvin and whole rpm, the nearest; held at the ends of what a sensor can give.
@pytest.mark.parametrize(
    ("name", "now", "code"),
    [
        ("bank_volts", {"VOLTS": 51.2344}, 51234),
        ("bank_volts", {"VOLTS": 51.2346}, 51235),
        ("bank_volts", {"VOLTS": 1.0}, round(1000 * LEAST)),
        ("bank_volts", {"VOLTS": 999.0}, round(1000 * MOST)),
        ("bank_amps", {"AMPS": -3.2504}, -3250),
        ("cell_c", {"CELL": -2.34}, -23),
        ("water_c", {"WATER": 50.06}, 501),
        ("air_c", {"ROOM": 12.04}, 120),
        ("speed_rpm", {"RPM": 300.5}, 301),
    ],
)
def test_readings_in_whole_numbers(name, now, code):
    assert reading(name, **now) == code


def test_a_reading_that_is_stuck_absent_or_frozen():
    event = {
        kind: Event(kind=kind, target="bank_volts") for kind in (INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN)
    }
    assert reading("bank_volts", event[INPUT_HIGH], VOLTS=50.0) == round(1000 * MOST)
    assert reading("bank_volts", event[INPUT_LOW], VOLTS=50.0) == round(1000 * LEAST)
    assert reading("bank_volts", event[INPUT_ABSENT], VOLTS=50.0) == round(1000 * LEAST) - 1
    assert reading("bank_volts", event[INPUT_FROZEN], VOLTS=50.0, before=47_000) == 47_000
    # A heater that the plan does not have has no sensor either: −10 °C is the least of the water's.
    assert reading("water_c", made=plan(cylinder=None)) == -101


def test_a_yes_or_no_that_is_stuck_or_frozen():
    for name in ("inverter_healthy", "control_power"):
        event = {kind: Event(kind=kind, target=name) for kind in (INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN)}
        assert reading(name) == 1
        assert reading(name, event[INPUT_HIGH]) == 1
        assert reading(name, event[INPUT_LOW], before=1) == reading(name, event[INPUT_ABSENT], before=1) == 0
        assert [reading(name, event[INPUT_FROZEN], before=code) for code in (0, 1)] == [0, 1]
    assert reading("inverter_healthy", made=plan(inverter=None)) == 0
    tripped = Moment(PLAN)
    tripped.mode[at.TRIPPED] = 0
    day_controls.read_once(tripped.plan, tripped.faults, tripped.state)
    assert tripped.state.inputs[INPUT_NAMES.index("inverter_healthy")] == 0
    assert tripped.state.inputs[INPUT_NAMES.index("control_power")] == 1


def scanned(moment, volts, seconds=1):
    """Let the controller work for some seconds at these volts."""
    moment.now[[at.VOLTS, at.BANK]] = volts
    for _ in range(seconds):
        day_controls.control(moment.plan, moment.faults, moment.state)
    return {name for name, coil in zip(OUTPUT_NAMES, moment.state.coils, strict=True) if coil}


# Its supply needs half of the bank's lowest 40 V. At 56.96 V the first dump load comes on, by its rule and delay.
def test_a_controller_needs_half_of_the_lowest_volts_and_starts_anew():
    made = Moment(PLAN)
    on_at = next(rule.on_at for rule in PLAN.rules.rules if rule.name == "dump_1_full")
    for _ in range(2):
        assert "dump_1" in scanned(made, on_at)
        assert made.mode[at.ALIVE] == 1 and made.state.latches[:, -1].any()
        kept = made.state.latches.copy()
        scanned(made, 19.9)
        assert made.mode[at.ALIVE] == 0 and (made.state.latches == kept).all()
        # Newly switched on, its timers stand and no rule holds: the house waits for ten seconds once more.
        assert "inverter_enable" not in scanned(made, 53.0, seconds=10)
        assert "inverter_enable" in scanned(made, 53.0)
    scanned(made, 20.0)
    assert made.mode[at.ALIVE] == 1
    made.happen(Event(kind=NO_CONTROL_POWER))
    scanned(made, 53.0)
    assert made.mode[at.ALIVE] == 0


def switched(moment, coils=(), alive=1, volts=None):
    """Which outputs are on, with these coils."""
    moment.mode[at.ALIVE] = alive
    moment.state.coils[:] = [name in coils for name in OUTPUT_NAMES]
    if volts is not None:
        moment.now[at.BANK] = volts
    day_controls.switch(moment.plan, moment.faults, moment.state, moment.record)
    return {name for name, on in zip(OUTPUT_NAMES, moment.state.on, strict=True) if on}


# High on at 58 V until 54.1 V, low off at 43.2 V until 52 V; each end counts.
@pytest.mark.parametrize(
    ("course", "high"), [((57.9, 58.0, 54.2, 54.1), [0, 1, 1, 0]), ((54.2, 59.0, 57.9, 50.0), [0, 1, 1, 0])]
)
def test_the_guard_keeps_dump_loads_on_between_its_volts(course, high):
    guard = np.array([58.0, 54.1, 43.2, 52.0])
    made = Moment(PLAN, guard=guard)
    for volts, on in zip(course, high, strict=True):
        found = switched(made, volts=volts)
        assert made.mode[at.GUARD_HIGH] == on
        assert found == ({"dump_1", "dump_2", "source_stop"} if on else set())
        assert made.mode[at.STOPPED] == on
    assert made.record.operations[[OUTPUT_NAMES.index(name) for name in ("dump_1", "source_stop")]].tolist() == [1, 1]


def test_the_guard_takes_all_loads_off_between_its_volts_and_nothing_else():
    made = Moment(PLAN, guard=np.array([58.0, 54.1, 43.2, 52.0]))
    loads = {"dump_1", "dump_2", "dump_3", "water_heater", "air_heater", "inverter_enable"}
    others = set(OUTPUT_NAMES) - loads
    for volts, off in ((43.3, False), (43.2, True), (51.9, True), (52.0, False), (40.0, True)):
        assert switched(made, coils=OUTPUT_NAMES, volts=volts) == (others if off else set(OUTPUT_NAMES))
        assert made.mode[at.GUARD_LOW] == off
    made.happen(Event(kind=WELDED, target="dump_1"))
    assert "dump_1" not in switched(made, coils=OUTPUT_NAMES)
    # A dead guard forgets both.
    made.mode[at.GUARD_HIGH] = 1
    made.happen(Event(kind=GUARD_DEAD))
    assert switched(made, volts=40.0) == set() and made.mode[[at.GUARD_HIGH, at.GUARD_LOW]].tolist() == [0, 0]
    none = Moment(plan(guard=None))
    none.mode[[at.GUARD_HIGH, at.GUARD_LOW]] = 1
    assert switched(none, coils=("alarm_low",), volts=90.0) == {"alarm_low"}
    assert none.mode[[at.GUARD_HIGH, at.GUARD_LOW]].tolist() == [0, 0]


def test_contacts_follow_their_coils_and_faults():
    made = Moment(PLAN)
    at_rest = {relay.output for relay in PLAN.rules.relays if relay.contact == "normally closed"}
    assert at_rest == {"source_stop", "alarm_high"}
    assert switched(made, coils=("dump_1", "alarm_low")) == {"dump_1", "alarm_low"}
    assert switched(made, coils=("dump_1",), alive=0) == at_rest
    made.happen(Event(kind=WELDED, target="dump_2"), Event(kind=DEAD, target="dump_1"))
    assert switched(made, coils=("dump_1",)) == {"dump_2"}
    made.happen(Event(kind=DEAD, target="source_stop"))
    assert switched(made, alive=0) == {"alarm_high"} and made.mode[at.STOPPED] == 0
    # Counted is what comes on: the first load once, the stop once with the power gone.
    told = dict(zip(OUTPUT_NAMES, made.record.operations.tolist(), strict=True))
    assert {name: times for name, times in told.items() if times} == {
        "dump_1": 1, "dump_2": 1, "alarm_low": 1, "source_stop": 1, "alarm_high": 2
    }  # fmt: skip
    deaf = Moment(plan())
    assert switched(deaf, coils=("source_stop",)) == {"source_stop"} and deaf.mode[at.STOPPED] == 0
