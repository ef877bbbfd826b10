"""What a need and a bank come to, in sentences: what is said when."""

import numpy as np
import pytest

from sentences import sentences_of
from statorbook.year.bank_hours import SIZES, BankYears, bank_years
from statorbook.year.need import Need, need_months
from statorbook.year.need_words import bank_words, lull_words, months_words

wording = sentences_of("year_need")
COME = np.array([90.0, 80.0, 85.0, 60.0, 45.0, 30.0, 25.0, 28.0, 40.0, 60.0, 75.0, 88.0])


def said(kwh_a_day, *, usable_kwh=2.6, come=COME, months_known=True, **changes):
    fields = {"kwh_a_day": np.full(12, kwh_a_day), "round_trip_share": 0.85, "usable_kwh": usable_kwh, **changes}
    need = Need(**fields)
    return months_words(need_months(come, need), need, months_known=months_known)


@pytest.mark.parametrize(
    "kwh_a_day, sentence",
    [
        (0.3, wording("every month carries it")),
        (1.0, wording("a season that no bank carries")),
        (1.52, wording("a year that is only just enough")),
        (3.0, wording("a year that is too little")),
    ],
)
def test_what_the_months_come_to(kwh_a_day, sentence):
    assert said(kwh_a_day) == sentence


def test_a_bank_of_a_few_times_may_carry_the_lean_months():
    few, many = said(0.6, usable_kwh=10.0), said(1.0, usable_kwh=2.6)
    assert "times yours." in few and "not a season" not in few and "not a season" in many


def test_a_house_on_dc_speaks_of_no_inverter():
    assert "inverter" not in said(0.3, inverter_efficiency=1.0, inverter_idle_watts=0.0)
    assert wording("months alike") in said(0.3, months_known=False)


# Two figures below 10 kWh, whole ones from there on: 10.0 kWh come in, 8.5 go out.
def test_few_kilowatt_hours_are_told_with_two_figures():
    words = said(0.3, come=np.full(12, 10.0 / 12.0))
    assert words.startswith(wording("two figures"))
    assert said(0.3, come=np.zeros(12)).startswith(wording("nothing comes"))


# 28 days of 1.2 kWh / 0.9 and 0.24 kWh idle are 44.05 kWh that a dry February takes out of the bank.
@pytest.mark.parametrize("usable_kwh, times", [(10.0, "4.4 times yours."), (8.8, "5 times yours:"), (0.0, "usable: a")])
def test_how_many_banks_carry_a_dry_month(usable_kwh, times):
    come = np.full(12, 100.0)
    come[1] = 0.0
    words = said(1.2, usable_kwh=usable_kwh, come=come)
    assert f"would take 44 kWh usable{', ' if usable_kwh else ''}{times.removeprefix('usable')}" in words


def test_a_bank_in_words():
    need = Need(kwh_a_day=np.full(12, 1.0), round_trip_share=0.85, usable_kwh=2.0)
    come = np.where(np.arange(8760) % 96 < 24, 400.0, 0.0)[None, :]  # a day of each four
    found = bank_years(come, need.hourly_bank_watts, 2.0 * SIZES, round_trip_share=0.85)
    words = bank_words(found, found.only([8, 12]), need)
    assert "with 2 kWh usable" in words and f"short in {found.short_hours[8]:.0f} hours" in words
    assert "years drawn" not in words  # one year, no spread
    # 1 / 0.9 + 0.24 kWh a day out of the bank, 3 days, half of it used: 8.1 kWh, at 24 V 338 Ah.
    assert lull_words(need, 0.5, 24.0) == wording("three days with nothing coming")


def banks(usable_kwh, short_kwh, low_kwh=None, high_kwh=None):
    """Banks that leave so much short in January; 12.4 kWh spilt and 3.21 kWh lost in each, in 40 hours."""
    size = np.ones(len(usable_kwh))
    months = np.zeros((12, len(size)))
    months[0] = short_kwh
    return BankYears(
        usable_kwh=np.array(usable_kwh),
        short_kwh_by_month=months,
        come_kwh=500.0 * size,
        need_kwh=400.0 * size,
        spill_kwh=12.4 * size,
        lost_kwh=3.21 * size,
        change_kwh=0.0 * size,
        short_hours=40.0 * size,
        short_kwh_low=np.array(short_kwh if low_kwh is None else low_kwh),
        short_kwh_high=np.array(short_kwh if high_kwh is None else high_kwh),
    )


# Four sizes on is twice the size: each saves so much over its double, and less than 4 kWh, 1 % of the need, hardly
# helps. 1 kWh a day / 0.9 and 0.24 kWh idle are 1.351 kWh a day: 4 kWh are 3.0 days.
@pytest.mark.parametrize(
    "saved_kwh, low, high, sentence",
    [
        ((10.0, 9.0, 8.0, 4.0, 3.9, 3.0, 2.0, 1.0), None, None, wording("from 5 kWh on")),
        ((10.0, 9.0, 8.0, 4.0, 4.0, 4.0, 4.0, 4.0), None, None, wording("a larger bank still helps")),
        ((1.0,) * 8, [20.0, 9.0], [30.4, 9.0], wording("in the years drawn, even from the smallest on")),
        ((1.0,) * 8, [24.0, 9.0], [24.04, 9.0], wording("even from the smallest on")),
    ],
)
def test_a_bank_s_year_in_words(saved_kwh, low, high, sentence):
    need = Need(kwh_a_day=np.full(12, 1.0), round_trip_share=0.85, usable_kwh=4.0)
    short = np.zeros(12)
    for at in range(7, -1, -1):
        short[at] = short[at + 4] + saved_kwh[at]
    found, chosen = banks(np.arange(1.0, 13.0), short), banks([4.0, 8.0], [24.0, 9.0], low, high)
    assert bank_words(found, chosen, need) == sentence


# A month may be short of a twentieth of a kilowatt-hour and is still said to carry the need: 31 days of 1 kWh out of a
# bank that gives back all are 31 kWh.
@pytest.mark.parametrize("missing_kwh, lean", [(0.049, False), (0.051, True)])
def test_a_month_that_is_short_of_next_to_nothing_carries_it(missing_kwh, lean):
    come = np.full(12, 100.0)
    come[11] = 31.0 - missing_kwh
    dc = {"inverter_efficiency": 1.0, "inverter_idle_watts": 0.0, "round_trip_share": 1.0}
    words = said(1.0, come=come, **dc)
    assert ("short in Dec" in words) is lean and ("Every month carries it" in words) is not lean
    assert "taken alike" not in words
