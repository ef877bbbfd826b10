"""The over-voltage load of a job."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import CONTACTOR_S, OverVoltageLoad

_LOAD = ("set_dc_volts", "ohm", "watts")


class GuardPart(AssumingPart):
    """Over-voltage load of a job."""

    part_title: ClassVar[str] = "over-voltage load"
    part_noun: ClassVar[str] = "how fast it is"
    needed_first: ClassVar[tuple] = _LOAD
    set_dc_volts: float | None = labelled(
        "Switched on from, DC",
        "V",
        "Across the rectifier. Empty while you have none.",
        default=None,
        gt=0,
        le=2000,
        next_step="type its set-point",
    )
    ohm: float | None = labelled(
        "Resistance of the load",
        "Ω",
        "On its label; ohms hot where it says so. Empty while you have none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
    watts: float | None = labelled(
        "Watts that it stands for hours",
        "W",
        "On its label, mounted and cooled as its maker says. Empty while you have none.",
        default=None,
        gt=0,
        le=1_000_000,
        next_step="read its label",
    )
    acts_within_s: float = labelled(
        "Acts within",
        "s",
        "From those volts until its current flows: 0.03 for a contactor, 0.001 for a transistor switch.",
        default=CONTACTOR_S.value,
        assumed=True,
        gt=0,
        le=10,
        next_step="read its sheet",
    )
    capacitor_uf: float = labelled(
        "Capacitor at the rectifier",
        "µF",
        "Fitted across plus and minus for good; 0 while there is none.",
        default=0.0,
        ge=0,
        le=1_000_000,
        next_step="read its label",
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_LOAD)
        return self

    @property
    def assumed_in_use(self):
        """What is assumed of a load that there is."""
        return () if self.ohm is None else self.assumed

    def to_guard(self):
        """The load, for the physics; None while there is none."""
        if self.ohm is None:
            return None
        return OverVoltageLoad(**{name: getattr(self, name) for name in (*_LOAD, "acts_within_s", "capacitor_uf")})
