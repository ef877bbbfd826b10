"""What an engine burns over a year, and what of it comes into the bank."""

from dataclasses import dataclass

from statorbook.drives import FUEL_G_PER_KWH, shaft_watts
from statorbook.quantities import Fact, require_number, say, say_pair

PETROL, DIESEL = "petrol", "diesel"
FUEL_BURNT = {
    PETROL: FUEL_G_PER_KWH,
    DIESEL: Fact(
        value=280.0,
        unit="g/kWh",
        source="small diesel engines at their best, heat-engine texts (from memory)",
        low=240.0,
        high=330.0,
    ),
}
FUEL_KG_PER_L = {
    PETROL: Fact(value=0.745, unit="kg/L", source="EN 228 at 15 °C (from memory)", low=0.72, high=0.775),
    DIESEL: Fact(value=0.835, unit="kg/L", source="EN 590 at 15 °C (from memory)", low=0.82, high=0.845),
}
_PART_LOAD = 0.5  # common practice, no source: below half load an engine burns clearly more for each kWh


@dataclass(frozen=True, kw_only=True)
class FuelYear:
    """Fuel of a year with one winding."""

    fuel: str  # one of `FUEL_BURNT`
    kwh: float  # into the bank
    least_l: float  # least that it may burn
    most_l: float  # most that it may burn, part load left out
    load_share: float  # power of the engine over its rated power
    measured: bool  # whether the litres an hour were measured
    price_a_litre: float | None = None  # in the reader's money

    def words(self):
        """What it burns, and what a kWh takes and costs, in a few sentences."""
        burnt, kwh_l = (self.least_l, self.most_l), [litres / self.kwh for litres in (self.least_l, self.most_l)]
        if self.measured:
            told, each = say(burnt[0], "L"), say(kwh_l[0], "L", figures=2)
        else:
            told, each = say_pair(*burnt, "L", form=".0f"), say_pair(*kwh_l, "L", form=".2g")
        said = f"Over the year it burns {told} of {self.fuel}, {each} for each kWh into the bank"
        if self.price_a_litre is not None:
            costs = [f"{self.price_a_litre * litres:.2g}" for litres in kwh_l]
            said += f", which costs {' to '.join(dict.fromkeys(costs))} in your money"
        if self.measured:
            return f"{said}."
        part = self.load_share < _PART_LOAD
        more = f"; at {self.load_share:.0%} of its full load it burns more than that" if part else ""
        return f"{said} (from memory{more})."


def fuel_year(drive, year, fuel=PETROL, *, litres_an_hour=None, price_a_litre=None):
    """What an engine burns in a year with one winding.

    Parameters
    ----------
    drive : Engine
        The engine.
    year : GroupingYear
        Its only setting, with the speed at which both agree.
    fuel : str
        One of `FUEL_BURNT`.
    litres_an_hour : float or None
        Measured at work; taken from the books when None [L/h].
    price_a_litre : float or None
        In the reader's money [-].

    Returns
    -------
    FuelYear or None
        None when nothing comes into the bank.

    Raises
    ------
    BadInput
        When the litres an hour are not above 0.

    Notes
    -----
    Equation: kWh of the engine = hours × shaft power / belt efficiency; litres = kWh × g/kWh / density.
    Valid: an engine near its full load; less load burns more for each kWh.
    Source: see `FUEL_BURNT`, `FUEL_KG_PER_L`.
    """
    if year.kwh <= 0.0:
        return None
    hours = float(year.hours.sum())
    watts = shaft_watts(drive, float(year.speed_rpm[0])) / drive.belt_efficiency
    if litres_an_hour is None:
        grams, density = FUEL_BURNT[fuel], FUEL_KG_PER_L[fuel]
        kilos = [hours * watts / 1000.0 * each / 1000.0 for each in (grams.low, grams.high)]
        least, most = kilos[0] / density.high, kilos[1] / density.low
    else:
        least = most = hours * require_number(litres_an_hour, "fuel an hour", "L/h", above=0, at_most=50)
    return FuelYear(
        fuel=fuel,
        kwh=year.kwh,
        least_l=least,
        most_l=most,
        load_share=watts / drive.rated_watts,
        measured=litres_an_hour is not None,
        price_a_litre=price_a_litre,
    )
