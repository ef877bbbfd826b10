"""Riders, an engine and known speeds over the year: the hours add up to what was typed, and too many are refused."""

from calendar import monthrange

import numpy as np
import pytest

from samples.year_samples import machine
from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.errors import BadInput
from statorbook.year.energy import grouping_years
from statorbook.year.engine import read_engine_months, year_of_engine
from statorbook.year.fuel import FuelYear, fuel_year
from statorbook.year.known_speed import read_speed_hours, year_of_speeds
from statorbook.year.months import filled_months, listed, month_words
from statorbook.year.pedals import read_pedal_weeks, year_of_riders
from statorbook.year.source import HOURS_A_YEAR, MONTH_HOURS

wording = sentences_of("year_source")

PEDALS = Pedals(rider_watts=100.0, gear_ratio=6.0)
ENGINE = Engine(rated_watts=1500.0, engine_rpm=3000.0, pulley_ratio=0.3)
SPEED = KnownSpeed(working_rpm=400.0)


def rider(watts="", stretch="", hours="5"):
    cells = {"rider_watts": watts, "stretch_hours": stretch, "week_hours": hours}
    return blank_row("pedal_weeks") | cells


def run(month, hours):
    return blank_row("engine_months") | {"month": month, "run_hours": str(hours)}


def speed(rpm, hours, month=""):
    return blank_row("speed_hours") | {"speed_rpm": str(rpm), "held_hours": str(hours), "month": month}


def test_a_year_has_the_hours_of_the_calendar():
    assert MONTH_HOURS.tolist() == [24.0 * monthrange(2025, month)[1] for month in range(1, 13)]
    assert HOURS_A_YEAR == 8760.0


def test_riders_add_up_to_their_weeks():
    year = year_of_riders(PEDALS, read_pedal_weeks([rider("100"), rider("100", hours="2"), rider(stretch="8")]))
    # 75 W for 8 h: chart of 1983, see `drives.pedals.SUSTAINED`; 365 days are 52.142857 weeks.
    assert year.setting.tolist() == [75.0, 100.0]
    assert [drive.rider_watts for drive in year.drives] == [75.0, 100.0]
    assert year.hours_by_setting == pytest.approx([5 * 365 / 7, 7 * 365 / 7])
    assert year.hours[1] * 31.0 == pytest.approx(year.hours[0] * 28.0)
    assert wording("rider's watts, from the") in year.assumed and year.year_share > 0.0
    assert year.words == wording("In a week the pedals")  # 12 h in 7 days
    alone = year_of_riders(PEDALS, week_hours=5.0)
    assert alone.drives == (PEDALS,) and alone.hours.sum() == pytest.approx(5 * 365 / 7)


def test_run_hours_add_up_and_a_month_without_a_row_rests():
    year = year_of_engine(ENGINE, read_engine_months([run("Dec", 60), run("1", 80), run("Feb", 0)]))
    assert year.hours[:, 0].tolist() == [80.0] + [0.0] * 10 + [60.0]
    assert year.words == wording("In a year the")
    assert year.gaps == (wording("No run hours were"),)
    even = year_of_engine(ENGINE, year_hours=365.0)
    assert even.hours[:, 0] == pytest.approx(MONTH_HOURS / 24.0) and not even.months_known


def test_speeds_add_up():
    year = year_of_speeds(SPEED, read_speed_hours([speed(500, 876), speed(300, 100, "Jan"), speed(500, 44, "1")]))
    assert year.setting.tolist() == [300.0, 500.0]
    # A tenth of each month for the 876 h of the year.
    assert year.hours[:, 1] == pytest.approx(MONTH_HOURS / 10.0 + 44.0 * (np.arange(12) == 0))
    assert year.hours[:, 0].tolist() == [100.0] + [0.0] * 11 and year.months_known
    assert year_of_speeds(SPEED, year_hours=8760.0).hours[:, 0] == pytest.approx(MONTH_HOURS)


@pytest.mark.parametrize(
    "build, said",
    [
        (lambda: year_of_engine(ENGINE, year_hours=9000), wording("run hours a year: 9000")),
        (
            lambda: year_of_engine(ENGINE, read_engine_months([run("Jan", 5), run("Feb", 700)])),
            wording("engine months log, row 2,"),
        ),
        (
            lambda: year_of_engine(ENGINE, read_engine_months([run("Feb", 5), run("2", 7)])),
            wording("engine months log, row"),
        ),
        (lambda: year_of_engine(ENGINE, read_engine_months([run("Jan", 0)])), wording("engine months log: no")),
        (lambda: year_of_engine(ENGINE), wording("run hours a year:")),
        (
            lambda: year_of_riders(PEDALS, read_pedal_weeks([rider("100", hours="90")] * 2)),
            wording("hours a week: 180"),
        ),
        (lambda: year_of_riders(PEDALS, read_pedal_weeks([rider("100", "2")])), wording("pedal weeks log, row")),
        (lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 9000)])), wording("speed hours log, row 1,")),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 5000), speed(300, 4000)])),
            wording("hours at all speeds together:"),
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 700, "Mar"), speed(300, 45, "Mar")])),
            wording("hours at all speeds"),
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 7), speed(400, 8)])),
            wording("speed hours log, row"),
        ),
    ],
)
def test_hours_that_cannot_be_are_refused(build, said):
    with pytest.raises(BadInput, match=exactly(said)):
        build()


@pytest.mark.outside(
    "petrol that a small engine burns",
    source="common practice, no source",
    number="300 to 450 g/kWh",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.outside(
    "density of petrol", source="EN 228", number="0.720 to 0.775 kg/L", tolerance="1e-6", seen="from memory"
)
@pytest.mark.outside(
    "energy of petrol, which no engine exceeds",
    source="Heywood, Internal Combustion Engine Fundamentals, appendix D: 44 MJ/kg",
    number="12 kWh/kg",
    tolerance="not above",
    seen="from memory",
)
def test_fuel_of_a_year():
    best = max(grouping_years(machine(drive=ENGINE), year_of_engine(ENGINE, year_hours=300.0)), key=lambda y: y.kwh)
    measured = fuel_year(ENGINE, best, litres_an_hour=0.8, price_a_litre=2.0)
    # Definition: 300 h at 0.8 L an hour.
    assert measured.least_l == measured.most_l == pytest.approx(240.0)
    assert f"{2.0 * 240.0 / best.kwh:.2g} in your money" in measured.words()
    books = fuel_year(ENGINE, best)
    # The shaft's power over the belt's efficiency.
    shaft_kwh = 300.0 * ENGINE.torque_nm(best.speed_rpm[0]) * best.speed_rpm[0] * np.pi / 30.0 / 0.93 / 1000.0
    assert books.least_l == pytest.approx(0.300 / 0.775 * shaft_kwh)
    assert books.most_l == pytest.approx(0.450 / 0.720 * shaft_kwh)
    assert best.kwh < 12.0 * 0.72 * books.least_l
    worst = min(grouping_years(machine(drive=ENGINE), year_of_engine(ENGINE, year_hours=1.0)), key=lambda y: y.kwh)
    assert (fuel_year(ENGINE, worst) is None) == (worst.kwh == 0.0)


# By hand: 24 to 36 L for 120 kWh are 0.2 to 0.3 L each, and at 2.5 a litre they cost 0.5 to 0.75.
@pytest.mark.parametrize(
    "changes, words",
    [
        ({}, wording("24 to 36 L of petrol")),
        ({"load_share": 0.49}, wording("petrol at part load")),
        ({"price_a_litre": 2.5}, wording("petrol with its price")),
        (
            {"measured": True, "most_l": 24.0, "fuel": "diesel", "price_a_litre": 2.5},
            wording("diesel that was measured"),
        ),
    ],
)
def test_fuel_in_words(changes, words):
    fields = {"fuel": "petrol", "kwh": 120.0, "least_l": 24.0, "most_l": 36.0, "load_share": 0.5, "measured": False}
    assert FuelYear(**fields | changes).words() == words


def test_how_hard_an_engine_is_driven_and_how_much_it_may_be_said_to_burn():
    best = max(grouping_years(machine(drive=ENGINE), year_of_engine(ENGINE, year_hours=300.0)), key=lambda y: y.kwh)
    books = fuel_year(ENGINE, best, "diesel")
    shaft_kwh = 300.0 * ENGINE.torque_nm(best.speed_rpm[0]) * best.speed_rpm[0] * np.pi / 30.0 / 0.93 / 1000.0
    assert books.load_share == pytest.approx(shaft_kwh / 300.0 / 1.5)
    # EN 590, small diesel engines, heat-engine texts (both from memory): 240 to 330 g/kWh, 0.820 to 0.845 kg/L.
    assert (books.least_l, books.most_l) == pytest.approx((0.240 / 0.845 * shaft_kwh, 0.330 / 0.820 * shaft_kwh))
    assert fuel_year(ENGINE, best, litres_an_hour=50.0).least_l == pytest.approx(15_000.0)
    for wrong in (0.0, 50.1):
        with pytest.raises(BadInput, match="fuel an hour"):
            fuel_year(ENGINE, best, litres_an_hour=wrong)


def test_hours_at_their_ends_are_taken():
    assert year_of_engine(ENGINE, year_hours=8760.0).hours.sum() == pytest.approx(8760.0)
    assert year_of_engine(ENGINE, read_engine_months([run("Feb", 672)])).hours.sum() == 672.0
    assert year_of_riders(PEDALS, read_pedal_weeks([rider("100", hours="84")] * 2)).hours.sum() == pytest.approx(8760.0)
    whole = [speed(400, 5000), speed(300, 3760)]
    assert year_of_speeds(SPEED, read_speed_hours(whole)).words == wording("whole year at two speeds")
    # The same speed may stand once for the year and once for a month; riders that never ride are left out.
    twice = year_of_speeds(SPEED, read_speed_hours([speed(400, 876), speed(400, 8, "Jan")]))
    assert twice.hours_by_setting == pytest.approx([884.0])
    ridden = year_of_riders(PEDALS, read_pedal_weeks([rider("100"), rider("60", hours="0")]))
    assert ridden.setting.tolist() == [100.0] and "healthy" not in " ".join(ridden.assumed)
    for nothing in (lambda: year_of_riders(PEDALS, week_hours=0.0), lambda: year_of_speeds(SPEED, year_hours=0.0)):
        with pytest.raises(BadInput, match="0 h|no hours"):
            nothing()


def test_names_in_a_sentence():
    assert [listed(["May", "June", "July"][:count]) for count in range(4)] == [
        "",
        "May",
        "May and June",
        "May, June and July",
    ]


@pytest.mark.parametrize(
    "months, words",
    [
        (range(12), "all year"),
        ([4], "in May"),
        ([11, 0, 1], "from December to February"),
        ([0, 2, 3, 5], "in January, from March to April and in June"),
    ],
)
def test_months_are_said_as_spans_across_the_new_year(months, words):
    assert month_words(months) == words


def test_a_missing_month_lies_between_its_neighbours_across_the_new_year():
    values = np.full(12, np.nan)
    values[[1, 11]] = 4.0, 2.0
    # Straight from December's 2 to February's 4.
    assert filled_months(values)[0] == pytest.approx(3.0)
    assert filled_months(values)[6] == pytest.approx(3.0)


def test_a_log_without_rows_is_empty_and_what_was_assumed_of_a_year_is_told():
    for read, name in ((read_pedal_weeks, "pedal_weeks"), (read_engine_months, "engine_months")):
        assert read([]) == read([blank_row(name)]) == ()
    assert read_speed_hours([]) == read_speed_hours([blank_row("speed_hours")]) == ()
    typed = year_of_engine(ENGINE, read_engine_months([run("Jan", 80)]))
    even = year_of_engine(ENGINE, year_hours=80.0)
    assert typed.months_known and "every month alike" not in typed.assumed and "every month alike" in even.assumed
    assert even.gaps == () and "rests" not in even.words
    # Habit: a fifth more or less; common practice, no source.
    riders, held = year_of_riders(PEDALS, week_hours=5.0), year_of_speeds(SPEED, year_hours=100.0)
    for year in (typed, even, riders, held):
        assert "within ± 20 %" in year.assumed[-1] and year.year_share == 0.2
    assert not riders.months_known and not held.months_known and "every week alike" in riders.assumed
    whole, january = (read_speed_hours([speed(400, 80, month)]) for month in ("", "Jan"))
    assert not year_of_speeds(SPEED, whole).months_known and year_of_speeds(SPEED, january).months_known
    for cells in ((("100", "2")), ("", "")):
        (row,) = read_pedal_weeks([rider(*cells)])
        assert f"both cells are {'filled' if cells[0] else 'empty'}" in row.refusal
