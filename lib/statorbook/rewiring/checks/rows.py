"""Rows of the log of meter checks: where the probes were, ohms or OL, volts at a speed."""

import re
from dataclasses import dataclass
from functools import partial
from math import nan

from statorbook.bench import CHECKS_LOG, Reading, ohms_or_open, read_rows
from statorbook.errors import BadInput
from statorbook.quantities import TypedNumber, cell_text, typed_number
from statorbook.rewiring.probes import Probe, probe_named

# Unit, lowest and highest number; beyond them it is a slip of the pen. Between two ends that agree 0 V is right.
_LIMITS = {"volts": ("V", 0, 2_000), "rpm": ("rpm", 1, 20_000), "Hz": ("Hz", 0.05, 20_000)}
_SCALES = {"m": 1e-3, "k": 1e3, "K": 1e3, "M": 1e6}
_SCALED = re.compile(r"([+-]?[0-9][0-9 .,]*?)\s*([mkKM])\s*(?:Ω|\u2126|[Oo]hms?)?")
_IN_HZ = re.compile(r"(.*?)\s*(?:hz|hertz)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class CheckReading(Reading):
    """What the meter said between two places, at rest or at a speed."""

    probe: Probe | None = None
    ohms: float = nan  # infinite when the meter showed OL
    ohms_step: float = 0.0  # worth of their last digit
    volts: float = nan  # AC, rms, line or phase as the probes were, nothing connected
    volts_step: float = 0.0
    speed_rpm: float = nan
    by_hz: bool = False  # speed from the meter's Hz, far closer than turns counted by hand


def read_checks(rows, wired):
    """Read the log of the meter checks.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row. An empty speed cell means the speed of the row above; a speed with Hz
        behind it is the meter's frequency.
    wired : Wiring
        The winding as it will be wired.

    Returns
    -------
    tuple of CheckReading
        One for every row that holds anything, bad rows included; see `bench.read_rows` for what is refused.
    """
    return read_rows(CHECKS_LOG, CheckReading, rows, partial(_numbers, wired=wired, speeds=[]))


def typed_ohms(row, where):
    """The ohms of a row, with mΩ, kΩ or MΩ behind the number where they are meant."""
    scaled = _SCALED.fullmatch(cell_text(row.get("ohms")))
    if not scaled:
        return ohms_or_open(row, where)
    found = ohms_or_open({**row, "ohms": scaled[1]}, where)
    return TypedNumber(value=found.value * _SCALES[scaled[2]], step=found.step * _SCALES[scaled[2]])


def _numbers(row, where, *, wired, speeds):
    """The numbers of one row; `speeds` holds the speed typed last and its row's name."""
    if cell_text(row.get("speed_rpm")):
        speeds.clear()  # if this one cannot be used, the rows below must not fall back on an older one
        speeds.append((*_speed(row, where, wired.stator), where))
    found = {"probe": _probe(row, where, wired)}
    if not (cell_text(row.get("ohms")) or cell_text(row.get("volts"))):
        raise BadInput(
            "neither ohms nor volts are in it",
            "one of them or both are allowed",
            "type what the meter showed there",
            where=where,
        )
    if cell_text(row.get("ohms")):
        ohms = typed_ohms(row, where)
        found |= {"ohms": ohms.value, "ohms_step": ohms.step}
    warnings = []
    if cell_text(row.get("volts")):
        volts = _number(row["volts"], "volts", CHECKS_LOG.cell(where, "volts"))
        speed_rpm, by_hz, typed_in = _speed_of(speeds, where)
        found |= {"volts": volts.value, "volts_step": volts.step, "speed_rpm": speed_rpm, "by_hz": by_hz}
        if typed_in != where:
            warnings.append(f"No speed typed, so the {speed_rpm:.4g} rpm of {typed_in.removeprefix('checks log, ')}.")
    return found, warnings


def _probe(row, where, wired):
    name = cell_text(row.get("between"))
    try:
        return probe_named(wired, name)
    except BadInput as refusal:
        given = refusal.given if name else "the cell is empty"
        raise BadInput(given, refusal.allowed, refusal.next_step, where=CHECKS_LOG.cell(where, "between")) from None


def _speed(row, where, stator):
    text, where = cell_text(row["speed_rpm"]), CHECKS_LOG.cell(where, "speed_rpm")
    in_hz = _IN_HZ.fullmatch(text)
    if in_hz:
        return stator.speed_rpm(_number(in_hz[1], "Hz", where).value), True
    return _number(text, "rpm", where).value, False


def _speed_of(speeds, where):
    if speeds:
        return speeds[-1]
    raise BadInput(
        "volts without a speed were given",
        "rpm, or the meter's frequency with Hz behind it, is allowed in this row or in one above",
        "type the speed at which they were read",
        where=CHECKS_LOG.cell(where, "speed_rpm"),
    )


def _number(text, kind, where):
    unit, at_least, at_most = _LIMITS[kind]
    return typed_number(text, unit, at_least=at_least, at_most=at_most, where=where)
