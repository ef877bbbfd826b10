"""Single seconds of simulated days by hand: weather, water, room, limits and minutes."""

from math import cos, pi

import numpy as np
import pytest

from charging.uncompiled import Moment, changed, uncompile
from samples.charging_samples import plan
from statorbook.charging import day_arrays as at
from statorbook.charging.control import OUTPUT_NAMES
from statorbook.charging.day_result import FLOWS, STATES, TALLIES
from statorbook.charging.events import COLD, NO_SOURCE, Event
from statorbook.charging.supply import supply_of

HOUR_S = 3600


@pytest.fixture(autouse=True)
def plainly(monkeypatch):
    uncompile(monkeypatch)


def run(moment, from_s, to_s):
    """Let seconds pass."""
    from statorbook.charging import day_kernel

    day_kernel.advance(moment.plan, moment.faults, moment.state, moment.record, from_s, to_s)
    return moment


def turned(settings, setting):
    """Amps and speed of each column for a table of two volts that rises by its setting."""
    from statorbook.charging.day_kernel import turn_to

    moment = Moment(volts=np.array([0.0, 1.0]), settings=np.array(settings, dtype=float))
    rows = np.arange(2.0 * len(settings)).reshape(-1, 2) ** 2
    moment.plan = changed(moment.plan, amps=rows, rpm=100.0 - rows)
    moment.state = changed(moment.state, amps_row=np.zeros(2), rpm_row=np.zeros(2))
    turn_to(moment.plan, moment.state, setting)
    assert moment.now[at.SETTING] == setting
    assert moment.state.rpm_row == pytest.approx(100.0 - moment.state.amps_row)
    return moment.state.amps_row.tolist()


# Rows 0 and 1, 4 and 9, 16 and 25 at the settings 0, 2 and 6: straight lines between, held at the ends.
@pytest.mark.parametrize(
    ("setting", "row"),
    [
        (-1.0, [0.0, 1.0]),
        (0.0, [0.0, 1.0]),
        (0.5, [1.0, 3.0]),
        (2.0, [4.0, 9.0]),
        (3.0, [7.0, 13.0]),
        (6.0, [16.0, 25.0]),
        (7.0, [16.0, 25.0]),
    ],
)
def test_the_source_lies_straight_between_its_settings(setting, row):
    assert turned((0.0, 2.0, 6.0), setting) == pytest.approx(row)


def test_each_hour_has_its_setting_and_a_course_begins_anew():
    made = Moment(by_hour=np.array([0.0, 0.5, 1.0]))
    found = []
    for second in (0, HOUR_S - 1, HOUR_S, 2 * HOUR_S, 3 * HOUR_S, 4 * HOUR_S + 10):
        run(made, second, second + 1)
        found.append(made.now[at.SETTING])
    assert found == [0.0, 0.0, 0.5, 1.0, 0.0, 0.5]
    run(made, 5 * HOUR_S - 1, 5 * HOUR_S + 1)
    assert made.now[at.SETTING] == 1.0
    made.happen(Event(kind=NO_SOURCE))
    assert run(made, 5 * HOUR_S + 5, 5 * HOUR_S + 6).now[at.SETTING] == 0.0
    # Between the hours it stays as it is.
    made.now[at.SETTING] = 0.7
    made.happen()
    run(made, 5 * HOUR_S + 6, 5 * HOUR_S + 8)
    assert made.now[at.SETTING] == 1.0


# Outside 8 ± 5 °C, warmest at three in the afternoon; cells go 1/7200 of the way to their air in a second.
@pytest.mark.parametrize("hour", [3, 9, 15, 20])
def test_outside_it_is_warmest_at_three_and_cells_follow_their_air(hour):
    made = Moment(events=[Event(kind=COLD, amount=6.0)])
    run(made, hour * HOUR_S + 60, hour * HOUR_S + 61)
    assert made.now[at.OUTSIDE] == pytest.approx(8.0 + 5.0 * cos(2 * pi * (hour + 1 / 60 - 15) / 24) - 6.0)
    assert made.now[at.CELL] == pytest.approx(25.0 - 6.0 / 7200.0, abs=1e-12)
    kept = made.now[at.OUTSIDE]
    run(made, hour * HOUR_S + 61, hour * HOUR_S + 62)  # a stretch that begins is told anew
    assert made.now[at.OUTSIDE] != kept
    kept = made.now[at.OUTSIDE]
    run(made, hour * HOUR_S + 117, hour * HOUR_S + 118)
    made.now[at.OUTSIDE] = 0.0
    run(made, hour * HOUR_S + 119, hour * HOUR_S + 121)
    assert made.now[at.OUTSIDE] == pytest.approx(8.0 + 5.0 * cos(2 * pi * (hour + 2 / 60 - 15) / 24) - 6.0)


# Heater 800 W, inlet 10 °C, thermostat 65 °C, 2 W/K, 100 Wh/K; 0.01 L in a second drawn from seven to eight.
CYLINDER = np.array([800.0, 10.0, 65.0, 2.0, 100.0])


def cylinder(water_c, room_c=20.0, drawn=0.0, second=7 * HOUR_S, closed=0, hot=False):
    draws = np.zeros(24)
    draws[7] = drawn
    made = Moment(cylinder=CYLINDER, draws=draws, inverter=np.array([9e9, 9e9, 1.0, 0.0, 1.0, 1.0, 999.0]))
    made.now[at.WATER], made.now[at.ROOM], made.mode[at.THERMOSTAT] = water_c, room_c, closed
    made.plan.rules.rows[:, 5] = 2**40  # no rule takes hold: the relays are as the faults below have them
    if hot:
        made.faults.outputs[OUTPUT_NAMES.index("water_heater")] = at.WELDED
        made.faults.outputs[OUTPUT_NAMES.index("inverter_enable")] = at.WELDED
    return run(made, second, second + 1)


# By hand: 0.01 kg × 4182 J/(kg K) × 40 K are 1673 W drawn, 2 W/K × 30 K lost; over 360 kJ/K.
def test_water_is_heated_drawn_and_cools():
    made = cylinder(50.0, drawn=0.01, closed=1, hot=True)
    drawn = 0.01 * 4182.0 * 40.0
    room_c = made.now[at.ROOM]
    assert made.watts[at.HOT] == 800.0 and made.watts[at.DRAWN] == pytest.approx(drawn)
    assert made.watts[at.COOLED] == pytest.approx(2.0 * (50.0 - room_c))
    assert made.now[at.WATER] == pytest.approx(50.0 + (800.0 - drawn - 2.0 * (50.0 - room_c)) / 360e3, abs=1e-9)
    tallies = dict(zip(TALLIES, made.record.tallies, strict=True))
    assert tallies["litres"] == tallies["hot_litres"] == 0.01
    # Below 40 °C nobody washes with it; an hour later nothing is drawn.
    for water_c, hot in ((40.0, 0.01), (39.99, 0.0)):
        tallies = dict(zip(TALLIES, cylinder(water_c, drawn=0.01).record.tallies, strict=True))
        assert (tallies["litres"], tallies["hot_litres"]) == (0.01, hot)
    later = cylinder(50.0, drawn=0.01, second=8 * HOUR_S)
    assert later.watts[at.DRAWN] == later.record.tallies[TALLIES.index("litres")] == 0.0
    day = cylinder(50.0, drawn=0.01, second=31 * HOUR_S)
    assert day.watts[at.DRAWN] > 0.0


# The thermostat opens at 65 °C and closes 5 K lower (common practice, no source).
@pytest.mark.parametrize(
    ("water_c", "closed", "then"), [(64.99, 1, 1), (65.01, 1, 0), (64.99, 0, 0), (60.01, 0, 0), (59.99, 0, 1)]
)
def test_a_thermostat_opens_at_its_setting_and_closes_below(water_c, closed, then):
    assert cylinder(water_c, room_c=water_c, closed=closed).mode[at.THERMOSTAT] == then


# By hand: a hundredth of the way to the air outside in a second, and a thousandth of a kelvin for each watt.
def test_a_room_goes_to_the_air_outside_and_is_heated():
    made = Moment(
        room=np.array([600.0, 8.0, 0.0, 0.01, 0.001]), inverter=np.array([9e9, 9e9, 1.0, 0.0, 1.0, 1.0, 999.0])
    )
    made.now[at.ROOM] = 18.0
    for name in ("air_heater", "inverter_enable"):
        made.faults.outputs[OUTPUT_NAMES.index(name)] = at.WELDED
    run(made, 0, 1)
    assert made.now[at.ROOM] == pytest.approx(18.0 - 0.01 * 10.0 + 0.6)
    bare = Moment(plan(cylinder=None))
    assert np.isnan(run(bare, 0, 1).now[at.WATER]) and bare.record.tallies[TALLIES.index("litres")] == 0.0


def judged(limits, seconds, **state):
    """What is told of these seconds, by name, with these limits."""
    made = Moment(limits=np.array(limits, dtype=float))
    for name, value in state.items():
        made.now[getattr(at, name)] = value
    for second in seconds:
        run(made, second, second + 1)
    return made, dict(zip(TALLIES, made.record.tallies, strict=True))


WIDE = [999.0, 1.0, 0.0, -99.0, 99.0]  # most and least volts, V/K, least and most °C


def test_the_ends_of_the_volts_are_kept_with_their_moments():
    made, told = judged(WIDE, range(4))
    volts = made.record.ends[0]
    assert told["most_volts"] == volts[1] >= told["least_volts"] == volts[0]
    # The source charges the bank from the first second on, so its volts rise.
    assert (told["least_volts_s"], told["most_volts_s"]) == (0.0, 3.0)
    assert told["bus_most_volts"] == made.now[at.VOLTS]
    assert told["above_all_s"] == told["below_all_s"] == told["forbidden_all_s"] == told["forbidden_amps"] == 0.0
    assert all(np.isnan(told[f"{side}_first_s"]) for side in ("above", "below", "forbidden"))


# Seconds 3, 4, 5, 9 and 10 are outside: five, the first of them 3, the last 10, three in a row.
@pytest.mark.parametrize(
    ("side", "limits"),
    [
        ("above", [1.0, 0.0, 0.0, -99.0, 99.0]),
        ("below", [999.0, 998.0, 0.0, -99.0, 99.0]),
        ("forbidden", [999.0, 1.0, 0.0, 26.0, 99.0]),
        ("forbidden", [999.0, 1.0, 0.0, -99.0, 24.0]),
    ],
)
def test_seconds_outside_a_limit_are_counted_with_the_first_and_the_longest_run(side, limits):
    made, told = judged(limits, (3, 4, 5, 9, 10))
    assert [told[f"{side}_{what}_s"] for what in ("all", "first", "last", "run", "longest")] == [5, 3, 10, 2, 3]
    others = {"above", "below", "forbidden"} - {side}
    assert all(told[f"{other}_all_s"] == 0.0 for other in others)
    assert told["forbidden_amps"] == (pytest.approx(made.now[at.AMPS], rel=1e-3) if side == "forbidden" else 0.0)


# 1 V less for each kelvin over 25 °C, cells 5 K warmer: the limit is 5 V lower than it was said.
def test_the_upper_limit_follows_the_cells():
    usual = judged(WIDE, range(1))[0].now[at.BANK]
    for beyond, seconds in ((0.1, 0.0), (-0.1, 1.0)):
        limits = [usual + 5.0 + beyond, 1.0, -1.0, -99.0, 99.0]
        made, told = judged(limits, range(1), CELL=30.0)
        assert made.now[at.BANK] == pytest.approx(usual, abs=0.05) and told["above_all_s"] == seconds


# Less than 0.5 % of the capacity in amps is no charging; LiFePO4 of 0 to 45 °C, both ends allowed.
@pytest.mark.parametrize(("cell_c", "seconds"), [(0.0, 0.0), (45.0, 0.0), (-0.1, 1.0), (45.1, 1.0)])
def test_cold_cells_may_not_be_charged_with_more_than_a_trickle(cell_c, seconds):
    made = plan()
    for amps_share, outside in ((1.01, seconds), (0.99, 0.0)):
        given = Moment(made, limits=np.array([999.0, 1.0, 0.0, 0.0, 45.0]), bank_air_c=cell_c)
        given.now[at.CELL] = cell_c
        amps = amps_share * 0.005 * made.bank.capacity_ah
        given.plan = changed(given.plan, amps=np.full_like(given.plan.amps, amps), inverter=np.array([]))
        run(given, 0, 1)
        assert given.now[at.AMPS] == pytest.approx(amps)
        assert given.record.tallies[TALLIES.index("forbidden_all_s")] == outside


# Two seconds of each of two minutes: sums of what was so, watts and what was on; the ends are those of the minute.
def test_minutes_hold_the_sum_of_their_seconds():
    made = Moment()
    made.faults.outputs[OUTPUT_NAMES.index("dump_2")] = at.WELDED
    sums = np.zeros((2, len(STATES) + len(FLOWS) + len(OUTPUT_NAMES)))
    ends = [[], []]
    for second in (58, 59, 60, 61):
        run(made, second, second + 1)
        names = ("BANK", "VOLTS", "AMPS", "CHARGE", "CELL", "WATER", "ROOM", "SETTING")
        states = [made.now[getattr(at, name)] for name in names]
        sums[second // 60] += [*states, *made.watts, *made.state.on]
        ends[second // 60].append(made.now[at.BANK])
    assert made.record.minutes[:2] == pytest.approx(sums)
    assert made.record.ends[:2] == pytest.approx(np.array([[min(each), max(each)] for each in ends]))
    assert not made.record.minutes[2:].any() and made.record.minutes[0, -len(OUTPUT_NAMES) + 1] == 2.0
    # What the source gives is what its table has for the setting of the hour.
    volts = made.now[at.VOLTS]
    assert made.watts[at.SOURCE] == pytest.approx(volts * supply_of(made.made).amps_at(1.0, volts))
