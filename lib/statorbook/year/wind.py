"""The wind's year of a rotor: from a mean and a shape, from the mean of each month, or from a table of hours."""

import numpy as np

from statorbook.quantities import Fact, say
from statorbook.year.source import MONTH_HOURS
from statorbook.year.weibull import (
    RAYLEIGH_SHAPE,
    require_mean_wind,
    require_shape,
    weibull_shares,
    wind_with_share_above,
)
from statorbook.year.wind_settings import height_words, hub_factor, hub_winds_m_s, wind_source

YEAR_TO_YEAR = Fact(
    value=0.25,
    unit="energy of one year over that of the mean of many, 95 %",
    source="mean winds of single years lie about 6 % (one sigma) round that of many, and energy goes with about the "
    "square of the mean, texts on wind power (from memory)",
    low=0.15,
    high=0.40,
)
_RARE_SHARE = 1e-6  # of the hours that may lie beyond the strongest wind looked at


def year_of_mean_wind(drive, mean_wind_m_s, shape=RAYLEIGH_SHAPE.value, *, shape_assumed=False):
    """The year of a rotor from the mean wind and the shape of its spread.

    Parameters
    ----------
    drive : WindRotor
        The rotor; its own wind is not used.
    mean_wind_m_s : float
        Mean of the year, at the height where the drive's wind is read [m/s].
    shape : float
        Shape of Weibull's distribution; 2 is Rayleigh's [-].
    shape_assumed : bool
        Whether nobody measured that shape.

    Returns
    -------
    SourceYear
        Every month alike.

    Raises
    ------
    BadInput
        When mean or shape is out of range.

    Notes
    -----
    Equation: see `weibull.weibull_shares`; the mean at the hub by `drives.air.wind_at_height`, the shape as it is.
    Valid: a mean of years, open ground.
    Source: see there.
    """
    mean = require_mean_wind(mean_wind_m_s) * hub_factor(drive)
    winds = hub_winds_m_s(drive, wind_with_share_above(_RARE_SHARE, mean, require_shape(shape)))
    hours = MONTH_HOURS[:, None] * weibull_shares(winds, mean, shape)
    words = (
        f"The wind is {say(mean_wind_m_s, 'm/s', name='wind')} in the mean of the year {height_words(drive)}; its "
        f"hours are spread by {shape_words(shape)}."
    )
    return wind_source(
        drive,
        winds,
        hours,
        words=words,
        assumed=(*_shape_assumed(shape, shape_assumed), "every month windy alike", *same_every_year()),
        year_share=YEAR_TO_YEAR.value,
        months_known=False,
    )


def shape_words(shape):
    """The name of the spread, as in "spread by …"."""
    return "Rayleigh's distribution (shape 2)" if shape == 2.0 else f"Weibull's distribution, shape {shape:g}"


def _shape_assumed(shape, assumed):
    return (f"the spread of the wind, {shape_words(shape)}",) if assumed else ()


def same_every_year(*, one_year=False):
    """What is assumed of other years, a tuple of str."""
    share = year_share(one_year=one_year)
    told = "the year of the readings" if one_year else "the mean of many"
    return (f"single years within ± {100 * share:.0f} % of {told}",)


def year_share(*, one_year):
    """How much the energy of single years differs from that of many, or from that of one year of readings [-]."""
    # Two single years differ by √2 times as much as one differs from the mean.
    return YEAR_TO_YEAR.value * (float(np.sqrt(2.0)) if one_year else 1.0)
