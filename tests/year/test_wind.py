"""The wind's year of a rotor: the kilowatt-hours against a quadrature of the true curve, height, refusals."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.special import gamma
from scipy.stats import weibull_min

from samples.wind_samples import FURLING, ROTOR, WINDING, machine
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.year.energy import grouping_years
from statorbook.year.wind import year_of_mean_wind, year_of_monthly_winds
from statorbook.year.wind_rows import read_wind_hours, read_wind_months
from statorbook.year.wind_settings import hub_winds_m_s, year_share
from statorbook.year.wind_table import year_of_wind_hours

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


@pytest.mark.outside(
    "year's energy of a rotor and machine, by quadrature",
    source="scipy.integrate.simpson over scipy.stats.weibull_min of the exact search's watts in 73 to 103 winds",
    number="kWh of 10 cases, 2 rotors",
    tolerance="0.5 %",
    seen="derived",
)
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


@pytest.mark.outside(
    "mean wind at 18 m from 4.5 m/s at 10 m",
    source="windpowerlib 0.2.2, wind_speed.hellman(4.5, 10, 18, hellman_exponent=0.2)",
    number="5.061358 m/s",
    tolerance="0.1 %",
    seen="computed by package",
)
def test_the_mean_is_taken_to_the_hub_by_shear():
    rotor = replace(ROTOR, wind_height_m=10.0, hub_height_m=18.0, shear_exponent=0.2)
    source = year_of_mean_wind(rotor, 4.5)
    assert source.hours_by_setting @ source.setting / 8760.0 == pytest.approx(5.061358, rel=1e-3)
    assert wording("The wind is 4.5 m/s") in source.words
    by_month = year_of_monthly_winds(rotor, months(MEANS), 1.8)
    means = by_month.hours @ by_month.setting / by_month.hours.sum(axis=1)
    assert means == pytest.approx([mean * 5.061358 / 4.5 for mean in MEANS.values()], rel=1e-3)
    assert by_month.words == wording("taken to the hub, month by month")


@pytest.mark.parametrize(("mean", "shape"), [(0.0, 2.0), (-3.0, 2.0), (20.1, 2.0), (5.0, 0.99), (5.0, 5.01)])
def test_a_mean_or_a_shape_that_no_year_has(mean, shape):
    with pytest.raises(BadInput) as refusal:
        year_of_mean_wind(ROTOR, mean, shape)
    assert str(refusal.value).count(".") <= 4
    assert ("mean wind" if shape == 2.0 else "shape") in str(refusal.value)


@pytest.mark.parametrize(("mean", "shape"), [(20.0, 2.0), (5.0, 1.0), (5.0, 5.0)])
def test_the_strongest_mean_and_both_ends_of_the_shape_are_taken(mean, shape):
    source = year_of_mean_wind(ROTOR, mean, shape)
    assert source.hours_by_setting @ source.setting / 8760.0 == pytest.approx(mean, rel=0.01)


def test_what_was_assumed_is_said():
    plain = year_of_mean_wind(ROTOR, 5.0)
    assumed = year_of_mean_wind(ROTOR, 5.0, shape_assumed=True)
    assert len(assumed.assumed) == len(plain.assumed) + 1
    assert "Rayleigh" in assumed.assumed[0]
    assert 0.1 < plain.year_share < 0.5
    assert not plain.months_known


MEANS = dict(Jan=6.1, Feb=6.0, Mar=5.6, Apr=5.0, May=4.4, Jun=4.0, Jul=3.8, Aug=3.9, Sep=4.5, Oct=5.2, Nov=5.7, Dec=6.0)


def months(means):
    return read_wind_months([{"month": name, "mean_wind": str(mean), "note": ""} for name, mean in means.items()])


def table(*bins):
    names = ("wind_from", "wind_to", "wind_hours")
    return read_wind_hours([dict(zip(names, map(str, row), strict=True)) | {"note": ""} for row in bins])


def test_each_month_has_its_own_mean():
    source = year_of_monthly_winds(ROTOR, months(MEANS))
    assert source.hours.sum(axis=1) == pytest.approx(24.0 * np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]))
    assert source.hours @ source.setting / source.hours.sum(axis=1) == pytest.approx(list(MEANS.values()), rel=1e-3)
    assert source.months_known and source.gaps == ()
    assert wording("Each month has its mean wind") in source.words


@pytest.mark.parametrize("shape, ends", [(2.0, (1.5, 3.0)), (1.4, (1.4, 3.0)), (3.5, (1.5, 3.5))])
def test_a_shape_that_nobody_measured_has_other_hours(shape, ends):
    # Texts on wind power (from memory): 1.5 in gusty valleys, 3 in trade winds; a lower shape has more storm.
    known, assumed = (year_of_monthly_winds(ROTOR, months(MEANS), shape, shape_assumed=each) for each in (False, True))
    assert known.other_hours == () and known.hours == pytest.approx(assumed.hours)
    assert [words.split()[-1] for words, _ in assumed.other_hours] == [f"{end:g}" for end in ends]
    at_10 = assumed.setting >= 10.0
    storms = [hours[:, at_10].sum() for _, hours in assumed.other_hours]
    assert storms[0] >= assumed.hours[:, at_10].sum() >= storms[1]


def test_months_alike_are_the_mean_of_the_year():
    (by_month,) = grouping_years(MACHINE, year_of_monthly_winds(ROTOR, months(dict.fromkeys(MEANS, 5.0))), [WINDING])
    (by_year,) = grouping_years(MACHINE, year_of_mean_wind(ROTOR, 5.0), [WINDING])
    assert by_month.kwh == pytest.approx(by_year.kwh)


def test_a_missing_month_lies_between_its_neighbours_and_is_named():
    source = year_of_monthly_winds(ROTOR, months({name: mean for name, mean in MEANS.items() if name != "Dec"}))
    found = source.hours[11] @ source.setting / 744.0
    assert found == pytest.approx((5.7 + 6.1) / 2.0, rel=1e-3)
    assert source.gaps == (wording("December has no mean wind"),)
    assert any("December" in words for words in source.assumed)


def test_two_januaries_and_too_few_months():
    twice = read_wind_months([{"month": name, "mean_wind": "5", "note": ""} for name in [*MEANS, "January"]])
    assert twice[-1].refusal == wording("wind months log, row 13")
    assert year_of_monthly_winds(ROTOR, twice).gaps == (twice[-1].refusal,)
    with pytest.raises(BadInput, match=wording("wind months log: 2 months")):
        year_of_monthly_winds(ROTOR, months({"Jan": 5.0, "Jul": 4.0}))


@pytest.mark.outside(
    "10 miles an hour in metres per second",
    source="NIST SP 811, appendix B.8",
    number="4.4704 m/s",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_mean_wind_may_be_typed_in_miles_an_hour():
    (reading,) = read_wind_months([{"month": "Jan", "mean_wind": "10 mph", "note": ""}])
    assert reading.mean_wind_m_s == pytest.approx(4.4704)


def test_a_table_of_hours():
    # 4 m/s for 4380 h in the mean of an even spread, 8 m/s for as long.
    source = year_of_wind_hours(ROTOR, table((3, 5, 4380), (7, 9, 4380)))
    assert source.hours.sum() == pytest.approx(8760.0) and source.gaps == ()
    assert source.hours_by_setting @ source.setting == pytest.approx(4380 * 12.0)
    assert source.hours_by_setting[(source.setting > 5.2) & (source.setting < 6.8)].sum() == 0.0
    assert not source.months_known and source.year_share > year_of_mean_wind(ROTOR, 5.0).year_share


def test_a_table_drawn_from_a_distribution_is_that_distribution():
    ends = np.arange(0.0, 31.0)
    hours = 8760.0 * np.diff(weibull_min.cdf(ends, 2.0, scale=5.0 / gamma(1.5)))
    rows = [(low, high, f"{held:.3f}") for low, high, held in zip(ends[:-1], ends[1:], hours, strict=True)]
    (found,) = grouping_years(MACHINE, year_of_wind_hours(ROTOR, table(*rows)), [WINDING])
    (wanted,) = grouping_years(MACHINE, year_of_mean_wind(ROTOR, 5.0), [WINDING])
    assert found.kwh == pytest.approx(wanted.kwh, rel=0.02)  # rows of 1 m/s are not straight inside


def test_half_an_hour_of_storm_in_a_table_is_looked_at_too():
    source = year_of_wind_hours(ROTOR, table((0, 5, 8759.5), (20, 21, 0.5), (30, 31, 0)))
    assert source.hours[:, source.setting > 19.0].sum() == pytest.approx(0.5, rel=0.05)
    assert 21.0 <= source.setting[-1] < 23.1


# Calm: the 50 mm/s and half of the 0.45 m/s above them, of 4000 h in 4 m/s, scaled to a year; nothing below 3 m/s.
@pytest.mark.parametrize(
    ("bins", "calm", "said"),
    [
        (
            ((0, 4, 4000), (4, 10, 4000)),
            8760.0 / 8000.0 * 1000.0 * (0.05 + 0.45 / 2.0),
            wording("The table holds 8,000 h"),
        ),
        (((3, 5, 5000),), 3760.0, wording("The table begins at 3 m/s")),
        (((3, 5, 8759),), 1.0, wording("The table begins at 3 m/s and holds 8,759 h")),
    ],
)
def test_hours_that_are_missing_to_a_year_are_said(bins, calm, said):
    source = year_of_wind_hours(ROTOR, table(*bins))
    assert source.hours.sum() == pytest.approx(8760.0)
    assert source.hours_by_setting[0] == pytest.approx(calm, abs=0.1)
    assert source.gaps == (said,)


# Half an hour is off by rounding; the 24 h of 29 February are not, and are scaled as well.
@pytest.mark.parametrize(
    ("hours", "gaps"),
    [
        (8759.5, ()),
        (8760.5, ()),
        (8759.0, (wording("The table holds 8,759 h"),)),
        (8784, (wording("The table holds 8,784 h"),)),
    ],
)
def test_hours_off_by_rounding_are_not_worth_a_word(hours, gaps):
    assert year_of_wind_hours(ROTOR, table((0, 5, hours))).gaps == gaps


# Close together where the watts bend, wider in storms, and the strongest wind last; common practice, no source.
@pytest.mark.parametrize("top", [3.0, 4.905, 5.0, 16.01, 26.0, 45.0])
def test_winds_that_are_looked_at(top):
    winds = hub_winds_m_s(ROTOR, top)
    assert (winds[0], winds[1], winds[-1]) == pytest.approx((0.05, 0.5, top))
    steps, starts = np.diff(winds), winds[:-1]
    most = np.select([starts < 1.45, starts < 15.95, starts < 24.95], [0.5, 0.2, 0.5], 2.0)
    assert np.all(steps <= most + 0.0101) and np.all(steps > 0.0099)
    assert np.all(steps[1:-1] >= most[1:-1] - 0.1001)


def test_a_wind_that_is_never_strong_is_looked_at_up_to_3_m_s_all_the_same():
    assert hub_winds_m_s(ROTOR, 1.0)[-1] == 3.0


# From where it furls on nothing changes much: half metres a second for four of them, then two.
def test_winds_beyond_the_furling_one():
    winds = hub_winds_m_s(FURLING, 20.0)
    beyond = winds[winds >= 9.1]
    assert beyond == pytest.approx([9.1, 9.6, 10.1, 10.6, 11.1, 11.6, 12.1, 12.6, 13.1, 15.1, 17.1, 19.1, 20.0])
    assert np.diff(winds[winds <= 9.1])[-1] > 0.01 and 9.1 not in hub_winds_m_s(FURLING, 9.0)


@pytest.mark.parametrize(
    ("bins", "said"),
    [
        (((0, 4, 5000), (4, 10, 4000)), wording("wind hours log: the rows hold 9,000 h")),
        (((0, 4, 0),), wording("wind hours log: the rows hold 0 h")),
        (((0, 4, 5000), (4, 10, "many")), wording("wind hours log, row 2, Hours of the year")),
    ],
)
def test_a_table_that_is_no_year(bins, said):
    with pytest.raises(BadInput, match=exactly(said)):
        year_of_wind_hours(ROTOR, table(*bins))


@pytest.mark.parametrize(
    ("bins", "said"),
    [
        (((4, 3, 100),), wording("wind hours log, row 1, Wind from")),
        (((0, 4, 100), (3, 5, 100)), wording("wind hours log, row 2, Wind from")),
    ],
)
def test_rows_of_a_table_that_contradict(bins, said):
    assert table(*bins)[-1].refusal == said


def test_readings_of_few_years_leave_more_open_than_those_of_many():
    # Two independent errors add as squares: a single year's own, and that of the mean of n of them, 1/√n of it.
    assert [year_share(years) / year_share() for years in (1.0, 4.0)] == pytest.approx([2.0**0.5, 1.25**0.5])


def test_all_months_without_a_mean_are_named():
    few = {name: mean for name, mean in MEANS.items() if name not in ("Mar", "Jul", "Dec")}
    assert year_of_monthly_winds(ROTOR, months(few)).gaps[0].startswith("March, July and December have no")


def test_six_months_are_enough_and_five_are_not():
    assert year_of_monthly_winds(ROTOR, months(dict.fromkeys(list(MEANS)[:6], 5.0))).hours.sum() == pytest.approx(
        8760.0
    )
    with pytest.raises(BadInput, match="for 5 months; at least 6"):
        year_of_monthly_winds(ROTOR, months(dict.fromkeys(list(MEANS)[:5], 5.0)))


def test_rows_of_a_table_may_touch_in_any_order_but_have_a_width():
    assert all(row.usable for row in table((4, 10, 100), (0, 4, 100), (10, 11, 0)))
    assert "above the first" in table((4, 4, 100))[0].refusal
    assert not table((4, 10, 100), (3, 4.1, 100))[1].usable and not table((4, 10, 100), (9.9, 12, 100))[1].usable
    assert read_wind_hours([]) == read_wind_months([]) == ()
    source = year_of_wind_hours(ROTOR, table((0, 5, 8760)))
    # A table of one year is off itself by as much as any other year.
    assert source.year_share == pytest.approx(2.0**0.5 * year_share()) and not source.months_known
    assert (source.setting_name, source.setting_unit) == ("wind at the hub", "m/s")
