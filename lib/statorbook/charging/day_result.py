"""What simulated days leave behind: minutes, watt-hours by name, moments outside the limits, and what was switched."""

from dataclasses import dataclass

import numpy as np

# Columns of the minutes: what is, what flows [W], and then the share of it that each output is on.
STATES = ("bank_volts", "bus_volts", "bank_amps", "charge", "cell_c", "water_c", "room_c", "setting")
FLOWS = (
    *("source", "stored", "bank_lost", "house", "inverter_lost"),
    *("dump_1", "dump_2", "dump_3", "water_heater", "air_heater"),
    *("spilled", "unserved", "drawn", "cylinder_lost"),
)
TAKEN = FLOWS[1:10]  # what the source's watts are found in again
# Moments and seconds that are kept as they come.
_SIDES = ("above", "below", "forbidden")
TALLIES = (
    *("most_volts", "most_volts_s", "least_volts", "least_volts_s"),
    *(f"{side}_{what}_s" for side in _SIDES for what in ("all", "first", "last", "run", "longest")),
    "forbidden_amps",
    *("hot_litres", "litres", "bus_most_volts"),
)
HOT_C = 40.0  # warm enough to wash with, common practice, no source
TRIPS = ("low volts", "high volts", "too many watts", "an event")


@dataclass(frozen=True, kw_only=True)
class Outside:
    """How long something was outside a limit, and from when."""

    seconds: float
    first_s: float  # since the first midnight; not a number where it never was
    longest_s: float  # without a break

    @property
    def happened(self):
        """Whether it was outside at all."""
        return self.seconds > 0


@dataclass(frozen=True, kw_only=True)
class Days:
    """Days of a charging plan, simulated second by second."""

    days: int
    course: dict  # name of STATES to its mean in each minute
    watts: dict  # name of FLOWS likewise
    on_share: dict  # name of an output to the share of each minute in which it was on
    least_bank_volts: np.ndarray  # in each minute
    most_bank_volts: np.ndarray
    wh: dict  # name of FLOWS to watt-hours over all days
    tallies: dict
    operations: dict  # name of an output to how often it was switched on
    trips: dict  # cause, of TRIPS, to how often the inverter tripped
    start_charge: float
    end_charge: float
    stored_wh: float  # what the bank holds more at the end than at the start, by its rest volts alone
    events: tuple

    @property
    def minutes(self):
        """The minutes since the first midnight at which each mean begins."""
        return np.arange(len(self.least_bank_volts))

    def _outside(self, name):
        seconds, first, longest = (self.tallies[f"{name}_{what}_s"] for what in ("all", "first", "longest"))
        return Outside(seconds=seconds, first_s=first, longest_s=longest)

    @property
    def above(self):
        """Bank above its most volts."""
        return self._outside("above")

    @property
    def below(self):
        """Bank below its least volts."""
        return self._outside("below")

    @property
    def forbidden(self):
        """Bank charged while its cells were too cold or too hot for it."""
        return self._outside("forbidden")

    @property
    def within_limits(self):
        """Whether the bank never left its limits."""
        return not (self.above.happened or self.below.happened or self.forbidden.happened)

    @property
    def highest_bank_volts(self):
        """Highest volts of the bank [V]."""
        return self.tallies["most_volts"]

    @property
    def lowest_bank_volts(self):
        """Lowest volts of the bank [V]."""
        return self.tallies["least_volts"]

    def seconds_on(self, output):
        """Seconds that an output was on [s]."""
        return 60.0 * float(self.on_share[output].sum())

    @property
    def unbalanced_wh(self):
        """What the source gave less all that it is found in again; nothing but rounding [Wh]."""
        return self.wh["source"] - sum(self.wh[name] for name in TAKEN)

    @property
    def hot_litres(self):
        """Water drawn warm enough to wash with [L]."""
        return self.tallies["hot_litres"]
