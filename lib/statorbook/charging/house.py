"""What the house takes hour by hour: its appliances as typed, and the watts of a day."""

from dataclasses import dataclass

import numpy as np

from statorbook.bench import HOUSE_LOADS_LOG, Reading, read_rows, require_usable
from statorbook.charging.plan import HouseLoad
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything

_HOURS, _MINUTES = 24, 60
_USUAL_HOURS = 5  # of an evening with lamps
# Invented appliances of an invented house.
_USUAL = (
    HouseLoad(name="fridge", watts=90.0, surge_watts=500.0, from_hour=0, to_hour=24, minutes=20.0),
    HouseLoad(name="kettle", watts=1500.0, surge_watts=1500.0, from_hour=7, to_hour=8, minutes=6.0),
    HouseLoad(name="pump", watts=400.0, surge_watts=1200.0, from_hour=9, to_hour=10, minutes=15.0),
    HouseLoad(name="lamps and screens", watts=60.0, surge_watts=60.0, from_hour=18, to_hour=23, minutes=60.0),
)


@dataclass(frozen=True, kw_only=True)
class HouseReading(Reading):
    """A row of the house loads, judged."""

    load: HouseLoad | None = None


@dataclass(frozen=True, kw_only=True)
class HouseDay:
    """A house over one day, at its sockets."""

    watts: np.ndarray  # mean of each minute, shape (1440,)
    running_watts: np.ndarray  # of all that runs at any moment of it, shape (1440,)
    start_watts: np.ndarray  # the same while what begins in it starts, shape (1440,)
    house: tuple  # of HouseLoad

    @property
    def kwh(self):
        """Of the whole day [kWh]."""
        return float(self.watts.sum()) / 60_000.0

    @property
    def most_watts(self):
        """The most that runs at once [W]."""
        return float(self.running_watts.max())

    @property
    def most_start_watts(self):
        """The most while something starts [W]."""
        return float(self.start_watts.max())

    def names_at(self, minute):
        """Names of what runs in a minute of the day, the largest first."""
        there = [load for load in self.house if _shares(load)[minute] > 0.0 and load.watts > 0.0]
        return tuple(load.name for load in sorted(there, key=lambda load: -load.watts))


def read_house_loads(rows):
    """Read the log of what the house takes.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of HouseReading
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_rows(HOUSE_LOADS_LOG, HouseReading, rows, _numbers) if holds_anything(rows) else ()


def house_from_rows(rows):
    """The appliances of a log.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of HouseLoad
        One for each row; empty for an empty log.

    Raises
    ------
    BadInput
        When a row cannot be used.
    """
    return tuple(reading.load for reading in require_usable(read_house_loads(rows)))


def usual_house(kwh_a_day=None):
    """An invented house.

    Parameters
    ----------
    kwh_a_day : float or None
        What it takes in a day at its sockets; as its appliances do when None [kWh].

    Returns
    -------
    tuple of HouseLoad
        A few appliances, and the rest all day long; where they take more than that, lamps of an evening alone.
    """
    if kwh_a_day is None:
        return _USUAL
    rest = 1000.0 * (kwh_a_day - house_day(_USUAL).kwh)
    if rest >= 0.0:
        watts = rest / _HOURS
        return (
            *_USUAL,
            HouseLoad(name="all else", watts=watts, surge_watts=watts, from_hour=0, to_hour=24, minutes=60.0),
        )
    watts = 1000.0 * kwh_a_day / _USUAL_HOURS
    return (
        HouseLoad(name="lamps and screens", watts=watts, surge_watts=watts, from_hour=18, to_hour=23, minutes=60.0),
    )


def house_watts_by_minute(house):
    """Watts of a house at its sockets, mean of each minute of a day, shape (1440,) [W]."""
    return sum((load.watts * _shares(load) for load in house), np.zeros(_HOURS * _MINUTES))


def house_day(house):
    """A house through a day: what runs, and what it takes while something starts.

    Parameters
    ----------
    house : sequence of HouseLoad
        Its appliances.

    Returns
    -------
    HouseDay
        Minute by minute.

    Notes
    -----
    Equation: Σ watts of what runs, each in the first minutes of every hour between its two; to it comes, of each that
        begins in a minute, start less running.
    Valid: what begins in the same hour is taken to begin at once, which errs to the safe side.
    Source: definition.
    """
    running, extra = np.zeros(_HOURS * _MINUTES), np.zeros(_HOURS * _MINUTES)
    for load in house:
        there = _shares(load) > 0.0
        running += load.watts * there
        begins = there & ~np.roll(there, 1)
        extra += max(load.surge_watts - load.watts, 0.0) * begins
    return HouseDay(
        watts=house_watts_by_minute(house), running_watts=running, start_watts=running + extra, house=tuple(house)
    )


def _shares(load):
    """How much of each minute of a day an appliance runs, shape (1440,)."""
    hour = np.clip(load.minutes - np.arange(_MINUTES), 0.0, 1.0)
    hours = np.arange(_HOURS)
    return np.outer((hours >= load.from_hour) & (hours < load.to_hour), hour).ravel()


def _numbers(row, where):
    log = HOUSE_LOADS_LOG
    name = cell_text(row.get("appliance"))
    if not name:
        raise BadInput(
            "no name was given",
            "a name is needed",
            "say what it is, such as kettle",
            where=log.cell(where, "appliance"),
        )
    names = ("watts", "from_hour", "to_hour", "minutes")
    watts, first, last, minutes = (log.number(row, column, where).value for column in names)
    for column, hour in (("from_hour", first), ("to_hour", last)):
        if hour % 1.0:
            raise BadInput(
                f"{hour:g} h was given",
                "a whole hour of the clock is allowed",
                "type the hour alone, and the minutes of each hour in their own column",
                where=log.cell(where, column),
            )
    if last <= first:
        raise BadInput(
            f"from {first:g} to {last:g} o'clock was given",
            "a day runs from 0 to 24, and the second hour must be the later one",
            "for a night type two rows, such as 22 to 24 and 0 to 6",
            where=log.cell(where, "from_hour", "to_hour"),
        )
    hours = {"from_hour": int(first), "to_hour": int(last), "minutes": minutes}
    return {"load": HouseLoad(name=name, watts=watts, surge_watts=_surge(row, where, watts), **hours)}, ()


def _surge(row, where, watts):
    """Watts at the start; those at work where none were typed."""
    log = HOUSE_LOADS_LOG
    if not cell_text(row.get("surge_watts")):
        return watts
    surge = log.number(row, "surge_watts", where).value
    if surge < watts:
        raise BadInput(
            f"{surge:g} W at the start and {watts:g} W at work were given",
            "the start takes no less than the work",
            "read both again, or leave the start empty for a lamp or a heater",
            where=log.cell(where, "surge_watts"),
        )
    return surge
