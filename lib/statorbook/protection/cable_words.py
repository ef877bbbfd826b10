"""What is said of the cable between machine and bank: what it needs, whose ohms count, and what wins far away."""

from statorbook.protection.part_to_buy import at_least
from statorbook.quantities import say

_SAME = 0.01  # of the ohms: no reader sees a smaller difference


def cable_words(needs):
    """What the cable carries and loses, and the smallest sizes that will do.

    Parameters
    ----------
    needs : CableNeeds
        From `cable_needs`.

    Returns
    -------
    str
        Sentences, each on a line.
    """
    return "\n".join((_amps_words(needs), _own_words(needs), _sold_words(needs)))


def _amps_words(needs):
    run = needs.own.run
    amps, asked = say(needs.amps, "A", figures=2), at_least(needs.asked_amps, "A")
    worst = "(bank empty, machine cold, run away)"
    if run.is_dc:
        return (
            f"{say(run.length_m, 'm')} one way, two wires of DC: up to {amps} DC can flow {worst}. With a quarter on "
            f"top that asks for a fuse of {asked}, and each wire must carry no less."
        )
    return (
        f"{say(run.length_m, 'm')} one way, three wires of AC: up to {amps} rms can flow in each {worst}, so it must "
        f"carry {asked}, a quarter on top."
    )


def _own_words(needs):
    own = needs.own
    warm = say(needs.around_c, "°C", form="g")
    carries = f"Yours, {own.name}, carries {say(own.carries_amps, 'A', figures=2)} as it is laid, at {warm} around it"
    if not own.carries:
        carries += ": that is too thin"
    if not own.drop_percent:
        return f"{carries}. At this setting of the source nothing flows, so no loss can be told."
    return (
        f"{carries}. Charging at this setting it loses {say(own.lost_watts, 'W', figures=2)} and "
        f"{own.drop_percent:.2g} % of the volts that arrive; {own.bank_watts:.0f} W reach the half-full bank."
    )


def _sold_words(needs):
    carries, will_do, wished = needs.least_that_carries, needs.least_that_will_do, needs.own.run.most_drop_percent
    if carries is None:
        return (
            "No size in the table carries that: it takes several runs side by side, which an electrician has to size."
        )
    if will_do is None:
        return (
            f"The smallest size that carries is {carries.name}. None up to {needs.sold[-1].name} loses as little as "
            f"{wished:g} %: see from which distance on another way wins, or wish for less."
        )
    if will_do is carries:
        return f"The smallest size that carries is {carries.name}; it loses no more than {wished:g} %."
    return (
        f"The smallest size that carries is {carries.name}; the smallest that loses no more than {wished:g} % is "
        f"{will_do.name}."
    )


def ohms_words(run, conditions, save_words):
    """Whether the other pages reckon with the ohms of this run.

    Parameters
    ----------
    run : CableRun
        As typed.
    conditions : Conditions
        What all other pages reckon with.
    save_words : str
        Words on the button that saves the run.

    Returns
    -------
    str
        A sentence.
    """
    held = {name: getattr(conditions, name) for name in run.ohms}
    if all(abs(ohm - held[name]) <= _SAME * ohm + 1e-9 for name, ohm in run.ohms.items()):
        return f"All pages reckon with these {_ohm_words(**held)}."
    return (
        f"This run has {_ohm_words(**run.ohms)}, but page 04 reckons with {_ohm_words(**held)}: “{save_words}” puts it "
        "right; then look at the choice on page 04 again."
    )


def _ohm_words(cable_ohm, ac_cable_ohm):
    said = [f"{cable_ohm:.2g} Ω of DC cable"] if cable_ohm or not ac_cable_ohm else []
    return " and ".join([*said, *([f"{ac_cable_ohm:.2g} Ω in each AC wire"] if ac_cable_ohm else [])])


def distance_words(found):
    """From which distance on another way wins.

    Parameters
    ----------
    found : Distances
        From `cable_distances`.

    Returns
    -------
    str
        Sentences.
    """
    said = [_winner_words(way, found.length_m[0]) for way in found.winners]
    if not said:
        ways = "the rectifier at the other end" + (" or a bank of more volts" if len(found.others) > 1 else "")
        return f"Up to {say(found.length_m[-1], 'm', figures=2)} one way, {ways} never gives 1 % more."
    return " ".join(said)


def _winner_words(way, shortest_m):
    near = way.wins_from_m < 2.0 * shortest_m
    where = "at any distance" if near else f"from {say(way.wins_from_m, 'm', figures=2)} one way on"
    if way.bank_volts is None:
        return f"With the {way.words} and the same copper in its wires it gives 1 % more {where}."
    return (
        f"With {way.words} half full and {way.grouping.label} it gives 1 % more {where}; its volts with the bank gone "
        "rise as much as the bank's."
    )


def year_words(found, own, kwh_price):
    """What the cable costs over the year.

    Parameters
    ----------
    found : SizeYears
        From `year.cable_years`.
    own : int
        Place of the cable as it is [-].
    kwh_price : float or None
        What a kilowatt-hour is worth to the reader [in the reader's money].

    Returns
    -------
    str
        A sentence.
    """
    lost, kwh = found.loss_kwh[own], found.kwh[own]
    worth = f", worth {say(lost * kwh_price, '', figures=2)} in your money" if kwh_price else ""
    return f"Over the year {say(lost, 'kWh', figures=2)} are lost in it{worth}; {kwh:.0f} kWh reach the bank."
