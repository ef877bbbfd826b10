"""What a reader is told of dump loads, hot water and the room."""

from statorbook.charging.control import CLOSED_AT_REST, OUTPUTS
from statorbook.charging.cylinder import ROUND_IT_C, heat_hours, heat_wh, room_rise_k
from statorbook.charging.dump_loads import judged_dumps
from statorbook.charging.heater_elements import MAINS_VOLTS, MAINS_WATTS, mains_watts
from statorbook.protection import two_figures
from statorbook.quantities import rounded_down, rounded_up, say, say_pair, units_now

_HOT_INRUSH = 1.2  # times the amps at work; below it the moment of switching on is like any other


def dump_words(plan, *, typed):
    """What the dump loads of a plan have to be, and whether they are it.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    typed : bool
        Whether the loads are the reader's own.

    Returns
    -------
    str
        A line for need, loads, the strongest one dead, mains elements, and control power lost.
    """
    judged = judged_dumps(plan.plant, plan.points, plan.dumps)
    return "\n".join(filter(None, (
        _need_words(judged.needs),
        _own_words(plan, judged, typed),
        _inrush_words(judged),
        _mains_words(judged.needs),
        _power_lost_words(plan, judged.needs),
    )))  # fmt: skip


def _need_words(needs):
    held, top = (_volts(volts) for volts in (needs.held_volts, needs.top_volts))
    asked = f"{say(rounded_up(needs.amps), 'A')} together, {two_figures(rounded_down(needs.ohm), 'Ω')} or less"
    return (
        f"The source can drive up to {two_figures(needs.source_amps, 'A')} into the bank, its own guard failed. At "
        f"{held} the dump loads on the bank have to take {asked}, and stand {say(rounded_up(needs.watts), 'W')} or "
        f"more for hours at {top} (150 %, NEC 690.72(B), from memory). Heaters behind the inverter do not count: when "
        "it trips, these alone are left."
    )


def _own_words(plan, judged, typed):
    if not judged.dumps:
        return "There is no dump load."
    said = " and ".join(two_figures(dump.ohm, "Ω") for dump in judged.dumps)
    each = "Yours," if typed else "Assumed until you type yours:"
    one = len(judged.dumps) == 1
    if judged.faults:
        found = f", {'does' if one else 'do'} not do: {'; '.join(judged.faults)}"
    else:
        watts = two_figures(sum(judged.needs.held_volts**2 / dump.ohm for dump in judged.dumps), "W")
        takes = f"{'takes' if one else 'take'} {watts} at {_volts(judged.needs.held_volts)}"
        does = f", {'does: it' if one else 'do: they'}" if typed else ", which"
        found = f"{does} {takes}"
    return f"{each} {said}{found}. {_dead_words(plan, judged)} {_wire_words(judged)}"


def _dead_words(plan, judged):
    left, source = two_figures(judged.left_amps, "A"), two_figures(judged.needs.source_amps, "A")
    if judged.one_may_die:
        return f"With the strongest one burnt out the rest still takes {left}, enough for the {source}."
    dead = "When it burns out nothing is left"
    if judged.left_amps:
        dead = f"With the strongest one burnt out the rest takes only {left} of {source}"
    stops = "only what stops the source helps" if plan.stops_source else "somebody has to stop the source at once"
    return f"{dead}: then {stops}."


def _wire_words(judged):
    amps = [say(rounded_up(each), "A") for each in judged.wire_amps]
    return f"Wires and fuse of each: for {' and '.join(dict.fromkeys(amps))} or more, 150 % likewise."


def _inrush_words(judged):
    worst = max(judged.dumps, key=lambda dump: dump.ohm / dump.cold_ohm, default=None)
    if worst is None or worst.ohm / worst.cold_ohm < _HOT_INRUSH:
        return ""
    amps = two_figures(judged.needs.top_volts / worst.cold_ohm, "A")
    return (
        f"Cold, a lamp is a short circuit: the {OUTPUTS[worst.output].words} draws {amps} at switch-on, "
        f"{worst.ohm / worst.cold_ohm:.0f} times what it draws hot. Contacts weld on it."
    )


def _mains_words(needs):
    volts = MAINS_VOLTS[units_now()]
    watts = mains_watts(needs.held_volts, rated_volts=volts)
    pieces = -(-needs.amps * needs.held_volts // watts)
    return (
        f"A heating element of {say(MAINS_WATTS, 'W')} for {say(volts, 'V')}, put straight on the bank, takes only "
        f"{two_figures(watts, 'W')}: useless by itself, {pieces:.0f} of them would be needed."
    )


def _power_lost_words(plan, needs):
    closed = [relay.output for relay in plan.rules.relays if relay.contact == CLOSED_AT_REST]
    on = [dump for dump in plan.dumps if dump.output in closed]
    if not on:
        return _nothing_closed_words(plan)
    amps = sum(needs.held_volts / dump.ohm for dump in on)
    hours = plan.bank.capacity_ah / amps
    names = " and the ".join(OUTPUTS[dump.output].words for dump in on)
    come, empty = ("comes", "it empties") if len(on) == 1 else ("come", "they empty")
    ends = (
        f", until the guard opens at {_volts(plan.guard.low_off_volts)}"
        if plan.guard
        else ", and nothing ends that: the bank is ruined"
    )
    return (
        f"When control power is gone, the {names} {come} on by a normally closed contact. Without the source {empty} a "
        f"full bank within {_time(hours)}{ends}."
    )


def _nothing_closed_words(plan):
    """What is left when control power is gone and no dump load comes on by itself."""
    stop = plan.rules.relay_of("source_stop")
    if plan.stops_source and stop is not None and stop.contact == CLOSED_AT_REST:
        return f"When control power is gone, the {OUTPUTS['source_stop'].words} stops the source by a closed contact."
    left = ", only the guard puts one on" if plan.guard else " and there is no guard, nothing takes the surplus"
    return f"No dump load hangs on a normally closed contact: when control power is gone{left}."


def water_words(plan):
    """What the heaters behind the inverter take, and for how long.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.

    Returns
    -------
    str
        Sentences; empty without cylinder and room.
    """
    said = []
    if plan.cylinder is not None:
        said.append(_cylinder_words(plan.cylinder))
    if plan.room is not None:
        rise = two_figures(room_rise_k(plan.room, plan.room.heater_watts), "K")
        after = "When the water is hot, the air heater" if plan.cylinder else "The air heater"
        said.append(f"{after} takes {say(plan.room.heater_watts, 'W')} and keeps the room {rise} warmer than outside.")
    if said:
        said.append(_carried_words(plan))
    return " ".join(filter(None, said))


def _cylinder_words(cylinder):
    kwh = heat_wh(cylinder.litres, cylinder.inlet_c, cylinder.thermostat_c) / 1000.0
    hours = heat_hours(cylinder)
    span = say_pair(cylinder.inlet_c, cylinder.thermostat_c, "°C", form=".0f")
    lost = cylinder.loss_w_per_k * (cylinder.thermostat_c - ROUND_IT_C.value)
    heat = f"The cylinder takes {two_figures(kwh, 'kWh')} from {span}"
    if hours == float("inf"):
        return f"{heat}, and its heater of {say(cylinder.heater_watts, 'W')} never gets it there: it loses too much."
    return (
        f"{heat}, {_time(hours)} with {say(cylinder.heater_watts, 'W')}; once hot it loses {two_figures(lost, 'W')} "
        "all day, and takes no more than that and what you draw."
    )


def _carried_words(plan):
    if plan.inverter is None:
        return "There is no inverter in the job: these heaters cannot run."
    watts = sum(load.heater_watts for load in (plan.cylinder, plan.room) if load)
    rated = plan.inverter.rated_watts
    if watts <= rated:
        return ""
    return f"Together they take {say(watts, 'W')}, more than the {say(rated, 'W')} of the inverter: never both at once."


def _volts(volts):
    return say(volts, "V", form=".1f")


def _time(hours):
    return two_figures(hours, "h") if hours >= 1.0 else two_figures(60.0 * hours, "min")
