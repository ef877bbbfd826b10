"""The shorted log: line amps at a known speed, all three leads joined."""

from dataclasses import dataclass
from math import nan

from statorbook.bench.columns import DAY, HZ, METER, NOTE, SPEED, WIRING
from statorbook.bench.evidence import Evidence, above_band, half_step
from statorbook.bench.log import Column, Log, spelt
from statorbook.bench.meters import READING_SHARE, Meters
from statorbook.bench.rows import Reading, read_rows
from statorbook.bench.speed import speed_of

SHORTED_LOG = Log(
    name="shorted",
    needed=True,
    by_session=True,
    columns=(
        SPEED,
        HZ,
        Column(
            name="amps",
            label="Current, rms",
            unit="A",
            limits=(0.001, 1_000),
            usual=("A", "amp", "amps", "ampere", "amperes", "current", "A AC", "A rms"),
        ),
        Column(
            name="lead",
            label="Lead",
            unit="lead",
            words=spelt("A", "B", "C"),
            usual=("phase", "clamped lead"),
            at_first="A",
        ),
        WIRING,
        METER,
        DAY,
        NOTE,
    ),
)


@dataclass(frozen=True, kw_only=True)
class ShortedReading(Reading):
    """Amps at a known speed, all three leads joined."""

    speed_rpm: float = nan
    lead: str = ""  # "A", "B" or "C"
    line_amps_rms: float = nan
    line_amps_sigma: float = nan  # its own and what rows above the band share, meter's class left out [A]


def read_shorted(rows, stator, *, found_connection=None, meters=Meters()):
    """Every row that holds anything as a `ShortedReading`; the wiring is what most rows say when it is None."""

    def numbers_of(row, where):
        return _numbers(row, where, stator, meters)

    return read_rows(SHORTED_LOG, ShortedReading, rows, numbers_of, found_connection)


def _numbers(row, where, stator, meters):
    speed, warnings = speed_of(SHORTED_LOG, row, where, stator)
    amps, lead = SHORTED_LOG.number(row, "amps", where), SHORTED_LOG.word(row, "lead", where)
    kind = meters.amps.kind_in(SHORTED_LOG.word(row, "meter", where, otherwise="unknown"))
    known = Evidence(own_share=READING_SHARE.value, shared={"class": meters.amps.class_share}, warnings=tuple(warnings))
    known = known.and_(above_band(stator.electrical_hz(speed.value), kind, meters.amps, where))
    known = known.by(meters.amps.digits_sigma(amps.step) / amps.value).by(half_step(speed))
    return dict(
        speed_rpm=speed.value,
        lead=lead,
        line_amps_rms=amps.value,
        own_share=known.own_share,
        shared=known.shared,
        line_amps_sigma=amps.value * known.sigma_share,
    ), known.warnings
