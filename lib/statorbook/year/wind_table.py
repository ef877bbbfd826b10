"""The wind's year of a rotor from a table of hours by how much wind."""

import numpy as np

from statorbook.errors import BadInput
from statorbook.quantities import say
from statorbook.year.hats import bin_hours
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS
from statorbook.year.wind_settings import (
    EVERY_MONTH_ALIKE,
    height_words,
    hub_factor,
    hub_winds_m_s,
    same_every_year,
    wind_source,
    year_share,
)

MOST_TABLE_HOURS = 8784.0  # of a leap year
_NEARLY_HOURS = 0.5  # off by rounding


def year_of_wind_hours(drive, table):
    """The year of a rotor from a table of hours by how much wind.

    Parameters
    ----------
    drive : WindRotor
        The rotor; its own wind is not used.
    table : sequence of WindHours
        From `read_wind_hours`, at the height where the drive's wind is read.

    Returns
    -------
    SourceYear
        Every month alike; hours that are missing to a year are said in its gaps, with what was done about them.

    Raises
    ------
    BadInput
        When a row cannot be read, no hours are there, or more than a year has.

    Notes
    -----
    Equation: see `hats.bin_hours`: the hours of a row are spread evenly between its two winds.
    Valid: rows of about 1 m/s.
    Source: definition.
    """
    low, high, hours = _whole_table(table)
    factor = hub_factor(drive)
    winds = hub_winds_m_s(drive, high[hours > 0.0].max() * factor)
    found = bin_hours(winds, low * factor, high * factor, hours)
    calm, gaps = _missing_hours(low.min(), hours.sum())
    found[0] += calm
    found *= HOURS_A_YEAR / found.sum()
    mean = say(found @ winds / HOURS_A_YEAR / factor, "m/s", name="wind")
    return wind_source(
        drive,
        winds,
        found * MONTH_HOURS[:, None] / HOURS_A_YEAR,
        words=f"The hours of each wind stand in a table, {height_words(drive)}; the mean is {mean}.",
        assumed=(EVERY_MONTH_ALIKE, *same_every_year(1.0)),
        year_share=year_share(1.0),
        months_known=False,
        gaps=gaps,
    )


def _whole_table(table):
    """Lower and upper winds [m/s] and hours [h] of every row, or `BadInput`."""
    for row in table:
        if not row.usable:
            raise row.complaint  # its hours would be missing, so that no row may be left out
    total = sum(row.hours for row in table)
    if not 0.0 < total <= MOST_TABLE_HOURS:
        raise BadInput(
            f"the rows hold {total:,.0f} h together",
            f"a year has {HOURS_A_YEAR:,.0f} h, a leap year {MOST_TABLE_HOURS:,.0f} h",
            "type the hours of one year",
            where="wind hours log",
        )
    return np.array([(row.wind_from_m_s, row.wind_to_m_s, row.hours) for row in table]).T


def _missing_hours(lowest_m_s, total):
    """Hours of the year that are taken as calm [h], and what is said about hours that are missing."""
    if total < HOURS_A_YEAR - _NEARLY_HOURS and lowest_m_s > 0.0:
        # What nobody wrote down is mostly the wind too weak for the first row; calm is the careful guess.
        begins = f"The table begins at {say(lowest_m_s, 'm/s', name='wind')} and holds {total:,.0f} h"
        return HOURS_A_YEAR - total, (f"{begins}; the rest of the year is taken as calm (assumed).",)
    if abs(total - HOURS_A_YEAR) > _NEARLY_HOURS:
        return 0.0, (f"The table holds {total:,g} h, which are scaled to the {HOURS_A_YEAR:,.0f} h of a year.",)
    return 0.0, ()
