"""The wind's year of a rotor from means and the shape of their spread: one for the year, or one for each month."""

import numpy as np

from statorbook.bench import MONTH_NAMES
from statorbook.errors import BadInput, count_of
from statorbook.quantities import say
from statorbook.year.source import MONTH_HOURS
from statorbook.year.weibull import (
    RAYLEIGH_SHAPE,
    pattern_factor,
    require_mean_wind,
    require_shape,
    weibull_shares,
    wind_with_share_above,
)
from statorbook.year.wind_settings import (
    EVERY_MONTH_ALIKE,
    height_words,
    hub_factor,
    hub_winds_m_s,
    same_every_year,
    wind_source,
    year_share,
)

LEAST_MONTHS = 6  # common practice, no source
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
    Derivation: `year.windy_year`.
    Valid: a mean of years, open ground.
    Source: see there.
    """
    mean = require_mean_wind(mean_wind_m_s) * hub_factor(drive)
    winds = hub_winds_m_s(drive, wind_with_share_above(_RARE_SHARE, mean, require_shape(shape)))
    hours = MONTH_HOURS[:, None] * weibull_shares(winds, mean, shape)
    words = (
        f"The wind is {say(mean_wind_m_s, 'm/s', name='wind')} in the mean of the year {height_words(drive)}; its "
        f"hours are spread by {shape_words(shape)}, so they carry {pattern_factor(shape):.2f} times the power of a "
        "steady wind."
    )
    return wind_source(
        drive,
        winds,
        hours,
        words=words,
        assumed=(*_shape_assumed(shape, shape_assumed), EVERY_MONTH_ALIKE, *same_every_year()),
        year_share=year_share(),
        months_known=False,
        other_hours=_other_shapes(winds, mean, shape) if shape_assumed else (),
    )


def year_of_monthly_winds(drive, months, shape=RAYLEIGH_SHAPE.value, *, shape_assumed=False):
    """The year of a rotor from the mean wind of each month.

    Parameters
    ----------
    drive : WindRotor
        The rotor; its own wind is not used.
    months : sequence of WindMonth
        From `read_wind_months`, at the height where the drive's wind is read.
    shape : float
        Shape of Weibull's distribution within a month [-].
    shape_assumed : bool
        Whether nobody measured that shape.

    Returns
    -------
    SourceYear
        A month without a mean lies on a straight line between the months beside it, which its gaps say.

    Raises
    ------
    BadInput
        When too few months have a mean, or the shape is out of range.

    Notes
    -----
    Equation: as `year_of_mean_wind`, month by month.
    Derivation: `year.windy_year`.
    Valid: means of years, open ground.
    Source: see there.
    """
    known = {reading.month: reading.mean_wind_m_s for reading in months if reading.usable}
    if len(known) < LEAST_MONTHS:
        raise BadInput(
            f"a mean wind was given for {count_of(len(known), 'month')}",
            f"at least {LEAST_MONTHS} are needed",
            "type more months, or take the mean of the year",
            where="wind months log",
        )
    means = np.interp(np.arange(12), sorted(known), [known[month] for month in sorted(known)], period=12)
    at_hub = means * hub_factor(drive)
    winds = hub_winds_m_s(drive, wind_with_share_above(_RARE_SHARE, at_hub.max(), require_shape(shape)))
    low, high = (MONTH_NAMES[at] for at in (means.argmin(), means.argmax()))
    words = (
        f"Each month has its mean wind {height_words(drive)}: from {say(means.min(), 'm/s', name='wind')} in {low} to "
        f"{say(means.max(), 'm/s', name='wind')} in {high}; its hours are spread by {shape_words(shape)}."
    )
    missing = [name for month, name in enumerate(MONTH_NAMES) if month not in known]
    filled = (f"a straight line between the months beside it, for {_listed(missing)}",) if missing else ()
    return wind_source(
        drive,
        winds,
        MONTH_HOURS[:, None] * weibull_shares(winds, at_hub, shape),
        words=words,
        assumed=(*_shape_assumed(shape, shape_assumed), *filled, *same_every_year()),
        year_share=year_share(),
        gaps=(*_refusals(months), *_missing_words(missing)),
        other_hours=_other_shapes(winds, at_hub, shape) if shape_assumed else (),
    )


def _other_shapes(winds_m_s, mean_m_s, shape):
    """The hours when the shape is as low or as high as it plausibly is."""
    ends = min(shape, RAYLEIGH_SHAPE.low), max(shape, RAYLEIGH_SHAPE.high)
    spread = (MONTH_HOURS[:, None] * weibull_shares(winds_m_s, mean_m_s, end) for end in ends)
    return tuple((f"the wind spread with shape {end:g}", hours) for end, hours in zip(ends, spread, strict=True))


def _missing_words(missing):
    if not missing:
        return ()
    verb, has = ("has", "its") if len(missing) == 1 else ("have", "their")
    return (f"{_listed(missing)} {verb} no mean wind: {has} wind lies straight between the months beside (assumed).",)


def _listed(names):
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _refusals(readings):
    return tuple(reading.refusal for reading in readings if reading.refusal)


def shape_words(shape):
    """The name of the spread, as in "spread by …"."""
    return "Rayleigh's distribution (shape 2)" if shape == 2.0 else f"Weibull's distribution, shape {shape:g}"


def _shape_assumed(shape, assumed):
    return (f"the spread of the wind, {shape_words(shape)}",) if assumed else ()
