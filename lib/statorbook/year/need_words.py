"""What a need and a bank come to, in sentences."""

from math import isfinite

from statorbook.year.bank_hours import enough_kwh
from statorbook.year.need import bank_kwh_for
from statorbook.year.source import MONTHS

_NOTHING_KWH = 0.05  # a month that is short of less is said to carry the need
_LULL_DAYS = 3.0


def months_words(months, need, *, months_known):
    """Need against what comes, month by month.

    Parameters
    ----------
    months : NeedMonths
        The balance of each month.
    need : Need
        What the house takes.
    months_known : bool
        Whether the months of the source differ.

    Returns
    -------
    str
        Sentences.
    """
    asked, come = float(need.bank_kwh.sum()), float(months.come_kwh.sum())
    said = [
        f"{come:.0f} kWh a year come into the bank and {float(months.out_kwh.sum()):.0f} kWh out of it "
        f"again; the house takes {asked:.0f} kWh: "
        f"{need.mean_kwh_a_day:.3g} kWh a day at the sockets, what the inverter loses, and its "
        f"{need.inverter_idle_watts:g} W all day."
    ]
    lean = [MONTHS[month] for month in range(12) if months.short_kwh[month] > _NOTHING_KWH]
    carried = f"{months.every_month_kwh_a_day:.3g} kWh a day"
    if not lean:
        said.append(f"Every month carries it; the leanest carries {carried}.")
    else:
        named = "Every month" if len(lean) == 12 else ", ".join(lean)
        short = float(months.short_kwh.sum())
        said.append(f"Month by month: {named} short, together {short:.0f} kWh; what every month carries is {carried}.")
        said.append(_season_words(months, need))
    if not months_known:
        said.append("Every month was taken alike: a lean season is not in it.")
    return " ".join(filter(None, said))


def _season_words(months, need):
    """Why no bank carries a season."""
    if not isfinite(months.season_kwh):
        return "The whole year brings less than is needed: no bank makes up for that, only less need or more source."
    times = f", {months.season_kwh / need.usable_kwh:.0f} times yours" if need.usable_kwh else ""
    return (
        f"To carry that over from the rich months would take {months.season_kwh:.0f} kWh usable{times}: "
        "a bank carries days, not a season."
    )


def bank_words(found, chosen, need):
    """What banks of several sizes carry over from hour to hour.

    Parameters
    ----------
    found : BankYears
        At `SIZES` of the present bank.
    chosen : BankYears
        The size that is looked at, and twice of it.
    need : Need
        What the house takes, with the size that is looked at.

    Returns
    -------
    str
        Sentences.
    """
    size, short = chosen.usable_kwh[0], chosen.short_kwh
    many = chosen.short_kwh_high[0] - chosen.short_kwh_low[0] > _NOTHING_KWH
    spread = f" ({chosen.short_kwh_low[0]:.0f} to {chosen.short_kwh_high[0]:.0f} in the years drawn)" if many else ""
    enough = enough_kwh(found, found.need_kwh[0])
    return (
        f"Hour by hour, with {size:.3g} kWh usable ({need.days_of_bank:.2g} days of the need): short in "
        f"{chosen.short_hours[0]:.0f} hours, {short[0]:.0f} kWh{spread}, {chosen.spill_kwh[0]:.0f} kWh spilt, "
        f"{chosen.lost_kwh[0]:.0f} kWh lost in the bank. With a bank twice as large {short[1]:.0f} kWh short. "
        f"{_enough_words(enough, found)}"
    )


def _enough_words(enough, found):
    if not isfinite(enough):
        return f"Up to {found.usable_kwh[-1]:.3g} kWh usable a larger bank still helps."
    if enough == found.usable_kwh[0]:
        return f"Even from {enough:.2g} kWh usable on a larger bank hardly helps."
    return f"From {enough:.2g} kWh usable on a larger bank hardly helps."


def lull_words(need, usable_share, bank_volts):
    """The bank for some days with nothing coming.

    Parameters
    ----------
    need : Need
        What the house takes.
    usable_share : float
        What of a bank's capacity is used [-].
    bank_volts : float
        Volts of the bank, half full, DC [V].

    Returns
    -------
    str
        A sentence.
    """
    kwh = bank_kwh_for(float(need.bank_kwh.sum()) / 365.0, _LULL_DAYS, usable_share=usable_share)
    return (
        f"{_LULL_DAYS:.0f} days with nothing coming take a bank of {kwh:.2g} kWh from full to flat, "
        f"{1000.0 * kwh / bank_volts:.0f} Ah at {bank_volts:.0f} V DC."
    )
