"""Cases brought to rest: what flows into a held bank before and after the delays, by Ohm's and Kirchhoff's laws."""

from dataclasses import replace

import numpy as np
import pytest

from charging.uncompiled import uncompile
from samples.charging_samples import plan
from statorbook.charging.at_rest import Rehearsal
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, cells_c
from statorbook.charging.control import ABOVE, BELOW, Relay, Rule, RuleSet
from statorbook.charging.control_faults import NOTHING, ControlFault
from statorbook.charging.events import DEAD, INPUT_FROZEN, INPUT_LOW, NO_CONTROL_POWER
from statorbook.charging.plan import DumpElement
from statorbook.charging.supply import supply_of

SOUND = ControlFault(kind=NOTHING)
LOAD = DumpElement(output="dump_1", ohm=4.0, cold_ohm=4.0, standing_watts=2000.0)
DUMP = Rule(name="dump", output="dump_1", input="bank_volts", side=ABOVE, on_at=57.0, off_at=55.0)


@pytest.fixture(autouse=True)
def plainly(monkeypatch):
    uncompile(monkeypatch)


def bare(*rules, closed=False, **changes):
    """A plan with one load of 4 Ω, rules of its own and neither heaters, inverter nor guard."""
    contact = "normally closed" if closed else "normally open"
    relays = (Relay(number=1, output="dump_1", contact=contact), Relay(number=2, output="source_stop"))
    made = RuleSet(rules=rules or (DUMP,), relays=relays, valid={"bank_volts": (20.0, 80.0)})
    given = {"cylinder": None, "room": None, "inverter": None, "guard": None, "dumps": (LOAD,)}
    return plan(rules=made, **given | changes)


def amps(made, case, siemens=0.0):
    """Into the bank: what comes less what loads take."""
    return supply_of(made).amps_at(case.setting, case.volts) - siemens * case.volts


@pytest.mark.parametrize(
    ("delay_s", "late_on", "in_the_end_on"), [(0.0, True, True), (5.0, True, True), (6.0, False, True)]
)
def test_the_delays_are_over_in_the_end_and_after_six_seconds_as_far_as_they_go(delay_s, late_on, in_the_end_on):
    made = bare(replace(DUMP, on_delay_s=delay_s))
    found = Rehearsal(made).settled(FULL, SOUND)
    assert len(found.cases) == len(found.start) >= 3
    for at, case in enumerate(found.cases):
        if found.start[at] == 0:
            assert found.late[at] == pytest.approx(amps(made, case, 0.25 * late_on))
        assert found.most[at] == found.least[at] == pytest.approx(amps(made, case, 0.25 * in_the_end_on))
        assert found.on(at) == ("dump_1",)
        assert found.readings(at)["bank_volts"] == pytest.approx(case.volts, abs=0.001)
    assert {case.volts for case in found.cases} == {made.points.most_volts * 1.001}


def test_a_delay_of_hours_is_worked_through_as_well():
    made = bare(replace(DUMP, on_delay_s=86_400.0))
    found = Rehearsal(made).settled(FULL, SOUND)
    assert found.most == pytest.approx([amps(made, case, 0.25) for case in found.cases])
    assert found.late[0] == pytest.approx(amps(made, found.cases[0]))


# The load takes 14.6 A of what comes, so that the amps that switch it on are gone as soon as it is on, and it goes off.
def test_rules_that_never_rest_are_told_with_the_most_and_the_least_of_their_round():
    come = supply_of(bare()).amps_at(1.0, 58.4584)
    swings = Rule(name="swings", output="dump_1", input="bank_amps", side=ABOVE, on_at=come - 1.0, off_at=come - 2.0)
    made = bare(swings)
    found = Rehearsal(made).settled(FULL, SOUND)
    for at, case in enumerate(found.cases):
        full = case.setting == 1.0  # at half of it there are too few amps from the start
        assert found.most[at] == pytest.approx(amps(made, case))
        assert found.least[at] == pytest.approx(amps(made, case, 0.25 * full))
    assert {case.setting for case in found.cases} == {0.5, 1.0}


def test_an_empty_bank_has_no_source_and_all_its_loads():
    made = bare(replace(DUMP, on_at=39.0, off_at=38.0))
    found = Rehearsal(made).settled(EMPTY, SOUND)
    assert found.least == pytest.approx([-0.25 * case.volts for case in found.cases])
    low = Rehearsal(bare()).settled(EMPTY, SOUND)
    fresh = low.start == 0
    assert low.least[fresh] == pytest.approx(0.0) and fresh.any()


# The inverter takes 1590 W of the house over 90 % and 15 W idle from a bank at 39.96 V.
def test_the_inverter_draws_from_an_empty_bank_unless_it_trips():
    on = Rule(name="house", output="inverter_enable", input="bank_volts", side=ABOVE, on_at=30.0, off_at=25.0)
    usual = plan().inverter
    made = bare(on, inverter=replace(usual, trips_below_volts=35.0, back_above_volts=36.0))
    found = Rehearsal(made).settled(EMPTY, SOUND)
    for at, case in enumerate(found.cases):
        wanted = 0.0 if case.tripped else -(1590.0 / 0.9 + 15.0) / case.volts
        assert found.least[at] == found.most[at] == pytest.approx(wanted)
    assert {case.tripped for case in found.cases} == {False, True}
    # Below its own trip it is off by itself after the first second.
    weak = Rehearsal(bare(on, inverter=replace(usual, trips_below_volts=41.0))).settled(EMPTY, SOUND)
    assert weak.most == pytest.approx(np.zeros(len(weak.cases)))


def test_faults_are_there_from_the_first_second():
    made = bare()
    rehearsal = Rehearsal(made)
    dead = rehearsal.settled(FULL, ControlFault(kind=DEAD, target="dump_1"))
    assert dead.most == pytest.approx([amps(made, case) for case in dead.cases])
    assert all(dead.on(at) == () for at in range(len(dead.cases)))
    low = rehearsal.settled(FULL, ControlFault(kind=INPUT_LOW, target="bank_volts"))
    assert low.readings(0)["bank_volts"] == 20.0 and low.most[0] == pytest.approx(amps(made, low.cases[0]))
    closed = Rehearsal(bare(closed=True)).settled(FULL, ControlFault(kind=NO_CONTROL_POWER))
    assert closed.most == pytest.approx([amps(made, case, 0.25) for case in closed.cases])


def test_a_source_that_is_stopped_gives_nothing():
    stop = replace(DUMP, name="stop", output="source_stop")
    found = Rehearsal(bare(stop, stops_source=True)).settled(FULL, SOUND)
    assert found.most == pytest.approx(np.zeros(len(found.cases)))
    assert found.readings(0)["speed_rpm"] == 0.0
    free = Rehearsal(bare(replace(stop, on_at=70.0, off_at=60.0), stops_source=True)).settled(FULL, SOUND)
    speed = supply_of(bare()).rpm_at(1.0, free.cases[0].volts)
    assert free.readings(0)["speed_rpm"] == pytest.approx(speed, abs=0.5)
    assert free.readings(0)["control_power"] is True and free.readings(0)["inverter_healthy"] is False


# A rule that holds from 57 V until 30 V is off in a controller that is just switched on at 52 V, and on where the bank
# was full before. A reading that freezes was there before: nobody is just switched on with it.
def test_a_controller_remembers_what_it_did_before():
    made = bare(replace(DUMP, off_at=30.0), Rule(name="cold", output="source_stop", input="cell_c", side=BELOW,
                on_at=-99.0, off_at=99.0))  # fmt: skip
    rehearsal = Rehearsal(made)
    found = rehearsal.settled(FORBIDDEN, SOUND)
    middle = [at for at, case in enumerate(found.cases) if 41.0 < case.volts < 56.0]
    kept = {(bool(found.start[at]), found.on(at)) for at in middle}
    assert (False, ()) in kept and (True, ("dump_1",)) in kept and (False, ("dump_1",)) not in kept
    frozen = rehearsal.settled(FULL, ControlFault(kind=INPUT_FROZEN, target="bank_volts"))
    assert frozen.start.min() >= 1 and set(frozen.start) == set(found.start) - {0}
    # It may have frozen at any volts of sound hours: the load is off or on while the bank is full.
    assert {frozen.on(at) for at in range(len(frozen.cases))} == {(), ("dump_1",)}
    assert {case.cell_c for case in frozen.cases} == set(cells_c(made))


def test_with_a_dead_guard_only_a_controller_that_is_just_switched_on_is_tried():
    made = bare(replace(DUMP, on_at=90.0, off_at=80.0), guard=plan().guard)
    rehearsal = Rehearsal(made)
    guarded, alone = rehearsal.settled(FULL, SOUND), rehearsal.settled(FULL, SOUND, guard_dead=True)
    assert guarded.most == pytest.approx([amps(made, case, 0.25) for case in guarded.cases])
    assert set(alone.start) == {0} and alone.cases == rehearsal.cases[FULL]
    assert alone.most == pytest.approx([amps(made, case) for case in alone.cases])
    frozen = ControlFault(kind=INPUT_FROZEN, target="bank_volts")
    assert len(rehearsal.settled(FULL, frozen, guard_dead=True).cases) > 0
