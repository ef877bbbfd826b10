"""What happens if a diode, a lead or a joint of the winding fails: the faulted bridge solved, at work and at worst."""

from math import inf

from statorbook.protection.faulted_plant import FAULTS, LEAD_OFF, ONE_OPEN, ONE_SHORTED, PHASE_OFF, faulted_plants
from statorbook.protection.heat_at_work import heat_of, held_warming, two_figures
from statorbook.protection.mishap import Mishap, amps_said, until_too_hot, whole_volts

_UNSEEN = "it goes on until somebody reads the ammeter"


def diode_open(plant):
    """One diode conducts no longer."""
    found = _of(plant, ONE_OPEN)
    # Of all diodes the one beside it stands against the most: its lead follows its EMF up.
    reverse = whole_volts(found.working.reverse_volts_peak)
    return Mishap(
        name="one diode is open",
        then=f"the bank gets {_less(plant, found)} and the torque pulses. The diode beside the open one now stands "
        f"against the volts between leads in place of the bank's: up to {reverse} at work.",
        volts=found.most("reverse_volts_peak"),
        volts_where="reverse over the diode beside it, peak, at the worst",
        amps=found.working.dc_amps,
        amps_where="DC into the bank at work",
        seconds=inf,
        until=_UNSEEN,
        hurt="the diode beside it, if it stands less; bearings and glue by the pulses",
        guard="diodes rated for the runaway, not for the bank; an ammeter that somebody reads",
    )


def diode_shorted(plant):
    """One diode conducts both ways."""
    found, heat = _of(plant, ONE_SHORTED), heat_of(plant)
    warming = held_warming(plant, found.most("phase_amps_rms") / plant.grouping.parallel)
    start, limit = min(heat.at_work.settles_c, heat.limit_c), heat.limit_c
    seconds = inf if warming.settles_c <= limit else warming.seconds(start, limit)
    amps, rpm = amps_said(found.working.lead_amps_rms), two_figures(found.working.speed_rpm, "rpm")
    return Mishap(
        name="one diode is shorted",
        then=f"the other two of its rail close a short circuit through the winding: {amps} rms in a lead in place "
        f"of {amps_said(plant.working.phase_amps_rms)}, the bank gets {_less(plant, found)}, and the rotor goes to "
        f"{rpm}. Even at rest the bank's volts stand on the leads.",
        volts=plant.bank.highest_volts,
        volts_where="DC on the leads, at rest too",
        amps=found.most("lead_amps_rms"),
        amps_where="rms in a lead, at the worst",
        seconds=seconds,
        until=until_too_hot(seconds, limit),
        hurt="the winding; then a second diode, and with it the bank is shorted",
        guard="no fuse sees it, since the bank's amps fall: an ammeter, a thermal switch in the winding; for the "
        "second diode the bank's fuse",
    )


def lead_off(plant):
    """One lead has come off the bridge."""
    found = _of(plant, LEAD_OFF)
    rpm = two_figures(found.working.speed_rpm, "rpm")
    return Mishap(
        name="one lead is off",
        then=f"the other two go on alone: the bank gets {_less(plant, found)}, in pulses, and the rotor runs at "
        f"{rpm}. A joint that fails burns first, for its current is broken in an arc.",
        volts=found.most("loose_volts_peak"),
        volts_where="peak, from the loose end to the other leads, at the worst",
        amps=found.most("lead_amps_rms"),
        amps_where="rms in the other two, at the worst",
        seconds=inf,
        until=_UNSEEN,
        hurt="whoever touches the loose end; the terminal and what burns beside it",
        guard="crimped lugs, bolted and held; leads closed in, nothing that burns beside them",
    )


def phase_off(plant):
    """A phase has come off the star point, or off a corner of the delta."""
    found, star = _of(plant, PHASE_OFF), plant.grouping.connection == "star"
    where = "the star point is loose" if star else "a corner of the delta is loose"
    rest = "two phases go on in series" if star else "two phases go on side by side, unlike"
    all_off = (
        " If all three part, no current flows at all: the rotor runs away, and no guard behind the leads can hold it."
        if star
        else ""
    )
    return Mishap(
        name=where,
        then=f"one phase is off and {rest}: the bank gets {_less(plant, found)}.{all_off}",
        volts=found.most("loose_volts_peak"),
        volts_where="peak over the gap, at the worst",
        amps=found.most("phase_amps_rms") / plant.grouping.parallel,
        amps_where="rms in a coil of the others, at the worst",
        seconds=inf,
        until=_UNSEEN,
        hurt="the joint and the coils beside it, by its arc",
        guard="brazed or crimped joints, tied down; ohms between all pairs of leads alike, checked each year",
    )


def _of(plant, fault):
    return faulted_plants(plant)[FAULTS.index(fault)]


def _less(plant, found):
    """What the bank gets, in words, against what it got."""
    if not plant.working.charges:
        return "nothing, as before"
    return f"{two_figures(found.working.dc_amps, 'A')} in place of {two_figures(plant.working.dc_amps, 'A')}"
