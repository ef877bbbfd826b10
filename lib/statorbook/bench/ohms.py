"""The ohms log: resistance between two leads, machine at rest."""

from dataclasses import dataclass, replace
from math import hypot, nan

from statorbook.bench.columns import COPPER, DAY, LEADS, NOTE, OHMS
from statorbook.bench.log import Column, Log
from statorbook.bench.meters import READING_SHARE, Meters
from statorbook.bench.rows import Reading, read_rows
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, say

OHMS_LOG = Log(
    name="ohms",
    needed=True,
    by_session=True,
    columns=(
        replace(LEADS, in_turn=("AB", "BC", "CA")),
        replace(OHMS, limits=(0.001, 10_000)),
        Column(
            name="lead_zero_ohm",
            label="Probes touching",
            unit="Ω",
            limits=(0, 50),
            usual=("probes", "zero", "probes ohm", "leads touching"),
            once=True,
        ),
        COPPER,
        DAY,
        NOTE,
    ),
)


@dataclass(frozen=True, kw_only=True)
class OhmsReading(Reading):
    """Ohms between two leads, machine at rest."""

    terminals: str = ""  # "AB", "BC" or "CA"
    star_ohm: float = nan  # one phase of the equivalent star at the copper's temperature, probes taken off [Ω]
    star_ohm_sigma: float = nan  # from meter and last digits [Ω]
    rounding_ohm: float = nan  # the part of it that comes from the last digits, the same in every row
    copper_c: float = nan


def read_ohms(rows, *, meters=Meters()):
    """Read the ohms log: resistance between two leads.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of OhmsReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows(OHMS_LOG, OhmsReading, rows, lambda row, where: _numbers(row, where, meters))


def _numbers(row, where, meters):
    reading = OHMS_LOG.number(row, "ohms", where)
    zero = OHMS_LOG.number(row, "lead_zero_ohm", where, "touch the probes together, read that, and ")
    terminals = OHMS_LOG.word(row, "terminals", where)
    if reading.value <= zero.value:
        raise BadInput(
            f"{reading.value:g} Ω is not more than the {zero.value:g} Ω of the probes alone",
            "the winding must show more than the probes",
            "read both again on the meter's lowest ohm range",
            where=OHMS_LOG.cell(where, "ohms"),
        )
    logged = {"copper_c": OHMS_LOG.number(row, "copper_c", where).value} if cell_text(row.get("copper_c")) else {}
    warnings = [] if logged else [f"{where}: no winding temperature logged, {say(20, '°C')} assumed."]
    # Two phases of the equivalent star lie between any two leads, in star and delta alike: delta to star, Bird,
    # Electrical Circuit Theory and Technology (from memory).
    star_ohm = (reading.value - zero.value) / 2.0
    rounding = hypot(*(meters.ohms.digits_sigma(number.step) for number in (reading, zero))) / 2.0
    sigma = hypot(READING_SHARE.value * star_ohm, rounding)
    found = dict(
        terminals=terminals,
        star_ohm=star_ohm,
        star_ohm_sigma=sigma,
        rounding_ohm=rounding,
        own_share=sigma / star_ohm,
        shared={"class": meters.ohms.class_share},
    )
    return found | logged, warnings
