"""A change-over in plain sentences: its danger, whether it is worth a contactor, its contacts, and what sticks."""

from math import isnan

from statorbook.cautions import Exposure, Instruction, together
from statorbook.choice import MOST_AMPS_PER_MM2, gone_words, rounded
from statorbook.quantities import say
from statorbook.year.switch_contacts import CATALOGUE_HZ, DEAD_TIME_S
from statorbook.year.switching import WORTH_SHARE

_BUILT = (Exposure.STANDING, Exposure.VOLTS, Exposure.BANK)
_WAIT = (
    "and a control that waits some tens of seconds after each change (common practice, no source), since at the change "
    "the rotor still has its old speed"
)


def switch_words(found, contacts, gain_plus_minus_kwh=0.0):
    """What a pair is judged by: its volts with the bank gone, then its kilowatt-hours, a paragraph each.

    Parameters
    ----------
    found : Switching
        The pair.
    contacts : Contacts
        Of that pair.
    gain_plus_minus_kwh : float
        95 % half-width of the gain that the coil constants leave [kWh].

    Returns
    -------
    str
        Sentences.
    """
    return f"{_danger_words(found, contacts)}\n{verdict_words(found, gain_plus_minus_kwh)}"


def building_words(found, contacts, *, corner_measured=False):
    """What the contacts break and carry, what follows when they stick, and what to see to, a paragraph each.

    Parameters
    ----------
    found : Switching
        The pair.
    contacts : Contacts
        Of that pair.
    corner_measured : bool
        True when the volts across the open corner of its delta are known.

    Returns
    -------
    str or Instruction
        With what building it exposes hands to; one plain sentence where no speeds are stable.
    """
    if not found.is_stable:
        return "No contactor is sized for this pair, since no two set speeds suit it."
    said = _contact_words(found, contacts), _stuck_words(found, contacts)
    return together(*said, _interlock_words(found, contacts, corner_measured), between="\n")


def _danger_words(found, contacts):
    """The volts of its low-speed grouping, what they destroy, and the best single grouping where it makes less."""
    said = (
        f"Judge this pair by {found.pair.low.label}, whatever the switch does: {gone_words(contacts)} "
        f"({contacts.runaway.limit})."
    )
    fixed, less = contacts.fixed_runaway_dc_volts_peak, ""
    if fixed < 0.99 * contacts.runaway.dc_volts_peak:
        less = f"The best single grouping, {found.best_fixed.grouping.label}, makes {fixed:.0f} V DC peak."
    above = "" if contacts.is_accepted else f"That is above the {contacts.accepted_dc_volts:.0f} V DC that you accept."
    return " ".join(filter(None, (said, above, contacts.runaway.device_exceeded, less)))


def verdict_words(found, gain_plus_minus_kwh=0.0):
    """Kilowatt-hours with the switch, the gain, the set speeds, and whether that is worth a contactor.

    Parameters
    ----------
    found : Switching
        The pair.
    gain_plus_minus_kwh : float
        95 % half-width of the gain that the coil constants leave [kWh].

    Returns
    -------
    str
        Sentences.
    """
    alone = f"{found.low.grouping.label} alone gives {found.low.kwh:.0f} kWh a year, {found.high.grouping.label}"
    alone = f"{alone} {found.high.kwh:.0f} kWh."
    single = f"{found.best_fixed.grouping.label}, with {found.best_fixed.kwh:.0f} kWh"
    if not found.is_stable:
        perfect = f"one that always had the better of the two would give {found.perfect_kwh:.0f} kWh a year"
        if not found.could_be_worth_it:
            return f"Not worth a contactor: even {perfect}; the best single grouping is {single}. {alone}"
        return (
            f"Do not build it: {perfect}, but no two set speeds keep it from changing to and fro, since after each "
            f"change the rotor settles where the other grouping is called for. {alone}"
        )
    width = f" ± {rounded(gain_plus_minus_kwh, gain_plus_minus_kwh)}" if gain_plus_minus_kwh else ""
    gain = rounded(abs(found.gain_kwh), gain_plus_minus_kwh) if gain_plus_minus_kwh else f"{abs(found.gain_kwh):.0f}"
    more = "more" if found.gain_kwh >= 0.0 else "less"
    of_what = "; ± from the coil constants alone" if width else ""
    share = f"({abs(found.gain_share):.0%}{of_what})"
    gives = f"{found.kwh:.0f} kWh a year, {gain}{width} kWh {share} {more} than the best single"
    gives = f"{gives} grouping, {single}"
    hot = f"Its coils carry more than {MOST_AMPS_PER_MM2:g} A/mm² for {found.hot_h:.0f} h a year."
    said = (f"{_worth(found, gain_plus_minus_kwh)}: {gives}.", alone, _speed_words(found))
    return " ".join((*said, hot) if found.hot_h >= 1.0 else said)


def is_worth_it(found, gain_plus_minus_kwh=0.0):
    """Whether a gain pays for a contactor and its faults.

    Parameters
    ----------
    found : Switching
        The pair.
    gain_plus_minus_kwh : float
        95 % half-width of the gain [kWh].

    Returns
    -------
    bool
        False below 5 % or below the half-width.
    """
    return found.is_worth_it and found.gain_kwh > gain_plus_minus_kwh


def _worth(found, gain_plus_minus_kwh):
    if is_worth_it(found, gain_plus_minus_kwh):
        return f"May be worth a contactor (at least {WORTH_SHARE:.0%}, a limit of this workbook)"
    if found.is_worth_it:
        return "Not worth a contactor, the gain is within its ±"
    return f"Not worth a contactor, which ought to gain {WORTH_SHARE:.0%} (a limit of this workbook)"


def _speed_words(found):
    band = f"; for {found.either_h:.0f} h a year it may rest in either, and the worse is counted"
    said = f"It changes up above {found.up_rpm:.0f} rpm and back below {found.down_rpm:.0f} rpm{band}."
    if not found.waits:
        return f"{said} A speed switch with these two set speeds is enough."
    return f"{said} It takes two set speeds, each for its own grouping, {_WAIT}."


def _contact_words(found, contacts):
    """What contacts break, close on and carry, and what to ask for when they are bought."""
    pair = found.pair
    often = "" if contacts.electrical_hz <= CATALOGUE_HZ.value else ", more than the 50 or 60 Hz of a catalogue"
    lead = "At" if is_worth_it(found) else "If it is built all the same: at"
    return (
        f"{lead} the change up each contact breaks {_amps(contacts.up_breaks_amps_rms)} and the others close on "
        f"{_amps(contacts.up_makes_amps_rms)}; at the change back {_amps(contacts.down_breaks_amps_rms)} and "
        f"{_amps(contacts.down_makes_amps_rms)}, all AC rms on the machine's side, at up to "
        f"{contacts.electrical_hz:.0f} Hz{often}. Across open contacts stand up to "
        f"{contacts.open_line_volts_rms:.0f} V AC rms then. The most that they can ever carry is "
        f"{_amps(contacts.low_carries_amps_rms)} below and {_amps(contacts.high_carries_amps_rms)} above. Ask for "
        f"contactors of at least {contacts.rated_volts_rms:.0f} V AC{_failed(contacts)}, "
        f"{_amps(contacts.thermal_amps_rms)} in category "
        f"AC-1 and {_amps(contacts.switched_amps_rms)} in AC-3 (IEC 60947-4-1, from memory; a quarter spared), with "
        f"{pair.low_poles} contacts for low speed and {pair.high_poles} for high, and {pair.leads} leads out of the "
        "machine. They change over under load, and always on the AC side: an arc of DC does not go out by itself."
    )


def _failed(contacts):
    return f" (when {contacts.guard_words} fails)" if contacts.rated_volts_rms > contacts.runaway.line_volts_rms else ""


def _stuck_words(found, contacts):
    """What becomes of the machine when it sticks below, above, between, or closes both ways."""
    most = contacts.low_most
    return (
        f"If it sticks below: {found.low.kwh:.0f} kWh a year, and at most {_amps(most.dc_amps)} into the bank, "
        f"{_amps(most.coil_amps_rms)} rms in each coil. If it sticks above: it charges only from "
        f"{contacts.high_cut_in_rpm:.0f} rpm, waits {found.high.idle_h:.0f} h a year for want of volts and gives "
        f"{found.high.kwh:.0f} kWh. If it stops between the two, the bank is gone and the rotor runs away. If both "
        f"close at once the winding is shorted, {_amps(contacts.shorted_coil_amps_rms)} rms in each coil at the "
        "faster set speed and more at the first swing."
    )


def _interlock_words(found, contacts, corner_measured):
    """What a hand has to see to when it is built."""
    dead = DEAD_TIME_S.value
    gains = "how much is not known before the rotor is weighed for the coast-down of page 03"
    if not isnan(contacts.gains_rpm_per_s):
        fast = say(contacts.gains_rpm_per_s * dead, "rpm", figures=2)
        gains = f"at most {fast} by its magnet ring alone, less with all else that turns with it"
    third = ""
    if found.pair.high.connection == "delta" and not corner_measured:
        third = " Measure the open corner of the delta first: a third harmonic there would heat the coils."
    return together(
        Instruction(
            "Interlock the two contactors mechanically and electrically, so that both can never be closed, and leave "
            f"about {dead:g} s between them; in it nothing holds the rotor and it gains speed, {gains}. Without its "
            f"control current it must rest in one of the two, not between.{third}",
            _BUILT,
        ),
        "Such a switch is built and enclosed under the local electrical code, by a licensed person where it asks.",
    )


def _amps(amps):
    return say(amps, "A", figures=2)
