"""What the contact of each relay has to make, carry and break, and whether its label says that it does."""

from dataclasses import dataclass, replace
from math import exp, log

from numpy import interp

from statorbook.bench import CONTROL_RELAYS_LOG
from statorbook.charging.control import CLOSED_AT_REST, OUTPUTS, Relay
from statorbook.charging.dump_loads import dump_needs
from statorbook.charging.dump_steps import worst_a_day
from statorbook.charging.heater_elements import MAINS_VOLTS
from statorbook.quantities import Fact, cell_text, rounded_up, say, units_now

FITS, MISFIT, UNKNOWN = "fits", "does not fit", "not known"
DC, AC = "DC", "AC"
FOR_HOURS = Fact(value=1.25, unit="-", source="125 % of a load for hours, NEC 210.20(A) (read)", low=1.25, high=1.5)
SIGNAL_AMPS = Fact(
    value=0.5, unit="A", source="lamp, buzzer or input of an inverter; common practice, no source", low=0.01, high=2.0
)
COIL_AMPS = Fact(
    value=5.0, unit="A", source="magnet or motor of a deflector or brake; common practice, no source", low=1.0, high=20
)
# Amps that a contact labelled for 250 V AC breaks on DC over those of its label, by volts: 14, 30 and 250 V from the
# data sheet of a switch, 110 V from what a maker of devices answers of relays (both read); one of each, so a guide.
_DC_SHARE = ((14.0, 1.0), (30.0, 0.6), (110.0, 0.05), (250.0, 0.025))


@dataclass(frozen=True, kw_only=True)
class ContactNeed:
    """What one contact has to do."""

    output: str  # a name of OUTPUTS, or "guard"
    words: str  # what it switches
    volts: float  # the most across it when it opens
    hours_amps: float  # that flow for hours; 0 where nothing is there to be switched
    make_amps: float  # at the moment of switching on
    current: str = DC
    has_coil: bool = False  # whether it switches a coil, whose arc is longer
    assumed: str = ""  # what of it is assumed

    @property
    def amps(self):
        """What the label has to say at least [A]."""
        return max(FOR_HOURS.value * self.hours_amps, self.make_amps)

    @property
    def said(self):
        """In words for a shop."""
        amps = say(rounded_up(self.amps), "A")
        return f"{amps} at {say(self.volts, 'V', form='.0f')} {self.current}{', a coil' if self.has_coil else ''}"


@dataclass(frozen=True, kw_only=True)
class ContactLabel:
    """What stands on a contact; None where nothing was typed."""

    volts: float | None = None
    amps: float | None = None
    current: str | None = None  # AC or DC

    @property
    def said(self):
        """As it was typed; empty when nothing was."""
        volts, amps = (self.volts and say(self.volts, "V")), (self.amps and say(self.amps, "A"))
        return " ".join(filter(None, (amps, volts, self.current)))


@dataclass(frozen=True, kw_only=True)
class JudgedContact:
    """A contact held against its label."""

    need: ContactNeed
    label: ContactLabel
    verdict: str  # FITS, MISFIT or UNKNOWN
    why: str  # a clause; empty where it fits
    relay: Relay | None = None  # None for the guard's
    worst_a_day: float = 0.0  # operations that the delays of its rules on volts allow

    @property
    def fails_on(self):
        """Whether its load comes on when the controller is dead."""
        return self.relay is not None and self.relay.contact == CLOSED_AT_REST


def typical_dc_amps(ac_amps, dc_volts):
    """What a contact labelled for AC may break on DC: a guide, no label.

    Parameters
    ----------
    ac_amps : float
        On its label, at 250 V AC [A].
    dc_volts : float
        That it has to break, DC [V].

    Returns
    -------
    float
        About so many amps [A].

    Notes
    -----
    Equation: straight lines between logarithms of 14, 30, 110 and 250 V DC with 1, 0.6, 0.05 and 0.025 of the AC amps.
    Valid: small power relays and switches with one gap, without a coil as load; another one may break far less.
    Source: a switch's data sheet and answers of a maker of devices (both read).
    """
    volts, shares = zip(*_DC_SHARE, strict=True)
    if dc_volts > volts[-1]:
        return ac_amps * shares[-1] * (volts[-1] / dc_volts) ** 2  # nobody says: falling fast, to be safe
    return ac_amps * exp(float(interp(log(dc_volts), [log(each) for each in volts], [log(each) for each in shares])))


def contact_needs(plan):
    """What the contacts of a plan's relays, and of its guard, have to do."""
    relays = sorted(plan.rules.relays, key=lambda relay: relay.number)
    needs = [(_need(plan, relay.output), relay) for relay in relays]
    return [*needs, *((need, None) for need in _guards_needs(plan))]


def judged_contacts(plan, labels):
    """Hold every contact of a plan against its label.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    labels : dict of str to ContactLabel
        By output.

    Returns
    -------
    tuple of JudgedContact
        By the number of the relay, the guard's own contactor last.
    """
    nothing = ContactLabel()
    return tuple(
        replace(_judged(need, labels.get(need.output, nothing), relay), worst_a_day=worst_a_day(plan, need.output))
        for need, relay in contact_needs(plan)
    )


def contact_labels(rows):
    """Read the labels in the log of the relays.

    Parameters
    ----------
    rows : sequence of dict
        Raw rows of text.

    Returns
    -------
    dict of str to ContactLabel
        By output.

    Raises
    ------
    BadInput
        When a cell of a label is no number or word that it can be.
    """
    log_of, found = CONTROL_RELAYS_LOG, {}
    names = {name: name for name in OUTPUTS} | {output.words: output.name for output in OUTPUTS.values()}
    for number, row in enumerate(rows, start=1):
        where = f"{log_of.name.replace('_', ' ')} log, row {number}"
        output = names.get(cell_text(row.get("output")).lower())
        if output is None:
            continue  # said beside the row, where the rules are
        numbers = {
            field: log_of.number(row, f"contact_{field}", where).value
            for field in ("volts", "amps")
            if cell_text(row.get(f"contact_{field}"))
        }
        current = log_of.word(row, "contact_current", where, otherwise="") or None
        found[output] = ContactLabel(**numbers, current=current)
    return found


def _need(plan, output):
    """What the contact for an output has to do."""
    about = OUTPUTS[output]
    common = {"output": output, "words": about.words}
    top_volts = dump_needs(plan.plant, plan.points).top_volts
    if about.kind == "dump":
        loads = [dump for dump in plan.dumps if dump.output == output]
        return _load_need(loads, top_volts, **common)
    if about.kind == "heater":
        heated = plan.cylinder if output == "water_heater" else plan.room
        volts = MAINS_VOLTS[units_now()]
        amps = heated.heater_watts / volts if heated else 0.0
        return ContactNeed(
            **common,
            volts=volts,
            hours_amps=amps,
            make_amps=amps,
            current=AC,
            assumed=f"{volts:g} V AC of the inverter",
        )
    coil = about.kind == "source"
    amps = (COIL_AMPS if coil else SIGNAL_AMPS).value
    return ContactNeed(
        **common, volts=top_volts, hours_amps=amps, make_amps=amps, has_coil=coil, assumed=f"{say(amps, 'A')}"
    )


def _guards_needs(plan):
    """Its own contactors break all dump loads at once, and the inverter's lead, whatever the controller does."""
    if plan.guard is None:
        return
    top_volts = dump_needs(plan.plant, plan.points).top_volts
    if plan.dumps:
        yield _load_need(plan.dumps, top_volts, output="guard", words="all dump loads")
    if plan.inverter is not None:
        watts = (plan.inverter.rated_watts, plan.inverter.surge_watts)
        hours, starts = (each / plan.inverter.efficiency / plan.guard.low_off_volts for each in watts)
        given = {"output": "guard", "words": "the inverter's lead", "volts": top_volts}
        yield ContactNeed(**given, hours_amps=hours, make_amps=starts)


def _load_need(loads, volts, **common):
    hot, cold = (
        (sum(volts / ohm for ohm in ohms) for ohms in zip(*((d.ohm, d.cold_ohm) for d in loads), strict=True))
        if (loads)
        else (0.0, 0.0)
    )
    return ContactNeed(**common, volts=volts, hours_amps=hot, make_amps=cold)


def _judged(need, label, relay):
    if relay is None:
        why = "to be bought with this on its label"
        return JudgedContact(need=need, label=label, verdict=UNKNOWN, why=why)
    missing = [name for name in ("volts", "amps", "current") if getattr(label, name) is None]
    if need.amps == 0.0:
        verdict, why = UNKNOWN, "there is nothing on it in this job"
    elif missing:
        said = " and ".join(_MISSING[name] for name in missing)
        verdict, why = UNKNOWN, "" if len(missing) == len(_MISSING) else f"{said} not typed"
    elif label.current != need.current:
        verdict, why = _other_current(need, label)
    else:
        short = [
            f"{say(has, unit)} is less than {say(rounded_up(asked), unit)}"
            for has, asked, unit in ((label.volts, need.volts, "V"), (label.amps, need.amps, "A"))
            if has < asked
        ]
        verdict, why = (MISFIT, "; ".join(short)) if short else (FITS, "")
    return JudgedContact(need=need, label=label, verdict=verdict, why=why, relay=relay)


_MISSING = {"volts": "volts", "amps": "amps", "current": "AC or DC"}


def _other_current(need, label):
    """An AC label on DC says nothing, and mostly it is far too much; a DC label on AC says too little."""
    if need.current == AC:
        return UNKNOWN, "its label is for DC: ask for the AC one"
    guide = typical_dc_amps(label.amps, need.volts)
    verdict = UNKNOWN if guide >= 2.0 * need.amps else MISFIT
    volts = say(need.volts, "V", form=".0f")
    breaks = say(guide, "A", figures=2)
    return verdict, f"AC on a label says nothing of DC; such a contact breaks about {breaks} at {volts}"
