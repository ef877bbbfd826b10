"""The logs of the wind's year: the mean of each month, hours by how much wind, and readings one by one."""

from statorbook.bench.columns import NOTE
from statorbook.bench.log import Column, Log
from statorbook.bench.year_logs import MONTH

_MOST_MEAN_M_S, _MOST_WIND_M_S = 25, 75  # of a month, and of a reading of minutes; beyond it is a slip or a failure
_WIND_WORDS = ("m/s", "wind", "wind speed", "windspeed", "speed of the wind")

WIND_MONTHS_LOG = Log(
    name="wind_months",
    columns=(
        MONTH,
        Column(
            name="mean_wind",
            label="Mean wind",
            unit="m/s",
            limits=(0.1, _MOST_MEAN_M_S),
            usual=(*_WIND_WORDS, "mean", "average wind", "average"),
        ),
        NOTE,
    ),
)
WIND_HOURS_LOG = Log(
    name="wind_hours",
    columns=(
        Column(
            name="wind_from",
            label="Wind from",
            unit="m/s",
            limits=(0, _MOST_WIND_M_S),
            usual=("from", "from m/s", "above", "low", "lower"),
        ),
        Column(
            name="wind_to",
            label="Wind to",
            unit="m/s",
            limits=(0, _MOST_WIND_M_S),
            usual=("to", "to m/s", "up to", "below", "high", "upper"),
        ),
        Column(
            name="wind_hours",
            label="Hours of the year",
            unit="h",
            limits=(0, 8_784),
            usual=("h", "hours", "hours a year", "hours of a year"),
        ),
        NOTE,
    ),
)
# Thousands of rows from a logger: read as a whole by `year.wind_log`, never shown in a grid.
WIND_SERIES_LOG = Log(
    name="wind_series",
    columns=(
        Column(name="time", label="Time", unit="date and time", usual=("date", "time", "date and time", "timestamp")),
        Column(name="wind", label="Wind", unit="m/s", limits=(0, _MOST_WIND_M_S), usual=_WIND_WORDS),
    ),
)
