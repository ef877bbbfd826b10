"""A source over the year: the settings that it has, and for how many hours of each month."""

from dataclasses import dataclass

import numpy as np

from statorbook.bench import MONTHS

__all__ = ["HOURS_A_YEAR", "MONTHS", "MONTH_HOURS", "SourceYear"]
MONTH_HOURS = 24.0 * np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])  # of a year of 365 days
HOURS_A_YEAR = float(MONTH_HOURS.sum())


@dataclass(frozen=True, kw_only=True)
class SourceYear:
    """What a source does over a year.

    Whatever the source, its year is a few settings of the drive and the hours of each. An hour between two settings is
    shared between them as its distance asks, which is the same as a straight line between what they give.

    Parameters
    ----------
    drives : tuple of Drive
        k settings, the weakest first; one that only turns in the worst of the year is among them.
    hours : ndarray
        Hours at each setting, shape (12, k), January first; what is missing to the month's hours is standstill [h].
    setting : ndarray
        What tells the settings apart, shape (k,), such as the wind at the hub, in `setting_unit` [unit].
    setting_name : str
        What that is, as in "wind at the hub".
    setting_unit : str
        Its unit; "" for none.
    words : str
        What the year was made of, in one or two sentences.
    assumed : tuple of str
        What of it was assumed, not measured, in words.
    year_share : float
        How much the energy of single years differs from this one, 95 %, as a share of it [-].
    months_known : bool
        False when every month was taken alike.
    gaps : tuple of str
        Sentences about times without a reading, and how they were filled.
    other_hours : tuple of (str, ndarray)
        Pair by pair, what is assumed of the hours at a plausible low and high end: in words, and the hours then [h].
    by_hour : ndarray or None
        Setting in each hour of the year, shape (8760,), where a log says their order [unit].
    """

    drives: tuple
    hours: np.ndarray
    setting: np.ndarray
    setting_name: str
    setting_unit: str
    words: str
    assumed: tuple = ()
    year_share: float = 0.0
    months_known: bool = True
    gaps: tuple = ()
    other_hours: tuple = ()
    by_hour: np.ndarray | None = None

    @property
    def hours_by_setting(self):
        """Hours of the whole year at each setting, shape (k,) [h]."""
        return self.hours.sum(axis=0)

    @property
    def strongest_setting(self):
        """The drive at the strongest setting that it has for any time."""
        return self.drives[int(np.flatnonzero(self.hours_by_setting > 0.0)[-1])]
