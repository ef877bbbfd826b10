"""The year of a wind rotor: where the wind of the year is known from."""

from typing import Literal

from statorbook.job.parts.fields import labelled
from statorbook.job.parts.year.kind import YearKind
from statorbook.year import LEAST_SHAPE, MOST_MEAN_M_S, MOST_SHAPE, RAYLEIGH_SHAPE

BY_MEAN, BY_MONTH, BY_TABLE, BY_LOG = "mean and shape", "mean of each month", "table of hours", "log of a year"
_LOGS = {BY_MEAN: "", BY_MONTH: "wind_months", BY_TABLE: "wind_hours", BY_LOG: "wind_series"}
_SHAPED = (BY_MEAN, BY_MONTH)


class WindYearFields:
    """The mean wind of the year, and how its hours are spread."""

    wind_year_from: Literal[tuple(_LOGS)] = labelled(
        "Wind over the year from",
        "",
        "A log of your own place tells most, a mean from a wind map least. All of them at the height of the wind "
        "reading on the page of what turns it.",
        default=BY_MEAN,
        next_step="choose one of them",
    )
    mean_wind_m_s: float | None = labelled(
        "Mean wind of the year",
        "m/s",
        "From a wind map or a weather record. A mean of a few days is not the mean of a year.",
        default=None,
        gt=0,
        le=MOST_MEAN_M_S,
        next_step="read the mean of the year from a wind map or a weather record",
    )
    weibull_shape: float = labelled(
        "Shape of the wind's spread",
        "-",
        "Weibull's shape: 2 is usual, 1.5 where calm and storm take turns, 3 where the wind is steady.",
        default=RAYLEIGH_SHAPE.value,
        assumed=True,
        ge=LEAST_SHAPE,
        le=MOST_SHAPE,
        next_step="keep 2 unless a record says otherwise",
    )


class WindYear(YearKind):
    """A mean, means of months, a table of hours or a log."""

    drive, fields = "wind rotor", WindYearFields

    def asks(self, given):
        """The choice, and the numbers that belong to it."""
        chosen = given.get("wind_year_from", BY_MEAN)
        shape = ("weibull_shape",) if chosen in _SHAPED else ()
        return ("wind_year_from", *self.missing(given), *shape)

    def first(self, given):
        """The choice and what it cannot do without."""
        return ("wind_year_from", *self.missing(given))

    def log(self, given):
        """The log of that choice."""
        return _LOGS[given.get("wind_year_from", BY_MEAN)]

    def missing(self, given):
        """The mean wind, where nothing else tells it."""
        return ("mean_wind_m_s",) if given.get("wind_year_from", BY_MEAN) == BY_MEAN else ()
