"""What a cell of each log may hold at its edges, which columns may be missing, and what is said once above a log."""

import pytest

from statorbook.bench.logs import ALL_LOGS, SESSION_LOGS
from statorbook.errors import BadInput

LOGS = {log.name: log for log in (ALL_LOGS.values() if isinstance(ALL_LOGS, dict) else ALL_LOGS)}
# What a column means bounds it: hours in a month, a week, a year; the rest is what such machines and meters can show,
# common practice, no source. Lowest and highest number that is taken.
EDGES = {
    "spin": {"speed_rpm": (1, 20_000), "electrical_hz": (0.05, 20_000), "volts": (0.001, 2_000)},
    "shorted": {"speed_rpm": (1, 20_000), "electrical_hz": (0.05, 20_000), "amps": (0.001, 1_000)},
    "ohms": {"ohms": (0.001, 10_000), "lead_zero_ohm": (0, 50), "copper_c": (-40, 150)},
    "coast": {"time_s": (0, 3_600), "speed_rpm": (1, 20_000), "electrical_hz": (0.05, 20_000)},
    "drill": {"speed_rpm": (1, 20_000), "watts_coupled": (0.1, 5_000), "watts_alone": (0.1, 5_000)},
    "coils": {"volts": (0, 2_000), "speed_rpm": (1, 20_000), "ohms": (0, 10_000)},
    "checks": {"volts": (0, 2_000), "ohms": (0, 10_000), "speed_rpm": (1, 20_000)},
    "run": {"line_volts": (0, 2_000), "dc_volts": (0.5, 1_000), "dc_amps": (0, 1_000), "copper_c": (-40, 200)},
    "service": {"hours_run": (0, 1_000_000), "bearing_c": (-40, 200), "room_c": (-40, 60)},
    "water_months": {"flow_l_s": (0, 1_000), "head_m": (0.1, 1_000), "nozzle_mm": (0.5, 500), "jets_open": (1, 6)},
    "pedal_weeks": {"rider_watts": (1, 1_500), "stretch_hours": (0.033, 8), "week_hours": (0, 7 * 24)},
    "engine_months": {"run_hours": (0, 31 * 24)},
    "speed_hours": {"speed_rpm": (1, 20_000), "held_hours": (0, 365 * 24)},
    "need_months": {"need_kwh_a_day": (0, 1_000)},
    "wind_months": {"mean_wind": (0.1, 25)},
    "wind_hours": {"wind_from": (0, 75), "wind_to": (0, 75), "wind_hours": (0, 366 * 24)},
    "wind_series": {"wind": (0, 75)},
    "house_loads": {
        "watts": (0, 50_000),
        "surge_watts": (0, 100_000),
        "from_hour": (0, 23),
        "to_hour": (1, 24),
        "minutes": (0, 60),
    },
    "control_rules": dict.fromkeys(("on_delay_s", "off_delay_s", "least_on_s"), (0, 24 * 3600)) | {"priority": (1, 99)},
    "control_relays": {"relay": (1, 32), "contact_volts": (1, 1_500), "contact_amps": (0.01, 1_000)},
}


@pytest.mark.parametrize("log, name", [(log, name) for log in EDGES for name in EDGES[log]])
def test_a_cell_is_taken_up_to_its_edges_and_no_further(log, name):
    def taken(value):
        try:
            return LOGS[log].number({name: f"{value:.6g}"}, name, "row 1").value == pytest.approx(value)
        except BadInput as refused:
            assert f"{value:.6g}" in str(refused) and "is allowed" in str(refused)
            return False

    low, high = EDGES[log][name]
    assert (
        taken(low) and taken(high) and not taken(high + 0.01 * abs(high)) and not taken(low - 0.01 * (abs(low) or 1.0))
    )


def test_every_log_with_numbers_has_its_edges_here():
    assert set(EDGES) == set(LOGS)


# What a log is worth nothing without; all else may be missing in a file.
NEEDED = {
    "spin": "volts terminals connection quantity meter",
    "shorted": "amps lead connection meter",
    "ohms": "terminals ohms lead_zero_ohm",
    "coast": "time_s",
    "drill": "watts_coupled watts_alone",
    "coils": "tooth volts ohms",
    "run": "drive_reading line_volts dc_volts dc_amps",
}


@pytest.mark.parametrize("log", NEEDED)
def test_only_what_a_log_is_for_must_be_there(log):
    needed = [column.name for column in LOGS[log].columns if not column.may_be_missing]
    assert sorted(needed) == sorted(NEEDED[log].split())


# Asked for once above the table, since it stays the same while one machine is read on one day with one meter.
ONCE = {
    "spin": "connection quantity meter speed_by volts_by taken_on",
    "shorted": "connection meter taken_on",
    "ohms": "lead_zero_ohm copper_c taken_on",
    "coast": "taken_on",
    "drill": "taken_on",
    "coils": "speed_rpm taken_on",
    "run": "taken_on",
    "service": "taken_on",
}


@pytest.mark.parametrize("log", LOGS)
def test_what_stays_the_same_is_asked_once(log):
    assert sorted(column.name for column in LOGS[log].columns if column.once) == sorted(ONCE.get(log, "").split())


# Asked for only by a reader who has it.
RARE = {
    "checks": "speed_rpm",
    "run": "line_volts copper_c",
    "service": "bearing_c room_c",
    "water_months": "head_m nozzle_mm jets_open",
    "pedal_weeks": "rider",
    "speed_hours": "month",
    "control_rules": "off_delay_s",
}


@pytest.mark.parametrize("log", LOGS)
def test_what_is_seldom_read_is_shown_when_asked(log):
    assert sorted(column.name for column in LOGS[log].columns if column.rare) == sorted(RARE.get(log, "").split())


def test_the_logs_of_the_coil_are_needed_and_those_with_days_have_sessions():
    assert {name for name, log in LOGS.items() if log.needed} == {"spin", "shorted", "ohms"}
    assert {name for name, log in LOGS.items() if log.by_session} == {*SESSION_LOGS, "coils"}
    assert {name for name, log in LOGS.items() if log.dated} == {"run"}


def test_an_older_log_lacks_a_day_without_a_word():
    later = {name: {c.name for c in log.columns if c.added_later} for name, log in LOGS.items()}
    assert {name for name, columns in later.items() if "taken_on" in columns} == set(ONCE)
    assert later["spin"] == {"speed_by", "volts_by", "taken_on"} and later["water_months"] == set()


def test_cells_are_said_to_be_swapped_only_with_one_that_is_there():
    def refused(row, **options):
        with pytest.raises(BadInput) as found:
            LOGS["spin"].word(row, "terminals", "row 1", **options)
        return "swapped" in str(found.value)

    assert refused({"terminals": "delta", "connection": "AB"}) and not refused({"terminals": "delta"})
    assert not refused({"terminals": "AN"}, words={"ab": "AB"})
