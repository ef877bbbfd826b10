"""The part of a job that keeps readings of the inductance which no log holds: an LCR meter, one loaded reading."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.job_fields import BadField, field_facts, labelled
from statorbook.job_part_base import AssumingPart

_LOADED = ("load_rpm", "load_dc_amps", "load_dc_volts")


class HenriesPart(AssumingPart):
    """Readings of the inductance beside the shorted log, winding as found."""

    part_title: ClassVar[str] = "other inductance readings"
    lcr_henry: float | None = labelled("LCR meter", "H",
        "Between two leads, third one open; turn the rotor to several angles and take the mean; 37 mH may be typed.",
        default=None, gt=0, le=10, next_step="read it again, or leave it empty")
    lcr_rotor: Literal["in place", "taken out"] = labelled("Rotor meanwhile", "",
        "Without the rotor the reading can be half of what counts.", default="in place", assumed=True)
    load_rpm: float | None = labelled("Loaded, speed", "rpm", "Winding as found, charging a bank through a bridge.",
        default=None, gt=0, le=20_000, next_step="read it again, or leave all three empty")
    load_dc_amps: float | None = labelled("Loaded, amps", "A", "Into the bank, DC.", default=None, gt=0, le=1000,
        next_step="read it again, or leave all three empty")
    load_dc_volts: float | None = labelled("Loaded, volts", "V", "On the DC side of the bridge.", default=None, gt=0,
        le=1000, next_step="read it again, or leave all three empty")
    load_copper_c: float = labelled("Winding temperature", "°C", "When the loaded reading was taken.", default=20.0,
        assumed=True, ge=-40, le=150)

    @model_validator(mode="after")
    def _check(self):
        empty = [name for name in _LOADED if getattr(self, name) is None]
        if empty and len(empty) < len(_LOADED):
            facts = field_facts(type(self), empty[0])
            raise BadField("nothing was given but its partners were", facts.allowed, facts.next_step, where=facts.title,
                           field=empty[0])
        return self

    @property
    def loaded(self):
        """Whether a loaded reading was taken."""
        return self.load_rpm is not None
