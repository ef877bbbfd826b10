"""The rectifier that the reader of a job has, and where it is mounted."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import ENCLOSURES, KINDS, OPEN_AIR, SHARINGS, Rectifier

_LABEL = ("label_amps", "reverse_volts")


class RectifierPart(AssumingPart):
    """Rectifier of a job."""

    part_title: ClassVar[str] = "rectifier"
    part_noun: ClassVar[str] = "its sheet and its place"
    needed_first: ClassVar[tuple] = ("kind", *_LABEL)
    kind: Literal[KINDS] = labelled(
        "Kind of rectifier",
        "",
        "A block for three phases has five ends. A block with four ends holds four single diodes, each for half of its "
        "amps.",
        default=KINDS[0],
    )
    label_amps: float | None = labelled(
        "Amps on its label, DC",
        "A",
        "Of the whole block; of one single diode its average amps. Empty while you have none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label or sheet",
    )
    reverse_volts: float | None = labelled(
        "Reverse volts on its label, DC peak",
        "V",
        "Repetitive peak reverse volts of each diode. Empty while you have none.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read its label or sheet",
    )
    drop_v: float | None = labelled(
        "Drop of one diode",
        "V",
        "At its rated amps, on its sheet. Empty when you have no sheet.",
        default=None,
        gt=0,
        le=3,
        next_step="read its sheet, or leave it empty",
    )
    slope_ohm: float = labelled(
        "Slope of one diode",
        "Ω",
        "What the drop gains for each ampere. With a slope, type the drop without amps, its threshold, above.",
        default=0.0,
        ge=0,
        le=1,
        next_step="read its sheet, or type 0",
    )
    junction_case_k_per_w: float | None = labelled(
        "From one junction to the base",
        "K/W",
        "Of one diode, on its sheet. Empty when you have no sheet.",
        default=None,
        gt=0,
        le=100,
        next_step="read its sheet, or leave it empty",
    )
    max_junction_c: float = labelled(
        "Hottest junction",
        "°C",
        "On its sheet.",
        default=125.0,
        assumed=True,
        ge=100,
        le=250,
        next_step="read its sheet",
    )
    side_by_side: int = labelled(
        "Side by side",
        "count",
        "Blocks, or diodes in each of the six places.",
        default=1,
        ge=1,
        le=24,
        next_step="count them again",
    )
    sharing: Literal[SHARINGS] = labelled(
        "How those side by side share the amps",
        "",
        "As they come, the one with the lowest drop takes nearly all, so that they count as one.",
        default=SHARINGS[0],
        assumed=True,
    )
    heat_sink_k_per_w: float | None = labelled(
        "Heat sink",
        "K/W",
        "One for all of them. Empty while you have none.",
        default=None,
        gt=0,
        le=100,
        next_step="read its sheet, or leave it empty",
    )
    enclosure: Literal[ENCLOSURES] = labelled(
        "Where the heat sink is", "", "In a closed box it heats the air that it stands in.", default=ENCLOSURES[0]
    )
    box_cm2: float = labelled(
        "Outer surface of the box",
        "cm²",
        "All sides but the one on the wall; only for a heat sink inside a box.",
        default=3000.0,
        assumed=True,
        gt=0,
        le=1_000_000,
        next_step="measure the box again",
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_LABEL)
        return self

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that numbers hang on, a tuple of str."""
        idle = {"sharing"} if self.side_by_side == 1 else set()
        idle |= {"box_cm2"} if self.enclosure == OPEN_AIR else set()
        return tuple(name for name in self.assumed if name not in idle)

    def to_rectifier(self):
        """The rectifier, for the physics; its label's fields are None while it has none."""
        return Rectifier(**{name: getattr(self, name) for name in type(self).model_fields if name != "assumed"})
