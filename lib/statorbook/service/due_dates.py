"""When the bearings are due: looks and renewals by hours and by calendar, what a look means, and life at best."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, isnan

from statorbook.cautions import Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.quantities import Fact, day_of, say
from statorbook.service.rows import read_service

HOT_K = Fact(value=40.0, unit="K above the air", low=25, high=50, source="ball bearing, common practice, no source")
WARM_K = Fact(value=25.0, unit="K above the air", low=15, high=35, source="ball bearing, common practice, no source")
STOP = "stop"


@dataclass(frozen=True, kw_only=True)
class Due:
    """Something to do to the machine."""

    words: Instruction
    on_date: date  # at the latest
    overdue_days: int  # 0 or less when it is still to come


@dataclass(frozen=True, kw_only=True)
class Finding:
    """What one look at the bearings means."""

    urgency: str  # "stop", "soon" or "fine"
    words: Instruction
    passes: bool = False  # it may be gone at the next look; the rest only new bearings clear


def findings(reading):
    """What a row of the service log means.

    Parameters
    ----------
    reading : ServiceReading
        A usable row.

    Returns
    -------
    tuple of Finding
        One for each thing that was looked at, the worst first.

    Notes
    -----
    Equation: rise = bearing − air.
    Valid: ball bearings with grease, warm from a long run.
    Source: common practice, no source.
    """
    rise = reading.bearing_c - reading.room_c
    found = [_SAID.get((name, getattr(reading, name))) for name in ("noise", "play", "water") if getattr(reading, name)]
    if not isnan(rise):
        found.append(_warmth(rise))
    order = (STOP, "soon", "fine")
    return tuple(sorted(found, key=lambda finding: order.index(finding.urgency)))


# Bearings are looked at and renewed at rest: a rotor that can turn, magnets that pull the ring, a bank that is on.
_HANDS_IN = (Exposure.STANDING, Exposure.BANK, Exposure.MAGNETS)
_FINE = {"harmless": "nothing to do"}
_SAID = {
    ("noise", "quiet"): Finding(urgency="fine", words=Instruction("It runs quietly.", **_FINE)),
    ("noise", "hum"): Finding(
        urgency="soon",
        words=Instruction(
            "A hum: stop it, take the bank off and turn it slowly by hand; if it feels rough, renew it soon.",
            (Exposure.BANK, Exposure.MAGNETS, Exposure.VOLTS),
        ),
    ),
    ("noise", "grind"): Finding(
        urgency=STOP, words=Instruction("It grinds: stop and renew both bearings before it runs again.", _HANDS_IN)
    ),
    ("play", "none"): Finding(urgency="fine", words=Instruction("No play.", **_FINE)),
    ("play", "slight"): Finding(
        urgency="soon", words=Instruction("Slight play: see that the ring clears the teeth all round.", _HANDS_IN)
    ),
    ("play", "clear"): Finding(
        urgency=STOP,
        words=Instruction("Clear play: stop; the magnets can touch the teeth. Renew both bearings.", _HANDS_IN),
    ),
    ("water", "none"): Finding(urgency="fine", words=Instruction("Dry.", **_FINE)),
    ("water", "damp outside"): Finding(
        urgency="soon", words=Instruction("Damp outside: mend slinger, seal or drain.", (*_HANDS_IN, Exposure.WATER))
    ),
    ("water", "inside"): Finding(
        urgency=STOP,
        words=Instruction(
            "Water inside: stop, dry it, measure the insulation, renew the bearings, find the leak.",
            (*_HANDS_IN, Exposure.HEAT, Exposure.TESTER, Exposure.WATER),
        ),
    ),
}
_LOOK = Instruction("Look at the bearings: play, noise, warmth, water.", (Exposure.TURNING, *_HANDS_IN))
_RENEW = Instruction("Renew both bearings.", _HANDS_IN)


def _warmth(rise):
    said = f"{say(rise, 'K', form='.0f')} warmer than the air"
    if rise > HOT_K.value:
        words = Instruction(
            f"{said}, more than {say(HOT_K.value, 'K', form='g')}: stop and find out why.", (*_HANDS_IN, Exposure.HEAT)
        )
        return Finding(urgency=STOP, words=words, passes=True)
    if rise > WARM_K.value:
        words = Instruction(f"{said}: too tight, too much grease, or worn; look again in a day.", _HANDS_IN)
        return Finding(urgency="soon", words=words)
    return Finding(urgency="fine", words=Instruction(f"{said}: as it should be.", **_FINE))


def hours_on(part, readings, today):
    """Hours run by a day: the last read by then, or none on the first day, and the hours a day since [h]."""
    read = [row for row in readings if row.usable and not isnan(row.run_hours) and row.day <= today]
    if read:
        last = max(read, key=lambda row: row.day)
        return last.run_hours + part.hours_per_day * (today - last.day).days
    return part.hours_per_day * max(0, (today - day_of(part.installed_on)).days)


def due_items(job, today):
    """What is to be done to the bearings, and by when.

    Parameters
    ----------
    job : Job
        With a service part and perhaps a service log.
    today : date
        The day that overdue is counted from.

    Returns
    -------
    tuple of Due
        The next look and the next renewal, soonest first; empty when the job has no service part yet.

    Raises
    ------
    BadInput
        When the first day at work is not typed, or the service log is damaged.
    """
    part = job.service
    if part is None:
        return ()
    first = day_of(part.installed_on)
    if first is None:
        raise BadInput(
            "the first day at work was not given",
            "dates are never guessed",
            "type the day it first ran on page 08_first_run",
            where="service",
        )
    rows = read_service(job.read_log("service"))
    # A day still to come is a slip of the pen and must not put the next look off.
    usable = sorted((row for row in rows if row.usable and row.day <= today), key=lambda row: row.day)
    looked = [row for row in usable if row.play or row.noise or row.water or not isnan(row.bearing_c)]
    last = looked[-1].day if looked else first
    renewed = day_of(part.renewed_on) or first
    look = _next(part, usable, last, hours_on(part, usable, last), part.look_hours, part.look_days)
    since = part.renewed_at_hours if part.renewed_on else 0.0
    renew = _next(part, usable, renewed, since, part.renew_hours, part.renew_days)
    items = [
        _due(_LOOK, look, today),
        _due(_RENEW, renew, today),
        *(_due(words, day, today) for words, day in _urgent(looked, renewed).items()),
    ]
    return tuple(sorted(items, key=lambda item: item.on_date))


def _urgent(looked, renewed):
    """What stops the machine, with the day it was first seen; only new bearings clear it, warmth alone may pass."""
    found = {}
    for reading in looked:
        for finding in findings(reading) if reading.day >= renewed else ():
            gone = finding.passes and reading is not looked[-1]
            if finding.urgency == STOP and not gone:
                found.setdefault(finding.words, reading.day)
    return found


def _due(words, day, today):
    return Due(words=words, on_date=day, overdue_days=(today - day).days)


def _next(part, readings, day, hours, more_hours, more_days):
    """By hours or by calendar, whichever is first; hours read later than that day count as they were read."""
    wanted = hours + more_hours
    by_calendar = day + timedelta(days=ceil(more_days))
    known = [(row.day, row.run_hours) for row in readings if not isnan(row.run_hours) and row.day >= day]
    if reached := [then for then, read_hours in known if read_hours >= wanted]:
        return min(by_calendar, reached[0])
    from_day, from_hours = known[-1] if known else (day, hours)
    by_hours = from_day + timedelta(days=ceil((wanted - from_hours) / part.hours_per_day))
    return min(by_calendar, by_hours)
