"""A source over the year: the settings that it has, and for how many hours of each month."""

from dataclasses import dataclass

import numpy as np

from statorbook.bench import MONTHS

__all__ = ["HOURS_A_YEAR", "MONTHS", "MONTH_HOURS", "SourceYear"]
MONTH_HOURS = 24.0 * np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])  # of a year of 365 days
HOURS_A_YEAR = float(MONTH_HOURS.sum())


@dataclass(frozen=True, kw_only=True, eq=False)
class SourceYear:
    """A source over a year: a few settings of its drive, and the hours of each month at each."""

    # An hour between two settings is shared between them as its distance asks, which is the same as a straight line
    # between what they give.
    drives: tuple  # k settings, the weakest first; one that only turns in the worst of the year is among them
    hours: np.ndarray  # at each setting, shape (12, k), January first; a month's missing hours are standstill
    setting: np.ndarray  # what tells the settings apart, shape (k,), such as the wind at the hub, in `setting_unit`
    setting_name: str  # what that is, as in "wind at the hub"
    setting_unit: str  # its unit; "" for none
    words: str  # what the year was made of, in one or two sentences
    assumed: tuple = ()  # what of it was assumed, not measured, in words
    year_share: float = 0.0  # how much the energy of single years differs from this one, 95 %, as a share of it
    months_known: bool = True  # False when every month was taken alike
    gaps: tuple = ()  # sentences about times without a reading, and how they were filled
    other_hours: tuple = ()  # low end, high end, …: what is assumed of the hours, in words, and the hours then
    by_hour: np.ndarray | None = None  # setting in each hour of the year, shape (8760,), where a log says their order

    @property
    def hours_by_setting(self):
        """Hours of the whole year at each setting, shape (k,) [h]."""
        return self.hours.sum(axis=0)

    @property
    def strongest_setting(self):
        """The drive at the strongest setting that it has for any time."""
        return self.drives[int(np.flatnonzero(self.hours_by_setting > 0.0)[-1])]
