"""A log of the wind as text: its columns, headings and units, and what is told of rows, gaps and steps."""

import numpy as np
import pytest

from samples.wind_samples import HOURLY, ROTOR, WINDS, wind_text
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.year.wind_log import WindLog, read_wind_log, year_of_wind_log
from statorbook.year.wind_log_repairs import held_hours, in_order, listed, numbers_of, step_words, stuck_words
from statorbook.year.wind_settings import year_share
from statorbook.year.wind_text import MOST_ROWS, read_wind_text, unit_of
from statorbook.year.wind_times import looks_like_a_time, times_of

wording = sentences_of("year_wind")


def text_of(head, *rows, clock="00"):
    """A heading, and each row behind the hour of its number."""
    return "\n".join([head, *(f"2025-01-01 {hour:02d}:{clock},{row}" for hour, row in enumerate(rows))])


def test_headings_are_the_two_lines_above_the_readings():
    # A line further up that speaks of gusts names no column.
    text = "gusts,gust,gust\nTime,Wind,Other\n,km/h,\n" + text_of("", "36,1", "18,2").lstrip("\n")
    found = read_wind_text(text)
    assert (found.winds, found.unit, found.notes) == (("36 km/h", "18 km/h"), "km/h", ("Left out as no wind: Other.",))


def test_what_is_left_out_is_named_six_columns_and_thirty_letters_at_most():
    head = "Time,Wind [m/s],Temp,a heading that is far longer than thirty letters,,Sun,Rain,Batt,Volt,Press"
    found = read_wind_text(text_of(head, "4,1,2,3,4,5,6,7,8", "5,1,2,3,4,5,6,7,8"))
    assert found.winds == ("4", "5") and found.notes == (wording("left out, the first six"),)


def test_a_column_in_which_a_sensor_mostly_failed_still_holds_numbers():
    # A twentieth of the rows, and three tenths of what stands in them, has to be a number.
    for numbers, errors, found in ((6, 13, True), (5, 13, False), (5, 0, True), (4, 0, False)):
        cells = ["7"] * numbers + ["ERR"] * errors + [""] * (100 - numbers - errors)
        rows = [f"{HOURLY[at]!s:.16},{at % 9},{cell}".replace("T", " ") for at, cell in enumerate(cells)]
        notes = read_wind_text("\n".join(["Time,Wind [m/s],Temp", *rows])).notes
        assert notes == (("Left out as no wind: Temp.",) if found else ()), (numbers, errors)


@pytest.mark.parametrize(
    ("text", "unit", "said"),
    [
        (text_of("Time,,", "1,2", "3,4"), "m/s", wording("which of two nameless columns")),
        (text_of("Time,Wind", "calm", "breeze"), "m/s", wording("no numbers beside the time")),
        (text_of("Time,Wind [km/h]", "1", "2"), "kn", wording("two units")),
        (text_of("Time,Wind", "1", "2"), "m2/s", wording("a unit of no speed")),
        ("1\n" * (MOST_ROWS + 1), "", wording("too many lines")),
        ("1\n" * MOST_ROWS, "", wording("wind log: no column of dates")),
    ],
)
def test_a_text_that_cannot_be_read_is_refused_in_one_sentence(text, unit, said):
    with pytest.raises(BadInput, match=exactly(said)):
        read_wind_text(text, unit)


def test_a_hundred_cells_a_row_are_read_and_no_more():
    for cells, read in ((100, True), (101, False)):
        text = text_of("Time,Wind[m/s]" + ",x" * (cells - 2), *[",".join(["4"] * (cells - 1))] * 3)
        text = text.replace(" ", "T")  # so that no space parts the cells either
        if read:
            assert read_wind_text(text).winds == ("4", "4", "4")
        else:
            with pytest.raises(BadInput, match="no column of dates"):
                read_wind_text(text)


def test_a_mark_that_parts_half_of_the_lines_parts_the_cells():
    assert read_wind_text(text_of("a note\nTime,Wind [m/s]\na note", "4", "5")).winds == ("4", "5")
    assert read_wind_text(text_of("Time;and so on\nTime,Wind [m/s]", "4", "5", "6")).winds == ("4", "5", "6")


def test_a_number_beside_a_date_alone_is_no_time_of_the_day():
    daily = "Date,Wind [m/s],Temp\n2025-01-01,12.50,7\n2025-01-02,11.40,8"
    assert read_wind_text(daily).winds == ("12.50", "11.40")
    clocks = "Date,Time,Wind [m/s]\n2025-01-01,12:50,7\n2025-01-02,2h40,8"
    found = read_wind_text(clocks)
    assert (found.times, found.winds) == (("2025-01-01 12:50", "2025-01-02 2h40"), ("7", "8"))
    assert found.rows == [{"time": "2025-01-01 12:50", "wind": "7"}, {"time": "2025-01-02 2h40", "wind": "8"}]
    # A whole time with a clock beside it, such as that of sending, has its own.
    assert read_wind_text(text_of("Time,Sent,Wind [m/s]", "12:50,7", "13:50,8")).times[0] == "2025-01-01 00:00"


def test_a_decimal_comma_between_quotation_marks_is_one_cell():
    rows = text_of("Time, Wind [m/s]", ' "4,2"', ' "5,1"')
    assert read_wind_text(rows).winds == ("4,2", "5,1")


def test_a_cell_that_brings_its_unit_keeps_it():
    found = read_wind_text(text_of("Time,Wind [km/h]", "7.2", "4 kn", "ERR", ""))
    assert found.winds == ("7.2 km/h", "4 kn", "ERR", "") and found.unit == "km/h"
    own = read_wind_text(text_of("Time,Wind", "7.2 km/h", "4", "2 kn"))
    assert own.winds == ("7.2 km/h", "4", "2 kn") and own.unit == "m/s"


# Names of the same units, NIST SP 811, appendix B (from memory).
@pytest.mark.parametrize(
    ("word", "unit"),
    [
        ("kts", "kn"),
        ("knot", "kn"),
        ("KMPH", "km/h"),
        ("mps", "m/s"),
        ("m_s", "m/s"),
        ("mi/h", "mph"),
        (" ft/s ", "ft/s"),
    ],
)
def test_names_of_units(word, unit):
    assert unit_of(word) == unit


@pytest.mark.parametrize(
    ("head", "unit"),
    [
        ("Time,wind_m_s", "m/s"),
        ("Time,wind_km_h", "km/h"),
        ("Time,ws_10m_kt", "kn"),
        ("Time,Wind m s-1", "m/s"),
        ("Time,Wind m.s⁻¹", "m/s"),
        ("Time,Wind (mph)", "mph"),
        ("Time,v [ft/s]", "ft/s"),
    ],
)
def test_units_in_a_heading(head, unit):
    assert read_wind_text(text_of(head, "4", "5")).unit == unit


# ISO 8601 and its usual neighbours: the same moment, written differently; noon is 12 p.m., midnight 12 a.m.
@pytest.mark.parametrize(
    ("written", "moment"),
    [
        ("31/05/2025 2:05 pm", "2025-05-31T14:05:00"),
        ("31/05/2025 12:05 p.m.", "2025-05-31T12:05:00"),
        ("31/05/2025 12:05 AM", "2025-05-31T00:05:00"),
        ("5/31/25 14:05:09.75", "2025-05-31T14:05:09"),
        ("31.05.2025 14h05", "2025-05-31T14:05:00"),
        ("31 May 2025, 14", "2025-05-31T14:00:00"),
        ("20250531 1405", "2025-05-31T14:05:00"),
        ("2025/5/31", "2025-05-31T00:00:00"),
        ("99-May-31", "NaT"),
    ],
)
def test_a_moment_in_many_hands(written, moment):
    times, assumed = times_of([written])
    assert str(times[0]) == moment and assumed == ""
    assert looks_like_a_time(written)


def test_dates_that_could_be_both_are_read_in_the_order_that_follows_day_by_day():
    # 3, 4 and 5 February, month first; read day first they would be a month apart.
    times, assumed = times_of(["02/03/2025", "02/04/2025", "02/05/2025"])
    assert [str(time)[:10] for time in times] == ["2025-02-03", "2025-02-04", "2025-02-05"] and assumed == ""
    # One date that can be read in one way alone tells of all, a 12 does not.
    for dates, read in (
        (("13/02/2025", "03/02/2025"), "2025-02-03"),
        (("02/13/2025", "02/03/2025"), "2025-02-03"),
        (("12/13/2025", "12/01/2025", "12/02/2025"), "2025-12-01"),
        (("12/01/2025", "12/02/2025", "12/03/2025"), "2025-12-02"),
        (("11/10/2025", "11/11/2025", "11/12/2025"), "2025-11-11"),
    ):
        times, assumed = times_of(list(dates))
        assert str(times[1])[:10] == read and assumed == "" and not np.isnat(times).any()


@pytest.mark.parametrize(
    ("hours", "said"),
    [(48.0, "2 days"), (47.9, "47.9 h"), (1.0, "1 h"), (0.5, "30 min"), (1.0 / 60.0, "1 min"), (0.5 / 60.0, "30 s")],
)
def test_steps_in_words(hours, said):
    assert step_words(hours) == said


def test_names_one_after_the_other():
    assert [listed(names) for names in (["a"], ["a", "b"], ["a", "b", "c"])] == ["a", "a and b", "a, b and c"]


def hours_of(*hours):
    return HOURLY[0] + (3600.0 * np.array(hours)).round().astype("timedelta64[s]")


def test_rows_out_of_order_and_times_that_stand_twice():
    times, winds, shares, said = in_order(hours_of(0, 1, 2, 4, 3, 6, 5, 7, 8, 9), np.arange(10.0))
    assert np.all(np.diff(times) > np.timedelta64(0, "s")) and winds[:5].tolist() == [0.0, 1.0, 2.0, 4.0, 3.0]
    assert np.all(shares == 1.0) and said == (wording("two rows earlier"),)
    _, winds, shares, said = in_order(hours_of(0, 1, 4, 4, 5, 5, 5, 6), np.arange(8.0))
    assert shares == pytest.approx([1.0, 1.0, 0.5, 0.5, 1 / 3, 1 / 3, 1 / 3, 1.0])
    assert said == (wording("two times twice"),)


# Nine steps back of ten are no more than nine tenths; ten of eleven are.
@pytest.mark.parametrize(("back", "turned"), [(9, False), (10, True)])
def test_a_log_that_mostly_runs_back_was_turned_round(back, turned):
    _, _, _, said = in_order(hours_of(*range(back, -1, -1), back + 1), np.zeros(back + 2))
    assert said[0].startswith("The rows run backwards") is turned


def test_a_gap_is_what_is_longer_than_half_as_long_again():
    # 0 to 9 h, then 15 h, an hour each: 5 h have no reading after the one of 9 h; 195 h were read.
    _, said = held_hours(hours_of(*range(10), *range(15, 200)))
    assert said == (wording("one gap"),)
    for step, counts in ((1.5, False), (1.6, True)):
        times = hours_of(*range(50), *(49.0 + step + np.arange(50)))
        assert bool(held_hours(times)[1]) is counts


@pytest.mark.parametrize(("same", "said"), [(48, True), (47, False)])
def test_a_wind_that_stands_for_two_days(same, said):
    winds = np.concatenate([np.arange(10) % 3 + 1.0, np.full(same, 4.0), [1.0, 2.0]])
    found = stuck_words(HOURLY[: len(winds)], winds, np.ones(len(winds)))
    assert found == ((wording("stuck for two days"),) if said else ())


def test_no_wind_and_the_strongest_that_there_is_are_readings():
    times = ["2025-01-01 00:00", "2025-01-01 01:00", "2025-01-01 02:00", ""]
    _, winds, said = numbers_of(times, ["0", "75", "75.1", "3"])
    assert winds.tolist() == [0.0, 75.0] and len(said) == 2


def test_too_few_readings_are_refused_with_the_first_reason():
    cells = ["ERR", "ERR", "-1", *[f"{wind:.1f}" for wind in WINDS[:60]]]
    rows = [{"time": str(time), "wind": cell} for time, cell in zip(HOURLY, cells, strict=False)]
    with pytest.raises(BadInput, match=exactly(wording("60 of 63 rows"))):
        read_wind_log(rows)
    hundred = [{"time": str(time), "wind": "4"} for time in HOURLY[:100]]
    assert len(read_wind_log(hundred).times) == 100
    with pytest.raises(BadInput, match="99 readings"):
        read_wind_log(hundred[:99])


def log_of(times, winds):
    return WindLog(
        times=times,
        winds_m_s=winds,
        hours=np.ones(len(times)),
        months=times.astype("datetime64[M]").astype(int) % 12,
        repairs=(),
        holes=(),
    )


def test_the_order_of_a_log_is_kept_where_four_fifths_of_the_hours_were_read():
    hours = HOURLY.astype("datetime64[s]")
    ramp = np.arange(8760.0)
    assert log_of(hours[:7007], ramp[:7007]).winds_by_hour is None
    found = log_of(hours[:7008], ramp[:7008]).winds_by_hour
    # Round the end of the year straight from the last reading to the first: 7007 at 7007 h, 0 at 8760 h.
    assert found[:7008] == pytest.approx(ramp[:7008])
    assert found[8000] == pytest.approx(7007.0 * 760.0 / 1753.0)
    # In a leap year 29 February is left out, and 1 March is in its own hour; of two years the later one counts.
    leap = (np.datetime64("2024-01-01T00:00:00") + np.arange(8784) * np.timedelta64(1, "h")).astype("datetime64[s]")
    by_hour = log_of(leap, np.arange(8784.0)).winds_by_hour
    assert by_hour[[0, 59 * 24 - 1, 59 * 24, 8759]] == pytest.approx([0.0, 1415.0, 1440.0, 8783.0])
    both = log_of(np.concatenate([leap, hours]), np.concatenate([np.zeros(8784), np.ones(8760)])).winds_by_hour
    assert np.all(both == 1.0)


@pytest.mark.parametrize(("step_h", "said"), [(3, False), (4, True)])
def test_means_over_more_than_three_hours_hide_storms(step_h, said):
    text = wind_text(HOURLY[::step_h], WINDS[::step_h])
    gaps = year_of_wind_log(ROTOR, read_wind_log(read_wind_text(text).rows)).gaps
    assert any(words.startswith(f"Means over {step_h} h") for words in gaps) is said


def test_steps_from_a_minute_to_a_day_with_a_clock_that_is_not_quite_right():
    for step_h, fair in ((0.85 / 60.0, False), (0.95 / 60.0, True), (24.4, True), (24.6, False)):
        times = hours_of(*(step_h * np.arange(30)))
        if fair:
            assert held_hours(times)[0] == pytest.approx(np.full(30, step_h), rel=0.02)
        else:
            with pytest.raises(BadInput, match="take means" if step_h < 1.0 else "read more often"):
                held_hours(times)


@pytest.mark.parametrize(("step_h", "said"), [(1.19, False), (1.21, True)])
def test_a_step_that_changes_by_a_fifth_is_said(step_h, said):
    times = hours_of(*range(50), *(49.0 + step_h * np.arange(1, 50)))
    assert any(words.startswith("The step changes") for words in held_hours(times)[1]) is said


# Of a hundred steps five of 1.1 h are the log's own, four are not, and are held for an hour.
@pytest.mark.parametrize(("longer", "held"), [(5, 1.1), (4, 1.0)])
def test_a_step_that_is_common_is_one_of_the_log_s_own(longer, held):
    times = hours_of(*np.cumsum([0.0, *[1.0] * (100 - longer), *[1.1] * longer]))
    assert held_hours(times)[0][-1] == pytest.approx(held)


def test_few_readings_say_little_of_other_years():
    # A tenth of a year is the least that is taken: √(1 + 10) times as much as a single year differs from many.
    few = year_of_wind_log(ROTOR, log_of(HOURLY[:100].astype("datetime64[s]"), WINDS[:100]))
    assert few.year_share == pytest.approx(11.0**0.5 * year_share())


def test_a_long_word_that_is_no_unit_is_shown_by_twenty_letters():
    with pytest.raises(BadInput, match=f"“{'furlongs ' * 2}fu” was given"):
        unit_of("furlongs furlongs furlongs")
