"""Riders, an engine and known speeds over the year: the hours add up to what was typed, and too many are refused."""

import numpy as np
import pytest

from samples.year_samples import machine
from sentences import exactly
from statorbook.bench.logs import blank_row
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.errors import BadInput
from statorbook.year.energy import grouping_years
from statorbook.year.engine import read_engine_months, year_of_engine
from statorbook.year.fuel import fuel_year
from statorbook.year.known_speed import read_speed_hours, year_of_speeds
from statorbook.year.months import filled_months, month_words
from statorbook.year.pedals import read_pedal_weeks, year_of_riders
from statorbook.year.source import MONTH_HOURS

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


def test_riders_add_up_to_their_weeks():
    year = year_of_riders(PEDALS, read_pedal_weeks([rider("100"), rider("100", hours="2"), rider(stretch="8")]))
    # 75 W for 8 h: chart of 1983, see `drives.pedals.SUSTAINED`; 365 days are 52.142857 weeks.
    assert year.setting.tolist() == [75.0, 100.0]
    assert [drive.rider_watts for drive in year.drives] == [75.0, 100.0]
    assert year.hours_by_setting == pytest.approx([5 * 365 / 7, 7 * 365 / 7])
    assert year.hours[1] * 31.0 == pytest.approx(year.hours[0] * 28.0)
    assert "rider's watts, from the hours of a healthy adult" in year.assumed and year.year_share > 0.0
    alone = year_of_riders(PEDALS, week_hours=5.0)
    assert alone.drives == (PEDALS,) and alone.hours.sum() == pytest.approx(5 * 365 / 7)


def test_run_hours_add_up_and_a_month_without_a_row_rests():
    year = year_of_engine(ENGINE, read_engine_months([run("Dec", 60), run("1", 80), run("Feb", 0)]))
    assert year.hours[:, 0].tolist() == [80.0] + [0.0] * 10 + [60.0]
    assert year.words == "In a year the engine runs for 140 h. It rests in February."
    assert year.gaps == ("No run hours were typed from March to November: the engine is taken to rest then.",)
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
        (
            lambda: year_of_engine(ENGINE, year_hours=9000),
            "run hours a year: 9000 h was given; a number above 0 and at most 8760 h is allowed; type the hours that "
            "the engine runs in a whole year.",
        ),
        (
            lambda: year_of_engine(ENGINE, read_engine_months([run("Jan", 5), run("Feb", 700)])),
            "engine months log, row 2, Run hours [h]: 700 h were given for February; the month has 672 h; type the "
            "hours of that month alone.",
        ),
        (
            lambda: year_of_engine(ENGINE, read_engine_months([run("Feb", 5), run("2", 7)])),
            "engine months log, row 2, Month: February stands in row 1 already; each month is allowed once; correct "
            "the month of one of the two rows, or empty that row.",
        ),
        (
            lambda: year_of_engine(ENGINE, read_engine_months([run("Jan", 0)])),
            "engine months log: no run hours were given; more than 0 h are needed; type the hours of a month.",
        ),
        (
            lambda: year_of_engine(ENGINE),
            "run hours a year: both or neither of run hours a year and a log of run hours were given; exactly one of "
            "the two is allowed; type the run hours a year, or fill in the log and empty that field.",
        ),
        (
            lambda: year_of_riders(PEDALS, read_pedal_weeks([rider("100", hours="90")] * 2)),
            "hours a week: 180 h a week were given in all; above 0 and at most 168 h are allowed, since one machine "
            "has one rider at a time; correct the hours a week.",
        ),
        (
            lambda: year_of_riders(PEDALS, read_pedal_weeks([rider("100", "2")])),
            "pedal weeks log, row 1, Effort [W] or Hours at a stretch [h]: both cells are filled; exactly one of the "
            "two is allowed; type the watts if you know them, else the hours that the rider keeps going at a stretch.",
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 9000)])),
            'speed hours log, row 1, Hours of the year, or of the month [h]: "9000" was given; a number from 0 to '
            "8760 h is allowed; type the reading again.",
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 5000), speed(300, 4000)])),
            "hours at all speeds together: 9000 h were given; a year has 8760 h; correct the hours of one or more "
            "speeds.",
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 700, "Mar"), speed(300, 45, "Mar")])),
            "hours at all speeds together: 745 h were given for March; the month has 744 h; type the hours of that "
            "month alone.",
        ),
        (
            lambda: year_of_speeds(SPEED, read_speed_hours([speed(400, 7), speed(400, 8)])),
            "speed hours log, row 2, Speed [rpm]: 400 rpm stands in row 1 for the same time already; each speed is "
            "allowed once a month, or once for the whole year; add the hours up in one row and empty the other.",
        ),
    ],
)
def test_hours_that_cannot_be_are_refused(build, said):
    with pytest.raises(BadInput, match=exactly(said)):
        build()


def test_fuel_of_a_year():
    best = max(grouping_years(machine(drive=ENGINE), year_of_engine(ENGINE, year_hours=300.0)), key=lambda y: y.kwh)
    measured = fuel_year(ENGINE, best, litres_an_hour=0.8, price_a_litre=2.0)
    # Definition: 300 h at 0.8 L an hour.
    assert measured.least_l == measured.most_l == pytest.approx(240.0)
    assert f"{2.0 * 240.0 / best.kwh:.2g} in your money" in measured.words()
    books = fuel_year(ENGINE, best)
    # The shaft's power over the belt's efficiency, 300 to 450 g a kWh, 0.72 to 0.775 kg a litre (from memory).
    shaft_kwh = 300.0 * ENGINE.torque_nm(best.speed_rpm[0]) * best.speed_rpm[0] * np.pi / 30.0 / 0.93 / 1000.0
    assert books.least_l == pytest.approx(0.300 / 0.775 * shaft_kwh)
    assert books.most_l == pytest.approx(0.450 / 0.720 * shaft_kwh)
    # No engine gives more than it burns: petrol holds about 12 kWh a kg, textbooks on combustion (from memory).
    assert best.kwh < 12.0 * 0.72 * books.least_l
    worst = min(grouping_years(machine(drive=ENGINE), year_of_engine(ENGINE, year_hours=1.0)), key=lambda y: y.kwh)
    assert (fuel_year(ENGINE, worst) is None) == (worst.kwh == 0.0)


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
