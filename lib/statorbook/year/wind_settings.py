"""The winds at the hub in which a rotor is looked at over a year, and the rotor in each of them."""

from dataclasses import replace
from math import sqrt

import numpy as np

from statorbook.quantities import Fact, say
from statorbook.year.source import SourceYear

YEAR_TO_YEAR = Fact(
    value=0.25,
    unit="energy of one year over that of the mean of many, 95 %",
    source="mean winds of single years lie about 6 % (one sigma) round that of many, and energy goes with about the "
    "square of the mean, texts on wind power (from memory)",
    low=0.15,
    high=0.40,
)
EVERY_MONTH_ALIKE = "as much wind in every month"
_STILL_M_S = 0.05  # stands for calm, a wind of 0 drives nothing
_MOST_M_S = 100.0  # the strongest that a rotor is asked about, where the wind was read
# From which wind at the hub on, and how far apart: close together where the watts bend, wider in storms.
_STEPS_M_S = ((0.0, 0.5), (1.5, 0.2), (16.0, 0.5), (25.0, 2.0))


def hub_factor(drive):
    """Wind at the hub over that where it was read [-]."""
    return drive.hub_wind_m_s / drive.wind_m_s


def hub_winds_m_s(drive, top_m_s):
    """Winds at the hub to look at, rising, from calm to about the one named [m/s]."""
    # The wind that it furls from is one of them, so that the bend there is exact; above it nothing changes any more,
    # unless somebody lets it furl later.
    furls = drive.furls_from_m_s
    last = min(max(top_m_s, 3.0), _MOST_M_S * hub_factor(drive))
    starts = [start for start, _ in _STEPS_M_S[1:]] + [np.inf]
    winds = [np.arange(start, min(end, last), step) for (start, step), end in zip(_STEPS_M_S, starts, strict=True)]
    found = np.concatenate(winds)
    found = np.append(found[found < last - 0.01], last)
    found[0] = _STILL_M_S
    if furls is not None and furls < last:
        coarse = furls + np.append(np.arange(0.5, 4.0, 0.5), np.arange(4.0, 200.0, 2.0))
        found = np.concatenate([found[found < furls - 0.01], [furls], coarse[coarse < last], [last]])
    return found


def wind_source(drive, winds_m_s, hours, **said):
    """The `SourceYear` of a rotor in winds at the hub [m/s], with the hours of each, shape (12, k)."""
    factor = hub_factor(drive)
    return SourceYear(
        drives=tuple(replace(drive, wind_m_s=float(wind)) for wind in winds_m_s / factor),
        hours=hours,
        setting=winds_m_s,
        setting_name="wind at the hub",
        setting_unit="m/s",
        **said,
    )


def height_words(drive):
    """Where the wind was read, and where the hub is."""
    read, hub = say(drive.wind_height_m, "m"), say(drive.hub_height_m, "m")
    if drive.wind_height_m == drive.hub_height_m:
        return f"at {read}, the height of the hub"
    return f"at {read}, taken to the hub at {hub}, {hub_factor(drive):.2f} times as much wind"


def year_share(years=None):
    """How much the energy of single years differs from what years of readings gave, of many when None [-]."""
    # The readings of n years are off themselves by 1/√n of what a single year is.
    return YEAR_TO_YEAR.value * (1.0 if years is None else sqrt(1.0 + 1.0 / years))


def same_every_year(years=None):
    """What is assumed of other years, a tuple of str."""
    told = "the mean of many" if years is None else "what the readings gave"
    return (f"the energy of single years within ± {100.0 * year_share(years):.0f} % of {told}",)
