"""What house, inverter, source and bank come to, in sentences."""

from math import isinf

from statorbook.charging.inverter import at_once_words, feed_noun, heater_watts_of, trip_volts_words, trips_words
from statorbook.protection import two_figures
from statorbook.quantities import say

_EVEN_SHARE = 0.02  # of the need; less surplus or want is not told apart


def balance_words(found):
    """What the house takes against what the source brings.

    Parameters
    ----------
    found : Autonomy
        From `autonomy_of`.

    Returns
    -------
    str
        Sentences.
    """
    taken, comes = found.bank_wh_a_day, 24.0 * found.source_mean_watts
    over = comes - taken
    if abs(over) <= _EVEN_SHARE * taken:
        follows = "about as much"
    elif over > 0.0:
        follows = f"{_kwh(over)} a day more, which has to go somewhere once the bank is full"
    else:
        follows = f"{_kwh(-over)} a day less than the house takes, so the bank runs down"
    house = f"The house takes {_kwh(1000.0 * found.day.kwh)} a day at its sockets, {_kwh(taken)} out of the bank."
    return f"{house} The source brings {_kwh(comes)} a day: {follows}. {found.charging_plan.course.words}"


def peak_words(found):
    """What runs at once, and whether the inverter stands it.

    Parameters
    ----------
    found : Autonomy
        From `autonomy_of`.

    Returns
    -------
    str
        Sentences; empty for a house that takes nothing.
    """
    day, inverter = found.day, found.charging_plan.inverter
    if not day.most_watts:
        return ""
    at = int(day.running_watts.argmax())
    start = f"; {_watts(day.most_start_watts)} while things start" if day.most_start_watts > day.most_watts else ""
    said = [f"At most {_watts(day.most_watts)} run at once, at {at // 60} o'clock ({at_once_words(day, at)}){start}."]
    if inverter is not None:
        heater_watts = heater_watts_of(found.charging_plan.cylinder, found.charging_plan.room)
        said += [trips_words(inverter, day, heater_watts), trip_volts_words(inverter, found.charging_plan.points)]
    return " ".join(filter(None, said))


def beyond_words(found):
    """What the inverter carries beyond the source, and for how long.

    Parameters
    ----------
    found : Autonomy
        From `autonomy_of`.

    Returns
    -------
    str
        Sentences; empty where nothing is fed.
    """
    inverter = found.charging_plan.inverter
    if inverter is None:
        return ""
    noun, rated = feed_noun(inverter), _watts(inverter.rated_watts)
    alone, still = (found.hours_at(inverter.rated_watts, with_source=on) for on in (True, False))
    if isinf(alone):
        return f"In the mean the source by itself carries all {rated} that the {noun} can give."
    return (
        f"In the mean the source by itself carries {_watts(found.source_ac_watts)} at the sockets. The {noun} carries "
        f"{_watts(found.beyond_watts)} more out of the full bank, for about {_hours(alone)}; with the source at rest "
        f"its {rated} last {_hours(still)} and draw {_amps(found.most_bank_amps)}."
    )


def days_words(found, days):
    """How long the bank carries the house alone, and the bank that fits.

    Parameters
    ----------
    found : Autonomy
        From `autonomy_of`.
    days : float
        Days to carry with nothing coming [d].

    Returns
    -------
    str
        Sentences; empty for a house that takes nothing.
    """
    if isinf(found.days_alone):
        return ""
    bank, kwh = found.charging_plan.bank, found.fitting_kwh(days)
    times = kwh / bank.capacity_kwh
    fits = "yours is enough" if times <= 1.0 else f"{_plain(times)} times yours"
    amp_hours = two_figures(1000.0 * kwh / bank.half_volts, "Ah")
    return (
        f"With nothing coming the full bank carries the house for {_plain(found.days_alone)} days, "
        f"{100.0 * found.usable_share:.0f} % of it used. {days:g} days take {_kwh(1000.0 * kwh)}, {amp_hours} at "
        f"{say(bank.half_volts, 'V', form='.0f')}: {fits}."
    )


def _kwh(watt_hours):
    return two_figures(watt_hours / 1000.0, "kWh") if watt_hours >= 1000.0 else two_figures(watt_hours, "Wh")


def _watts(watts):
    return two_figures(watts, "W")


def _amps(amps):
    return two_figures(amps, "A")


def _hours(hours):
    return f"{_plain(hours)} h" if hours >= 0.95 else f"{60.0 * hours:.2g} min"


def _plain(value):
    """Two figures, and no power of ten."""
    return f"{value:.1f}" if value < 9.95 else f"{value:.0f}"
