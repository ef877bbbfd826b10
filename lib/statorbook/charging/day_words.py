"""Simulated days in words: what was dropped in, whether the bank was held, where the energy went, what was switched."""

from math import floor, isinf

from statorbook.charging.check_cases import PASSING_S
from statorbook.charging.control import MEASURED, OUTPUTS, YES_NO
from statorbook.charging.cylinder import WATER_WH_PER_L_K
from statorbook.charging.day_result import HOT_C, TRIPS
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
)
from statorbook.protection import duration_words
from statorbook.quantities import say, say_pair

_DAY_S = 86_400
_STUCK = {
    INPUT_HIGH: "stuck at its top",
    INPUT_LOW: "stuck at its bottom",
    INPUT_ABSENT: "absent",
    INPUT_FROZEN: "frozen as it was",
}
_KIND_WORDS = {
    INPUT_HIGH: "a reading stuck at its top",
    INPUT_LOW: "a reading stuck at its bottom",
    INPUT_ABSENT: "a reading that is absent",
    INPUT_FROZEN: "a reading that is frozen",
    WELDED: "a contact welded: always on",
    DEAD: "a load or relay dead: never on",
    TRIP: "the inverter trips",
    FUSE: "the bank's fuse opens",
    NO_SOURCE: "no wind, water or rider",
    COLD: "a cold spell",
    NO_CONTROL_POWER: "the controller's power fails",
    GUARD_DEAD: "the volts relay that guards is dead",
}
# Where the source's watt-hours are found.
FLOW_WORDS = {
    "house": "house",
    "water_heater": "hot water",
    "air_heater": "air heater",
    "dump_1": "first dump load",
    "dump_2": "second dump load",
    "dump_3": "third dump load",
    "inverter_lost": "lost in the inverter",
    "bank_lost": "lost in the bank",
    "stored": "kept in the bank",
}
_CAUSES = dict(zip(TRIPS, ("too low volts", "too high volts", "too many watts", "what was dropped in"), strict=True))
_LOADS = ("dump", "heater", "source")
_ENOUGH_WH = 0.5  # less of it is not told


def kind_words(kind):
    """A kind of event as a choice.

    Parameters
    ----------
    kind : str
        One of `KINDS`.

    Returns
    -------
    str
        Such as "the inverter trips".
    """
    return _KIND_WORDS[kind]


def event_words(event):
    """One event in words.

    Parameters
    ----------
    event : Event
        The event.

    Returns
    -------
    str
        Such as "day 1, 14:00, for 2 h: the inverter trips".
    """
    lasts = "to the end" if isinf(event.until_s) else f"for {duration_words(event.until_s - event.from_s)}"
    return f"{moment_words(event.from_s)}, {lasts}: {_what(event)}"


def _what(event):
    if event.kind in _STUCK:
        known = MEASURED.get(event.target) or YES_NO[event.target]
        name = known.words if event.target in MEASURED else f"“{known.words}”"
        return f"{name}, as read, {_STUCK[event.kind]}"
    if event.target:
        name = OUTPUTS[event.target].words
        return f"{name} {'on, its contact welded' if event.kind == WELDED else 'dead'}"
    if event.kind == COLD:
        return f"air {say(event.amount, 'K', form='.0f')} colder"
    return _KIND_WORDS[event.kind]


def moment_words(second):
    """A moment since the first midnight, such as "day 1, 14:00"."""
    minutes = floor(second / 60.0)
    day, minute = divmod(minutes, 1440)
    return f"day {day + 1}, {minute // 60}:{minute % 60:02d}"


def verdict_words(plan, found):
    """Whether the bank stayed within its limits, with what it came to.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    found : Days
        Its days.

    Returns
    -------
    str
        Sentences.
    """
    points, days = plan.points, f"{found.days} days" if found.days > 1 else "one day"
    ends = say_pair(found.lowest_bank_volts, found.highest_bank_volts, "V", form=".1f")
    limits = f"it has {ends}; the limits are {points.least_volts:.1f} and {_most_words(points)}"
    if found.within_limits:
        return f"In {days} the bank stays within its limits: {limits}."
    longest = max(each.longest_s for each in (found.above, found.below, found.forbidden))
    if longest <= PASSING_S.value:
        return (
            f"In {days} the bank passes its limits for moments only, {longest:.0f} s at a time at most, which it is "
            f"taken to stand (assumed): {limits}."
        )
    said = [f"In {days} the bank leaves its limits."]
    if found.above.happened:
        at = _first_words(found.above)
        said.append(
            f"It is above {_most_words(points)} {at}, {say(found.highest_bank_volts, 'V', form='.1f')} at most."
        )
    if found.below.happened:
        at = _first_words(found.below)
        lowest = say(found.lowest_bank_volts, "V", form=".1f")
        said.append(f"It is below {points.least_volts:.1f} V {at}, {lowest} at least.")
    if found.forbidden.happened:
        amps = say(found.tallies["forbidden_amps"], "A", figures=2)
        limits = say_pair(points.least_charging_c, points.most_charging_c, "°C", form="g")
        said.append(f"It is charged outside {limits} {_first_words(found.forbidden)}, with up to {amps}.")
    return " ".join(said)


def _most_words(points):
    shifts = f" (as at {say(25, '°C', form='g')})" if points.compensation_v_per_k else ""
    return f"{points.most_volts:.1f} V{shifts}"


def _first_words(outside):
    return f"for {duration_words(outside.seconds)}, first on {moment_words(outside.first_s)}"


def flow_words(found):
    """Where every watt-hour went.

    Parameters
    ----------
    found : Days
        The days.

    Returns
    -------
    str
        Sentences.
    """
    shares = [f"{FLOW_WORDS[name]} {kwh_words(wh)}" for name, wh in found_again(found) if name != "stored"]
    charges = [f"{100 * min(max(charge, 0.0), 1.0):.0f}" for charge in (found.start_charge, found.end_charge)]
    wh, did = found.wh["stored"], "keeps" if found.wh["stored"] >= 0.0 else "gives"
    kept = f"the bank {did} {kwh_words(abs(wh))}, from {' to '.join(charges)} % of its charge"
    if charges[0] == charges[1]:
        kept = f"the bank ends as it began, with {charges[0]} % of its charge"
    spilled = found.wh["spilled"]
    not_taken = (
        f" {kwh_words(spilled)} more would have come while the source was stopped." if spilled > _ENOUGH_WH else ""
    )
    where = f": {', '.join(shares)}" if shares else ""
    return f"The source gives {kwh_words(found.wh['source'])}{where}; {kept}.{not_taken}"


def found_again(found):
    """Where the source's watt-hours went, the largest first, without what is next to nothing; the bank's last.

    Parameters
    ----------
    found : Days
        The days.

    Returns
    -------
    list of tuple
        Name of the flow and its watt-hours.
    """
    told = [(name, found.wh[name]) for name in FLOW_WORDS if name != "stored"]
    return sorted(((n, wh) for n, wh in told if wh > _ENOUGH_WH), key=lambda each: -each[1]) + [
        ("stored", found.wh["stored"])
    ]


def comfort_words(plan, found):
    """What the house and the people in it got of it.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    found : Days
        Its days.

    Returns
    -------
    str
        Sentences.
    """
    said, unserved = [], found.wh["unserved"]
    if plan.house:
        total = found.wh["house"] + unserved
        short = (
            f"goes without {kwh_words(unserved)} of {kwh_words(total)}"
            if unserved > max(_ENOUGH_WH, 1e-3 * total)
            else "gets all that it asks for"
        )
        said.append(f"The house {short}.")
    litres = found.tallies["litres"]
    if plan.cylinder and litres:
        mean_c = plan.cylinder.inlet_c + found.wh["drawn"] / (WATER_WH_PER_L_K.value * litres)
        drawn, hot = (say(each, "L", figures=2) for each in (litres, found.hot_litres))
        at = f"{say(mean_c, '°C', form='.0f')} on average"
        said.append(f"Of {drawn} of water drawn, {at}, {hot} have {say(HOT_C, '°C', form='g')} or more.")
    if plan.room:
        rooms = found.course["room_c"]
        said.append(f"The room has {say_pair(rooms.min(), rooms.max(), '°C', form='.0f')}.")
    return " ".join(said)


def switched_words(found):
    """What was switched, tripped and told.

    Parameters
    ----------
    found : Days
        The days.

    Returns
    -------
    str
        Sentences.
    """
    said = []
    trips = [f"{_times_words(times, found.days)} for {_CAUSES[why]}" for why, times in found.trips.items() if times]
    if trips:
        said.append(f"The inverter trips: {', '.join(trips)}.")
    for name in ("alarm_high", "alarm_low"):
        seconds = found.seconds_on(name)
        if seconds:
            said.append(f"{OUTPUTS[name].words.capitalize()}: {duration_words(seconds)}.")
    loads = ((name, times) for name, times in found.operations.items() if OUTPUTS[name].kind in _LOADS)
    often = sorted(loads, key=lambda each: -each[1])
    told = [f"{OUTPUTS[name].words} {_times_words(times, found.days)}" for name, times in often if times]
    if told:
        said.append(f"Switched on: {', '.join(told)}.")
    return " ".join(said)


def _times_words(times, days):
    """How often, by the day where it is more than once a day."""
    if times > days > 1:
        return f"{_count(times / days)} times a day"
    return "once" if times == 1 else f"{_count(times)} times"


def _count(number):
    """A count with two figures, such as "76" or "530"."""
    return f"{float(f'{number:.2g}'):g}"


def kwh_words(wh):
    """Watt-hours with no more figures than they are worth.

    Parameters
    ----------
    wh : float
        Watt-hours [Wh].

    Returns
    -------
    str
        Such as "850 Wh", "1.2 kWh" or "34 kWh".
    """
    return f"{_count(wh)} Wh" if abs(wh) < 995.0 else f"{_count(wh / 1000.0)} kWh"
