"""The part of a job that says what the bench logs were read with; every field may stay empty."""

from dataclasses import replace
from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bench import METER_CLASS, METER_DIGITS, METER_KINDS, MOST_VOLTS, TRUE_RMS_HZ, Meter, Meters
from statorbook.cautions import SPUN
from statorbook.job.parts.base import Part
from statorbook.job.parts.fields import labelled
from statorbook.quantities import CHEAP_METER_HZ

_KIND = "What the front of the meter says. Empty: what each row says, else taken as averaging."

_PERCENT, _DIGITS = (
    {name: f"{what} Empty: {factor * fact.value:g}{unit} assumed." for name, fact in facts.items()}
    for what, facts, factor, unit in (
        ("Of the reading, as its manual says.", METER_CLASS, 100.0, " %"),
        ("Counts of the last digit to add, such as 3 of ±(1.0 % + 3 digits).", METER_DIGITS, 1.0, ""),
    )
)
_BAND = (
    f"Highest frequency at which that accuracy holds. Empty: {CHEAP_METER_HZ.value:g} Hz assumed, "
    f"{TRUE_RMS_HZ.value:g} Hz when it is true rms."
)
_MOST = (
    f"The lower mark of meter and probes, such as CAT III 600 V, for AC and DC. Empty: {MOST_VOLTS.value:g} V assumed."
)
_MANUAL = "look into the manual, or leave it empty"


class MetersPart(Part):
    """Accuracy, kind and band of the reader's meters, what the probes reach, and a count by Hz and rpm."""

    part_title: ClassVar[str] = "meters"
    needed_first: ClassVar[tuple] = ()  # usual meters are assumed
    volts_percent: float | None = labelled(
        "AC volts, accuracy", "%", _PERCENT["volts"], default=None, gt=0, le=20, next_step=_MANUAL
    )
    volts_digits: float | None = labelled(
        "AC volts, digits", "-", _DIGITS["volts"], default=None, ge=0, le=100, next_step=_MANUAL
    )
    volts_kind: Literal[METER_KINDS] | None = labelled("AC volts, kind", "", _KIND, default=None)
    volts_band_hz: float | None = labelled(
        "AC volts, good up to", "Hz", _BAND, default=None, ge=40, le=100_000, next_step=_MANUAL
    )
    limit_volts: float | None = labelled(
        "Meter and probes stand",
        "V",
        _MOST,
        default=None,
        ge=10,
        le=2_000,
        next_step="read the marks at its sockets and on the probes, or leave it empty",
    )
    amps_percent: float | None = labelled(
        "Amps, accuracy", "%", _PERCENT["amps"], default=None, gt=0, le=20, next_step=_MANUAL
    )
    amps_digits: float | None = labelled(
        "Amps, digits", "-", _DIGITS["amps"], default=None, ge=0, le=100, next_step=_MANUAL
    )
    amps_kind: Literal[METER_KINDS] | None = labelled("Amps, kind", "", _KIND, default=None)
    amps_band_hz: float | None = labelled(
        "Amps, good up to", "Hz", _BAND, default=None, ge=40, le=100_000, next_step=_MANUAL
    )
    ohms_percent: float | None = labelled(
        "Ohms, accuracy", "%", _PERCENT["ohms"], default=None, gt=0, le=20, next_step=_MANUAL
    )
    ohms_digits: float | None = labelled(
        "Ohms, digits", "-", _DIGITS["ohms"], default=None, ge=0, le=100, next_step=_MANUAL
    )
    star_point: Literal["reachable", "not reachable"] | None = labelled(
        "Star point N", "", "Whether a probe reaches the joint of the three phases; a delta has none.", default=None
    )
    spin_hz: float | None = labelled(
        "One spin, meter's Hz",
        "Hz",
        "Hz range, clipped to two leads.",
        default=None,
        ge=0.05,
        le=20_000,
        next_step="read it again, or leave Hz and rpm empty",
        exposes=SPUN,
    )
    spin_rpm: float | None = labelled(
        "Same spin, rpm meter",
        "rpm",
        "Read at the same moment.",
        default=None,
        ge=1,
        le=20_000,
        next_step="read it again, or leave Hz and rpm empty",
        exposes=SPUN,
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(("spin_hz", "spin_rpm"))
        return self

    def to_meters(self):
        """The meters, with what was left empty assumed."""
        volts, amps = (
            Meter(
                quantity=name,
                percent=getattr(self, f"{name}_percent"),
                digits=getattr(self, f"{name}_digits"),
                kind=getattr(self, f"{name}_kind") or "unknown",
                band_hz=getattr(self, f"{name}_band_hz"),
            )
            for name in ("volts", "amps")
        )
        volts = replace(volts, limit_volts=self.limit_volts)
        ohms = Meter(quantity="ohms", percent=self.ohms_percent, digits=self.ohms_digits)
        return Meters(volts=volts, amps=amps, ohms=ohms, star_point=self.star_point or "")


def meters_of(job):
    """What the bench logs of a job were read with.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    Meters
        As described; usual meters assumed while nothing was.
    """
    part = job.meters
    return Meters() if part is None else part.to_meters()
