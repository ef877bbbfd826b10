"""Every log of a job, one line each, and the columns of those whose rows are read in other packages."""

from dataclasses import replace

from statorbook.bench.coast import COAST_LOG
from statorbook.bench.coils import COILS_LOG
from statorbook.bench.columns import COPPER, DAY, HZ, NOTE, OHMS, SPEED, VOLTS
from statorbook.bench.control_logs import CONTROL_RELAYS_LOG, CONTROL_RULES_LOG, HOUSE_LOADS_LOG
from statorbook.bench.drill import DRILL_LOG
from statorbook.bench.log import Column, Log
from statorbook.bench.ohms import OHMS_LOG
from statorbook.bench.shorted import SHORTED_LOG
from statorbook.bench.spin import SPIN_LOG
from statorbook.bench.wind_logs import WIND_HOURS_LOG, WIND_MONTHS_LOG, WIND_SERIES_LOG
from statorbook.bench.year_logs import (
    ENGINE_MONTHS_LOG,
    NEED_MONTHS_LOG,
    PEDAL_WEEKS_LOG,
    SPEED_HOURS_LOG,
    WATER_MONTHS_LOG,
)
from statorbook.errors import BadInput

# What the meter said during the work, the finished machine, and its bearings: who reads their rows knows probes, drive
# and bearings, and stands above the job, which keeps the files.
CHECKS_LOG = Log(
    name="checks",
    columns=(
        Column(name="between", label="Between", unit="ends", usual=("ends", "probes between", "check")),
        OHMS,
        VOLTS,
        replace(SPEED, rare=True),
        NOTE,
    ),
)
RUN_LOG = Log(
    name="run",
    dated=True,
    columns=(
        DAY,
        SPEED,
        HZ,
        Column(
            name="line_volts",
            label="Line volts, AC rms",
            unit="V",
            limits=(0, 2_000),
            usual=("line volts", "V AC", "AC volts", "line voltage"),
            rare=True,
        ),
        Column(
            name="dc_volts",
            label="Bank volts, DC",
            unit="V",
            limits=(0.5, 1_000),
            usual=("V DC", "DC volts", "bank volts", "battery volts", "bank voltage", "battery voltage"),
        ),
        Column(
            name="dc_amps",
            label="Bank amps, DC",
            unit="A",
            limits=(0, 1_000),
            usual=("A", "amp", "amps", "A DC", "DC amps", "bank amps", "battery amps", "current"),
        ),
        Column(name="drive_reading", label="Source", unit="as typed", usual=("source reading", "drive")),
        replace(COPPER, limits=(-40, 200), once=False, rare=True),
        NOTE,
    ),
)
SERVICE_LOG = Log(
    name="service",
    columns=(
        DAY,
        Column(name="hours_run", label="Hours run", unit="h", limits=(0, 1_000_000), usual=("h", "hours", "hour")),
        Column(name="play", label="Play", unit="word"),
        Column(name="noise", label="Noise", unit="word"),
        Column(
            name="bearing_c",
            label="Bearing",
            unit="°C",
            limits=(-40, 200),
            usual=("bearing temp", "bearing temperature"),
            rare=True,
        ),
        Column(
            name="room_c",
            label="Air around",
            unit="°C",
            limits=(-40, 60),
            usual=("room", "room temp", "air", "air temp"),
            rare=True,
        ),
        Column(name="water", label="Water", unit="word"),
        NOTE,
    ),
)
ALL_LOGS = {
    log.name: log
    for log in (
        *(SPIN_LOG, SHORTED_LOG, OHMS_LOG, COAST_LOG, DRILL_LOG, COILS_LOG, CHECKS_LOG, RUN_LOG, SERVICE_LOG),
        *(WATER_MONTHS_LOG, PEDAL_WEEKS_LOG, ENGINE_MONTHS_LOG, SPEED_HOURS_LOG),
        *(NEED_MONTHS_LOG,),
        *(WIND_MONTHS_LOG, WIND_HOURS_LOG, WIND_SERIES_LOG),
        *(HOUSE_LOADS_LOG, CONTROL_RULES_LOG, CONTROL_RELAYS_LOG),
    )
}
# The logs of the coil's constants.
LOGS = tuple(name for name, log in ALL_LOGS.items() if log.needed)
SESSION_LOGS = tuple(name for name, log in ALL_LOGS.items() if log.by_session)
HEADINGS = {column.name: column.heading for log in ALL_LOGS.values() for column in log.columns}


def log_named(log):
    """The log of a name, or `BadInput`."""
    if not isinstance(log, str) or log not in ALL_LOGS:
        raise BadInput(
            f"{str(log)[:40]!r} was given", f"allowed are {', '.join(ALL_LOGS)}", "choose one of them", where="log"
        )
    return ALL_LOGS[log]


def columns_of(log):
    """The column names of a log.

    Parameters
    ----------
    log : str
        One of `ALL_LOGS`.

    Returns
    -------
    tuple of str
        In the order of the file.

    Raises
    ------
    BadInput
        When there is no such log.
    """
    return log_named(log).names


def blank_row(log):
    """A row with every column of a log and nothing typed yet.

    Parameters
    ----------
    log : str
        One of `ALL_LOGS`.

    Returns
    -------
    dict of str to str
        Empty cells by column.

    Raises
    ------
    BadInput
        When there is no such log.
    """
    return dict.fromkeys(columns_of(log), "")
