"""What a usual household takes, hour by hour of a day and month by month of a year: an offered default."""

import numpy as np

from statorbook.year.source import MONTH_HOURS

# The German standard load profile of a household, H0 of the BDEW, year's mean day; an assumption about any one house.
# Package demandlib 0.2.2: bdew.ElecSlp(2025).get_scaled_power_profiles({"h0": 1000}), summed by the hour of the day.
HOUR_SHARES = np.array(
    [
        2.542, 1.896, 1.659, 1.581, 1.601, 1.839, 2.986, 4.169, 4.780, 5.064, 5.124, 5.335,
        5.793, 5.505, 4.784, 4.318, 4.157, 4.678, 5.689, 6.464, 6.117, 5.438, 4.803, 3.678,
    ]
) / 100.0  # fmt: skip
# The same with {"h0_dyn": 1000}, summed by month.
MONTH_SHARES = np.array(
    [101.71, 89.55, 93.49, 83.36, 78.56, 70.41, 69.70, 71.42, 73.11, 83.13, 86.89, 98.68]
) / 1000.0  # fmt: skip


def household_kwh_a_day(mean_kwh_a_day):
    """The need of each month, spread over the year as a usual household's.

    Parameters
    ----------
    mean_kwh_a_day : float
        Mean of the whole year [kWh a day].

    Returns
    -------
    ndarray
        Each month, shape (12,) [kWh a day].

    Notes
    -----
    Equation: share of the month × 365 × mean / days of the month.
    Valid: houses lit and cooled as in the middle of Europe, heated with something else; marked as assumed.
    Source: BDEW standard load profile H0, by the package named above.
    """
    return 365.0 * mean_kwh_a_day * MONTH_SHARES / MONTH_SHARES.sum() / (MONTH_HOURS / 24.0)


def hourly_watts(kwh_a_day):
    """The need of every hour of the year from that of each month [kWh a day], each day as the usual household's [W]."""
    days = np.repeat(kwh_a_day, (MONTH_HOURS / 24.0).astype(int))
    return (1000.0 * days[:, None] * HOUR_SHARES / HOUR_SHARES.sum()).ravel()
