"""What a house needs against what comes, by month: shortfall, spill, and the daily need that every month carries."""

from dataclasses import dataclass, field

import numpy as np

from statorbook.drives import PipedJet, WaterJet, WindRotor
from statorbook.quantities import INVERTER_EFFICIENCY, INVERTER_IDLE_WATTS, require_number
from statorbook.year.household import hourly_watts
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS

_DAYS = MONTH_HOURS / 24.0
# Kind of drive -> mean over most watts in a usual year, least and most, and what to look at when it is outside.
# Trade page: hydro above 50 %, large wind about 30 % (read); the bands of small plants are this workbook's judgement:
# a rotor that furls early has few watts at most, and so a high share.
_USUAL_SHARES = (
    (WindRotor, 0.05, 0.45, "a small wind rotor", "the mean wind, its height, and the furling"),
    ((WaterJet, PipedJet), 0.30, 0.95, "a stream", "the flows of the dry months and the nozzles"),
)


@dataclass(frozen=True, kw_only=True)
class Need:
    """What a house takes from the bank.

    Parameters
    ----------
    kwh_a_day : ndarray
        At the house's sockets, each month, shape (12,) [kWh a day].
    round_trip_share : float
        What of the energy put into the bank comes out again [-].
    usable_kwh : float
        What of the bank's capacity is used day by day [kWh].
    inverter_efficiency : float
        AC watts over DC watts, the idle watts left out; 1 where the house runs on DC [-].
    inverter_idle_watts : float
        What the inverter takes all day with nothing plugged in; 0 where there is none [W].
    assumed : tuple of str
        What of it was assumed, in words.

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    kwh_a_day: np.ndarray
    round_trip_share: float
    usable_kwh: float
    inverter_efficiency: float = INVERTER_EFFICIENCY.value
    inverter_idle_watts: float = INVERTER_IDLE_WATTS.value
    assumed: tuple = field(default=())

    def __post_init__(self):
        for kwh in self.kwh_a_day:
            require_number(kwh, "need", "kWh a day", at_least=0, at_most=1000)
        require_number(self.usable_kwh, "usable capacity of the bank", "kWh", at_least=0)
        for share, name in (
            (self.round_trip_share, "energy out of the bank over energy in"),
            (self.inverter_efficiency, "inverter efficiency"),
        ):
            require_number(share, name, "", above=0, at_most=1)
        require_number(self.inverter_idle_watts, "idle watts of the inverter", "W", at_least=0, at_most=5000)

    @property
    def bank_kwh(self):
        """What it takes out of the bank, each month, shape (12,) [kWh]."""
        return self.kwh_a_day * _DAYS / self.inverter_efficiency + self.inverter_idle_watts * MONTH_HOURS / 1000.0

    @property
    def mean_kwh_a_day(self):
        """Mean of the year, at the sockets [kWh a day]."""
        return float(self.kwh_a_day @ _DAYS) / 365.0

    @property
    def hourly_bank_watts(self):
        """What it takes out of the bank, each hour of the year, shape (8760,) [W]."""
        return hourly_watts(self.kwh_a_day) / self.inverter_efficiency + self.inverter_idle_watts

    @property
    def days_of_bank(self):
        """How many mean days the usable part of the bank carries with nothing coming; infinite without a need [-]."""
        a_day = float(self.bank_kwh.sum()) / 365.0
        return self.usable_kwh / a_day if a_day else float("inf")


@dataclass(frozen=True, kw_only=True)
class NeedMonths:
    """Need and what comes, month by month, every array of shape (12,)."""

    come_kwh: np.ndarray  # into the bank
    out_kwh: np.ndarray  # out of the bank again, if all of it was taken
    taken_kwh: np.ndarray  # out of the bank for the house, inverter included
    lost_kwh: np.ndarray  # in the bank, of what was taken
    short_kwh: np.ndarray  # at the bank
    spill_kwh: np.ndarray  # more than the bank can pass on within the month
    carried_kwh_a_day: np.ndarray  # most that the month carries, at the sockets

    @property
    def every_month_kwh_a_day(self):
        """The need that every month carries, at the sockets [kWh a day]."""
        return float(self.carried_kwh_a_day.min())

    @property
    def season_kwh(self):
        """Bank that carries the year over its lean months; infinite when the whole year is short [kWh]."""
        return season_kwh(self.out_kwh - self.taken_kwh - self.short_kwh)


def need_months(come_kwh, need):
    """Need against what comes, each month by itself.

    Parameters
    ----------
    come_kwh : ndarray
        Into the bank, shape (12,), such as `GroupingYear.kwh_by_month` [kWh].
    need : Need
        What the house takes.

    Returns
    -------
    NeedMonths
        The balance of each month.

    Notes
    -----
    Equation: come × round trip = taken, or the rest is short; come = taken + lost + spill.
    Valid: a bank that evens out every month by itself and carries nothing over; all of it passes through the bank,
        which errs to the safe side, since what is used while it comes is not lost there.
    Source: definition.
    """
    out = come_kwh * need.round_trip_share
    wanted = need.bank_kwh
    taken = np.minimum(out, wanted)
    idle_kwh_a_day = need.inverter_idle_watts * 24.0 / 1000.0
    return NeedMonths(
        come_kwh=come_kwh,
        out_kwh=out,
        taken_kwh=taken,
        lost_kwh=taken * (1.0 / need.round_trip_share - 1.0),
        short_kwh=wanted - taken,
        spill_kwh=(out - taken) / need.round_trip_share,
        carried_kwh_a_day=np.maximum(out / _DAYS - idle_kwh_a_day, 0.0) * need.inverter_efficiency,
    )


def season_kwh(surplus_kwh):
    """The largest store that lean months ask for, filled in rich ones; infinite when the whole year is short [kWh]."""
    # The deepest fall of the sum of surpluses from any earlier height, two years in a row: the mass curve of a
    # reservoir, Rippl 1883 (from memory); B. R. Gupta, Generation of Electrical Energy, ex. 8.2.
    if surplus_kwh.sum() < -1e-9 * np.abs(surplus_kwh).sum():
        return float("inf")
    level = np.concatenate([[0.0], np.cumsum(np.tile(surplus_kwh, 2))])
    return float((np.maximum.accumulate(level) - level).max())


def share_of_peak(kwh, peak_watts, hours=HOURS_A_YEAR):
    """Mean power over the highest: load factor of a house, capacity factor of a plant; 0 for a peak of 0 [-]."""
    # Definition; Theraja, A Textbook of Electrical Technology III, ex. 50.4 and 50.21.
    return 1000.0 * kwh / (peak_watts * hours) if peak_watts > 0.0 else 0.0


def capacity_caution(source, year):
    """Say when a year is far from what such a source usually gives.

    Parameters
    ----------
    source : SourceYear
        The year.
    year : GroupingYear
        What a winding makes of it.

    Returns
    -------
    str
        A sentence, or an empty text.

    Notes
    -----
    Equation: `share_of_peak` with the most watts that it has for any time.
    Valid: a hint, no limit.
    Source: see the bands beside it.
    """
    there = year.hours.sum(axis=0) > 0.0
    share = share_of_peak(year.kwh, float(year.bank_watts[there].max(initial=0.0)))
    for kind, least, most, noun, look_at in _USUAL_SHARES:
        if share and isinstance(source.drives[0], kind) and not least <= share <= most:
            return (
                f"Its mean is {share:.0%} of its most watts; {noun} usually has {least:.0%} to {most:.0%}: "
                f"look at {look_at} again."
            )
    return ""


def bank_kwh_for(kwh_a_day, days, *, usable_share, out_share=1.0, spare_share=0.0):
    """Capacity of a bank that carries a need for some days with nothing coming.

    Parameters
    ----------
    kwh_a_day : float
        The need [kWh a day].
    days : float
        How many days [d].
    usable_share : float
        Share of the capacity that may be used, above 0 [-].
    out_share : float
        What of it reaches the need, above 0 [-].
    spare_share : float
        What is put on top for age and cold [-].

    Returns
    -------
    float
        From full to flat [kWh].

    Notes
    -----
    Equation: need × days / (usable share × what reaches it) × (1 + spare).
    Valid: slow discharge; cold lead-acid gives less.
    Source: Maini & Agrawal, Satellite Communications, ex. 4.6; the outline of IEEE 1013 (from memory).
    """
    return kwh_a_day * days / (usable_share * out_share) * (1.0 + spare_share)
