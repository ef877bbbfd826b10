"""What simulated days are given: plan, first midnight and faults as arrays, by hand."""

from math import exp, isnan

import numpy as np
import pytest

from samples.charging_samples import LEAD_BANK, plan
from statorbook.bank import bank_table, rest_volts_of
from statorbook.charging import day_arrays as at
from statorbook.charging.control import INPUT_NAMES, MEASURED_NAMES, OUTPUT_NAMES
from statorbook.charging.day_result import TALLIES
from statorbook.charging.days import day_plan, empty_record, faults_at, first_midnight, simulate
from statorbook.charging.events import (
    COLD,
    DEAD,
    FUSE,
    GUARD_DEAD,
    INPUT_ABSENT,
    INPUT_FROZEN,
    INPUT_HIGH,
    INPUT_LOW,
    NO_CONTROL_POWER,
    NO_SOURCE,
    TRIP,
    WELDED,
    Event,
)

PLAN = plan(stops_source=True, start_charge=0.6)


# 120 L × 4.182 kJ/(kg K) over 3.6 are 139.4 Wh/K; 80 L a day in four hours; 60 W/K and 1500 Wh/K.
def test_cylinder_and_room_in_numbers():
    given = day_plan(PLAN)
    assert given.cylinder == pytest.approx([800.0, 10.0, 65.0, 1.6, 139.4])
    drawn = {hour: litres for hour, litres in enumerate(given.draws) if litres}
    assert drawn == pytest.approx(dict.fromkeys((7, 8, 19, 20), 20.0 / 3600.0))
    share = 1.0 - exp(-60.0 / (1500.0 * 3600.0))
    assert given.room == pytest.approx([600.0, 8.0, 5.0, share, share / 60.0])
    tight = day_plan(plan(room=PLAN.room.__class__(**vars(PLAN.room) | {"loss_w_per_k": 0.0})))
    assert tight.room[3:] == pytest.approx([0.0, 1.0 / (1500.0 * 3600.0)])
    bare = day_plan(plan(cylinder=None, room=None, inverter=None, guard=None))
    assert len(bare.cylinder) == len(bare.inverter) == len(bare.guard) == 0 and not bare.draws.any()
    assert bare.room.tolist() == [0.0, 20.0, 0.0, 0.0, 0.0]
    assert [name for name, gone in zip(MEASURED_NAMES, bare.missing) if gone] == ["water_c", "air_c"]
    assert not given.missing.any()


def test_bank_rules_loads_and_house_in_numbers():
    given, points = day_plan(PLAN), PLAN.points
    assert given.limits.tolist() == [points.most_volts, points.least_volts, 0.0, 0.0, 45.0]
    assert (given.capacity_ah, given.bank_air_c, given.stops_source) == (200.0, 25.0, True)
    lead = day_plan(plan(bank=LEAD_BANK))
    assert lead.limits[2] == -0.06 and not lead.stops_source
    siemens = dict(zip(OUTPUT_NAMES, given.siemens))
    assert {name: each for name, each in siemens.items() if each} == pytest.approx(
        {dump.output: 1.0 / dump.ohm for dump in PLAN.dumps}
    )
    assert [name for name, on in zip(OUTPUT_NAMES, given.closed_at_rest) if on] == ["source_stop", "alarm_high"]
    inverter, guard = PLAN.inverter, PLAN.guard
    assert given.inverter.tolist() == [
        inverter.rated_watts, inverter.surge_watts, inverter.efficiency, inverter.idle_watts,
        inverter.trips_below_volts, inverter.back_above_volts, inverter.trips_above_volts,
    ]  # fmt: skip
    assert given.guard.tolist() == [
        guard.high_on_volts, guard.high_off_volts, guard.low_off_volts, guard.low_on_volts
    ]  # fmt: skip
    # The fridge starts in the first minute of every hour with 500 W in place of its 90 W, beside the kettle at seven.
    assert given.house[0] == 90.0 and given.house[7 * 60 + 1] == 1590.0 and given.house[30] == 0.0
    assert given.surge[7 * 60] == 410.0 and given.surge[7 * 60 + 1] == 0.0 and given.surge.sum() == 24 * 410.0
    assert given.per_unit.tolist() == [1000.0, 1000.0, 1000.0, 10.0, 10.0, 10.0, 1.0]


# Cells as warm as their air, hot water, nothing on; what the first step of the search for the volts is, hangs on the
# ohms of the bank.
def test_the_first_midnight():
    given = day_plan(PLAN)
    state = first_midnight(PLAN, given, 0.6)
    rests = rest_volts_of(0.6, bank_table(PLAN.bank))
    assert state.now[[at.BANK, at.VOLTS]].tolist() == [rests, rests]
    assert state.now[[at.CHARGE, at.CELL, at.ROOM, at.OUTSIDE, at.WATER]].tolist() == [0.6, 25.0, 8.0, 8.0, 65.0]
    assert state.now[[at.AMPS, at.RPM, at.SLOW, at.SETTING]].tolist() == [0.0] * 4
    assert state.now[at.SLOPE] == pytest.approx(1.0 / PLAN.bank.internal_ohm)
    assert state.mode[at.TRIPPED] == -1 and state.mode.sum() == -1
    assert not state.on.any() and not state.coils.any() and not state.inputs.any() and not state.watts.any()
    assert isnan(first_midnight(plan(cylinder=None), given, 0.6).now[at.WATER])


def test_an_empty_record_waits_for_the_first_second():
    record = empty_record(2)
    assert record.minutes.shape[0] == 2880 == len(record.ends) and not record.minutes.any()
    assert np.isposinf(record.ends[:, 0]).all() and np.isneginf(record.ends[:, 1]).all()
    tallies = dict(zip(TALLIES, record.tallies, strict=True))
    assert tallies["most_volts"] == -np.inf and tallies["least_volts"] == np.inf
    firsts = {name for name in TALLIES if name.endswith("_first_s")}
    assert {name for name, value in tallies.items() if isnan(value)} == firsts and len(firsts) == 3
    rest = [value for name, value in tallies.items() if name not in firsts | {"most_volts", "least_volts"}]
    assert rest == [0.0] * len(rest)


def test_events_are_so_from_their_first_second_to_before_their_last():
    event = Event(kind=TRIP, from_s=10.0, until_s=20.0)
    assert [int(faults_at([event], second).flags[at.TRIP]) for second in (9, 10, 19, 20)] == [0, 1, 1, 0]
    for kind, place in ((TRIP, at.TRIP), (FUSE, at.FUSE), (NO_SOURCE, at.NO_SOURCE), (NO_CONTROL_POWER, at.NO_POWER),
                        (GUARD_DEAD, at.GUARD_DEAD)):  # fmt: skip
        flags = faults_at([Event(kind=kind)], 0).flags
        assert flags[place] == 1 == flags.sum()
    twice = [Event(kind=COLD, amount=5.0), Event(kind=COLD, amount=2.0, from_s=5.0)]
    assert [faults_at(twice, second).colder_k for second in (0, 5)] == [5.0, 7.0]


def test_inputs_and_outputs_get_the_fault_by_its_place():
    kinds = {INPUT_HIGH: at.HIGH, INPUT_LOW: at.LOW, INPUT_ABSENT: at.ABSENT, INPUT_FROZEN: at.FROZEN}
    for kind, code in kinds.items():
        for name in ("bank_volts", "speed_rpm", "control_power"):
            found = faults_at([Event(kind=kind, target=name)], 0)
            assert found.inputs[INPUT_NAMES.index(name)] == code == found.inputs.sum() and not found.outputs.any()
    for kind, code in ((WELDED, at.WELDED), (DEAD, at.DEAD)):
        found = faults_at([Event(kind=kind, target="dump_2")], 0)
        assert found.outputs[OUTPUT_NAMES.index("dump_2")] == code == found.outputs.sum() and not found.inputs.any()


def test_progress_is_told_after_each_stretch(monkeypatch):
    from statorbook.charging import day_kernel

    stretches, told = [], []

    def advance(given, faults, state, record, from_s, to_s):
        stretches.append((from_s, to_s, int(faults.flags.sum())))

    monkeypatch.setattr(day_kernel, "advance", advance)
    # Four stretches of six hours a day, cut anew where an event begins or ends: at whole seconds, the next.
    event = Event(kind=TRIP, from_s=21_600.5, until_s=30_000.0)
    found = simulate(PLAN, [event, Event(kind=FUSE, from_s=86_400.0)], days=1, on_progress=told.append)
    assert stretches == [(0, 21_600, 0), (21_600, 21_601, 0), (21_601, 30_000, 1), (30_000, 43_200, 0),
                         (43_200, 64_800, 0), (64_800, 86_400, 0)]  # fmt: skip
    assert told == [end / 86_400 for _, end, _ in stretches]
    assert (found.days, found.start_charge, found.end_charge) == (1, 0.6, 0.6) and len(found.events) == 2
    assert simulate(PLAN, days=2).days == 2 and stretches[-1][1] == 172_800
    assert simulate(PLAN, days=1, start_charge=0.0).start_charge == 0.0
