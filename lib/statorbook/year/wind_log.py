"""The wind's year of a rotor from a log of thousands of readings: what it holds, and what is missing."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from statorbook.bench import MONTH_NAMES
from statorbook.errors import BadInput
from statorbook.quantities import say, units_now
from statorbook.year.hats import reading_hours
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS
from statorbook.year.wind_log_repairs import held_hours, in_order, listed, numbers_of, step_words, stuck_words
from statorbook.year.wind_settings import (
    height_words,
    hub_factor,
    hub_winds_m_s,
    same_every_year,
    wind_source,
    year_share,
)
from statorbook.year.wind_text import WHERE

LEAST_READINGS = 100
_HALF_READ = 0.5  # of a month's hours: less is worth a word
_SLOW_H = 3.0  # means over longer than that hide much, own judgement
_MOSTLY = 0.8  # of the hours of a year must be read for their order to tell anything
_LEAST_YEARS = 0.1  # of readings that say anything about other years


@dataclass(frozen=True, kw_only=True)
class WindLog:
    """A log of the wind, in order of time."""

    times: np.ndarray  # datetime64[s], shape (n,)
    winds_m_s: np.ndarray  # where it was read, shape (n,)
    hours: np.ndarray  # how long each holds, shape (n,)
    months: np.ndarray  # 0 for January, shape (n,)
    repairs: tuple  # sentences about rows that could not be read as they stand, and about their order
    holes: tuple  # sentences about times without a reading

    @property
    def month_hours(self):
        """Hours read in each month, of all years together, shape (12,) [h]."""
        return np.bincount(self.months, weights=self.hours, minlength=12)

    @property
    def mean_m_s(self):
        """Mean wind where it was read [m/s]."""
        return float(np.average(self.winds_m_s, weights=self.hours))

    @property
    def winds_by_hour(self):
        """Newest wind of each hour of a year, shape (8760,); None when too many hours have none [m/s]."""
        first = self.times.astype("datetime64[M]").astype(self.times.dtype)
        hour = (self.times - first).astype(int) // 3600
        starts = np.concatenate([[0.0], np.cumsum(MONTH_HOURS)[:-1]])
        there = hour < MONTH_HOURS[self.months]  # not on 29 February
        at = (starts[self.months] + hour).astype(int)[there]
        found = np.full(int(HOURS_A_YEAR), np.nan)
        found[at] = self.winds_m_s[there]
        known = np.flatnonzero(np.isfinite(found))
        if len(known) < _MOSTLY * HOURS_A_YEAR:
            return None
        return np.interp(np.arange(HOURS_A_YEAR), known, found[known], period=HOURS_A_YEAR)

    @property
    def words(self):
        """What was understood, in a sentence."""
        first, last = (str(time)[:10] for time in (self.times[0], self.times[-1]))
        step = step_words(float(np.median(self.hours)))
        mean, most = (say(wind, "m/s", name="wind") for wind in (self.mean_m_s, self.winds_m_s.max()))
        return (
            f"{len(self.times):,} readings from {first} to {last}, one every {step}, with a mean of {mean} and at most "
            f"{most}"
        )


def read_wind_log(rows):
    """Read the log of a year of wind, from thousands of rows.

    Parameters
    ----------
    rows : list of dict
        Rows of the log `wind_series`: cells "time" and "wind" as typed, the wind in m/s or with its unit.

    Returns
    -------
    WindLog
        Readings in order of time; what could not be read or had to be repaired is said.

    Raises
    ------
    BadInput
        When fewer readings are left than tell anything, or they follow each other too fast or too slowly.
    """
    cells = (tuple(row.get(name, "") for row in rows) for name in ("time", "wind"))
    return _read(*cells, units_now())


# A page asks for one log many times, with other blades or another bank; what is said is in the reader's units.
@lru_cache(maxsize=4)
def _read(time_texts, wind_texts, units):
    times, winds, repairs = numbers_of(time_texts, wind_texts)
    if len(times) < LEAST_READINGS:
        rows = f" of {len(time_texts):,} rows" if len(time_texts) > len(times) else ""
        raise BadInput(
            f"{len(times)} readings can be used{rows}",
            f"at least {LEAST_READINGS} are needed for a year",
            repairs[0].rstrip(".") if repairs else "bring in a longer log, or take the mean of the year",
            where=WHERE,
        )
    times, winds, shares, order = in_order(times, winds)
    hours, holes = held_hours(times)
    return WindLog(
        times=times,
        winds_m_s=winds,
        hours=hours * shares,
        months=times.astype("datetime64[M]").astype(int) % 12,
        repairs=(*repairs, *order),
        holes=(*holes, *stuck_words(times, winds, hours)),
    )


def year_of_wind_log(drive, log):
    """The year of a rotor from a log of its wind.

    Parameters
    ----------
    drive : WindRotor
        The rotor; its own wind is not used.
    log : WindLog
        From `read_wind_log`, at the height where the drive's wind is read.

    Returns
    -------
    SourceYear
        Each month scaled to its whole hours, one without readings like the mean of the others, which its gaps say.

    Notes
    -----
    Equation: see `hats.reading_hours`.
    Valid: readings are means of no more than an hour or so; means of a day hide the strong winds, and so the energy.
    Source: definition.
    """
    factor = hub_factor(drive)
    winds = hub_winds_m_s(drive, log.winds_m_s.max() * factor)
    found = reading_hours(winds, log.winds_m_s * factor, log.hours, log.months)
    read = log.month_hours
    shares = np.where(read[:, None] > 0.0, found / np.maximum(read, 1e-9)[:, None], 0.0)
    shares[read == 0.0] = shares[read > 0.0].mean(axis=0)
    years = max(read.sum() / HOURS_A_YEAR, _LEAST_YEARS)
    filled = [MONTH_NAMES[month] for month in np.flatnonzero(read == 0.0)]
    by_hour = log.winds_by_hour
    return wind_source(
        drive,
        winds,
        MONTH_HOURS[:, None] * shares,
        by_hour=None if by_hour is None else by_hour * factor,
        words=f"{log.words}, {height_words(drive)}.",
        assumed=(*([f"the mean of the other months for {listed(filled)}"] if filled else []), *same_every_year(years)),
        year_share=year_share(years),
        gaps=(*log.repairs, *log.holes, *_month_words(read, filled), *_slow_words(log)),
    )


def _month_words(read, filled):
    """What is said about months that were read in part, or not at all."""
    short = [f"{MONTH_NAMES[at]} ({100 * read[at] / MONTH_HOURS[at]:.0f} %)" for at in range(12)]
    part = [short[at] for at in range(12) if 0.0 < read[at] < _HALF_READ * MONTH_HOURS[at]]
    said = []
    if part:
        said.append(f"Less than half of the hours were read in {listed(part)}.")
    if np.any((read > 0.0) & (np.abs(read - MONTH_HOURS) > 1.0)):
        said.append("The hours of each month are scaled to the whole month.")
    if filled:
        said.append(f"{listed(filled)} without any reading: taken as the mean of the other months (assumed).")
    return said


def _slow_words(log):
    step = float(np.median(log.hours))
    if step <= _SLOW_H:
        return ()
    hidden = "hide the strong winds in them, so that the kilowatt-hours come out too low"
    return (f"Means over {step_words(step)} {hidden}.",)
