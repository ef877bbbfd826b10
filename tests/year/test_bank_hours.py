"""The hours of a year in order, and banks of many sizes through them: exact hours, closed balances, known ends."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import JET
from samples.year_samples import windy
from statorbook.drives.pedals import Pedals
from statorbook.year.bank_hours import SIZES, bank_years, enough_kwh
from statorbook.year.hour_by_hour import is_drawn, order_words, watts_by_hour
from statorbook.year.source import MONTH_HOURS, SourceYear

WINDS = np.array([2.0, 4.0, 6.0, 9.0, 14.0])
HOURS = np.array([3000.0, 2500.0, 1700.0, 900.0, 60.0])
WATTS = np.array([0.0, 40.0, 260.0, 700.0, 500.0])
STARTS = np.concatenate([[0], np.cumsum(MONTH_HOURS)[:-1]]).astype(int)
NEED = np.full(8760, 90.0)


def months_of(values):
    return np.add.reduceat(values, STARTS, axis=-1)


def kind_of_year(drive, hours):
    return SourceYear(
        drives=(drive,) * len(hours[0]),
        hours=hours,
        setting=np.arange(float(len(hours[0]))),
        setting_name="",
        setting_unit="",
        words="",
    )


def lag_one(series):
    return np.corrcoef(series[:-1], series[1:])[0, 1]


@pytest.mark.parametrize("setting", range(5))
def test_the_hours_of_every_month_are_those_of_the_source(setting):
    # Definition: hours at a setting add up to the distribution's, month by month, in each year drawn.
    source = windy(WINDS, HOURS)
    at_setting = watts_by_hour(source, np.eye(5)[setting])
    assert months_of(at_setting) == pytest.approx(np.tile(source.hours[:, setting], (5, 1)), abs=1e-9)
    assert at_setting.min() >= 0.0 and at_setting.max() <= 1.0 + 1e-12


@pytest.mark.outside(
    "likeness of neighbouring hours, weather of 12 and 3 h",
    source="exact, first-order autoregression: exp(−1/12), exp(−1/3)",
    number="0.920, 0.717",
    tolerance="0.03",
    seen="derived",
)
def test_weather_lasts_as_long_as_it_is_told_to():
    winds = np.linspace(1.0, 13.0, 49)
    source = windy(winds, 8760.0 * (bell := np.exp(-(((winds - 7.0) / 2.0) ** 2) / 2.0)) / bell.sum())
    long, short = (watts_by_hour(source, winds, weather_hours=hours, draws=1)[0] for hours in (12.0, 3.0))
    # Ranks within each month change it a little.
    assert lag_one(long) == pytest.approx(0.920, abs=0.03) and lag_one(short) == pytest.approx(0.717, abs=0.03)
    assert np.array_equal(watts_by_hour(source, winds), watts_by_hour(source, winds))


def test_the_first_hour_of_a_year_is_as_varied_as_a_later_one():
    winds = np.linspace(1.0, 13.0, 49)
    found = watts_by_hour(windy(winds, np.full(49, 8760.0 / 49.0)), winds, draws=60)
    # Spread evenly over 12 m/s, one over √12 of that; sixty draws tell that within a fifth.
    assert [found[:, hour].std() for hour in (0, 2, 360)] == pytest.approx([12.0 / 12.0**0.5] * 3, rel=0.25)


def test_water_runs_evenly_and_riders_ride_in_the_evening():
    hours = np.outer(MONTH_HOURS, [0.25, 0.5])
    water = watts_by_hour(kind_of_year(JET, hours), np.array([100.0, 200.0]))
    assert water == pytest.approx(np.full((1, 8760), 125.0))
    ride = np.outer(MONTH_HOURS / 24.0, [1.0, 0.5])
    ridden = watts_by_hour(kind_of_year(Pedals(rider_watts=75.0, gear_ratio=6.5), ride), np.array([60.0, 120.0]))[0]
    # An hour and a half each day from 17 o'clock, the harder half hour first: 60 + 30 W, then 30 W.
    assert ridden[:24].nonzero()[0].tolist() == [17, 18]
    assert ridden.reshape(365, 24)[:, [17, 18]] == pytest.approx(np.tile([90.0, 30.0], (365, 1)))


def test_a_log_keeps_its_own_order():
    wind = 6.0 + 4.0 * np.sin(np.arange(8760.0) / 17.0)
    source = replace(windy(WINDS, HOURS), by_hour=wind)
    found = watts_by_hour(source, np.arange(5.0))
    # Ranks: the stronger hour of two in a month never gets the weaker setting; the hours stay those of each month.
    january, got = wind[:744].argsort(), found[0, :744]
    assert found.shape == (1, 8760) and np.diff(got[january]).min() > -1e-9
    assert months_of(found)[0] == pytest.approx(source.hours @ np.arange(5.0))


def drawn(share=0.85, sizes=SIZES * 10.0, need=NEED):
    come = watts_by_hour(windy(WINDS, HOURS), WATTS)
    return come, bank_years(come, need, np.asarray(sizes, dtype=float), round_trip_share=share)


def hour_after_hour(come, need, full, share, level):
    """One bank, one hour after the other: short, spilt, and the last level."""
    short = spilt = 0.0
    for surplus in (come - need) / 1000.0:
        level += surplus * (share if surplus > 0.0 else 1.0)
        if level > full:
            spilt, level = spilt + (level - full) / share, full
        if level < 0.0:
            short, level = short - level, 0.0
    return short, spilt, level


def test_the_balance_closes_for_every_size():
    _, found = drawn()
    # Definition: what comes = what is given + spilt + lost + what stays.
    given = found.need_kwh - found.short_kwh
    assert found.come_kwh == pytest.approx(given + found.spill_kwh + found.lost_kwh + found.change_kwh, abs=1e-9)
    assert np.diff(found.short_kwh).max() < 1e-9 and np.diff(found.spill_kwh).max() < 1e-9
    assert (found.short_kwh_low <= found.short_kwh).all() and (found.short_kwh <= found.short_kwh_high).all()


@pytest.mark.parametrize("full", [0.5, 3.0, 12.0])
def test_all_at_once_is_the_same_as_hour_after_hour(full):
    come = watts_by_hour(windy(WINDS, HOURS), WATTS, draws=1)
    found = bank_years(come, NEED, np.array([full]), round_trip_share=0.85)
    *_, begins = hour_after_hour(come[0], NEED, full, 0.85, hour_after_hour(come[0], NEED, full, 0.85, full)[2])
    short, spilt, ends = hour_after_hour(come[0], NEED, full, 0.85, begins)
    assert begins == pytest.approx(ends, abs=1e-9)  # a year begins as it ends
    assert [found.short_kwh[0], found.spill_kwh[0]] == pytest.approx([short, spilt], abs=1e-6)


def test_without_a_bank_only_what_comes_in_the_same_hour_is_used():
    come, found = drawn(sizes=[0.0])
    overlap = np.minimum(come, NEED).sum(axis=1).mean() / 1000.0
    assert found.need_kwh[0] - found.short_kwh[0] == pytest.approx(overlap)
    assert found.spill_kwh[0] == pytest.approx(found.come_kwh[0] - overlap)
    assert found.lost_kwh[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("need_watts", [40.0, 140.0])
def test_a_bank_without_end_leaves_only_the_year_s_own_balance(need_watts):
    come, found = drawn(share=1.0, sizes=[1e6], need=np.full(8760, need_watts))
    balance = come[0].sum() / 1000.0 - 8.76 * need_watts
    # A lossless bank larger than the year's energy: all that is missing is short, all that is left over is spilt.
    assert found.short_kwh[0] == pytest.approx(max(-balance, 0.0), abs=1e-6)
    assert found.spill_kwh[0] == pytest.approx(max(balance, 0.0), abs=1e-6)


def test_hours_that_are_short_are_counted_however_little_is_missing():
    # 90 W are wanted in every hour and nothing comes in the first hundred; without a bank each of these is short.
    come = np.where(np.arange(8760) < 100, 0.0, 90.0)[None, :]
    found = bank_years(come, NEED, np.array([0.0, 1.0]), round_trip_share=1.0)
    assert found.short_hours[0] == 100.0 and found.short_kwh[0] == pytest.approx(9.0)
    assert found.short_kwh_by_month[0, 0] == pytest.approx(9.0)


def test_a_size_is_enough_when_twice_of_it_hardly_helps():
    _, found = drawn()
    enough = enough_kwh(found, 788.4)
    at = found.usable_kwh.tolist().index(enough)
    saved = found.short_kwh[:-4] - found.short_kwh[4:]
    assert 0 < at and saved[at] < 7.884 <= saved[at - 1]


def test_a_year_that_brings_a_little_more_than_it_takes_leaves_the_bank_as_it_found_it():
    # Half a kilowatt-hour too much, evenly: the bank is full all year and the half is spilt; too little: empty, short.
    for extra in (0.5, -0.5):
        come = np.full((1, 8760), 90.0 + 1000.0 * extra / 8760.0)
        found = bank_years(come, NEED, np.array([2.0]), round_trip_share=1.0)
        assert found.change_kwh[0] == pytest.approx(0.0, abs=1e-9)
        assert [found.spill_kwh[0], found.short_kwh[0]] == pytest.approx([max(extra, 0.0), max(-extra, 0.0)])


def test_the_order_of_the_hours_is_drawn_where_nobody_knows_it_and_said_where_it_comes_from():
    hours = np.outer(MONTH_HOURS, [0.5])
    wind = windy(WINDS, HOURS)
    ridden = kind_of_year(Pedals(rider_watts=75.0, gear_ratio=6.5), hours)
    said = {
        "as in the log": replace(wind, by_hour=np.ones(8760)),
        "water is taken to run evenly": kind_of_year(JET, hours),
        "from 17 o'clock on": ridden,
        "five years were drawn": wind,
    }
    for words, source in said.items():
        assert [words in order_words(each) for each in said.values()].count(True) == 1 and words in order_words(source)
        assert is_drawn(source) is (source is wind)
    assert "about 12 h (assumed)" in order_words(wind, weather_hours=12.4)


def test_banks_from_a_quarter_to_sixteen_times_are_looked_at_four_to_a_doubling():
    assert (len(SIZES), SIZES[0], SIZES[-1]) == (25, 0.25, 16.0)
    assert SIZES[4:] / SIZES[:-4] == pytest.approx(np.full(21, 2.0))


def test_every_month_is_short_of_its_own_hours_and_years_are_told_by_their_mean_and_ends():
    # 90 W without a bank: nothing comes in the first 100 h of a year, or in the first 300 h of another.
    come = np.where(np.arange(8760) < np.array([[100], [300]]), 0.0, 90.0)
    found = bank_years(come, NEED, np.array([0.0]), round_trip_share=0.5)
    assert (found.short_hours[0], found.short_kwh[0]) == (200.0, pytest.approx(18.0))
    assert (found.short_kwh_low[0], found.short_kwh_high[0]) == pytest.approx((9.0, 27.0))
    none = bank_years(np.zeros((1, 8760)), NEED, np.array([0.0]), round_trip_share=0.5)
    assert none.short_kwh_by_month[:, 0] == pytest.approx(0.09 * MONTH_HOURS)
    # Half of what goes in is lost: of 90 W more than needed 45 W fill 1 kWh, the rest is spilt before it goes in.
    full = bank_years(np.full((1, 8760), 180.0), NEED, np.array([1.0]), round_trip_share=0.5)
    assert (full.spill_kwh[0], full.lost_kwh[0]) == pytest.approx((788.4, 0.0))
