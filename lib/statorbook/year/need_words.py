"""What a need and a bank come to, in sentences."""

from math import isfinite

from statorbook.year.bank_hours import enough_kwh
from statorbook.year.months import listed
from statorbook.year.need import bank_kwh_for
from statorbook.year.source import MONTHS

_NOTHING_KWH = 0.05  # a month that is short of less is said to carry the need
_A_FEW = 5.0  # times the bank that is there, which a house may still buy
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
    come, out, asked = (float(kwh.sum()) for kwh in (months.come_kwh, months.out_kwh, need.bank_kwh))
    said = [
        f"{_kwh(come)} a year come into the bank and {_kwh(out)} out of it again; the house takes {_kwh(asked)}: "
        f"{listed(list(_taken_by(need)))}."
    ]
    lean = [MONTHS[month] for month in range(12) if months.short_kwh[month] > _NOTHING_KWH]
    carried = f"{months.every_month_kwh_a_day:.3g} kWh a day"
    if not lean:
        said.append(f"Every month carries it; the leanest carries {carried}.")
    else:
        named = "every month" if len(lean) == 12 else ", ".join(lean)
        short = _kwh(float(months.short_kwh.sum()))
        said.append(
            f"Month by month, all through the bank, short in {named}, together {short}; "
            f"what every month carries is {carried}."
        )
        said.append(_season_words(months, need, come, asked))
    if not months_known:
        said.append("Every month was taken alike: a lean season is not in it.")
    return " ".join(said)


def _taken_by(need):
    """What takes it, in words."""
    yield f"{need.mean_kwh_a_day:.3g} kWh a day at the sockets"
    if need.inverter_efficiency < 1.0:
        yield "what the inverter loses"
    if need.inverter_idle_watts:
        yield f"its {need.inverter_idle_watts:g} W all day"


def _season_words(months, need, come, asked):
    """Why no bank carries a season."""
    if come < asked:
        return "The whole year brings less than is needed: no bank makes up for that, only less need or more source."
    if not isfinite(months.season_kwh):
        return (
            "The whole year is only just enough: taken through the bank it falls short, used while it comes it need "
            "not, so let what can wait run while it comes."
        )
    times = months.season_kwh / need.usable_kwh if need.usable_kwh else float("inf")
    said = f"To carry that over from the rich months would take {_kwh(months.season_kwh)} usable"
    if times < _A_FEW:
        return f"{said}, {times:.1f} times yours."
    yours = f", {times:.0f} times yours" if isfinite(times) else ""
    return f"{said}{yours}: a bank carries days, not a season."


def _kwh(value):
    return f"{value:.0f} kWh" if abs(value) >= 10.0 else f"{value:.2g} kWh"


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
    spilt, lost = (_kwh(float(kwh[0])) for kwh in (chosen.spill_kwh, chosen.lost_kwh))
    return (
        f"Hour by hour, with {size:.3g} kWh usable ({need.days_of_bank:.1f} days of the need): short in "
        f"{chosen.short_hours[0]:.0f} hours, {_kwh(short[0])}{spread}; {spilt} spilt, {lost} lost in the bank. With a "
        f"bank twice as large {_kwh(short[1])} short. {_enough_words(enough_kwh(found, found.need_kwh[0]), found)}"
    )


def _enough_words(enough, found):
    if not isfinite(enough):
        return f"Up to {found.usable_kwh[-1]:.3g} kWh usable a larger bank still helps."
    even = "Even from" if enough == found.usable_kwh[0] else "From"
    return f"{even} {enough:.2g} kWh usable on a larger bank hardly helps."


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
