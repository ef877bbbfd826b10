"""The logs of a job: their columns with units, and what a reader sees above each."""

from statorbook.errors import BadInput
from statorbook.quantities import typed_number

# The three logs of the coil's constants.
LOGS = {
    "spin": (
        ("speed_rpm", "rpm"),
        ("electrical_hz", "Hz"),
        ("volts", "V"),
        ("terminals", "pair"),
        ("connection", "wiring"),
        ("quantity", "kind"),
        ("meter", "meter"),
        ("speed_by", "word"),
        ("volts_by", "word"),
        ("taken_on", "date"),
        ("note", "text"),
    ),
    "shorted": (
        ("speed_rpm", "rpm"),
        ("electrical_hz", "Hz"),
        ("amps", "A"),
        ("lead", "lead"),
        ("connection", "wiring"),
        ("meter", "meter"),
        ("taken_on", "date"),
        ("note", "text"),
    ),
    "ohms": (
        ("terminals", "pair"),
        ("ohms", "Ω"),
        ("lead_zero_ohm", "Ω"),
        ("copper_c", "°C"),
        ("taken_on", "date"),
        ("note", "text"),
    ),
}
# What it takes to turn the unloaded rotor; a job may do without them.
DRAG_LOGS = {
    "coast": (("time_s", "s"), ("speed_rpm", "rpm"), ("electrical_hz", "Hz"), ("taken_on", "date"), ("note", "text")),
    "drill": (
        ("speed_rpm", "rpm"),
        ("electrical_hz", "Hz"),
        ("watts_coupled", "W"),
        ("watts_alone", "W"),
        ("taken_on", "date"),
        ("note", "text"),
    ),
}
# Coil by coil before anything is cut, and what the meter said during the work; a job may do without them.
WIRING_LOGS = {
    "coils": (
        ("tooth", "tooth"),
        ("volts", "V"),
        ("speed_rpm", "rpm"),
        ("ohms", "Ω"),
        ("taken_on", "date"),
        ("note", "text"),
    ),
    "checks": (("between", "ends"), ("ohms", "Ω"), ("volts", "V"), ("speed_rpm", "rpm"), ("note", "text")),
}
# The finished machine at work, and its bearings over the months.
RUN_LOGS = {
    "run": (
        ("taken_on", "date"),
        ("speed_rpm", "rpm"),
        ("electrical_hz", "Hz"),
        ("line_volts", "V"),
        ("dc_volts", "V"),
        ("dc_amps", "A"),
        ("drive_reading", "as typed"),
        ("copper_c", "°C"),
        ("note", "text"),
    ),
    "service": (
        ("taken_on", "date"),
        ("hours_run", "h"),
        ("play", "word"),
        ("noise", "word"),
        ("bearing_c", "°C"),
        ("room_c", "°C"),
        ("water", "word"),
        ("note", "text"),
    ),
}
ALL_LOGS = LOGS | DRAG_LOGS | WIRING_LOGS | RUN_LOGS
# What a reader sees above each column, in the grid and in sentences about a row.
HEADINGS = {
    "speed_rpm": "Speed [rpm]",
    "electrical_hz": "or frequency [Hz]",
    "volts": "Volts [V]",
    "amps": "Current, rms [A]",
    "ohms": "Reading [Ω]",
    "lead_zero_ohm": "Probes touching [Ω]",
    "copper_c": "Winding temperature [°C]",
    "terminals": "Leads",
    "lead": "Lead",
    "connection": "Wiring",
    "quantity": "What was read",
    "meter": "Meter",
    "speed_by": "Speed known by",
    "volts_by": "Volts known by",
    "note": "Note",
    "time_s": "Time [s]",
    "watts_coupled": "Watts, rotor coupled [W]",
    "watts_alone": "Watts, drill alone [W]",
    "tooth": "Tooth",
    "between": "Between",
    "taken_on": "Date",
    "line_volts": "Line volts, AC rms [V]",
    "dc_volts": "Bank volts, DC [V]",
    "dc_amps": "Bank amps, DC [A]",
    "drive_reading": "Source",
    "hours_run": "Hours run [h]",
    "play": "Play",
    "noise": "Noise",
    "bearing_c": "Bearing [°C]",
    "room_c": "Air around [°C]",
    "water": "Water",
}
# Columns that logs of older jobs do not have; empty cells mean what such a log meant.
ADDED_WORDS = {"speed_by": ("measured", "name plate"), "volts_by": ("meter", "lamps")}
ADDED_LATER = (*ADDED_WORDS, "taken_on")
MAY_BE_MISSING = ("speed_rpm", "electrical_hz", "copper_c", "note", *ADDED_LATER)
# Bench readings fall into sessions by their day.
SESSION_LOGS = (*LOGS, *DRAG_LOGS, "coils")
# Logs whose rows may carry a day; the service log must have one and asks for it itself.
DATED_LOGS = (*SESSION_LOGS, "run")


def columns_of(log):
    """The column names of a log.

    Parameters
    ----------
    log : str
        "spin", "shorted", "ohms", "coast", "drill", "coils", "checks", "run" or
        "service".

    Returns
    -------
    tuple of str
        In the order of the file.

    Raises
    ------
    BadInput
        When there is no such log.
    """
    if not isinstance(log, str) or log not in ALL_LOGS:
        raise BadInput(
            f"{str(log)[:40]!r} was given", f"allowed are {', '.join(ALL_LOGS)}", "choose one of them", where="log"
        )
    return tuple(name for name, _ in ALL_LOGS[log])


def blank_row(log):
    """A row with every column of a log and nothing typed yet.

    Parameters
    ----------
    log : str
        "spin", "shorted", "ohms", "coast", "drill", "coils", "checks", "run" or
        "service".

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


def require_columns(log, row):
    """Refuse a row whose columns are not those of its log.

    Parameters
    ----------
    log : str
        Its name.
    row : dict
        Raw cells by column.

    Raises
    ------
    BadInput
        When a column is missing that must be there, or columns changed places.
    """
    columns = columns_of(log)
    own = [name for name in row if name in columns]
    in_order = [name for name in columns if name in own]
    allowed = f"the columns are {', '.join(columns)}"
    if missing := [name for name in columns if name not in own and name not in MAY_BE_MISSING]:
        raise BadInput(f"the column {missing[0]} is missing", allowed, "put the column back", where=f"{log} log")
    if own != in_order:
        strayed, place = next(pair for pair in zip(own, in_order) if pair[0] != pair[1])
        raise BadInput(
            f"the column {strayed} stands where {place} belongs",
            f"{allowed}, in this order",
            "put the columns back in order and check that each holds its own readings",
            where=f"{log} log",
        )


def number_in(row, field, limits, where, hint=""):
    """Read one number cell of a log, or refuse it in one sentence.

    Parameters
    ----------
    row : dict
        Raw cells.
    field : str
        The column.
    limits : dict of str to tuple
        By column its unit, and the lowest and highest number that is no slip of the pen.
    where : str
        Log and row, for the sentence.
    hint : str
        A guess at what went wrong, put before the next step; may be empty.

    Returns
    -------
    TypedNumber
        The number and its last digit.

    Raises
    ------
    BadInput
        When the cell is empty, no number or out of range.
    """
    unit, at_least, at_most = limits[field]
    where = f"{where}, {HEADINGS[field]}"
    return typed_number(row.get(field), unit, at_least=at_least, at_most=at_most, where=where, hint=hint)
