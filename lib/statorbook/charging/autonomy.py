"""How long the bank carries the house, with the source and without, and the bank that fits."""

from dataclasses import dataclass
from math import inf

import numpy as np

from statorbook.charging.house import HouseDay, house_day
from statorbook.charging.inverter import inverter_bank_watts
from statorbook.charging.plan import ChargingPlan
from statorbook.charging.supply import supply_of
from statorbook.quantities import Fact
from statorbook.year import bank_kwh_for

SPARE_SHARE = Fact(
    value=0.15,
    unit="of the bank's capacity, put on top for age and cold",
    source="common practice, no source",
    low=0.0,
    high=0.3,
)
# Peukert's exponent by chemistry: what a bank gives less when it is emptied faster than in its 20 hours.
PEUKERT = {
    "flooded lead-acid": Fact(
        value=1.25, unit="-", source="a battery monitor's manual, 134 of 200 Ah at 50 A (read)", low=1.15, high=1.4
    ),
    "AGM": Fact(value=1.15, unit="-", source="sealed lead-acid (from memory)", low=1.05, high=1.25),
    "gel": Fact(value=1.2, unit="-", source="sealed lead-acid (from memory)", low=1.1, high=1.25),
    "LiFePO4": Fact(value=1.05, unit="-", source="lithium cells (from memory)", low=1.0, high=1.1),
}
_RATED_H = 20.0


@dataclass(frozen=True, kw_only=True)
class Autonomy:
    """A plan's house and bank with its source as it comes and with the source at rest."""

    charging_plan: ChargingPlan
    day: HouseDay
    usable_share: float  # of the bank's capacity

    @property
    def usable_wh(self):
        """From full to the share that is kept, emptied slowly [Wh]."""
        return self.usable_share * 1000.0 * self.charging_plan.bank.capacity_kwh

    @property
    def bank_wh_a_day(self):
        """What the house takes out of the bank, its inverter's losses with it [Wh]."""
        return 24.0 * self._drawn_watts(1000.0 * self.day.kwh / 24.0)

    @property
    def source_watts_by_hour(self):
        """Into the half-full bank in each hour of the course, an array [W]."""
        return source_watts(self.charging_plan)

    @property
    def source_mean_watts(self):
        """Mean of the course [W]."""
        return float(self.source_watts_by_hour.mean())

    @property
    def days_alone(self):
        """Days that the full bank carries the house with the source at rest; infinite without a need [d]."""
        return self.usable_wh / self.bank_wh_a_day if self.bank_wh_a_day else inf

    @property
    def source_ac_watts(self):
        """What the source carries at the sockets by itself, at its mean [W]."""
        inverter = self.charging_plan.inverter
        if inverter is None:
            return max(self.source_mean_watts, 0.0)
        return min(max((self.source_mean_watts - inverter.idle_watts) * inverter.efficiency, 0.0), inverter.rated_watts)

    @property
    def beyond_watts(self):
        """What the inverter carries beyond the source at its mean, at the sockets [W]."""
        return self.charging_plan.inverter.rated_watts - self.source_ac_watts if self.charging_plan.inverter else 0.0

    @property
    def most_bank_amps(self):
        """Out of the half-full bank with all that the inverter gives for hours; 0 where nothing is fed [A]."""
        inverter = self.charging_plan.inverter
        return self._drawn_watts(inverter.rated_watts) / self.charging_plan.bank.half_volts if inverter else 0.0

    def hours_at(self, ac_watts, *, with_source=True):
        """How long the full bank carries watts at the sockets, with the source at its mean or at rest [h]."""
        bank = self.charging_plan.bank
        watts = self._drawn_watts(ac_watts) - (self.source_mean_watts if with_source else 0.0)
        amps = watts / bank.half_volts
        if amps <= 0.0:
            return inf
        share = peukert_share(amps, bank.capacity_ah, PEUKERT[bank.chemistry].value)
        return self.usable_share * share * bank.capacity_ah / amps

    def fitting_kwh(self, days, spare_share=SPARE_SHARE.value):
        """Capacity, full to flat, that carries the house for some days with the source at rest [kWh]."""
        kwh = self.bank_wh_a_day / 1000.0
        return bank_kwh_for(kwh, days, usable_share=self.usable_share, spare_share=spare_share)

    def _drawn_watts(self, ac_watts):
        inverter = self.charging_plan.inverter
        return inverter_bank_watts(inverter, ac_watts) if inverter else ac_watts


def autonomy_of(plan, usable_share=None):
    """What house and bank of a plan come to.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    usable_share : float or None
        Share of the bank's capacity used day by day; usual for its chemistry when None [-].

    Returns
    -------
    Autonomy
        Days and hours that the bank carries, and the bank that fits.

    Notes
    -----
    Equation: days = usable share × capacity / what the house takes in a day; hours at watts = usable share × capacity ×
        Peukert's share / amps at the half-full bank's volts; bank for d days = need × d / usable share × (1 + spare).
    Valid: the source at its mean; a bank as young and warm as its label means; Peukert's share for a steady current.
    Source: the outline of IEEE 1013 (from memory); spare and exponents beside them.
    """
    share = plan.bank.usable_share if usable_share is None else usable_share
    return Autonomy(charging_plan=plan, day=house_day(plan.house), usable_share=share)


def source_watts(plan):
    """What the source of a plan gives into the half-full bank in each hour of its course, an array [W]."""
    supply, volts = supply_of(plan), plan.bank.half_volts
    amps = [np.interp(volts, supply.volts, row) for row in supply.amps]
    return volts * np.interp(plan.course.by_hour, supply.settings, amps)


def peukert_share(amps, capacity_ah, exponent):
    """What of its 20-hour capacity a bank gives at some amps, at most 1 [-]."""
    # (I20 / I)^(n - 1), I20 = C / 20: Peukert's law with the rate at which the capacity was given, a battery monitor's
    # manual (read), for steady amps up to 1 C. The bare t = C / I^n belongs to a capacity at 1 A and is not used.
    return min((capacity_ah / _RATED_H / amps) ** (exponent - 1.0), 1.0)
