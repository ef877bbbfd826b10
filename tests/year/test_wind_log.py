"""A log of the wind from any hand: columns, units, dates, gaps, damage, and the year that it is."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.wind_samples import FURLING, HOURLY, ROTOR, WINDING, WINDS, machine, wind_text
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.job.history import history, restore, versions
from statorbook.job.job import Job
from statorbook.year.energy import grouping_years
from statorbook.year.wind import year_of_mean_wind
from statorbook.year.wind_log import read_wind_log, year_of_wind_log
from statorbook.year.wind_text import read_wind_text
from statorbook.year.wind_times import times_of

wording = sentences_of("year_wind")
MACHINE = machine()
SECONDS = HOURLY[0] + np.arange(500) * np.timedelta64(1, "s")


def log_of(text, unit=""):
    return read_wind_log(read_wind_text(text, unit).rows)


PLAIN = log_of(wind_text())


@pytest.mark.parametrize(
    "how",
    [
        dict(head="Zeit;Wind in m/s", mark=";", order="%d.%m.%Y %H:%M", comma=","),
        dict(head="time\twind_ms", mark="\t", order="%Y-%m-%dT%H:%M:%SZ"),
        dict(head="date time wind m/s", mark=" ", order="%Y/%m/%d %H:%M"),
        dict(order="%m/%d/%Y %I:%M %p"),
        dict(order="%d/%m/%y %H:%M:%S"),
        dict(order="%d-%b-%Y %H:%M"),
        dict(order="%Y%m%d%H%M"),
        dict(head="Mast 3, by the barn\nTime,Wind speed\n,m/s"),
    ],
)
def test_any_hand_is_the_same_log(how):
    found = log_of(wind_text(**how))
    assert np.array_equal(found.times, PLAIN.times)
    assert np.array_equal(found.winds_m_s, PLAIN.winds_m_s)
    assert found.repairs == found.holes == ()


@pytest.mark.outside(
    "miles, knots and kilometres an hour in metres per second",
    source="NIST SP 811, appendix B.8",
    number="0.44704, 0.514444, 0.277778 m/s",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("head", "chosen", "metres"),
    [
        ("Time,Wind [km/h]", "", 1 / 3.6),
        ("Time,Wind speed (mph)", "", 0.44704),
        ("Time,wind_kt", "", 1852 / 3600),
        ("Time,Wind", "kn", 1852 / 3600),
        ("Time,Wind", "m/s", 1.0),
        ("Time,Wind [km/h]", "km/h", 1 / 3.6),
    ],
)
def test_any_usual_unit(head, chosen, metres):
    found = log_of(wind_text(head=head), chosen)
    assert found.winds_m_s == pytest.approx(WINDS * metres)
    assert read_wind_text(f"{head},\n2025-01-01 00:00,ERR\n2025-01-01 01:00,4", chosen).winds[0] == "ERR"


def test_the_wind_is_found_among_other_columns():
    lines = wind_text(head="Time,Wind [m/s],Gust [m/s],Direction [°],Temp").split("\n")
    text = "\n".join([lines[0], *(f"{line},9.9,180,12.5" for line in lines[1:])])
    found = read_wind_text(text)
    assert np.array_equal(read_wind_log(found.rows).winds_m_s, PLAIN.winds_m_s)
    assert found.notes == (wording("Left out as no wind"),)


def test_a_date_and_a_clock_in_two_columns():
    lines = wind_text(order="%d.%m.%Y;%H:%M", mark=";", head="Date;Time;Wind m/s")
    assert np.array_equal(log_of(lines).times, HOURLY)


def test_dates_that_could_be_both_are_read_day_first_and_it_is_said():
    times = np.datetime64("2025-02-01T00:00") + np.arange(200) * np.timedelta64(7, "m")
    found = log_of(wind_text(times, WINDS[:200], order="%d/%m/%Y %H:%M"))
    assert found.times[0] == times[0]
    assert found.repairs == (wording("The dates are read day first"),)


def test_the_log_is_the_distribution_that_it_was_drawn_from():
    for rotor in (ROTOR, FURLING):
        (read,) = grouping_years(MACHINE, year_of_wind_log(rotor, PLAIN), [WINDING])
        (meant,) = grouping_years(MACHINE, year_of_mean_wind(rotor, 5.0), [WINDING])
        # Watts of one hour scatter by about their mean: four sampling errors of 8760 hours.
        assert read.kwh == pytest.approx(meant.kwh, rel=4.0 * 1.2 / np.sqrt(8760.0))


def test_hours_by_setting_are_those_of_linear_interpolation():
    source = year_of_wind_log(ROTOR, PLAIN)
    watts = np.linspace(0.0, 1.0, len(source.setting)) ** 2
    each = np.interp(WINDS, source.setting, watts)
    months = HOURLY.astype("datetime64[M]").astype(int) % 12
    assert source.hours @ watts == pytest.approx(np.bincount(months, weights=each))
    assert source.hours.sum() == pytest.approx(8760.0)


def test_holes_are_named_and_filled_by_their_month():
    kept = np.ones(8760, bool)
    kept[100:148] = kept[5000:5010] = False
    found = log_of(wind_text(HOURLY[kept], WINDS[kept]))
    assert found.holes == (wording("There are 2 gaps"),)
    source = year_of_wind_log(ROTOR, found)
    assert source.hours.sum(axis=1)[0] == pytest.approx(744.0)
    assert source.gaps == (*found.holes, wording("The hours of each month are scaled"))


def test_months_without_any_reading_are_the_mean_of_the_others():
    source = year_of_wind_log(ROTOR, log_of(wind_text(HOURLY[:7296], WINDS[:7296])))
    assert source.hours.sum() == pytest.approx(8760.0)
    assert source.hours[10] / 720.0 == pytest.approx(source.hours[11] / 744.0)
    assert source.gaps == (wording("November and December without any reading"),)
    assert wording("the mean of the other months") in source.assumed
    assert source.year_share > year_of_wind_log(ROTOR, PLAIN).year_share
    # An hour of November makes a month, and December the mean of the eleven that were read.
    source = year_of_wind_log(ROTOR, log_of(wind_text(HOURLY[:7297], WINDS[:7297])))
    shares = source.hours / source.hours.sum(axis=1)[:, None]
    assert shares[11] == pytest.approx(shares[:11].mean(axis=0))


def damaged(**cells):
    """The log with some of its lines, counted from 1, put differently."""
    lines = wind_text().split("\n")
    for number, line in cells.items():
        lines[int(number[1:])] = line
    return log_of("\n".join(lines))


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        (dict(n5="2025-01-01 04:00,ERR"), wording("1 row has no wind that can be read")),
        (dict(n5="2025-01-01 04:00,-999", n7="2025-01-01 06:00,-1"), wording("2 rows have a wind below 0")),
        (dict(n5="2025-01-01 04:00,999.9"), wording("1 row has a wind above 75 m/s")),
        (dict(n5="2025-01-01\t04:00;4,2", n9="2025-01-01 08:00,ERR,7"), wording("1 row has no time, and a tab in it")),
        (dict(n5="yesterday,4.2"), wording("1 row has no time that can be read")),
        (dict(n5="2025-01-01 03:00,4.2"), wording("1 time stands there more than once")),
        (dict(n5="2025-01-01 05:00,4", n6="2025-01-01 04:00,5"), wording("1 row is earlier than the one above")),
    ],
)
def test_rows_that_are_odd_are_said_and_nothing_else_is_lost(cells, said):
    found = damaged(**cells)
    assert said in found.repairs
    assert len(found.times) >= 8760 - len(cells)
    assert found.hours.sum() == pytest.approx(8760.0, abs=3.0)


def test_a_log_with_the_newest_reading_first_is_turned_round():
    found = log_of(wind_text(HOURLY[::-1], WINDS[::-1]))
    assert np.array_equal(found.winds_m_s, PLAIN.winds_m_s)
    assert found.repairs == (wording("The rows run backwards"),)


def test_a_step_that_changes_is_said_and_each_reading_holds_its_own():
    times = np.append(HOURLY[:2000], HOURLY[2000] + np.arange(3000) * np.timedelta64(10, "m"))
    found = log_of(wind_text(times, WINDS[:5000]))
    assert found.hours[[10, 4000]] == pytest.approx([1.0, 1.0 / 6.0])
    assert found.holes == (wording("The step changes"),)


def test_a_sensor_that_stands_still_and_means_over_a_day():
    winds = np.where((np.arange(8760) > 1000) & (np.arange(8760) <= 1096), 0.0, np.maximum(WINDS, 0.1))
    assert log_of(wind_text(HOURLY, winds)).holes == (wording("The wind stands at 0 m/s"),)
    daily = log_of(wind_text(HOURLY[::24], WINDS[:365]))
    assert wording("Means over 24 h") in year_of_wind_log(ROTOR, daily).gaps


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (wind_text(HOURLY[:60], WINDS[:60]), wording("wind log: 60 readings")),
        (wind_text(head="Time,Wind"), wording("wind log: no unit of the wind")),
        ("", wording("wind log: nothing was given")),
        ("a letter, and nothing of it is a log", wording("wind log: no column of dates")),
        (
            wind_text(head="Time,Wind 10 m [m/s],Wind 20 m [m/s]").replace(":00,", ":00,1,"),
            wording("wind log: 2 columns"),
        ),
        (wind_text(comma=","), wording("wind log: the rows have more cells")),
        (wind_text(SECONDS, WINDS[:500], order="%Y-%m-%d %H:%M:%S"), wording("wind log: there is a reading every 1 s")),
        (
            wind_text(HOURLY[0] + np.arange(500) * np.timedelta64(7, "D"), WINDS[:500]),
            wording("wind log: there is a reading every 7 days"),
        ),
    ],
)
def test_a_log_that_is_none_is_refused_in_one_sentence(text, said):
    with pytest.raises(BadInput, match=exactly(said)):
        log_of(text)


@settings(max_examples=60)
@given(st.text(alphabet="0123456789-/:.,; \t\nTmswind[]\"'Äé", max_size=400), st.sampled_from(["", "m/s", "kn"]))
def test_whatever_is_pasted_is_read_or_refused(text, unit):
    try:
        read_wind_log(read_wind_text(text, unit).rows)
    except BadInput as refusal:
        assert str(refusal).startswith("wind log: ")


def test_what_was_understood_is_said_with_its_first_and_last_day():
    daily = log_of(wind_text(HOURLY[::24], WINDS[:365]))
    assert wording("365 readings from") in daily.words


# January whole and 0.45 or 0.55 of February's 672 hours; one hour that is missing is none worth a word, two are.
@pytest.mark.parametrize("count, half", [(744 + 302, True), (744 + 336, False)])
def test_a_month_of_which_less_than_half_was_read_is_named(count, half):
    gaps = year_of_wind_log(ROTOR, log_of(wind_text(HOURLY[:count], WINDS[:count]))).gaps
    assert (wording("Less than half of the hours") in gaps) is half


@pytest.mark.parametrize("missing, said", [(1, False), (2, True)])
def test_months_that_are_scaled_by_more_than_an_hour_are_said(missing, said):
    kept = np.delete(np.arange(8760), np.arange(40, 40 + missing))
    gaps = year_of_wind_log(ROTOR, log_of(wind_text(HOURLY[kept], WINDS[kept]))).gaps
    assert (wording("The hours of each month are scaled") in gaps) is said


def test_a_quotation_mark_that_is_never_closed_does_no_harm():
    assert np.array_equal(log_of(wind_text(head='Time,"Wind [m/s]')).winds_m_s, PLAIN.winds_m_s)


def test_of_several_winds_the_one_headed_wind_alone_is_taken():
    text = wind_text(head="Time,Wind at 2 m [m/s],Wind [m/s]").replace(":00,", ":00,1.5,")
    assert np.array_equal(log_of(text).winds_m_s, PLAIN.winds_m_s)


# ISO 8601 (from memory): 24:00 ends a day, there is no later hour, and no sixtieth minute or second here.
def test_times_of_the_day_that_are_none_are_not_read():
    times, assumed = times_of([f"31/05/2025 {clock}" for clock in ("23:59:59", "24:00", "25:00", "12:60", "12:00:60")])
    assert [str(time) for time in times] == ["2025-05-31T23:59:59", "2025-06-01T00:00:00", "NaT", "NaT", "NaT"]
    assert assumed == ""


def test_a_job_keeps_the_log_and_the_one_before(tmp_path):
    job = Job.create("ridge", tmp_path)
    first, second = (read_wind_text(wind_text(winds=winds)).rows for winds in (WINDS, WINDS + 1.0))
    for rows in (first, second):
        job.save_log("wind_series", rows)
    assert job.read_log("wind_series") == second
    (kept,) = history(job, files=("wind_series.csv",))
    assert kept.words == wording("wind_series log: 8760 rows")
    restore(job, versions(job, ("wind_series.csv",))[0])
    assert job.read_log("wind_series") == first


def test_the_year_keeps_the_order_of_its_log():
    source = year_of_wind_log(ROTOR, PLAIN)
    assert len(source.by_hour) == 8760
    # Every reading in its own hour of the year, taken to the hub alike.
    factor = source.by_hour[0] / PLAIN.winds_m_s[0]
    assert source.by_hour == pytest.approx(factor * PLAIN.winds_m_s, rel=1e-9)
    half = replace(PLAIN, **{name: getattr(PLAIN, name)[:4380] for name in ("times", "winds_m_s", "hours", "months")})
    assert year_of_wind_log(ROTOR, half).by_hour is None
