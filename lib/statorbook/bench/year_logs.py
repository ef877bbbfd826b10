"""The logs of a year: what water, legs, an engine or a known speed give month by month, and what is needed."""

import re
from dataclasses import dataclass, replace

from statorbook.bench.columns import NOTE, SPEED
from statorbook.bench.log import Column, Log
from statorbook.bench.rows import Reading, read_rows
from statorbook.errors import BadInput
from statorbook.quantities import cell_text

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# English, whatever the language of the machine is.
MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_SPELLINGS = {  # how a reader writes a month, lower case
    **{spelling.lower(): at for names in (MONTHS, MONTH_NAMES) for at, spelling in enumerate(names)},
    "sept": 8,
    **{f"{number:{form}}": number - 1 for number in range(1, 13) for form in ("d", "02d")},
}
MONTH = Column(
    name="month",
    label="Month",
    unit="month",
    # Numbers are read too, see `month_of`; as words they would be found in every column of numbers.
    words=dict(zip(MONTHS, MONTHS)) | dict(zip(MONTH_NAMES, MONTHS)) | {"Sept": "Sep"},
    usual=("months", "mon", "month of the year"),
    in_turn=(*MONTHS, ""),
)

WATER_MONTHS_LOG = Log(
    name="water_months",
    columns=(
        MONTH,
        Column(
            name="flow_l_s",
            label="Flow available",
            unit="L/s",
            limits=(0, 1_000),
            usual=("L/s", "flow", "water", "stream flow", "litres per second", "liters per second"),
        ),
        Column(
            name="head_m",
            label="Head",
            unit="m",
            limits=(0.1, 1_000),
            usual=("m", "static head", "net head", "drop"),
            may_be_missing=True,
            rare=True,
        ),
        Column(
            name="nozzle_mm",
            label="Nozzle that runs",
            unit="mm",
            limits=(0.5, 500),
            usual=("mm", "nozzle", "nozzle bore", "bore"),
            may_be_missing=True,
            rare=True,
        ),
        Column(
            name="jets_open",
            label="Jets open",
            unit="jets",
            limits=(1, 6),
            usual=("jets", "nozzles open"),
            may_be_missing=True,
            rare=True,
        ),
        NOTE,
    ),
)
PEDAL_WEEKS_LOG = Log(
    name="pedal_weeks",
    columns=(
        Column(
            name="rider_watts",
            label="Effort",
            unit="W",
            limits=(1, 1_500),
            usual=("W", "watts", "power", "rider's watts"),
            may_be_missing=True,
        ),
        Column(
            name="stretch_hours",
            label="Hours at a stretch",
            unit="h",
            limits=(0.033, 8),
            usual=("stretch", "at a stretch", "hours a ride"),
            may_be_missing=True,
            instead_of="rider_watts",
        ),
        Column(
            name="week_hours",
            label="Hours a week",
            unit="h",
            limits=(0, 168),
            usual=("hours", "h a week", "hours per week", "h/week"),
        ),
        Column(name="rider", label="Who", unit="name", usual=("rider", "name"), may_be_missing=True, rare=True),
        NOTE,
    ),
)
ENGINE_MONTHS_LOG = Log(
    name="engine_months",
    columns=(
        MONTH,
        Column(
            name="run_hours", label="Run hours", unit="h", limits=(0, 744), usual=("h", "hours", "hours run", "running")
        ),
        NOTE,
    ),
)
SPEED_HOURS_LOG = Log(
    name="speed_hours",
    columns=(
        SPEED,
        Column(
            name="held_hours",
            label="Hours of the year, or of the month",
            unit="h",
            limits=(0, 8_760),
            usual=("h", "hours", "hours a year", "hours a month"),
        ),
        replace(MONTH, in_turn=(), may_be_missing=True, rare=True),
        NOTE,
    ),
)
NEED_MONTHS_LOG = Log(
    name="need_months",
    columns=(
        MONTH,
        Column(
            name="need_kwh_a_day",
            label="Needed a day",
            unit="kWh",
            limits=(0, 1_000),
            usual=("kWh", "need", "kWh a day", "kWh/day", "kWh per day", "load"),
        ),
        NOTE,
    ),
)


@dataclass(frozen=True, kw_only=True)
class MonthReading(Reading):
    """A row about one month.

    Parameters
    ----------
    month : int
        Its place in `MONTHS`, 0 for January [-].
    """

    month: int = -1


def month_of(text, *, where="month"):
    """The month that a reader means.

    Parameters
    ----------
    text : object
        A cell as typed: "Jan", "January", "1" or "01".
    where : str
        Log, row and field, for the sentence.

    Returns
    -------
    int
        Its place in `MONTHS`, 0 for January [-].

    Raises
    ------
    BadInput
        When it is no month.
    """
    typed = cell_text(text)
    found = _SPELLINGS.get(re.sub(r"[.\s]+$", "", typed).casefold())
    if found is None:
        raise BadInput(
            f"“{typed[:40]}” was given" if typed else "no month was given",
            "a month by name or number, such as Jan, January or 1, is allowed",
            "type the month again",
            where=where,
        )
    return found


def read_months(log, kind, rows, numbers_of):
    """Read a log that has one row for a month.

    Parameters
    ----------
    log : Log
        One with the column `MONTH`.
    kind : type
        The kind of `MonthReading` that a row becomes.
    rows : list of dict
        Raw cells as typed.
    numbers_of : callable
        From a row, its name in sentences and its month to fields of that kind and warnings.

    Returns
    -------
    tuple of MonthReading
        One for every row that holds anything, bad rows and the second row of a month included.
    """
    first = {}

    def numbers(row, where):
        cell = log.cell(where, "month")
        month = month_of(row.get("month"), where=cell)
        if month in first:
            raise BadInput(
                f"{MONTH_NAMES[month]} stands in {first[month]} already",
                "each month is allowed once",
                "correct the month of one of the two rows, or empty that row",
                where=cell,
            )
        first[month] = where.rpartition(", ")[2]
        found, warnings = numbers_of(row, where, month)
        return {"month": month} | found, warnings

    return read_rows(log, kind, rows, numbers)
