"""The drill log: what the coupled rotor adds to the watts of a drill, leads open."""

from dataclasses import dataclass
from math import hypot, nan, sqrt

from statorbook.bench.columns import DAY, HZ, NOTE, SPEED
from statorbook.bench.log import Column, Log
from statorbook.bench.meters import READING_SHARE
from statorbook.bench.rows import Reading, read_rows
from statorbook.bench.speed import speed_of
from statorbook.errors import BadInput

DRILL_LOG = Log(
    name="drill",
    by_session=True,
    columns=(
        SPEED,
        HZ,
        Column(
            name="watts_coupled",
            label="Watts, rotor coupled",
            unit="W",
            limits=(0.1, 5_000),
            usual=("watts coupled", "W coupled", "with rotor", "coupled"),
        ),
        Column(
            name="watts_alone",
            label="Watts, drill alone",
            unit="W",
            limits=(0.1, 5_000),
            usual=("watts alone", "W alone", "without rotor", "alone"),
        ),
        DAY,
        NOTE,
    ),
)


@dataclass(frozen=True, kw_only=True)
class DrillReading(Reading):
    """Watts that the coupled rotor adds to those of the drill, leads open."""

    speed_rpm: float = nan
    added_watts: float = nan  # coupled less alone, on the mains lead
    added_watts_sigma: float = nan


def read_drill(rows, stator):
    """Read the drill log: a drill's watts with the rotor coupled and alone.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    stator : Stator
        Slots and poles, to turn Hz into rpm.

    Returns
    -------
    tuple of DrillReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows(DRILL_LOG, DrillReading, rows, lambda row, where: _numbers(row, where, stator))


def _numbers(row, where, stator):
    speed, warnings = speed_of(DRILL_LOG, row, where, stator)
    coupled, alone = (DRILL_LOG.number(row, name, where) for name in ("watts_coupled", "watts_alone"))
    if coupled.value <= alone.value:
        raise BadInput(
            f"{coupled.value:g} W is not more than the {alone.value:g} W of the drill alone",
            "with the rotor coupled the drill must take more",
            "let the drill run warm, then read both again at the same speed",
            where=DRILL_LOG.cell(where, "watts_coupled"),
        )
    # Meter share and last digit of both, at the same speed on the same day; JCGM 100 (from memory).
    sigmas = (hypot(READING_SHARE.value * watts.value, watts.step / sqrt(12.0)) for watts in (coupled, alone))
    added = coupled.value - alone.value
    return {"speed_rpm": speed.value, "added_watts": added, "added_watts_sigma": hypot(*sigmas)}, warnings
