"""Simulated days: the balance closes, a second reckoned apart agrees, and every event does what it says."""

from dataclasses import replace
from math import inf, nan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from samples.charging_samples import CYLINDER, HOUSE, LEAD_BANK, ROOM, inverter, plan
from samples.plant_samples import plant
from statorbook.bank.cell_model import amps_at_once, bank_table, next_slow_volts, rest_volts_of, stored_at_once
from statorbook.charging.control import ABOVE, BELOW, CLOSED_AT_REST, MEASURED, OUTPUT_NAMES, TRUE, Relay, Rule, RuleSet
from statorbook.charging.cylinder import heat_wh
from statorbook.charging.day_result import FLOWS, TAKEN
from statorbook.charging.days import INPUTS, DayRun, simulate
from statorbook.charging.events import Event
from statorbook.charging.scan import Controller
from statorbook.charging.supply import supply_of
from statorbook.errors import BadInput

HOUR = 3600.0
INVERTER_ON = {"output": "inverter_enable", "input": "inverter_healthy", "side": TRUE}


def rule(output, on_at=None, off_at=None, **given):
    """A rule that looks at the bank's volts unless something else is given."""
    looks = {"name": output, "input": "bank_volts", "side": ABOVE} | given
    return Rule(output=output, on_at=on_at, off_at=off_at, **looks)


def rule_set(*rules, closed=(), **given):
    """Rules, and a relay for each of their outputs."""
    outputs = dict.fromkeys(each.output for each in rules)
    contacts = [{"contact": CLOSED_AT_REST} if name in closed else {} for name in outputs]
    relays = (Relay(number=at, output=name, **more) for at, (name, more) in enumerate(zip(outputs, contacts), start=1))
    return RuleSet(rules=rules, relays=tuple(relays), **given)


def loads(points):
    """Rules for two dump loads, inverter and both heaters."""
    top = points.absorption_volts
    return (
        rule("dump_1", top, 0.99 * top, on_delay_s=2.0, least_on_s=5.0),
        rule("dump_2", 1.01 * top, top, on_delay_s=2.0),
        Rule(name="inverter_enable", **INVERTER_ON),
        rule("water_heater", 0.98 * top, 0.95 * top, on_delay_s=5.0, only_if=("inverter_healthy",)),
        rule("air_heater", 0.99 * top, 0.96 * top, on_delay_s=5.0, only_if=("inverter_healthy",)),
    )


@pytest.fixture(scope="module")
def whole():
    made = plan(bank=LEAD_BANK, guard=None)
    return replace(made, rules=rule_set(*loads(made.points)))


def at(hour, kind, target="", hours=1.0, amount=0.0):
    """An event from an hour on."""
    return Event(kind=kind, target=target, from_s=hour * HOUR, until_s=(hour + hours) * HOUR, amount=amount)


def between(found, name, from_h, to_h):
    """Minutes of a state, flow or output between two hours."""
    rows = found.course | found.watts | found.on_share if name not in FLOWS else found.watts
    return rows[name][round(60 * from_h) : round(60 * to_h)]


EVENTS = (
    [st.builds(at, st.integers(0, 20), st.just(kind)) for kind in ("inverter trips", "bank fuse opens", "no source")]
    + [st.builds(at, st.integers(0, 20), st.just("cold spell"), amount=st.just(20.0), hours=st.just(3.0))]
    + [
        st.builds(
            at, st.integers(0, 20), st.sampled_from(("output welded", "output dead")), st.sampled_from(OUTPUT_NAMES)
        )
    ]
    + [
        st.builds(
            at, st.integers(0, 20), st.sampled_from(("input stuck high", "input absent")), st.sampled_from(INPUTS)
        )
    ]
)


@settings(max_examples=15)
@given(events=st.lists(st.one_of(EVENTS), max_size=4), charge=st.sampled_from((0.05, 0.5, 0.97, 1.0)))
def test_every_watt_hour_is_found_again(whole, events, charge):
    found = simulate(whole, events, days=1, start_charge=charge)
    moved = sum(abs(found.wh[name]) for name in TAKEN)
    assert abs(found.wh["source"] - sum(found.wh[name] for name in TAKEN)) <= 1e-6 * moved
    assert found.unbalanced_wh == found.wh["source"] - sum(found.wh[name] for name in TAKEN)
    # The bank by its charge at both ends alone, the water by its temperature: neither is the sum over the seconds.
    assert found.stored_wh == pytest.approx(found.wh["stored"], abs=1e-6 * moved)
    water = found.course["water_c"]
    minute = heat_wh(CYLINDER.litres, water[0], water[-1])
    kept = found.wh["water_heater"] - found.wh["drawn"] - found.wh["cylinder_lost"]
    assert minute == pytest.approx(kept, abs=CYLINDER.heater_watts / 60.0 + 10.0)
    assert all(found.wh[name] >= 0.0 for name in FLOWS if name not in ("stored", "drawn", "cylinder_lost"))


def test_a_second_reckoned_apart_agrees():
    made = plan(bank=LEAD_BANK, guard=None, inverter=None, cylinder=None, room=None, house=())
    first, second = rule("dump_1", 27.0, 26.6, on_delay_s=2.0, least_on_s=5.0), rule("dump_2", 27.3, 27.0)
    made = replace(made, rules=rule_set(first, second))
    supply, table, setting = supply_of(made), bank_table(made.bank), made.course.by_hour[0]
    charge, volts, controller, ohm = 0.985, None, Controller(made.rules), [dump.ohm for dump in made.dumps]
    volts, slow, expected, inputs = rest_volts_of(charge, table), 0.0, [], {"cell_c": MEASURED["cell_c"].code(25.0)}
    for _ in range(900):
        on = controller.scan(inputs | {"bank_volts": MEASURED["bank_volts"].code(volts)}, 1000)
        siemens = sum(1.0 / each for each, name in zip(ohm, ("dump_1", "dump_2"), strict=True) if on[name])

        def off(v, siemens=siemens, charge=charge, slow=slow):
            return supply.amps_at(setting, v) - siemens * v - amps_at_once(v, slow, charge, 25.0, table)

        volts = brentq(off, 10.0, 40.0, xtol=1e-12)
        stored, slow = (stored_at_once(volts, slow, charge, table), next_slow_volts(volts, slow, charge, 25.0, table))
        charge += stored / 3600.0 / made.bank.capacity_ah
        expected.append((volts, charge, on["dump_1"], on["dump_2"]))
    expected = np.array(expected, dtype=float).reshape(15, 60, 4).mean(axis=1).T
    found = simulate(made, days=1, start_charge=0.985)
    for name, column in zip(("bank_volts", "charge", "dump_1", "dump_2"), expected, strict=True):
        rows = (found.course | found.on_share)[name][:15]
        assert rows == pytest.approx(column, rel=1e-8), name
    assert 0.0 < expected[2].mean() < 1.0  # the first dump load was switched on and off meanwhile


def test_a_stretch_and_a_whole_give_the_same(whole):
    shares = []
    plain = simulate(whole, days=2, on_progress=shares.append)
    # An event that changes nothing cuts the seconds elsewhere.
    cut = simulate(whole, [Event(kind="cold spell", from_s=12_345.6, until_s=100_000.2)], days=2)
    assert np.array_equal(plain.course["bank_volts"], cut.course["bank_volts"])
    assert plain.operations == cut.operations
    assert shares == sorted(shares) and shares[-1] == 1.0 and len(shares) > 4


def test_fewer_days_begin_more_of_them_to_the_last_bit(whole):
    # One event ends within a minute, one with a day, and one goes on beyond what is asked for first.
    events = (
        Event(kind="inverter trips", from_s=50_000.5, until_s=90_000.2),
        Event(kind="no source", from_s=100_000.0, until_s=172_800.0),
        Event(kind="cold spell", from_s=170_000.3, until_s=250_000.0, amount=20.0),
    )
    run = DayRun(whole, events, most_days=3, start_charge=0.7)
    with pytest.raises(BadInput, match="work out more days"):
        run.first(1)
    while run.days < 3:
        run.go_on()
    run.go_on()  # there is no more
    assert run.days == 3 and run.done_s == 3 * 86_400
    for days in (1, 2, 3):
        begun, alone = vars(run.first(days)), vars(simulate(whole, events, days=days, start_charge=0.7))
        for name, value in alone.items():
            np.testing.assert_equal(begun[name], value, err_msg=f"{name} of {days} days")


def test_an_inverter_that_trips_serves_nobody_and_the_dump_load_takes_over(whole):
    found = simulate(whole, [at(14, "inverter trips", hours=2.0)], days=1, start_charge=0.99)
    assert found.trips["an event"] == 1
    assert between(found, "house", 14, 16).max() == between(found, "air_heater", 14, 16).max() == 0.0
    assert between(found, "unserved", 14, 16).sum() / 60.0 == pytest.approx(2 * 90.0 * 20 / 60)
    # Half a minute after the event it tries again.
    assert between(found, "unserved", 16 + 1 / 60, 24).max() == 0.0
    assert between(found, "dump_1", 14.1, 16).mean() > between(found, "dump_1", 10, 13.9).mean()


def test_a_burnt_element_and_a_welded_contact(whole):
    no_heaters = at(0, "inverter trips", hours=24.0)
    dead = simulate(whole, [no_heaters, at(0, "output dead", "dump_1", hours=24.0)], days=1, start_charge=0.99)
    assert dead.wh["dump_1"] == 0.0 and dead.operations["dump_1"] == 0 and dead.wh["dump_2"] > 0.0
    welded = simulate(whole, [at(2, "output welded", "dump_2", hours=3.0)], days=1, start_charge=0.5)
    assert np.all(between(welded, "dump_2", 2, 5) > 0.0) and welded.on_share["dump_2"].sum() == 180.0
    volts, watts = between(welded, "bus_volts", 3, 4), welded.watts["dump_2"][180:240]
    # Ohm's law at the volts of the minute.
    assert watts == pytest.approx(volts**2 / whole.dumps[1].ohm, rel=1e-4)


def test_an_open_fuse_leaves_the_bank_alone(whole):
    found = simulate(whole, [at(6, "bank fuse opens")], days=1, start_charge=0.9)
    assert np.all(between(found, "bank_amps", 6, 7) == 0.0) and found.wh["unserved"] > 0.0
    charge = between(found, "charge", 6, 7)
    assert charge[0] == charge[-1] and found.tallies["bus_most_volts"] > found.highest_bank_volts
    still = simulate(whole, [at(6, "bank fuse opens"), at(6, "no source")], days=1, start_charge=0.9)
    assert np.all(still.course["bus_volts"][361:419] == 0.0)


def test_no_source_and_a_source_that_is_stopped(whole):
    found = simulate(whole, [at(3, "no source", hours=2.0)], days=1, start_charge=0.6)
    assert np.all(between(found, "source", 3, 5) == 0.0) and found.wh["spilled"] == 0.0
    stopping = replace(whole, stops_source=True, rules=rule_set(rule("source_stop", 10.0, 9.0)))
    held = simulate(stopping, days=1, start_charge=0.6)
    assert held.wh["source"] == 0.0 and held.wh["spilled"] > 0.0
    # What it could have given at the bank's volts, by the supply's own table.
    volts = held.course["bus_volts"][600]
    could = volts * supply_of(stopping).amps_at(1.0, volts)
    assert held.watts["spilled"][600] == pytest.approx(could, rel=1e-6)
    deaf = simulate(replace(stopping, stops_source=False), days=1, start_charge=0.6)
    assert deaf.wh["source"] > 0.0 and deaf.wh["spilled"] == 0.0


def test_without_control_power_only_contacts_closed_at_rest_are_on(whole):
    event = [at(4, "control power fails", hours=2.0)]
    rules = rule_set(rule("dump_1", 100.0, 99.0), rule("alarm_high", 5.0, 4.0), closed=("dump_1",))
    found = simulate(replace(whole, rules=rules), event, days=1, start_charge=0.5)
    assert between(found, "dump_1", 4, 6).min() > 0.0 and found.on_share["dump_1"].sum() == 120.0
    assert between(found, "alarm_high", 4, 6).max() == 0.0
    assert found.operations["alarm_high"] == 2  # at the start, and anew afterwards


@pytest.mark.parametrize(("share", "on"), [(0.45, 0.0), (0.55, 1.0)])
def test_the_controller_needs_half_of_the_lowest_volts(whole, share, on):
    # Behind an open fuse the source is alone with a dump load; its ohms by Ohm's law at the volts wanted.
    volts = share * whole.points.least_volts
    ohm = volts / supply_of(whole).amps_at(1.0, volts)
    dumps = (replace(whole.dumps[0], ohm=ohm), *whole.dumps[1:])
    made = replace(whole, dumps=dumps, rules=rule_set(rule("alarm_high", 5.0, 4.0)))
    found = simulate(made, [at(1, "bank fuse opens"), at(1, "output welded", "dump_1")], days=1, start_charge=0.5)
    assert between(found, "bus_volts", 1.1, 2) == pytest.approx(volts, rel=1e-6)
    assert np.all(between(found, "alarm_high", 1.1, 2) == on) and found.on_share["alarm_high"][:60].min() == 1.0


def test_without_a_room_the_air_round_the_cylinder_stays_as_it_is(whole):
    cold = [at(2, "cold spell", hours=3.0, amount=20.0)]
    rules = rule_set(Rule(name="inverter_enable", **INVERTER_ON), rule("air_heater", 5.0, 4.0))
    found = simulate(replace(whole, room=None, rules=rules), cold, days=1)
    # 20 °C as assumed for a house; a relay with no heater behind it takes nothing.
    assert np.all(found.course["room_c"] == 20.0) and found.wh["air_heater"] == 0.0
    assert found.on_share["air_heater"].min() == 1.0 and found.wh["house"] > 0.0


@pytest.mark.parametrize(
    ("kind", "on"), [("input stuck high", 1.0), ("input stuck low", 0.0), ("input absent", 0.0), ("input frozen", 1.0)]
)
def test_a_wrong_reading_is_what_the_controller_sees(whole, kind, on):
    volts = whole.points.absorption_volts
    rules = rule_set(
        rule("alarm_high", volts, volts - 0.1, only_if=("bank_volts_valid",)),
        rule("alarm_low", side=TRUE, input="bank_volts_valid"),
    )
    calm = replace(whole, rules=rules, dumps=(), inverter=None)
    # No source from then on, so that the bank's own volts fall below the limit.
    events = [at(10, kind, "bank_volts", hours=14.0), at(10, "no source", hours=14.0)]
    found = simulate(calm, events, days=1, start_charge=0.99)
    assert between(found, "alarm_high", 9, 10)[-1] == 1.0
    assert np.all(between(found, "alarm_high", 11, 24) == on)
    assert np.all(between(found, "alarm_low", 11, 24) == (kind != "input absent"))


def test_a_yes_or_no_stuck_is_what_the_controller_sees(whole):
    found = simulate(whole, [at(2, "input stuck low", "inverter_healthy")], days=1, start_charge=0.5)
    assert between(found, "inverter_enable", 2, 3).max() == 0.0 and found.on_share["inverter_enable"][:120].min() == 1.0


def test_the_guard_puts_dump_loads_on_and_takes_loads_off(whole):
    volts = rest_volts_of(0.7, bank_table(whole.bank))
    guard = plan(bank=LEAD_BANK).guard
    none = replace(whole, rules=rule_set(rule("dump_1", 100.0, 99.0), rule("air_heater", 5.0, 4.0)))
    high = replace(guard, high_on_volts=volts + 0.05, high_off_volts=volts, low_off_volts=1.0, low_on_volts=2.0)
    found = simulate(replace(none, guard=high), days=1)
    assert found.operations["dump_1"] > 0 and found.operations["dump_2"] > 0 and found.wh["dump_2"] > 0.0
    dead = simulate(replace(none, guard=high), [at(0, "volts relay dead", hours=24.0)], days=1)
    assert dead.operations["dump_1"] == 0
    low = replace(guard, high_on_volts=90.0, high_off_volts=80.0, low_off_volts=volts + 9.0, low_on_volts=volts + 10.0)
    welded = [at(0, "output welded", name, hours=24.0) for name in ("dump_1", "air_heater", "alarm_low")]
    off = simulate(replace(none, guard=low), welded, days=1)
    assert off.wh["dump_1"] == off.on_share["air_heater"].max() == 0.0 and off.on_share["alarm_low"].min() == 1.0


def test_limits_are_told_with_their_first_moment(whole):
    points = replace(whole.points, most_volts=29.5, compensation_v_per_k=-0.036)
    warm = plant(bank=replace(LEAD_BANK, temperature_c=35.0))
    bare = replace(
        whole, plant=warm, points=points, rules=rule_set(rule("alarm_high", 5.0, 4.0)), dumps=(), inverter=None
    )
    full = simulate(bare, days=1, start_charge=0.95)
    assert full.above.happened and not full.within_limits
    limit = 29.5 - 0.036 * (bare.bank.temperature_c - 25.0)
    first = int(full.above.first_s // 60)
    assert full.most_bank_volts[first] > limit >= full.most_bank_volts[first - 1]
    assert full.highest_bank_volts == full.most_bank_volts.max()
    empty = simulate(replace(bare, house=()), [at(0, "no source", hours=24.0)], days=1, start_charge=0.5)
    assert empty.within_limits and np.isnan(empty.below.first_s)
    drained = [at(0, "no source", hours=24.0), at(0, "output welded", "dump_1", hours=24.0)]
    drained = simulate(replace(bare, dumps=whole.dumps), drained, days=1, start_charge=0.1)
    assert drained.below.happened and drained.lowest_bank_volts < bare.points.least_volts


def test_cells_that_get_cold_are_not_to_be_charged():
    made = plan(inverter=None, guard=None)
    cold = [Event(kind="cold spell", from_s=0.0, until_s=inf, amount=30.0)]
    free = replace(made, rules=rule_set(rule("alarm_high", 90.0, 80.0)))
    found = simulate(free, cold, days=1, start_charge=0.3)
    assert found.forbidden.happened and found.course["cell_c"].min() < made.points.least_charging_c
    first = int(found.forbidden.first_s // 60)
    assert found.course["cell_c"][first] == pytest.approx(made.points.least_charging_c, abs=0.2)
    drained = rule_set(rule("dump_1", 10.0, 5.0), rule("dump_2", 10.0, 5.0))
    assert not simulate(replace(free, rules=drained), cold, days=1, start_charge=0.9).forbidden.happened


def test_an_inverter_trips_by_its_volts_and_by_too_many_watts(whole):
    bank, rules = whole.bank, rule_set(Rule(name="inverter_enable", **INVERTER_ON))
    plain = replace(whole, rules=rules, dumps=(), cylinder=None, room=None)
    weak = simulate(replace(plain, inverter=inverter(bank, rated_watts=1000.0)), days=1)
    # The kettle of 1.5 kW, six minutes from seven o'clock; it tries again every half minute.
    assert weak.trips["too many watts"] == 12 and weak.wh["unserved"] == pytest.approx(150.0 + 90.0 * 0.1, rel=0.05)
    starts = simulate(
        replace(plain, inverter=inverter(bank, surge_watts=400.0, rated_watts=400.0), house=HOUSE[:1]), days=1
    )
    assert starts.trips["too many watts"] == 24  # the fridge asks for 500 W in its first second of every hour
    # Half a minute after an event it is well again, and on a second later: here too late to see the start at one.
    just = replace(plain, inverter=inverter(bank, surge_watts=400.0, rated_watts=400.0), house=HOUSE[:1])
    off = [Event(kind="inverter trips", from_s=HOUR - 31.0, until_s=HOUR - 30.0)]
    assert simulate(just, off, days=1).trips["too many watts"] == 23
    lamp = replace(HOUSE[0], surge_watts=90.0)
    even = simulate(replace(plain, inverter=inverter(bank, surge_watts=90.0, rated_watts=90.0), house=(lamp,)), days=1)
    assert even.trips["too many watts"] == 0 and even.wh["house"] == pytest.approx(24 * 90.0 / 3)
    low = simulate(plain, [at(0, "no source", hours=24.0)], days=1, start_charge=0.05)
    assert low.trips["low volts"] > 0 and low.wh["unserved"] > 0.0
    high = simulate(replace(plain, inverter=inverter(bank, trips_above_volts=26.5)), days=1, start_charge=0.95)
    assert high.trips["high volts"] > 0


def test_a_cylinder_keeps_its_thermostat_and_a_room_warms(whole):
    on = rule_set(
        Rule(name="inverter_enable", **INVERTER_ON), rule("water_heater", 5.0, 4.0), rule("air_heater", 5.0, 4.0)
    )
    still = replace(whole, rules=on, dumps=(), house=(), cylinder=replace(CYLINDER, litres_a_day=0.0))
    still = replace(still, plant=plant(bank=replace(LEAD_BANK, capacity_ah=2000.0)))
    found = simulate(still, days=1, start_charge=0.9)
    assert found.trips["low volts"] == 0
    water = found.course["water_c"]
    assert CYLINDER.thermostat_c - 5.1 < water.min() and water.max() <= CYLINDER.thermostat_c + 0.1
    # Room at rest: watts over W/K above the air outside, its day's swing and ten hours' lag apart.
    rise = found.course["room_c"][-60:].mean() - ROOM.outside_c
    assert rise == pytest.approx(ROOM.heater_watts / ROOM.loss_w_per_k, abs=ROOM.outside_swing_k)
    assert found.hot_litres == found.tallies["litres"] == 0.0
    drawn = simulate(whole, days=1, start_charge=0.99)
    assert drawn.tallies["litres"] == pytest.approx(CYLINDER.litres_a_day) and drawn.hot_litres > 0.0
    # 1.163 Wh warm a litre by a kelvin: what is drawn has the heat of its water, between the coldest and the hottest.
    water, wh_per_k = drawn.course["water_c"], 1.163 * CYLINDER.litres_a_day
    coldest, hottest = (wh_per_k * (each - CYLINDER.inlet_c) for each in (water.min(), water.max()))
    assert 0.99 * coldest <= drawn.wh["drawn"] <= 1.01 * hottest and drawn.wh["drawn"] > 0.0


def test_alarms_are_counted_in_seconds(whole):
    rules = rule_set(rule("alarm_low", 100.0, 101.0, side=BELOW, on_delay_s=10.0))
    assert simulate(replace(whole, rules=rules), days=1).seconds_on("alarm_low") == pytest.approx(86_400 - 10)


@pytest.mark.parametrize(
    ("events", "given", "words"),
    [
        ([Event(kind="lightning")], {}, "'lightning' was given"),
        ([Event(kind="output dead", target="dump_9")], {}, "'dump_9' was given"),
        ([Event(kind="output dead")], {}, "'' was given"),
        ([Event(kind="input absent", target="bank_volts_25")], {}, "'bank_volts_25' was given"),
        ([Event(kind="no source", target="dump_1")], {}, "'dump_1' was given"),
        ([Event(kind="no source", from_s=5.0, until_s=5.0)], {}, "end after it begins"),
        ([Event(kind="no source", from_s=-5.0)], {}, "end after it begins"),
        ([Event(kind="no source", from_s=nan)], {}, "end after it begins"),
        ([Event(kind="cold spell", amount=-5.0)], {}, "how much colder"),
        ((), {"days": 0}, "days"),
        ((), {"days": 1000}, "days"),
        ((), {"days": 1, "start_charge": 1.5}, "charge at the start"),
    ],
)
def test_what_cannot_be_is_one_sentence(whole, events, given, words):
    with pytest.raises(BadInput, match=words) as said:
        simulate(whole, events, **given)
    assert "\n" not in str(said.value)
