"""The year of an engine: its run hours, and what its fuel is and costs."""

from typing import Literal

from statorbook.cautions import Exposure
from statorbook.job.parts.fields import labelled
from statorbook.job.parts.year.kind import YearKind

WHOLE_YEAR, BY_MONTH = "run hours a year", "run hours of each month"
_FUEL = ("engine_fuel", "engine_fuel_l_h", "engine_fuel_price")


class EngineYearFields:
    """How long the engine runs, and on what."""

    engine_year_from: Literal[WHOLE_YEAR, BY_MONTH] = labelled(
        "Running over the year", "", "All hours of the year together, or those of each month.", default=WHOLE_YEAR
    )
    engine_hours_a_year: float | None = labelled(
        "Run hours a year",
        "h",
        "With the generator charging.",
        default=None,
        gt=0,
        le=8760,
        next_step="type the hours that it runs in a whole year, at most 8760",
    )
    engine_fuel: Literal["petrol", "diesel"] = labelled("Fuel", "", "What the engine burns.", default="petrol")
    engine_fuel_l_h: float | None = labelled(
        "Fuel an hour",
        "L",
        "Measured: fill the tank, charge for an hour, let the engine cool, and see how much fills the tank again. "
        "Empty: from the books.",
        default=None,
        gt=0,
        le=50,
        next_step="measure it again over a longer run",
        exposes=(Exposure.ENGINE,),
    )
    engine_fuel_price: float | None = labelled(
        "Price of a litre of fuel",
        "-",
        "In your money; empty when you do not want to know.",
        default=None,
        ge=0,
        le=1_000_000,
        next_step="type the price of one litre",
    )


class EngineYear(YearKind):
    """An engine over the year."""

    drive, fields = "engine", EngineYearFields

    def asks(self, given):
        """Run hours where there is no log, and the fuel."""
        return ("engine_year_from", *(() if self.log(given) else ("engine_hours_a_year",)), *_FUEL)

    def first(self, given):
        """The run hours."""
        return tuple(name for name in self.asks(given) if name not in _FUEL)

    def log(self, given):
        """The run hours of each month."""
        return "engine_months" if given.get("engine_year_from") == BY_MONTH else ""

    def missing(self, given):
        """The run hours of the year."""
        return () if self.log(given) else ("engine_hours_a_year",)
