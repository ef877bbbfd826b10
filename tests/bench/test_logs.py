"""The list of logs: a new one is one module and one line, a column means the same in each, numbers take their unit."""

from dataclasses import dataclass
from math import nan

import pytest

from sentences import exactly, sentences_of
from statorbook.bench import log as log_module
from statorbook.bench.columns import DAY, NOTE, SPEED
from statorbook.bench.csv_text import format_log, parse_log
from statorbook.bench.log import Column, Log, spelt
from statorbook.bench.logs import ALL_LOGS, HEADINGS, LOGS, SESSION_LOGS, blank_row, columns_of
from statorbook.bench.paste import pasted_rows
from statorbook.bench.rows import Reading, read_rows
from statorbook.errors import BadInput

wording = sentences_of("bench")

MEASURED = [(log.name, column.name) for log in ALL_LOGS.values() for column in log.columns if column.limits]
# All that a log needs, as a module of its own would say it.
SOUND_LOG = Log(
    name="sound",
    by_session=True,
    columns=(
        SPEED,
        Column(name="volts", label="Microphone", unit="V", limits=(0, 10), usual=("mic",)),
        Column(name="place", label="Heard at", unit="word", words=spelt("shaft", "rim")),
        DAY,
        NOTE,
    ),
)


@dataclass(frozen=True, kw_only=True)
class SoundReading(Reading):
    """What a new log would read."""

    volts: float = nan
    place: str = ""


def sound_numbers(row, where):
    volts = SOUND_LOG.number(row, "volts", where).value
    return {"volts": volts, "place": SOUND_LOG.word(row, "place", where)}, []


@pytest.fixture
def one_more_log(monkeypatch):
    monkeypatch.setitem(ALL_LOGS, "sound", SOUND_LOG)


def test_a_new_log_is_kept_pasted_and_read_by_its_line_in_the_list(one_more_log):
    (row,) = pasted_rows("sound", "mic (V)\trpm\tHeard at\tloud?\n2,5\t300\trim\tyes\n").rows
    assert row == blank_row("sound") | {"volts": "2,5", "speed_rpm": "300", "place": "rim", "note": "loud?: yes"}
    data = format_log("sound", [row], "mill/sound.csv")
    assert data.decode().splitlines()[:2] == ["speed_rpm,volts,place,taken_on,note", "rpm,V,word,date,text"]
    assert parse_log("sound", data, "mill/sound.csv").rows == [row]
    (reading,) = read_rows(SOUND_LOG, SoundReading, [row | {"taken_on": "2026-05-02"}], sound_numbers)
    assert (reading.volts, reading.place, reading.taken_on.isoformat()) == (2.5, "rim", "2026-05-02")


def test_a_new_log_refuses_as_the_others_do(one_more_log):
    swapped = blank_row("sound") | {"volts": "rim", "place": "2.5"}
    assert read_rows(SOUND_LOG, SoundReading, [swapped], sound_numbers)[0].refusal == wording(
        "sound log, row 1, Microphone"
    )
    with pytest.raises(BadInput, match=wording("'mV' stands as the unit")):
        parse_log("sound", b"speed_rpm,volts,place,taken_on,note\nrpm,mV,word,date,text\n", "mill/sound.csv")


def test_what_may_have_changed_places_is_looked_for_only_where_a_cell_cannot_be_read(one_more_log, monkeypatch):
    asked, typed_word = [], log_module.typed_word
    monkeypatch.setattr(log_module, "typed_word", lambda *given, **how: asked.append(1) or typed_word(*given, **how))
    row = blank_row("sound") | {"volts": "2.5", "place": "rim"}
    assert sound_numbers(row, "row 1")[0] == {"volts": 2.5, "place": "rim"} and len(asked) == 1


def test_a_column_has_one_heading_in_all_logs():
    assert {(column.name, column.heading) for log in ALL_LOGS.values() for column in log.columns} == set(
        HEADINGS.items()
    )


def test_the_coil_needs_three_logs_and_readings_by_day_fall_into_sessions():
    assert LOGS == ("spin", "shorted", "ohms")
    assert SESSION_LOGS == (*LOGS, "coast", "drill", "coils")


@pytest.mark.parametrize("name", ["spins", "", None, ["spin"]])
def test_an_unknown_log_is_refused(name):
    words = f"log: {str(name)!r} was given; allowed are {', '.join(ALL_LOGS)}; choose one of them."
    with pytest.raises(BadInput, match=exactly(words)):
        columns_of(name)


@pytest.mark.parametrize("log, name", MEASURED)
def test_a_number_may_be_typed_with_the_unit_of_its_column(log, name):
    log, column = ALL_LOGS[log], ALL_LOGS[log].column(name)
    typed = {name: f"{column.limits[1]} {column.unit}"}
    assert log.number(typed, name, "row 1").value == column.limits[1]
    with pytest.raises(BadInput, match=r" is not a number in "):
        log.number({name: f"{column.limits[1]} miles"}, name, "row 1")


@pytest.mark.parametrize("typed", ["12 h", "12h", "12 hours", "12 hrs"])
def test_hours_run_may_be_typed_with_their_unit(typed):
    assert ALL_LOGS["service"].number({"hours_run": typed}, "hours_run", "row 1").value == 12.0
