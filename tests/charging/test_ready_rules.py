"""Ready rules: each drive has a set that may stand, in the right order, and that does the right thing when asked."""

from dataclasses import replace
from math import nan
from types import SimpleNamespace

import pytest

from samples.charging_samples import LEAD_BANK, plan
from samples.plant_samples import plant
from samples.year_samples import ROTOR
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.charging.control import CLOSED_AT_REST, MEASURED, OFF, OUTPUTS
from statorbook.charging.dump_loads import usual_guard
from statorbook.charging.ready_rules import ready_rules
from statorbook.charging.rule_checks import check_rules
from statorbook.charging.scan import Controller
from statorbook.charging.set_points import volts_at
from statorbook.drives.engine import Engine
from statorbook.drives.pedals import Pedals
from statorbook.operation.operating_point import operating_points, points_from
from statorbook.protection.plant import Plant

wording = sentences_of("charging_rules")
PLANS = {
    "jet": lambda: plan(stops_source=True),
    "jet without a stop": plan,
    "rotor": lambda: plan(drive=ROTOR, bank=LEAD_BANK, stops_source=True),
    "pedals": lambda: plan(drive=Pedals(rider_watts=120.0, gear_ratio=8.0), bank=LEAD_BANK, cylinder=None, room=None),
    "engine": lambda: plan(drive=Engine(rated_watts=1500.0, engine_rpm=3000.0, pulley_ratio=0.3), stops_source=True),
}


def resting(made, *, scans=400, **readings):
    """What is on after minutes of these readings, in the reader's units; what is not said is in its middle."""
    points = made.points
    usual = {"bank_volts": 0.5 * (points.return_volts + points.float_volts), "cell_c": 20.0, "water_c": 30.0}
    usual |= {"air_c": 15.0, "speed_rpm": 0.0, "inverter_healthy": True, "control_power": True}
    controller = Controller(made.rules)
    # The house is on before the volts move.
    for values, count in ((usual, 20), (usual | readings, scans)):
        codes = {name: MEASURED[name].code(v) if name in MEASURED else v for name, v in values.items()}
        for _ in range(count):
            on = controller.scan(codes, 1000)
    return {name for name, is_on in on.items() if is_on}


@pytest.mark.parametrize("name", PLANS)
def test_every_set_may_stand_and_its_steps_rise_from_absorption_to_the_alarm(name):
    made = PLANS[name]()
    assert check_rules(made.rules) is made.rules
    by_name = {rule.name: rule for rule in made.rules.rules}
    steps = [by_name[f"{dump.output}_full"].on_at for dump in made.dumps]
    steps += [by_name["stop_high"].on_at] if made.stops_source else []
    assert steps == sorted(set(steps))
    assert made.points.absorption_volts <= steps[0] + 0.005
    assert steps[-1] < made.points.alarm_high_volts
    assert all(rule.off_at < made.points.absorption_volts for rule in made.rules.rules if rule.input == "bank_volts_25"
               and rule.name != "bank_high")  # fmt: skip


@pytest.mark.parametrize("name", PLANS)
def test_quiet_between_the_limits(name):
    made = PLANS[name]()
    assert resting(made) == ({"inverter_enable"} if made.inverter else set())


def test_useful_heat_first_then_the_dump_loads_and_the_stop_last():
    made = plan(stops_source=True)
    top = made.points.absorption_volts
    assert resting(made, bank_volts=top) == {"inverter_enable", "water_heater"}
    assert resting(made, bank_volts=top, water_c=70.0) == {"inverter_enable", "air_heater"}
    assert resting(made, bank_volts=top, water_c=70.0, air_c=30.0) == {"inverter_enable"}
    by_name = {rule.name: rule for rule in made.rules.rules}
    hot = {"water_c": 70.0, "air_c": 30.0}
    assert resting(made, bank_volts=by_name["dump_1_full"].on_at, **hot) == {"inverter_enable", "dump_1"}
    assert resting(made, bank_volts=by_name["dump_2_full"].on_at, **hot) == {"inverter_enable", "dump_1", "dump_2"}
    assert "source_stop" in resting(made, bank_volts=by_name["stop_high"].on_at, **hot)


# The volts relay knows no temperature: at 0 °C twelve cells want 1.5 V more (-5 mV/K each, common practice, no source).
@pytest.mark.parametrize("cell_c", [8.0, 25.0])
@pytest.mark.parametrize("chemistry", ["flooded lead-acid", "AGM", "gel"])
def test_in_the_cold_heaters_and_dump_loads_come_before_the_volts_relay(chemistry, cell_c):
    made = plan(bank=Bank(chemistry=chemistry, cells=12, capacity_ah=200.0, temperature_c=cell_c))
    relay_volts = usual_guard(made.points, cell_c=cell_c).high_on_volts
    at = {rule.name: rule.on_at for rule in made.rules.rules}
    tops = [at["water_top"], at["dump_1_full_top"], at["dump_2_full_top"], relay_volts]
    assert tops == sorted(set(tops)) and at["water_top"] == at["room_top"]
    usual = volts_at(made.points.absorption_volts, made.points, cell_c)
    if relay_volts > usual:  # else the band is so narrow that there is no room for what it asks for
        assert tops[0] > usual
    found = resting(made, cell_c=-12.0, bank_volts=relay_volts - 0.01, water_c=70.0, air_c=30.0)
    assert found == {"inverter_enable", "dump_1", "dump_2"}
    assert not any(rule.name.endswith("_top") for rule in plan().rules.rules)


def test_without_the_inverter_the_first_dump_load_takes_what_the_heaters_took():
    made = plan()
    found = resting(made, bank_volts=made.points.absorption_volts, inverter_healthy=False)
    assert found == {"inverter_enable", "dump_1"}


# LiFePO4 is not charged below 0 °C nor above 45 °C: common practice, no source.
@pytest.mark.parametrize("cell_c", [-1.0, 0.0, 46.0, -273.0, 300.0])
def test_cells_too_cold_or_too_hot_stop_the_source_and_burn_what_still_comes(cell_c):
    stopped = plan(stops_source=True)
    assert resting(stopped, cell_c=cell_c) == {"inverter_enable", "source_stop"}
    assert resting(stopped, cell_c=cell_c, speed_rpm=600.0) >= {"source_stop", "dump_1", "dump_2"}
    assert resting(plan(), cell_c=cell_c, speed_rpm=600.0) >= {"alarm_high", "dump_1", "dump_2"}
    low = stopped.points.alarm_low_volts
    assert not {"dump_1", "dump_2"} & resting(stopped, cell_c=cell_c, speed_rpm=600.0, bank_volts=low)


def test_without_the_volts_the_source_stops_or_is_burnt_and_both_alarms_ring():
    assert resting(plan(stops_source=True), bank_volts=0.0) == {"source_stop", "alarm_high", "alarm_low"}
    assert resting(plan(), bank_volts=0.0) == {"dump_1", "dump_2", "alarm_high", "alarm_low"}


def test_an_empty_bank_loses_the_house_and_gets_it_back_at_the_return():
    made = plan()
    assert resting(made, bank_volts=made.points.cut_off_volts) == {"alarm_low"}
    assert "inverter_enable" in resting(made, bank_volts=made.points.cut_off_volts + 0.01)


def test_a_running_away_rotor_is_braked():
    made = PLANS["rotor"]()
    assert resting(made, speed_rpm=made.plant.runaway_rpm) == {"inverter_enable", "source_stop"}
    strongest = points_from(ROTOR.strongest(), operating_points(ROTOR.strongest(), [made.plant.winding],
                            made.bank.states[2], made.plant.conditions))[0]  # fmt: skip
    assert "source_stop" not in resting(made, speed_rpm=strongest.speed_rpm)


def test_a_dead_controller_stops_the_source_or_burns_all_that_it_makes():
    stopped = plan(stops_source=True).rules
    assert {r.output for r in stopped.relays if r.contact == CLOSED_AT_REST} == {"source_stop", "alarm_high"}
    made = plan()
    closed = {r.output for r in made.rules.relays if r.contact == CLOSED_AT_REST}
    volts = made.points.absorption_volts
    # Each load takes all that the source makes, so one is enough; of two that take six tenths of it both are needed.
    assert closed == {"dump_1", "alarm_high"} and volts / made.dumps[0].ohm >= made.plant.most.dc_amps
    for share, needed in ((0.6, {"dump_1", "dump_2"}), (1.0001, {"dump_1"})):
        ohm = volts / (share * made.plant.most.dc_amps)
        weak = plan(dumps=tuple(replace(dump, ohm=ohm) for dump in made.dumps)).rules
        assert {r.output for r in weak.relays if r.contact == CLOSED_AT_REST} == needed | {"alarm_high"}


# By hand from set-points in round numbers; how far apart on and off lie and how long each lasts: hand rules, assumed.
def test_limits_and_times_of_the_hand_rules():
    typed = {"absorption_volts": 56.0, "float_volts": 54.0, "alarm_high_volts": 58.0, "most_volts": 58.4}
    made = plan(stops_source=True, **typed)
    points, rules = made.points, {rule.name: rule for rule in made.rules.rules}
    limits = {
        "bank_low": (points.alarm_low_volts, 0.5 * (points.alarm_low_volts + points.return_volts), 30.0, 0.0, 0.0),
        "bank_high": (58.0, 56.0, 5.0, 0.0, 0.0),
        "supply_lost": (None, None, 5.0, 0.0, 0.0),
        "house_on": (points.return_volts, points.cut_off_volts, 10.0, 10.0, 0.0),
        # Charged from 0 to 45 °C, the cylinder's own thermostat at 65 °C.
        "too_cold": (2.0, 6.0, 0.0, 0.0, 0.0),
        "too_hot": (43.0, 39.0, 0.0, 0.0, 0.0),
        "water_hot": (62.0, 54.0, 0.0, 0.0, 0.0),
        "room_hot": (24.0, 21.0, 0.0, 0.0, 0.0),
        "water": (56.0, 53.5, 0.0, 0.0, 600.0),
        "room": (56.0, 53.5, 0.0, 0.0, 600.0),
        "fallback": (56.0, 54.5, 0.0, 0.0, 60.0),
        # Five widths of 2.0 / 5 V to the alarm, at most 0.56 V: the heaters are the step before.
        "dump_1_full": (56.4, 54.5, 0.0, 0.0, 60.0),
        "dump_2_full": (56.8, 55.0, 0.0, 0.0, 60.0),
        "stop_high": (57.2, 54.0, 5.0, 0.0, 600.0),
    }
    for name, wanted in limits.items():
        rule = rules[name]
        found = (rule.on_at, rule.off_at, rule.on_delay_s, rule.off_delay_s, rule.least_on_s)
        assert found == pytest.approx(wanted), name
    ranges = made.rules.valid
    assert ranges["bank_volts"] == (0.5 * points.least_volts, 1.25 * 58.4)
    assert (ranges["cell_c"], ranges["water_c"], ranges["air_c"]) == ((-40.0, 85.0), (-10.0, 110.0), (-40.0, 60.0))


# Whole rpm, by U = k n: 0.8 and 0.5 of the speed at which the coldest magnets give the volts of the emptiest bank.
def test_the_shaft_turns_from_four_fifths_of_the_first_amps_and_stands_at_half():
    made = plan()
    first = 1000.0 * made.points.least_volts / made.plant.open_volts(1000.0)[1]
    turning = next(rule for rule in made.rules.rules if rule.name == "dump_1_too_cold")
    assert 0.0 <= 0.8 * first - turning.on_at < 1.0 and 0.0 <= 0.5 * first - turning.off_at < 1.0
    # Two limits in whole rpm are 2 and 1 rpm at the least.
    slow = next(rule for rule in plan(least_volts=0.001).rules.rules if rule.name == "dump_1_too_cold")
    assert (slow.on_at, slow.off_at) == (2.0, 1.0)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("jet", wording("ready for a jet")),
        ("rotor", wording("ready for a rotor")),
        ("pedals", wording("ready for pedals")),
        ("engine", wording("ready for an engine")),
    ],
)
def test_a_set_says_what_it_is_for(name, said):
    assert PLANS[name]().rules.words == said


FIRST = ["bank_low", "bank_high", "volts_lost", "supply_lost"]
WINDOW = ["too_cold", "too_hot", "dump_1_too_cold", "dump_2_too_cold", "dump_1_too_hot", "dump_2_too_hot"]
BLIND, DUMPS = ["dump_1_blind", "dump_2_blind"], ["dump_1_full", "dump_2_full"]


# Alarms, the house, the window, the stop or what burns blindly, heaters, dump loads; a rule names only rules above it.
@pytest.mark.parametrize(
    ("changes", "names"),
    [
        ({"inverter": None}, [*FIRST, *WINDOW, *BLIND, *DUMPS]),
        ({"inverter": None, "stops_source": True}, [*FIRST, *WINDOW, "stop_high", "stop_blind", *DUMPS]),
        ({"cylinder": None}, [*FIRST, "house_on", *WINDOW, *BLIND, "room_hot", "room", "fallback", *DUMPS]),
        ({"room": None}, [*FIRST, "house_on", *WINDOW, *BLIND, "water_hot", "water", "fallback", *DUMPS]),
        ({"cylinder": None, "room": None}, [*FIRST, "house_on", *WINDOW, *BLIND, *DUMPS]),
    ],
)
def test_a_plant_has_the_rules_that_it_can_use(changes, names):
    made = plan(**changes)
    rules = {rule.name: rule for rule in made.rules.rules}
    assert [*rules] == names
    # Without heaters the first dump load begins at absorption, with them a step later.
    begins = made.points.absorption_volts
    assert (rules["dump_1_full"].on_at > begins) == ("fallback" in rules)
    used = dict.fromkeys(rule.output for rule in made.rules.rules)
    assert [(relay.number, relay.output) for relay in made.rules.relays] == list(
        enumerate((name for name in OUTPUTS if name in used), start=1)
    )


def test_who_has_the_last_word_and_what_each_hangs_on():
    rules = {rule.name: rule for rule in plan(stops_source=True).rules.rules}
    high = {"water_hot": 9, "room_hot": 9} | dict.fromkeys((*WINDOW, "stop_high", "stop_blind"), 5)
    high |= dict.fromkeys(("fallback", *DUMPS), 2)
    assert {name: rule.priority for name, rule in rules.items() if rule.priority != 1} == high
    house = ("house_on", "inverter_healthy", "not stop_high")
    hangs = {"water": (*house, "not water_hot"), "room": (*house, "water_hot", "not room_hot")}
    hangs |= {f"{dump}_{limit}": (limit, "not bank_low") for dump in ("dump_1", "dump_2") for limit in WINDOW[:2]}
    assert {name: rule.only_if for name, rule in rules.items() if rule.only_if} == hangs | {
        "fallback": ("not inverter_healthy",)
    }
    assert [name for name, rule in rules.items() if rule.action == OFF] == ["water_hot", "room_hot"]
    # Nothing but the room waits for hot water, and not where there is none.
    (room,) = (rule for rule in plan(cylinder=None).rules.rules if rule.name == "room")
    assert room.only_if == ("house_on", "inverter_healthy", "not room_hot")
    assert (room.note, rules["room"].note) == ("Useful heat first.", "When the water is hot.")


# A quarter to spare: 4000 W of the first second over 90 % and 40 V are 111.1 A, so 139 A; without an inverter the most
# of the source; and of the speed at which it runs away. Millivolts of the whole bank for each kelvin.
def test_what_the_sensors_have_to_show():
    made = plan(least_volts=40.0)
    assert made.rules.valid["bank_amps"] == (-139.0, 139.0)
    assert 0.0 <= made.rules.valid["speed_rpm"][1] - 1.25 * made.plant.runaway_rpm < 1.0
    alone = plan(inverter=None)
    assert 0.0 <= alone.rules.valid["bank_amps"][1] - 1.25 * alone.plant.most.dc_amps < 1.0
    assert alone.rules.valid["speed_rpm"][0] == 0.0
    weak = plant()
    weak.__dict__["most"] = SimpleNamespace(dc_amps=0.5)  # in place of the cached property
    assert ready_rules(weak, alone.points, ()).valid["bank_amps"] == (-1.0, 1.0)
    lead = plan(bank=LEAD_BANK, compensation_v_per_k=-0.0604)
    assert lead.rules.compensation_mv_per_k == -60.0


# Half-way from the strongest wind on a charging bank to the same unloaded; it stands again below the first amps.
def test_a_rotor_runs_away_half_way_to_its_unloaded_speed(monkeypatch):
    made = PLANS["rotor"]()
    rule = next(rule for rule in made.rules.rules if rule.name == "stop_fast")
    strongest = replace(made.plant, machine=replace(made.plant.machine, drive=made.plant.drive.strongest()))
    half_way = 0.5 * (strongest.settled(2).speed_rpm + strongest.guarded_runaway_rpm)
    assert 0.0 <= half_way - rule.on_at < 1.0
    turning = next(rule for rule in made.rules.rules if rule.name == "dump_1_too_cold")
    assert (rule.off_at, rule.least_on_s, rule.output) == (turning.off_at, 600.0, "source_stop")
    # One that finds no balance on a bank is judged by its unloaded speed alone.
    monkeypatch.setattr(Plant, "settled", lambda plant, at: SimpleNamespace(speed_rpm=nan))
    rule = next(rule for rule in PLANS["rotor"]().rules.rules if rule.name == "stop_fast")
    assert 0.0 <= 0.5 * strongest.guarded_runaway_rpm - rule.on_at < 1.0
    assert "stop_fast" not in {rule.name for rule in PLANS["jet"]().rules.rules}
