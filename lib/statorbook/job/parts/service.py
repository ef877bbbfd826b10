"""The part of a job that says how the machine is borne, how long it runs, and how often it is looked at."""

from typing import ClassVar, Literal

from pydantic import field_validator

from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.quantities import typed_day
from statorbook.service import SIZES


class ServicePart(AssumingPart):
    """What the bearings carry, how many hours a day, and the intervals of looking at them."""

    part_title: ClassVar[str] = "service"
    installed_on: str = labelled(
        "First day at work",
        "",
        "Such as 2026-05-31 or 31 May 2026.",
        default="",
        max_length=10,
        next_step="type the day it first ran",
    )
    hours_per_day: float = labelled(
        "Hours a day", "h", "On average over the season.", default=24.0, assumed=True, gt=0, le=24
    )
    bearing_size: Literal[tuple(SIZES)] | None = labelled(
        "Bearing beside the runner", "", "First four digits on its face; empty when they cannot be read.", default=None
    )
    shaft: Literal["lying", "standing"] = labelled(
        "Shaft", "", "On a standing shaft the bearing holds the rotor up.", default="lying", assumed=True
    )
    turning_kg: float | None = labelled(
        "Turning weight",
        "kg",
        "Rotor, shaft and runner together.",
        default=None,
        gt=0,
        le=2000,
        next_step="weigh them, or add up the parts",
        exposes=(Exposure.MAGNETS,),
    )
    pull_radius_mm: float | None = labelled(
        "Radius of the pull",
        "mm",
        "Of pulley, sprocket or jet circle; empty for a rotor straight on the shaft.",
        default=None,
        gt=0,
        le=3000,
    )
    pull_factor: float = labelled(
        "Side pull ÷ driving force",
        "-",
        "1 for a chain or one jet, 2 for a tensioned belt.",
        default=1.5,
        assumed=True,
        ge=0,
        le=5,
    )
    magnet_pull_n: float = labelled(
        "Side pull of magnets",
        "N",
        "Pull of a spring scale that centres the ring; 0 when the gap is even.",
        default=0.0,
        assumed=True,
        ge=0,
        le=20_000,
        exposes=(Exposure.STANDING, Exposure.MAGNETS),
    )
    overhang: float = labelled(
        "Overhang",
        "-",
        "Load on the nearer bearing ÷ load on the shaft; it grows as the runner stands out further.",
        default=1.5,
        assumed=True,
        ge=0.5,
        le=5,
    )
    look_hours: float = labelled(
        "Look after", "h", "Hours between two looks.", default=500.0, assumed=True, gt=0, le=20_000
    )
    look_days: float = labelled(
        "Look within", "days", "Days between two looks, run or not.", default=90.0, assumed=True, gt=0, le=1500
    )
    renew_hours: float = labelled(
        "Renew after",
        "h",
        "Hours until both bearings are renewed, whatever they look like.",
        default=8000.0,
        assumed=True,
        gt=0,
        le=200_000,
    )
    renew_days: float = labelled(
        "Renew within",
        "days",
        "Days until both are renewed; a year near water.",
        default=365.0,
        assumed=True,
        gt=0,
        le=7500,
    )
    renewed_on: str = labelled(
        "Bearings renewed on", "", "Empty for those it came with.", default="", max_length=10, next_step="type the day"
    )
    renewed_at_hours: float = labelled(
        "Hours when renewed", "h", "What the service log said that day.", default=0.0, ge=0, le=1_000_000
    )

    @field_validator("installed_on", "renewed_on", mode="before")
    @classmethod
    def _check_day(cls, day, info):
        if not isinstance(day, str) or not day.strip():
            return day.strip() if isinstance(day, str) else day
        try:
            return typed_day(day, where=cls.model_fields[info.field_name].title).isoformat()
        except BadInput as bad:
            raise BadField.mended_in(info.field_name, bad) from None
