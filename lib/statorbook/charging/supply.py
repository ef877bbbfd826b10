"""What the source pushes into the bus at each of its settings, from a short to where nothing flows any more."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from statorbook.bank import BankState
from statorbook.operation import settled_at

_BELOW, _WITHIN, _BEYOND = 16, 64, 24  # volts below what the bank can have, within it, and beyond
_SLACK = 0.05  # how far the close grid reaches past the bank's volts, as a share of them
_PAST_OPEN = 1.02  # of the open-circuit volts of the strongest setting, where the table ends
_AWAKE_SHARE = 0.5  # of the bank's lowest volts; a converter's own supply fails below, common practice, no source
_EVERY = 5  # of the volts a converter's watts are worked out at: they hardly hang on the volts behind it


@dataclass(frozen=True, kw_only=True)
class Supply:
    """Amps and speed of a source by its setting and the volts of the bus, straight lines between."""

    volts: np.ndarray  # of the bus, rising from 0, shape (m,)
    settings: np.ndarray  # rising; the first is 0, the source at rest, shape (k,)
    amps: np.ndarray  # into the bus, below 0 where a converter draws, shape (k, m)
    rpm: np.ndarray  # of the shaft, shape (k, m)

    def amps_at(self, setting, volts):
        """Amps into the bus at a setting and bus volts [A]."""
        return supply_at(setting, volts, self.settings, self.volts, self.amps)

    def rpm_at(self, setting, volts):
        """Speed of the shaft at a setting and bus volts [rpm]."""
        return supply_at(setting, volts, self.settings, self.volts, self.rpm)

    @property
    def most_amps(self):
        """The most at any of its settings and volts [A]."""
        return float(self.amps.max())


def supply_at(setting, volts, settings, grid_volts, table):
    """A table of shape (k, m) between its settings and volts, held at its ends; plain scalars, fit for compiling."""
    row = min(max(np.searchsorted(settings, setting) - 1, 0), len(settings) - 2)
    column = min(max(np.searchsorted(grid_volts, volts) - 1, 0), len(grid_volts) - 2)
    down = (setting - settings[row]) / (settings[row + 1] - settings[row])
    along = (volts - grid_volts[column]) / (grid_volts[column + 1] - grid_volts[column])
    down, along = min(max(down, 0.0), 1.0), min(max(along, 0.0), 1.0)
    upper = (1.0 - along) * table[row, column] + along * table[row, column + 1]
    lower = (1.0 - along) * table[row + 1, column] + along * table[row + 1, column + 1]
    return (1.0 - down) * upper + down * lower


def supply_of(plan):
    """The supply of a plan: its machine at every setting of its course, as a Supply worked out once."""
    # The rotor is taken to follow its source and the bus at once, each time as if it came from rest: see
    # `operation.settled_at`. Warm as the plant's conditions say.
    course, plant = plan.course, plan.plant
    return _supply(plant.winding, plant.conditions, plant.bank, course.drives, course.settings)


@lru_cache(maxsize=16)
def _supply(winding, conditions, bank, drives, settings):
    volts = _grid(winding, conditions, bank, drives)
    found = (_through_converter if conditions.converter else _straight)(winding, conditions, bank, drives, volts)
    settings, amps, rpm = np.array(settings, dtype=float), *found
    if settings[0] > 0.0:
        # Between rest and the weakest setting a straight line too, so that an hour that runs in part has its share.
        settings = np.concatenate([[0.0], settings])
        amps = np.vstack([_drawn(conditions.converter, bank, volts), amps])
        rpm = np.vstack([np.zeros_like(volts), rpm])
    for array in (volts, settings, amps, rpm):
        array.setflags(write=False)
    return Supply(volts=volts, settings=settings, amps=amps, rpm=rpm)


def _grid(winding, conditions, bank, drives):
    """Bus volts of the table: close together where a bank holds them, wide beyond."""
    low, high = (1.0 - _SLACK) * bank.lowest_volts, (1.0 + _SLACK) * bank.highest_volts
    rpm = max(max(drive.free_speed_rpm, drive.best_speed_rpm) for drive in drives)
    star = winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    top = max(_PAST_OPEN * np.sqrt(6.0) * star.emf_v_per_rpm * rpm, 1.5 * high)
    below, beyond = np.linspace(0.0, low, _BELOW + 1)[:-1], np.geomspace(high, top, _BEYOND + 1)[1:]
    return np.concatenate([below, np.linspace(low, high, _WITHIN), beyond])


def _settled(winding, conditions, drives, volts):
    states = [BankState(name="bus", volts=float(each), ohm=0.0) for each in volts]
    return settled_at(drives, [winding] * len(states), states, conditions)


def _straight(winding, conditions, bank, drives, volts):
    """Amps and speed with the rectifier straight on the bus, each of shape (k, m)."""
    found = _settled(winding, conditions, drives, volts)
    return found["dc_amps"], found["speed_rpm"]


def _through_converter(winding, conditions, bank, drives, volts):
    """The same through a converter, whose watts lie straight between a few bus volts."""
    awake = _awake_volts(bank)
    few = np.concatenate([[awake], volts[volts > awake][::_EVERY], volts[-1:]])
    found = _settled(winding, conditions, drives, few)
    at = np.maximum(volts, few[0])
    watts, rpm = ([np.interp(at, few, row) for row in found[name]] for name in ("bank_watts", "speed_rpm"))
    return np.array(watts) / at, np.array(rpm)


def _awake_volts(bank):
    return _AWAKE_SHARE * bank.lowest_volts


def _drawn(converter, bank, volts):
    """Amps while the source rests, shape (m,): what a converter draws, at a dead bus as at its lowest volts."""
    return np.zeros_like(volts) if converter is None else -converter.idle_watts / np.maximum(volts, _awake_volts(bank))
