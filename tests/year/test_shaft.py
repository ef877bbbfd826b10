"""What a source has at the shaft over a year."""

import numpy as np
import pytest
from scipy.special import gammaincc

from samples.wind_samples import ROTOR
from statorbook.drives.known_speed import KnownSpeed
from statorbook.year.shaft import mean_and_share_above, shaft_kwh_by_month
from statorbook.year.source import MONTH_HOURS, SourceYear
from statorbook.year.wind import year_of_mean_wind


def test_most_of_the_winds_energy_comes_above_its_mean():
    mean, share = mean_and_share_above(year_of_mean_wind(ROTOR, 5.0))
    # Rayleigh, watts with the cube: ∫ v⁵ exp(−π v²/4 v̄²) above v̄ over that of all v is Q(5/2, π/4) (closed form).
    assert mean == pytest.approx(5.0, rel=1e-3) and share == pytest.approx(gammaincc(2.5, np.pi / 4), abs=0.01)


def test_the_shaft_of_a_year_in_months():
    # Closed form: 6/π of the watts at the mean wind in every hour of a Rayleigh year; Masters, "Renewable and Efficient
    # Electric Power Systems", chapter 6, has the factor as 1.91 (from memory).
    watts = float(ROTOR.torque_nm(ROTOR.best_speed_rpm)) * ROTOR.best_speed_rpm * 2 * np.pi / 60
    months = shaft_kwh_by_month(year_of_mean_wind(ROTOR, ROTOR.wind_m_s))
    assert months == pytest.approx(6 / np.pi * watts * MONTH_HOURS / 1000, rel=0.005)


def test_a_power_that_is_not_known_is_not_made_up():
    same = {"setting_name": "speed", "setting_unit": "rpm", "words": ""}
    hours = MONTH_HOURS[:, None]
    year = SourceYear(drives=(KnownSpeed(working_rpm=500.0),), hours=hours, setting=np.array([500.0]), **same)
    assert not np.isfinite(shaft_kwh_by_month(year)).any()
    mean, share = mean_and_share_above(year)
    assert mean == pytest.approx(500.0) and not share > 0.0
