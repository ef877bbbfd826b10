"""Ready rules for a plant, made of its set-points and loads: what is useful first, then what burns, then the stop."""

from dataclasses import replace
from math import ceil, floor, isfinite

from statorbook.charging.control import (
    ABOVE,
    BELOW,
    CLOSED_AT_REST,
    FALSE,
    OFF,
    OPEN_AT_REST,
    OUTPUTS,
    VALID,
    Relay,
    Rule,
    RuleSet,
)
from statorbook.charging.ready_steps import steps_of
from statorbook.drives import Engine, Pedals, WindRotor

# How far apart on and off lie, and how long each lasts: hand rules, assumed.
_HEATER_OFF = -0.25  # on the way from float to absorption
_DUMP_OFF = 0.25
_DUMP_LEAST_S, _HEATER_LEAST_S, _STOP_LEAST_S = 60.0, 600.0, 600.0
_LOW_WAITS_S, _STOP_WAITS_S, _HOUSE_WAITS_S, _ALARM_WAITS_S = 30.0, 5.0, 10.0, 5.0
_BEFORE_LIMIT_K, _BACK_K = 2.0, 4.0  # charging stops that much inside the bank's window, and returns later
_WATER_SPARE_K, _WATER_BACK_K = 3.0, 8.0  # below the cylinder's own thermostat
_ROOM_HOT_C, _ROOM_BACK_C = 24.0, 21.0  # comfort in a room, common practice, no source
_TURNS, _STANDS = 0.8, 0.5  # of the speed at which the first amps flow into the emptiest bank
_SENSOR_SPARE = 1.25  # of the volts and amps that a sensor has to show
_CELLS_C, _WATER_C, _AIR_C = (-40.0, 85.0), (-10.0, 110.0), (-40.0, 60.0)  # usual sensors, common practice, no source
_CHARGES = "bank_volts_25"


def ready_rules(plant, points, dumps, *, cylinder=None, room=None, inverter=None, stops_source=False):
    """The rules that fit a plant.

    Parameters
    ----------
    plant : Plant
        Machine, drive and bank.
    points : SetPoints
        Of the bank.
    dumps : tuple of DumpElement
        On the bank itself, in the order in which they come on.
    cylinder : Cylinder or None
        Hot water with a heater on the inverter.
    room : Room or None
        Where the air heater stands.
    inverter : Inverter or None
        Between bank and sockets.
    stops_source : bool
        True when a relay can stop the source.

    Returns
    -------
    RuleSet
        Rules from alarms to the stop, a relay for each output, and what each sensor can give.

    Notes
    -----
    Equation: heaters at absorption; dump loads and the stop in steps from there to the high alarm or the usual volts
        relay, each step at most 1 % of the absorption volts; between on and off a part of the way from float to
        absorption. Where the steps move with the temperature each has a second rule below the volts relay.
    Valid: dump loads that together take all that the source can make; heaters need the inverter.
    Source: hand rules, assumed; the set-points have their own.
    """
    cylinder, room = (cylinder, room) if inverter else (None, None)
    heats = cylinder is not None or room is not None
    # Heaters come first, so the first dump load waits one step more, except while the inverter is out.
    steps, first = steps_of(points, len(dumps), plant.bank.temperature_c), 1 if heats else 0
    rules = (
        *_alarms(points),
        *(_inverter(points) if inverter else ()),
        *_window(plant, points, dumps, stops_source),
        *(_stop(plant, points, steps.at(first + len(dumps))) if stops_source else _blind(dumps)),
        *_heaters(steps, cylinder, room, stops_source),
        *_dumps(steps, dumps, first),
    )
    return RuleSet(
        rules=rules,
        relays=_relays(rules, _held_without_power(plant, points, dumps, stops_source)),
        compensation_mv_per_k=float(round(1000.0 * points.compensation_v_per_k)),
        valid=_sensors(plant, points, inverter),
        words=_words(plant, heats, stops_source),
    )


def _volts(value):
    return round(float(value), 2)


def _alarms(points):
    back = 0.5 * (points.alarm_low_volts + points.return_volts)
    return (
        Rule(name="bank_low", output="alarm_low", input="bank_volts", side=BELOW, on_at=_volts(points.alarm_low_volts),
             off_at=_volts(back), on_delay_s=_LOW_WAITS_S, note="The house takes more than comes."),
        Rule(name="bank_high", output="alarm_high", input=_CHARGES, side=ABOVE, on_at=_volts(points.alarm_high_volts),
             off_at=_volts(points.absorption_volts), on_delay_s=_ALARM_WAITS_S, note="A dump load fails."),
        Rule(name="volts_lost", output="alarm_high", input="bank_volts" + VALID, side=FALSE,
             note="The wire of the bank volts is off."),
        Rule(name="supply_lost", output="alarm_low", input="control_power", side=FALSE, on_delay_s=_ALARM_WAITS_S,
             note="The relays' supply is gone."),
    )  # fmt: skip


def _inverter(points):
    return (
        Rule(name="house_on", output="inverter_enable", input="bank_volts", side=ABOVE,
             on_at=_volts(points.return_volts), off_at=_volts(points.cut_off_volts), on_delay_s=_HOUSE_WAITS_S,
             off_delay_s=_HOUSE_WAITS_S, note="Off at the cut-off, back at the return."),
    )  # fmt: skip


def _window(plant, points, dumps, stops_source):
    """No charging outside the bank's temperatures: the source stops, and what still turns goes into the dump loads."""
    cold, hot = points.least_charging_c + _BEFORE_LIMIT_K, points.most_charging_c - _BEFORE_LIMIT_K
    output = {"output": "source_stop" if stops_source else "alarm_high", "input": "cell_c", "priority": 5}
    # A reading below or above what the sensor can give counts as too cold or too hot: the safe side.
    note = "The cells must not be charged."
    limits = (
        Rule(name="too_cold", side=BELOW, on_at=cold, off_at=cold + _BACK_K, note=note, **output),
        Rule(name="too_hot", side=ABOVE, on_at=hot, off_at=hot - _BACK_K, note=note, **output),
    )
    turns, stands = _turning_rpm(plant, points)
    burns = tuple(
        Rule(name=f"{dump.output}_{limit.name}", output=dump.output, input="speed_rpm", side=ABOVE, on_at=turns,
             off_at=stands, only_if=(limit.name, "not bank_low"), priority=5, note="What still comes is burnt.")
        for limit in limits for dump in dumps
    )  # fmt: skip
    return (*limits, *burns)


def _turning_rpm(plant, points):
    """Whole rpm from which amps may flow, magnets at their coldest, and from which none do."""
    per_rpm = plant.open_volts(1000.0)[1] / 1000.0
    first = points.least_volts / per_rpm
    return float(max(2, floor(_TURNS * first))), float(max(1, floor(_STANDS * first)))


def _heaters(steps, cylinder, room, stops_source):
    """Heaters in the house, while the inverter works; none while the source is stopped by volts that may not be so."""
    use = {"input": _CHARGES, "side": ABOVE, "on_at": steps.at(0), "off_at": steps.between(_HEATER_OFF)}
    use["least_on_s"] = _HEATER_LEAST_S
    allowed, rules = ("house_on", "inverter_healthy", *(("not stop_high",) if stops_source else ())), []
    if cylinder:
        hot = cylinder.thermostat_c - _WATER_SPARE_K
        hot_rule = Rule(name="water_hot", output="water_heater", action=OFF, input="water_c", side=ABOVE, on_at=hot,
                        off_at=hot - _WATER_BACK_K, priority=9,
                        note="Before the cylinder's own thermostat.")  # fmt: skip
        heat = Rule(name="water", output="water_heater", only_if=(*allowed, "not water_hot"),
                    note="Useful heat first.", **use)  # fmt: skip
        rules += [hot_rule, *steps.with_tops([heat], 0)]
    if room:
        after = ("water_hot",) if cylinder else ()
        hot_rule = Rule(name="room_hot", output="air_heater", action=OFF, input="air_c", side=ABOVE,
                        on_at=_ROOM_HOT_C, off_at=_ROOM_BACK_C, priority=9, note="Comfort.")  # fmt: skip
        heat = Rule(name="room", output="air_heater", only_if=(*allowed, *after, "not room_hot"),
                    note="When the water is hot." if after else "Useful heat first.", **use)  # fmt: skip
        rules += [hot_rule, *steps.with_tops([heat], 0)]
    return rules


def _dumps(steps, dumps, first):
    """The dump loads one after the other, at once: a full bank's volts jump as soon as a load in the house goes off."""
    use = {"input": _CHARGES, "side": ABOVE, "least_on_s": _DUMP_LEAST_S, "priority": 2}
    fallback = [
        Rule(name="fallback", output=dump.output, on_at=steps.at(0), off_at=steps.between(_DUMP_OFF),
             only_if=("not inverter_healthy",), note="The heaters are out.", **use)
        for dump in dumps[:first]
    ]  # fmt: skip
    made = []
    for number, dump in enumerate(dumps):
        full = Rule(name=f"{dump.output}_full", output=dump.output, on_at=steps.at(first + number),
                    off_at=steps.between(_DUMP_OFF * (number + 1)), note="What nothing else takes.", **use)  # fmt: skip
        made += steps.with_tops([full], first + number)
    return (*fallback, *made)


def _stop(plant, points, at_volts):
    """The source stops when all dump loads were not enough, when nobody knows the volts, and when it runs away."""
    use = {"output": "source_stop", "priority": 5}
    rules = (
        Rule(name="stop_high", input=_CHARGES, side=ABOVE, on_at=_volts(at_volts), off_at=_volts(points.float_volts),
             on_delay_s=_STOP_WAITS_S, least_on_s=_STOP_LEAST_S, note="The dump loads were not enough.", **use),
        Rule(name="stop_blind", input="bank_volts" + VALID, side=FALSE, note="Nobody knows the volts.", **use),
    )  # fmt: skip
    if not isinstance(plant.drive, WindRotor):
        return rules
    return (
        *rules,
        Rule(name="stop_fast", input="speed_rpm", side=ABOVE, on_at=_too_fast_rpm(plant),
             off_at=_turning_rpm(plant, points)[1], least_on_s=_STOP_LEAST_S, note="It runs away.", **use),
    )  # fmt: skip


def _too_fast_rpm(plant):
    """Half-way from the strongest source on a charging bank to the same unloaded, the drive's own guard at work."""
    strongest = replace(plant, machine=replace(plant.machine, drive=plant.drive.strongest()))
    loaded = strongest.settled(2).speed_rpm
    return float(floor(0.5 * ((loaded if isfinite(loaded) else 0.0) + strongest.guarded_runaway_rpm)))


def _blind(dumps):
    """Nobody knows the volts and nothing can stop the source: burn, the guard keeps the bank from running empty."""
    return tuple(
        Rule(name=f"{dump.output}_blind", output=dump.output, input="bank_volts" + VALID, side=FALSE, priority=5,
             note="Nobody knows the volts.")
        for dump in dumps
    )  # fmt: skip


def _held_without_power(plant, points, dumps, stops_source):
    """Outputs that have to be on while the controller is dead: the stop, or the dump loads that take all."""
    if stops_source:
        return {"source_stop", "alarm_high"}
    volts, found, watts = points.absorption_volts, {"alarm_high"}, 0.0
    for dump in dumps:
        if watts >= plant.most.dc_amps * volts:
            break
        found.add(dump.output)
        watts += volts**2 / dump.ohm
    return found


def _relays(rules, closed):
    used = [name for name in OUTPUTS if any(rule.output == name for rule in rules)]
    return tuple(
        Relay(number=number, output=name, contact=CLOSED_AT_REST if name in closed else OPEN_AT_REST)
        for number, name in enumerate(used, start=1)
    )


def _sensors(plant, points, inverter):
    """Least and most that each sensor can give; the safe rules need the limits of the cells to lie inside."""
    drawn = inverter.surge_watts / inverter.efficiency / points.least_volts if inverter else 0.0
    amps = float(ceil(_SENSOR_SPARE * max(plant.most.dc_amps, drawn)))
    return {
        "bank_volts": (round(0.5 * points.least_volts, 1), round(_SENSOR_SPARE * points.most_volts, 1)),
        "bank_amps": (-amps, amps),
        "cell_c": _CELLS_C,
        "water_c": _WATER_C,
        "air_c": _AIR_C,
        "speed_rpm": (0.0, float(ceil(_SENSOR_SPARE * plant.runaway_rpm))),
    }


def _words(plant, heats, stops_source):
    kinds = ((WindRotor, "a wind rotor", "the brake"), (Pedals, "pedals", "a stop"), (Engine, "an engine", "its stop"))
    found = next((words for kind, *words in kinds if isinstance(plant.drive, kind)), ("a water jet", "the deflector"))
    first = "heaters first, then the dump loads" if heats else "the dump loads"
    last = f", then {found[1]}" if stops_source else ""
    return f"Ready rules for {found[0]}: {first} one after the other{last}."
