"""Need against what comes, by month: worked examples, the household's profile, and balances that close."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from samples.machine_samples import JET
from samples.year_samples import ROTOR, machine, windy, year_of
from sentences import exactly, sentences_of
from statorbook.bank.battery import Bank
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pipe import Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.errors import BadInput
from statorbook.year.energy import grouping_years
from statorbook.year.household import HOUR_SHARES, MONTH_SHARES, hourly_watts, household_kwh_a_day
from statorbook.year.need import Need, bank_kwh_for, capacity_caution, need_months, season_kwh, share_of_peak
from statorbook.year.need_log import need_by_month
from statorbook.year.source import MONTH_HOURS

wording = sentences_of("year_need")

DAYS = MONTH_HOURS / 24.0
COME = np.array([90.0, 80.0, 85.0, 60.0, 45.0, 30.0, 25.0, 28.0, 40.0, 60.0, 75.0, 88.0])

PIPED = PipedJet(
    gross_head_m=30.0,
    pipe=Pipe(length_m=200.0, bore_mm=75.0, material="polyethylene"),
    pitch_diameter_mm=260.0,
    nozzle_mm=14.0,
)


def need_of(kwh_a_day=1.5, **changes):
    return Need(**{"kwh_a_day": np.full(12, kwh_a_day), "round_trip_share": 0.85, "usable_kwh": 2.6, **changes})


@pytest.mark.parametrize(
    "kwh, peak_watts, expected_share",
    [
        pytest.param(
            8.4,
            1500.0,
            0.23,
            marks=pytest.mark.outside(
                "load factor of lamps and heaters, 8.4 kWh a day",
                source="Theraja, A Textbook of Electrical Technology III, example 50.4, p. 1955",
                number="0.23",
                tolerance="0.005",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            4400e3,
            260e6,
            0.71,
            marks=pytest.mark.outside(
                "load factor of a day in four steps",
                source="Theraja, A Textbook of Electrical Technology III, example 50.21, p. 1964",
                number="0.71",
                tolerance="0.005",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            4400e3,
            300e6,
            0.61,
            marks=pytest.mark.outside(
                "capacity factor of that day in a 300 MW plant",
                source="Theraja, A Textbook of Electrical Technology III, example 50.21, p. 1964",
                number="0.61",
                tolerance="0.005",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            576e3,
            40e6,
            0.60,
            marks=pytest.mark.outside(
                "load factor of a straight duration curve, 40 to 8 MW",
                source="Theraja, A Textbook of Electrical Technology III, example 50.23, p. 1965",
                number="0.60",
                tolerance="0.005",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            576e3,
            50e6,
            0.48,
            marks=pytest.mark.outside(
                "capacity factor of that curve in a 50 MW plant",
                source="Theraja, A Textbook of Electrical Technology III, example 50.23, p. 1965",
                number="0.48",
                tolerance="0.005",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_load_factor_and_capacity_factor(kwh, peak_watts, expected_share):
    assert share_of_peak(kwh, peak_watts, 24.0) == pytest.approx(expected_share, abs=0.005)


@pytest.mark.parametrize(
    "kwh_a_day, days, shares, expected_kwh",
    [
        pytest.param(
            4.32,
            1.0,
            {"usable_share": 0.8, "out_share": 0.95},
            5.6842,
            marks=pytest.mark.outside(
                "bank for 3600 W during 1.2 h",
                source="Maini and Agrawal, Satellite Communications, example 4.6, p. 134",
                number="5684.2 Wh",
                tolerance="0.01 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            9.0,
            2.0,
            {"usable_share": 0.5, "spare_share": 0.15},
            41.4,
            marks=pytest.mark.outside(
                "bank for 9 kWh a day, 2 days, half used, 15 % spare",
                source="common practice, no source",
                number="41.4 kWh",
                tolerance="0.01 %",
                seen="from memory",
            ),
        ),
        pytest.param(
            10.0,
            3.0,
            {"usable_share": 0.5},
            60.0,
            marks=pytest.mark.outside(
                "lead-acid bank for 10 kWh a day, 3 days",
                source="common practice, no source",
                number="60 kWh",
                tolerance="0.01 %",
                seen="from memory",
            ),
        ),
        pytest.param(
            10.0,
            3.0,
            {"usable_share": 0.9},
            33.333,
            marks=pytest.mark.outside(
                "lithium bank for 10 kWh a day, 3 days",
                source="common practice, no source",
                number="33.3 kWh",
                tolerance="0.01 %",
                seen="from memory",
            ),
        ),
    ],
)
def test_a_bank_for_days_without_anything_coming(kwh_a_day, days, shares, expected_kwh):
    assert bank_kwh_for(kwh_a_day, days, **shares) == pytest.approx(expected_kwh, rel=1e-4)


@pytest.mark.outside(
    "days that 1250 Ah at 48 V, half used, carry",
    source="common practice, no source",
    number="3 days",
    tolerance="1e-6",
    seen="from memory",
)
def test_days_of_a_bank_are_the_other_way_round():
    # 1250 Ah at 48 V, half of it, for 10 kWh a day.
    need = need_of(10.0, usable_kwh=0.5 * 1.25 * 48.0, inverter_efficiency=1.0, inverter_idle_watts=0.0)
    assert need.days_of_bank == pytest.approx(3.0)


@pytest.mark.outside(
    "share of a bank that is used, lead-acid and lithium",
    source="common practice, no source",
    number="0.5, 0.9",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("chemistry, cells, expected_share", [("AGM", 24, 0.5), ("LiFePO4", 16, 0.9)])
def test_what_is_used_of_a_bank_by_its_chemistry(chemistry, cells, expected_share):
    bank = Bank(chemistry=chemistry, cells=cells, capacity_ah=100.0)
    assert bank.usable_share == expected_share
    assert 4.7 < bank.capacity_kwh < 5.4 and 0.7 < bank.round_trip_share < 1.0


@pytest.mark.outside(
    "need at the bank over need behind an inverter",
    source="Home Power, stand-alone system design, p. 3",
    number="0.9",
    tolerance="1e-6",
    seen="read",
)
def test_the_inverter_divides_the_need_and_idles_on_top():
    assert need_of(0.9, inverter_idle_watts=0.0).bank_kwh == pytest.approx(DAYS)
    assert need_of(0.0, inverter_idle_watts=10.0).bank_kwh == pytest.approx(0.24 * DAYS)


@pytest.mark.outside(
    "a household's 1000 kWh by month",
    source="demandlib 0.2.2, bdew.ElecSlp(2025).get_scaled_power_profiles({'h0_dyn': 1000})",
    number="101.71, 89.55, 93.49, 83.36, 78.56, 70.41, 69.70, 71.42, 73.11, 83.13, 86.89, 98.68 kWh",
    tolerance="0.05 kWh",
    seen="computed by package",
)
def test_a_household_takes_most_in_january():
    kwh = household_kwh_a_day(1000.0 / 365.0) * DAYS
    assert kwh.sum() == pytest.approx(1000.0)
    wanted = [101.71, 89.55, 93.49, 83.36, 78.56, 70.41, 69.70, 71.42, 73.11, 83.13, 86.89, 98.68]
    assert kwh == pytest.approx(wanted, abs=0.05)


@pytest.mark.outside(
    "a household's day in the hours from 12 and from 3",
    source="demandlib 0.2.2, bdew.ElecSlp(2025).get_scaled_power_profiles({'h0': 1000})",
    number="5.793, 1.581 %",
    tolerance="0.1 %",
    seen="computed by package",
)
def test_a_household_s_day_peaks_at_noon_and_sleeps_at_three():
    watts = hourly_watts(np.full(12, 1.0))
    assert len(watts) == 8760 and watts.sum() == pytest.approx(365e3)
    assert watts[[12, 3, 24 * 364 + 12]] == pytest.approx([57.93, 15.81, 57.93], rel=1e-3)
    # Percents to three places and thousandths to two: a slip of the pen shows in their sum.
    assert [HOUR_SHARES.sum(), MONTH_SHARES.sum()] == pytest.approx([1.0, 1.0], abs=2e-5)


def test_months_close_and_the_leanest_sets_what_all_carry():
    need = need_of()
    found = need_months(COME, need)
    # Definition: what comes is taken, lost or spilt; what is wanted is taken or short.
    assert found.come_kwh == pytest.approx(found.taken_kwh + found.lost_kwh + found.spill_kwh, abs=1e-9)
    assert need.bank_kwh == pytest.approx(found.taken_kwh + found.short_kwh, abs=1e-9)
    assert found.short_kwh[6] > 0.0 and found.spill_kwh[0] > 0.0
    # July: 25 kWh × 0.85 / 31 days, less 0.24 kWh idle, × 0.9.
    assert found.every_month_kwh_a_day == pytest.approx((25.0 * 0.85 / 31.0 - 0.24) * 0.9)
    just = need_months(COME, need_of(found.every_month_kwh_a_day))
    assert just.short_kwh == pytest.approx(np.zeros(12), abs=1e-9)
    assert need_months(COME, need_of(found.every_month_kwh_a_day + 0.01)).short_kwh[6] > 0.0


@pytest.mark.outside(
    "store for drawing a year's flows off at their mean",
    source="B. R. Gupta, Generation of Electrical Energy, example 8.2, p. 134",
    number="3000 m³/s·month",
    tolerance="1e-6",
    seen="in a reproduction",
)
def test_the_store_of_a_season_is_the_mass_curve_s():
    flows = np.array([1000, 800, 600, 400, 400, 1200, 2400, 2400, 1000, 400, 400, 1000])
    assert season_kwh(flows - 1000.0) == pytest.approx(3000.0)
    assert season_kwh(flows - 1001.0) == inf
    assert season_kwh(np.zeros(12)) == 0.0


def test_a_year_far_from_what_such_a_source_gives_is_told():
    # Hydro above 50 %, wind about 30 %: common practice, no source; the bands round them are this workbook's own.
    steady = year_of([JET], [8760.0])
    water = grouping_years(machine(), steady)[0]
    assert capacity_caution(steady, water) == wording("a stream all year")
    gale = windy([3.0, 7.0], [100.0, 8660.0])
    blown = max(grouping_years(machine(), gale), key=lambda year: year.kwh)
    assert "45%" in capacity_caution(gale, blown)
    # A stronger wind counts as soon as it blows at all, and then the mean is a smaller share of the most.
    for hours, told in ((0.0, True), (0.5, False)):
        gusty = windy([3.0, 7.0, 9.0], [4360.0, 4399.5, hours])
        blown = max(grouping_years(machine(), gusty), key=lambda year: year.kwh)
        assert bool(capacity_caution(gusty, blown)) is told
    usual = windy([3.0, 5.0, 10.0], [7000.0, 1500.0, 260.0])
    calm = max(grouping_years(machine(), usual), key=lambda year: year.kwh)
    assert capacity_caution(usual, calm) == ""


@pytest.mark.parametrize(
    "changes, sentence",
    [
        ({"kwh_a_day": -1.0}, wording("a need below nothing")),
        ({"inverter_efficiency": 1.2}, wording("an inverter of 120 %")),
        ({"round_trip_share": 0.0}, wording("a bank that gives nothing back")),
    ],
)
def test_a_need_that_cannot_be_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        need_of(**changes)


@pytest.mark.parametrize(
    "name, fair, beyond",
    [
        ("kwh_a_day", (0.0, 1000.0), (-0.1, 1001.0)),
        ("usable_kwh", (0.0,), (-0.1,)),
        ("round_trip_share", (0.01, 1.0), (0.0, 1.01)),
        ("inverter_efficiency", (0.01, 1.0), (0.0, 1.01)),
        ("inverter_idle_watts", (0.0, 5000.0), (-0.1, 5001.0)),
    ],
)
def test_a_need_may_be_at_its_ends_and_not_beyond(name, fair, beyond):
    for value in fair:
        assert np.all(getattr(need_of(**{name: value}), name) == value)
    for value in beyond:
        with pytest.raises(BadInput, match="allowed"):
            need_of(**{name: value})


def test_without_a_need_a_bank_lasts_for_ever_and_the_mean_counts_days():
    assert need_of(0.0, inverter_idle_watts=0.0).days_of_bank == inf
    # 2 kWh in the 31 days of January alone: 62 kWh over 365 days.
    january = Need(kwh_a_day=np.array([2.0] + [0.0] * 11), round_trip_share=0.85, usable_kwh=1.0)
    assert january.mean_kwh_a_day == pytest.approx(62.0 / 365.0)
    # 10 W for 744 h, and 62 kWh through an inverter of 0.9.
    assert january.bank_kwh[0] == pytest.approx(62.0 / 0.9 + 7.44)
    assert january.hourly_bank_watts.sum() / 1000.0 == pytest.approx(january.bank_kwh.sum())


def test_a_month_that_was_not_typed_lies_between_its_neighbours():
    rows = [{"month": month, "need_kwh_a_day": kwh, "note": ""} for month, kwh in (("Jan", "4"), ("July", "1"))]
    kwh, filled_in = need_by_month(rows)
    assert kwh[[0, 3, 6, 9]] == pytest.approx([4.0, 2.5, 1.0, 2.5])
    assert "February" in filled_in[0] and "July" not in filled_in[0]


def test_two_januaries_are_refused():
    rows = [{"month": month, "need_kwh_a_day": "2", "note": ""} for month in ("Jan", "1")]
    with pytest.raises(BadInput, match=exactly(wording("two Januaries"))):
        need_by_month(rows)


# Bands of small plants, this workbook's own judgement: wind 5 to 45 %, a stream 30 to 95 %.
@pytest.mark.parametrize(
    "drive, band",
    [(ROTOR, (0.05, 0.45)), (JET, (0.30, 0.95)), (PIPED, (0.30, 0.95)), (KnownSpeed(working_rpm=300.0), None)],
)
def test_the_bands_of_what_a_source_gives(drive, band):
    source = year_of([drive], [8760.0])
    year = replace(grouping_years(machine(), source)[0], bank_watts=np.array([100.0]))
    for share in (0.01, *((end + step for end in band for step in (-1e-4, 1e-4)) if band else ()), 0.99):
        told = capacity_caution(source, replace(year, hours=share * source.hours))
        assert bool(told) is (band is not None and not band[0] <= share <= band[1]), share
    assert capacity_caution(source, replace(year, hours=0.0 * source.hours)) == ""


def test_a_log_of_every_month_has_nothing_filled_in_and_an_empty_one_is_refused():
    rows = [{"month": str(month), "need_kwh_a_day": str(month), "note": ""} for month in range(1, 13)]
    kwh, filled_in = need_by_month(rows)
    assert kwh.tolist() == list(range(1, 13)) and filled_in == ()
    _, filled_in = need_by_month(rows[1:])
    assert filled_in[0].split(", ") == ["need of January", "from the months beside"]
    with pytest.raises(BadInput):
        need_by_month([])
