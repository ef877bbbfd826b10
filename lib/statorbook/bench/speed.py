"""The speed of a row, from its rpm or else from its Hz, and how well it is known."""

from math import hypot, sqrt

from statorbook.bench.meters import HZ_SHARE, READING_SHARE
from statorbook.bench.pole_count import disagreement
from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95, TypedNumber, cell_text


def speed_of(log, row, where, stator):
    """The speed of one row.

    Parameters
    ----------
    log : Log
        The log that it stands in.
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.

    Returns
    -------
    tuple of TypedNumber and list
        Speed in rpm with its last digit, and warnings.

    Raises
    ------
    BadInput
        When both cells are empty or one cannot be used.
    """
    has_rpm, has_hz = (bool(cell_text(row.get(name))) for name in ("speed_rpm", "electrical_hz"))
    if not has_rpm and not has_hz:
        raise BadInput(
            "both speed cells are empty",
            "rpm or electrical Hz is allowed, or both",
            "type the speed this reading was taken at",
            where=log.cell(where, "speed_rpm", "electrical_hz"),
        )
    rpm = log.number(row, "speed_rpm", where) if has_rpm else None
    hz = log.number(row, "electrical_hz", where) if has_hz else None
    if rpm is None:
        # Scaling value and last digit alike keeps the share of the last digit.
        return TypedNumber(value=stator.speed_rpm(hz.value), step=stator.speed_rpm(hz.step)), []
    return rpm, disagreement(rpm.value, hz.value, where, stator) if has_hz else []


def speed_sigma_rpm(row, speed):
    """Likely error of the speed of a row: the meter's Hz is closer than a hand-held rpm meter.

    Parameters
    ----------
    row : dict
        Raw cells.
    speed : TypedNumber
        From `speed_of`.

    Returns
    -------
    float
        One sigma [rpm].

    Notes
    -----
    Equation: √((share × speed)² + (last digit)² / 12).
    Valid: errors of reading and rounding independent.
    Source: JCGM 100 (from memory).
    """
    by_hz = not cell_text(row.get("speed_rpm"))
    share = HZ_SHARE.value / NORMAL_95 if by_hz else READING_SHARE.value
    return hypot(share * speed.value, speed.step / sqrt(12.0))
