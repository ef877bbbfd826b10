"""What to buy so that the plant is protected: every part with what it has to stand and why, never a brand."""

from math import inf

from statorbook.bank import ventilation
from statorbook.cable import size_name
from statorbook.protection import power_parts
from statorbook.protection.enclosures import NEVER_OPEN, enclosure_grade, signs, stops_by_itself
from statorbook.protection.guard_needs import SWITCH_S, WATTS_SPARE, dump_watts
from statorbook.protection.guard_verdict import judged_guard
from statorbook.protection.part_to_buy import PartToBuy, at_least, at_most, verdict
from statorbook.protection.plant_needs import PlantNeeds
from statorbook.quantities import say


def parts_to_buy(plant, switch=None):
    """Every part that protects a plant, from the machine to the bank, then what goes with all of them.

    Parameters
    ----------
    plant : Plant
        The plant.
    switch : Switch or None
        The switch beside the fuse that the reader has.

    Returns
    -------
    tuple of PartToBuy
        Each sized by the most that the plant can make, in the reader's units.
    """
    at_rectifier = (power_parts.rectifier, power_parts.heat_sink, _over_voltage_load)
    run = (*at_rectifier, power_parts.cable) if plant.run.is_dc else (power_parts.cable, *at_rectifier)
    makers = (
        _brake_switch,
        *run,
        power_parts.switch,
        power_parts.fuse,
        _lugs,
        _enclosure,
        _signs,
        _fresh_air,
        _dump_load,
    )
    needs = PlantNeeds(plant=plant, switch=switch)
    return tuple(filter(None, (make(needs) for make in makers)))


def sized_words(plant):
    """What the parts of a plant are sized by.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    str
        The end of a sentence, such as "sized for the most that it can make: 20 A DC into the bank, …".
    """
    line_volts, dc_volts = plant.open_volts(plant.runaway_rpm)
    return (
        f"sized for the most that it can make: {say(plant.most.dc_amps, 'A', figures=2)} DC into the bank, and when it "
        f"runs away with the bank gone and every guard failed {say(line_volts, 'V', figures=2)} AC between leads, "
        f"{say(dc_volts, 'V', figures=2)} DC behind the rectifier"
    )


def _brake_switch(needs):
    plant, found = needs.plant, needs.brake
    line_volts = plant.open_volts(plant.runaway_rpm)[0]
    volts, hours, swing = (
        at_least(line_volts, "V"),
        at_least(found.worst.lead_amps_rms, "A"),
        at_least(found.worst.first_swing_amps, "A"),
    )
    return PartToBuy(
        key="brake",
        name="Brake switch",
        rating=f"three poles, AC {volts} or more, {hours} rms or more for hours, made to close onto {swing} peak",
        why=f"It joins all three leads at the machine: {hours} rms in each as long as it turns. The real stop is "
        f"{found.stop_words}.",
        brief=f"3 poles, {hours} rms, {volts} AC",
    )


def _over_voltage_load(needs):
    plant, found = needs.plant, needs.guard
    if not found.is_needed:
        return None
    given = {"key": "over-voltage load", "name": "Over-voltage load", "yours": _own_load(plant)}
    set_volts, limit = (say(volts, "V", form=".0f") for volts in (found.set_dc_volts, found.limit_dc_volts))
    if found.ohm is None:
        return PartToBuy(
            rating="none fits: choose another grouping, or a device that stands more",
            why=f"In everyday work the rectifier has up to {found.everyday_dc_volts:.0f} V DC already, and {limit} is "
            f"{found.limit_words}.",
            brief="none fits",
            **given,
        )
    watts, ohm = at_least(found.watts, "W"), at_most(found.ohm, "Ω")
    return PartToBuy(
        rating=f"switched on by itself at {set_volts} DC across the rectifier; {ohm} or less hot, {watts} or more for "
        f"hours, its switch for {at_least(found.amps, 'A')} DC{_speed_words(plant, found)}",
        why=f"Run away with the bank gone it makes up to {plant.open_volts(plant.runaway_rpm)[1]:.0f} V DC; {limit} is "
        f"{found.limit_words}.",
        brief=f"from {set_volts} DC, {ohm}, {watts}",
        **given,
    )


def _own_load(plant):
    load = plant.guard
    return verdict(say(load.ohm, "Ω"), judged_guard(plant, load).faults) if load else ""


def _speed_words(plant, needs):
    """How fast it has to act, or the capacitor that buys a transistor its time."""
    if needs.within_s >= SWITCH_S.value:
        return f"; it acts within {at_most(1000.0 * needs.within_s, 'ms')}" if needs.within_s < inf else ""
    if needs.comes_too_late:
        return "; but none is quick enough: choose another grouping, or a device that stands more"
    stands, farad = at_least(plant.open_volts(plant.runaway_rpm)[1], "V"), needs.capacitor_uf(SWITCH_S.value)
    return (
        f"; it acts within {1000.0 * SWITCH_S.value:g} ms, with a capacitor at the rectifier of "
        f"{at_least(farad, 'µF')} or more, for {stands} DC or more, and a resistor across that for good"
    )


def _lugs(needs):
    """Two for each wire of the run; behind it plus goes over switch and fuse, minus over the switch."""
    # Run; rectifier to switch when it stands at the bank; switch to fuse and fuse to bank; minus from switch to bank.
    wires = (2 if needs.plant.run.is_dc else 3 + 2) + 2 + 1
    return PartToBuy(
        key="lugs",
        name="Cable lugs",
        rating=f"{2 * wires} crimped lugs of tinned copper for {_lug_size(needs)}, each with the "
        "hole of its bolt, and sleeves over them",
        why=f"Two for each of {wires} lengths of wire, and two more for a fuse in the other pole. A loose or wrongly "
        "crimped one gets hot under these amps.",
        brief="",
    )


def _lug_size(needs):
    return size_name(needs.cable_mm2) if needs.cable_mm2 else "the cable"


def _enclosure(needs):
    plant = needs.plant
    grade, keeps_out = enclosure_grade(plant.site.place)
    return PartToBuy(
        key="enclosure",
        name="Enclosures",
        rating=f"{grade} or better, that does not burn, with cable glands of the same grade: one at the machine, one "
        "at the bank",
        why=f"{plant.site.place[0].upper()}{plant.site.place[1:]}: it {keeps_out} (IEC 60529, from memory). The heat "
        "sink stands outside it, or the box is large enough for its heat.",
        brief=grade,
    )


def _signs(needs):
    plant = needs.plant
    said = "; ".join(f"{number} “{words}” {place}" for number, words, place in signs(plant))
    return PartToBuy(
        key="signs",
        name="Signs",
        rating=f"{said}; “{NEVER_OPEN}” on switch and fuse",
        why="For whoever comes to it without you (ISO 7010, from memory).",
        brief="",
    )


def _fresh_air(needs):
    air = ventilation(needs.plant.bank, needs.plant.most.dc_amps)
    if air is None:
        return None
    return PartToBuy(
        key="air",
        name="Fresh air",
        rating=f"two openings from the bank's room to the outdoors, one low and one high, each of "
        f"{at_least(air.opening_cm2, 'cm²')} or more",
        why=f"{say(air.boost_m3_h, 'm³/h', figures=2)} at the bank's charging limit, "
        f"{say(air.most_m3_h, 'm³/h', figures=2)} when its charge control sticks (IEC 62485-2, read as quoted): "
        "hydrogen explodes.",
        brief="",
    )


def _dump_load(needs):
    plant = needs.plant
    if stops_by_itself(plant.drive):
        return None
    watts = at_least(dump_watts(plant), "W")
    return PartToBuy(
        key="dump load",
        name="Dump load",
        rating=f"{watts} or more for hours at {plant.bank.charging_volts:.0f} V DC, with its own control",
        why=f"A full bank takes nothing more, and the source goes on: {WATTS_SPARE.value:g} × the most watts, as NEC "
        "690.72(B) asks (from memory). Its control is not sized on this page.",
        brief=watts,
    )
