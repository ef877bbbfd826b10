"""The wind's year of a rotor: the kilowatt-hours against a quadrature of the true curve, height, refusals."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.special import gamma
from scipy.stats import weibull_min

from samples.wind_samples import FURLING, ROTOR, WINDING, machine
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.year.energy import grouping_years
from statorbook.year.wind import year_of_mean_wind

wording = sentences_of("year_wind")
MACHINE = machine()


@pytest.fixture(scope="module")
def true_watts():
    """Winds at the hub, and watts into the half-full bank in each of them by the exact search, of both rotors."""

    def watts(drive, wind):
        now = replace(drive, wind_m_s=wind / drive.hub_wind_m_s * drive.wind_m_s)
        found = operating_points(now, [WINDING], MACHINE.bank.states[1], MACHINE.setting.conditions)
        return float(found.bank_watts[0, 0])

    winds = {
        ROTOR: np.concatenate([np.linspace(1.0, 14.0, 79), np.linspace(14.5, 26.0, 24)]),
        FURLING: np.linspace(1.0, FURLING.furls_from_m_s, 49),
    }
    return {drive: (at, np.array([watts(drive, wind) for wind in at])) for drive, at in winds.items()}


@pytest.mark.parametrize("drive", [ROTOR, FURLING])
@pytest.mark.parametrize(("mean", "shape"), [(3.5, 2.0), (5.0, 2.0), (5.0, 1.6), (6.5, 2.4), (7.0, 3.0)])
def test_kilowatt_hours_are_the_integral_of_the_true_curve(true_watts, drive, mean, shape):
    at_hub = mean * (drive.hub_height_m / drive.wind_height_m) ** drive.shear_exponent
    spread = weibull_min(shape, scale=at_hub / gamma(1.0 + 1.0 / shape))
    winds, watts = true_watts[drive]
    wanted = 8.76 * (simpson(watts * spread.pdf(winds), x=winds) + watts[-1] * spread.sf(winds[-1]))
    (found,) = grouping_years(MACHINE, year_of_mean_wind(drive, mean, shape), [WINDING])
    assert found.kwh == pytest.approx(wanted, rel=0.005)


def test_the_grid_holds_the_furling_wind_and_ends_beyond_all_hours_that_matter():
    source = year_of_mean_wind(FURLING, 5.0)
    assert 9.1 in source.setting
    assert np.all(np.diff(source.setting) > 0.0)
    assert source.hours_by_setting[-1] < 0.1
    assert [drive.hub_wind_m_s for drive in source.drives] == pytest.approx(source.setting)
    assert {drive.storm_m_s for drive in source.drives} == {FURLING.storm_m_s}
    assert source.hours.sum(axis=1)[:2] == pytest.approx([744.0, 672.0])


def test_wind_above_the_strongest_gust_and_above_what_a_rotor_takes():
    source = year_of_mean_wind(replace(ROTOR, storm_m_s=10.0, hub_height_m=40.0), 20.0, 1.0)
    assert source.hours.sum() == pytest.approx(8760.0)
    assert source.drives[-1].wind_m_s == pytest.approx(100.0)


def test_the_mean_is_taken_to_the_hub_by_shear():
    # windpowerlib 0.2.2, wind_speed.hellman(4.5, 10, 18, hellman_exponent=0.2) = 5.061358 m/s.
    rotor = replace(ROTOR, wind_height_m=10.0, hub_height_m=18.0, shear_exponent=0.2)
    source = year_of_mean_wind(rotor, 4.5)
    assert source.hours_by_setting @ source.setting / 8760.0 == pytest.approx(5.061358, rel=1e-3)
    assert wording("The wind is 4.5 m/s") in source.words


@pytest.mark.parametrize(("mean", "shape"), [(0.0, 2.0), (-3.0, 2.0), (21.0, 2.0), (5.0, 0.2), (5.0, 9.0)])
def test_a_mean_or_a_shape_that_no_year_has(mean, shape):
    with pytest.raises(BadInput) as refusal:
        year_of_mean_wind(ROTOR, mean, shape)
    assert str(refusal.value).count(".") <= 4
    assert ("mean wind" if shape == 2.0 else "shape") in str(refusal.value)


def test_what_was_assumed_is_said():
    plain = year_of_mean_wind(ROTOR, 5.0)
    assumed = year_of_mean_wind(ROTOR, 5.0, shape_assumed=True)
    assert len(assumed.assumed) == len(plain.assumed) + 1
    assert "Rayleigh" in assumed.assumed[0]
    assert 0.1 < plain.year_share < 0.5
    assert not plain.months_known
