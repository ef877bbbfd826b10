"""What a source has at the shaft over a year."""

import numpy as np
import pytest
from scipy.special import gammaincc

from samples.wind_samples import ROTOR
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.wind_rotor import WindRotor
from statorbook.year.shaft import mean_and_share_above, shaft_kwh_by_month
from statorbook.year.source import MONTH_HOURS, SourceYear
from statorbook.year.wind import year_of_mean_wind


@pytest.mark.outside(
    "energy of Rayleigh's winds that comes above the mean wind",
    source="exact: Q(5/2, π/4), by scipy.special.gammaincc",
    number="0.904758",
    tolerance="0.01",
    seen="derived",
)
def test_most_of_the_winds_energy_comes_above_its_mean():
    mean, share = mean_and_share_above(year_of_mean_wind(ROTOR, 5.0))
    # Watts with the cube: ∫ v⁴ exp(−π v²/4 v̄²) above v̄ over that of all v.
    assert mean == pytest.approx(5.0, rel=1e-3) and share == pytest.approx(gammaincc(2.5, np.pi / 4), abs=0.01)


@pytest.mark.outside(
    "a Rayleigh year over a year of its mean wind",
    source="Masters, Renewable and Efficient Electric Power Systems, chapter 6; exact 6/π",
    number="1.91",
    tolerance="0.5 %",
    seen="from memory",
)
def test_the_shaft_of_a_year_in_months():
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


@pytest.mark.outside(
    "energy of a year of a 50 m rotor, 4.47 m/s, 20 %",
    source="Ginsberg, Harness It (2019), worked example, each of its steps rounded",
    number="357 MWh",
    tolerance="1 %",
    seen="in a reproduction",
)
def test_the_energy_of_a_large_rotor_s_year():
    same = {"power_coefficient": 0.2, "air_kg_m3": 1.225, "wind_height_m": 30.0, "hub_height_m": 30.0}
    rotor = WindRotor(rotor_diameter_m=50.0, wind_m_s=4.47, **same)
    assert shaft_kwh_by_month(year_of_mean_wind(rotor, 4.47)).sum() == pytest.approx(357e3, rel=0.01)
