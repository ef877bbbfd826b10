"""The coils log: volts and ohms coil by coil before anything is cut, and what all rows of one tooth say together."""

import re
from dataclasses import dataclass, replace
from math import hypot, inf, isfinite, isnan, nan, sqrt

from statorbook.bench.columns import DAY, NOTE, OHMS, SPEED, VOLTS
from statorbook.bench.log import Column, Log
from statorbook.bench.meters import READING_SHARE
from statorbook.bench.rows import Reading, read_rows
from statorbook.errors import BadInput
from statorbook.quantities import Fact, TypedNumber, cell_text

COILS_LOG = Log(
    name="coils",
    by_session=True,
    columns=(
        Column(name="tooth", label="Tooth", unit="tooth", usual=("tooth number", "coil", "slot")),
        VOLTS,  # a bridged coil may well show 0, of ohms too
        replace(SPEED, once=True),
        replace(OHMS, instead_of="volts"),
        DAY,
        NOTE,
    ),
)
ODD_SHARE = {
    "volts": Fact(value=0.05, unit="of the middle coil", source="common practice, no source", low=0.03, high=0.1),
    "ohms": Fact(value=0.08, unit="of the middle coil", source="common practice, no source", low=0.05, high=0.15),
}
# What meters show, and readers write, where there is no way through; "0L" is how seven bars show OL.
# "0L" and "o.l" are OL, but digits alone are a number: 0.1 Ω is no open coil.
_OPEN_WORDS = re.compile(
    r"(?![\d.]+$)\.?[o0]\.?[l1]\.?|open|inf|infinite|infinity|∞|over ?load|over ?range", re.IGNORECASE
)
# A coil has ohms; thousands of them are no way through.
_BIG_UNIT = re.compile(r"[0-9] *[kKM] *(Ω|\u2126|[oO]hms?)?$")


@dataclass(frozen=True, kw_only=True)
class CoilReading(Reading):
    """Volts of one coil at a speed, or its ohms at rest, or both; nan for what was not read."""

    tooth: int = 0
    coil_volts_rms: float = nan  # of this coil alone, AC rms, nothing connected
    volts_sigma: float = nan  # one sigma from meter, speed and last digit; coil volts, rms
    volts_step: float = nan  # worth of the last digit typed [V]
    speed_rpm: float = nan  # of the row or of the row above; nan when none is typed in the whole log
    coil_ohms: float = nan  # infinite when the meter showed OL
    ohms_sigma: float = nan
    ohms_step: float = nan


@dataclass(frozen=True, kw_only=True)
class CoilMean:
    """What all rows of one tooth say about its volts per rpm or its ohms."""

    value: float  # infinite when each row showed OL
    sigma: float  # same unit
    step: float  # worth of the coarsest last digit, same unit
    rows: tuple  # row numbers
    note: str = ""  # a sentence when the rows disagree


def read_coils(rows, stator):
    """Read the log of the coil-by-coil survey.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row. An empty speed cell means the speed of the row above.
    stator : Stator
        Slots and poles, to refuse teeth that there are not.

    Returns
    -------
    tuple of CoilReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    readings = read_rows(COILS_LOG, CoilReading, rows, lambda row, where: _numbers(row, where, stator))
    speed_rpm, found = nan, []
    any_typed = any(cell_text(reading.raw.get("speed_rpm")) for reading in readings)
    for reading in readings:
        if cell_text(reading.raw.get("speed_rpm")):
            speed_rpm = _speed_typed(reading.raw)
        elif reading.usable and any_typed and isnan(speed_rpm) and not isnan(reading.coil_volts_rms):
            refusal = BadInput(
                "no usable speed stands in this row or above it",
                "a speed is allowed in every row, or in the first row of each speed, or in none",
                "type the speed this reading was taken at",
                where=COILS_LOG.cell(reading.where, "speed_rpm"),
            )
            found.append(CoilReading(log=reading.log, row=reading.row, raw=reading.raw, refusal=str(refusal)))
            continue
        found.append(replace(reading, speed_rpm=speed_rpm if reading.usable else nan))
    return tuple(found)


def _numbers(row, where, stator):
    found = {"tooth": _tooth(row, where, stator.slots)}
    volts_typed, ohms_typed, speed_typed = (bool(cell_text(row.get(name))) for name in ("volts", "ohms", "speed_rpm"))
    if not (volts_typed or ohms_typed):
        raise BadInput(
            "neither volts nor ohms are in it",
            "one of them or both are allowed",
            "type what the meter showed on this coil",
            where=where,
        )
    speed_share = 0.0
    if speed_typed:
        speed = COILS_LOG.number(row, "speed_rpm", where)
        speed_share = hypot(READING_SHARE.value, 0.5 * speed.step / speed.value)
    if volts_typed:
        is_open = _OPEN_WORDS.fullmatch(cell_text(row["volts"]))
        volts = COILS_LOG.number(row, "volts", where, "choose a higher range of the meter, then " if is_open else "")
        sigma = hypot(volts.value * hypot(READING_SHARE.value, speed_share), volts.step / sqrt(12.0))
        found |= {"coil_volts_rms": volts.value, "volts_sigma": sigma, "volts_step": volts.step}
    if ohms_typed:
        ohms = ohms_or_open(row, where)
        sigma = hypot(READING_SHARE.value * ohms.value, ohms.step / sqrt(12.0))
        found |= {"coil_ohms": ohms.value, "ohms_sigma": sigma, "ohms_step": ohms.step}
    return found, []


def ohms_or_open(row, where):
    """The ohms of a row; OL, or the word open, is no way through.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    TypedNumber
        Ohms with their last digit; infinite for OL.
    """
    text = cell_text(row.get("ohms"))
    if _OPEN_WORDS.fullmatch(text):
        return TypedNumber(value=inf, step=0.0)
    return COILS_LOG.number(row, "ohms", where, "for kΩ and MΩ type OL, else " if _BIG_UNIT.search(text) else "")


def coil_means(readings, quantity):
    """Join the rows of each tooth.

    Parameters
    ----------
    readings : sequence of CoilReading
        Usable rows.
    quantity : str
        "volts", taken for each rpm where speeds are typed, or "ohms".

    Returns
    -------
    dict of int to CoilMean
        By tooth, for those that were read.
    """
    of_tooth = {}
    for r in readings:
        per = 1.0 if quantity == "ohms" or isnan(r.speed_rpm) else r.speed_rpm
        value = r.coil_volts_rms if quantity == "volts" else r.coil_ohms
        sigma, step = getattr(r, f"{quantity}_sigma"), getattr(r, f"{quantity}_step")
        if not isnan(value):
            of_tooth.setdefault(r.tooth, []).append((value / per, sigma / per, step / per, r.row))
    return {tooth: _mean(tooth, quantity, of_tooth[tooth]) for tooth in sorted(of_tooth)}


def _mean(tooth, quantity, rows):
    finite = [row for row in rows if isfinite(row[0])]
    values, sigmas, steps, _ = zip(*(finite or rows), strict=True)
    value, numbers = sum(values) / len(values), tuple(row for *_, row in rows)
    said = f"Tooth {tooth}: its {quantity} in rows {', '.join(map(str, numbers))}"
    apart, note = max(values) - min(values) if finite else 0.0, ""
    if finite and len(finite) < len(rows):
        note = f"{said} are OL at one time and not at another; look for a joint that comes and goes, then read again."
    elif apart > max(ODD_SHARE[quantity].value * value, 2.0 * max(steps)):
        note = f"{said} are {100 * apart / value:.0f} % apart; their mean is used for now, so read this coil once more."
    sigma = sqrt(sum(sigma**2 for sigma in sigmas)) / len(sigmas)
    return CoilMean(value=value, sigma=sigma, step=max(steps), rows=numbers, note=note)


def _tooth(row, where, slots):
    text = cell_text(row.get("tooth"))
    if re.fullmatch("[0-9]{1,4}", text) and 1 <= int(text) <= slots:
        return int(text)
    raise BadInput(
        f'"{" ".join(text.split())[:40]}" was given' if text else "the cell is empty",
        f"a tooth from 1 to {slots} is allowed",
        "type the number of the tooth that the coil is on, counted from your mark",
        where=COILS_LOG.cell(where, "tooth"),
    )


def _speed_typed(raw):
    """The speed of a row that may be bad elsewhere; nan when the speed itself cannot be trusted."""
    try:
        return nan if None in raw else COILS_LOG.number(raw, "speed_rpm", "").value
    except BadInput:
        return nan
