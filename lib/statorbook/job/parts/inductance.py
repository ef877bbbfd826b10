"""The part of a job that keeps readings of the inductance which no log holds: an LCR meter, one loaded reading."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.bench import require_bank_volts
from statorbook.cautions import SPUN_HOT, STILL, Exposure
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import field_facts, labelled

_LOADED_RUN = (Exposure.TURNING, Exposure.VOLTS, Exposure.BANK)
_LOADED = ("load_rpm", "load_dc_amps", "load_dc_volts")
_ON_RESISTORS = ("res_rpm", "res_ohm")
_GIVEN = "nothing was given but its partners were"
_RES_NEXT = "read it again, or leave speed, ohms, amps and volts of the resistors empty"


class HenriesPart(AssumingPart):
    """Readings of the inductance beside the shorted log, winding as found."""

    part_title: ClassVar[str] = "other inductance readings"
    lcr_henry: float | None = labelled(
        "LCR meter",
        "H",
        "Between two leads, third one open; turn the rotor to several angles and take the mean; 37 mH may be typed.",
        default=None,
        gt=0,
        le=10,
        next_step="read it again, or leave it empty",
        exposes=STILL,
    )
    lcr_rotor: Literal["in place", "taken out"] = labelled(
        "Rotor meanwhile",
        "",
        "Without the rotor the reading can be half of what counts.",
        default="in place",
        assumed=True,
    )
    load_rpm: float | None = labelled(
        "Loaded, speed",
        "rpm",
        "Winding as found, charging a bank through a bridge.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read it again, or leave all three empty",
        exposes=_LOADED_RUN,
    )
    load_dc_amps: float | None = labelled(
        "Loaded, amps",
        "A",
        "Into the bank, DC.",
        default=None,
        gt=0,
        le=1000,
        next_step="read it again, or leave all three empty",
        exposes=_LOADED_RUN,
    )
    load_dc_volts: float | None = labelled(
        "Loaded, volts",
        "V",
        "On the DC side of the bridge.",
        default=None,
        gt=0,
        le=1000,
        next_step="read it again, or leave all three empty",
        exposes=_LOADED_RUN,
    )
    load_bank: Literal["bank of page 04", "another bank"] = labelled(
        "Loaded, which bank",
        "",
        "What the bank of page 04 cannot show is set aside; volts of another one are not checked.",
        default="bank of page 04",
        assumed=True,
    )
    load_copper_c: float = labelled(
        "Winding temperature", "°C", "When the loaded reading was taken.", default=20.0, assumed=True, ge=-40, le=150
    )

    res_rpm: float | None = labelled(
        "Resistors: speed",
        "rpm",
        "Winding as found, three equal resistors on its leads.",
        default=None,
        gt=0,
        le=20_000,
        next_step=_RES_NEXT,
        exposes=SPUN_HOT,
    )
    res_ohm: float | None = labelled(
        "One resistor",
        "Ω",
        "Read at rest, at once after the run while it is warm, one end loose.",
        default=None,
        gt=0,
        le=10_000,
        next_step=_RES_NEXT,
        exposes=SPUN_HOT,
    )
    res_joined: Literal["star", "delta"] = labelled(
        "Resistors joined in",
        "",
        "Star: one end of each together. Delta: each between two leads.",
        default="star",
        assumed=True,
    )
    res_line_amps: float | None = labelled(
        "Resistors: line amps, rms",
        "A",
        "In one lead; amps, volts, or both.",
        default=None,
        gt=0,
        le=1000,
        next_step=_RES_NEXT,
        exposes=SPUN_HOT,
    )
    res_line_volts: float | None = labelled(
        "Resistors: line volts, rms",
        "V",
        "Between two leads, under load.",
        default=None,
        gt=0,
        le=2000,
        next_step=_RES_NEXT,
        exposes=SPUN_HOT,
    )
    res_copper_c: float = labelled(
        "Resistors: winding",
        "°C",
        "Its temperature when that reading was taken.",
        default=20.0,
        assumed=True,
        ge=-40,
        le=150,
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_LOADED, _GIVEN)
        if self.res_line_amps is None and self.res_line_volts is None:
            self.require_whole((*_ON_RESISTORS, "res_line_amps"), _GIVEN)
        else:
            self.require_whole(_ON_RESISTORS, _GIVEN, begun=True)
        return self

    @property
    def on_resistors(self):
        """Readings on resistors, as a list of keywords for `fits.inductance_other_ways.from_resistors`."""
        read = {"line_amps": self.res_line_amps, "line_volts": self.res_line_volts}
        same = {
            "speed_rpm": self.res_rpm,
            "resistor_ohm": self.res_ohm,
            "joined": self.res_joined,
            "copper_c": self.res_copper_c,
        }
        return [same | {name: value} for name, value in read.items() if value is not None]

    def require_load_volts(self, bank):
        """Refuse volts of the loaded reading that no meter on the bank can show.

        Parameters
        ----------
        bank : Bank
            The bank of page 04.

        Raises
        ------
        BadInput
            When it was that bank, and its volts cannot be.
        """
        if self.loaded and self.load_bank == "bank of page 04":
            require_bank_volts(bank, self.load_dc_volts, field_facts(type(self), "load_dc_volts").title)

    @property
    def loaded(self):
        """Whether a loaded reading was taken."""
        return self.load_rpm is not None
