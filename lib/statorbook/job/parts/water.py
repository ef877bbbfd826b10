"""Hot water and room of a job."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.charging import Cylinder, Room, loss_w_per_k
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled

_CYLINDER = ("litres", "heater_watts")
_LEAST_ROOM_K = 5.0  # between cold water and thermostat


class WaterPart(AssumingPart):
    """Hot water and room of a job."""

    part_title: ClassVar[str] = "hot water and room"
    part_noun: ClassVar[str] = "water and room"
    needed_first: ClassVar[tuple] = (*_CYLINDER, "air_heater_watts")
    litres: float | None = labelled(
        "Cylinder",
        "L",
        "What it holds. Empty while there is none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
    heater_watts: float | None = labelled(
        "Its heater, on the inverter",
        "W",
        "On its label, AC. Empty while there is none.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read its label",
    )
    air_heater_watts: float | None = labelled(
        "Air heater, on the inverter",
        "W",
        "Takes over when the water is hot. Empty while there is none.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read its label",
    )
    inlet_c: float = labelled(
        "Cold water",
        "°C",
        "As it comes in.",
        default=10.0,
        assumed=True,
        ge=0,
        le=40,
        next_step="hold a thermometer into the cold tap's water",
    )
    thermostat_c: float = labelled(
        "Cylinder's own thermostat",
        "°C",
        "Opens above it, whatever the controller wants. Germs grow in water kept below {60 °C}.",
        default=65.0,
        assumed=True,
        ge=30,
        le=85,
        next_step="read its dial",
    )
    insulation_mm: float = labelled(
        "Cylinder's insulation, foam",
        "mm",
        "Its thickness; 0 for a bare one.",
        default=25.0,
        assumed=True,
        ge=0,
        le=300,
        next_step="read its label, or look where the pipe comes out",
    )
    litres_a_day: float = labelled(
        "Hot water drawn, a day",
        "L",
        "By all in the house.",
        default=80.0,
        assumed=True,
        ge=0,
        le=10_000,
        next_step="count showers, about {40 L} each, and basins",
    )
    room_loss_w_per_k: float = labelled(
        "Room loses",
        "W/K",
        "Watts that keep it one kelvin warmer than outside; 60 to 150 for a room.",
        default=100.0,
        assumed=True,
        gt=0,
        le=5000,
        next_step="leave it at 100 until you know better",
    )
    room_heat_wh_per_k: float = labelled(
        "Room holds",
        "Wh/K",
        "Heat in walls and things that follow in a day; about 45 for each m² of floor.",
        default=900.0,
        assumed=True,
        gt=0,
        le=100_000,
        next_step="leave it at 900 until you know better",
    )
    outside_c: float = labelled(
        "Outside, mean of a day",
        "°C",
        "In the season that you look at.",
        default=8.0,
        assumed=True,
        ge=-40,
        le=45,
        next_step="read a thermometer in the shade, morning and afternoon",
    )
    outside_swing_k: float = labelled(
        "Outside, up and down of it",
        "K",
        "Half of warmest less coldest of a day.",
        default=5.0,
        assumed=True,
        ge=0,
        le=25,
        next_step="type a few kelvins",
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_CYLINDER)
        if self.thermostat_c < self.inlet_c + _LEAST_ROOM_K:
            raise BadField.about(
                field_facts(type(self), "thermostat_c"), "hardly more than the cold water's own was given"
            )
        return self

    @property
    def assumed_in_use(self):
        """What is assumed of a cylinder and a room that there are."""
        without = () if self.litres else ("inlet_c", "thermostat_c", "insulation_mm", "litres_a_day")
        without += () if self.air_heater_watts else ("room_loss_w_per_k", "room_heat_wh_per_k")
        nothing = self.litres is None and self.air_heater_watts is None
        return tuple(name for name in self.assumed if name not in without and not nothing)

    def to_cylinder(self):
        """The cylinder, for the plan; None while there is none."""
        if self.litres is None:
            return None
        own = ("litres", "heater_watts", "inlet_c", "thermostat_c", "insulation_mm", "litres_a_day")
        lost = loss_w_per_k(self.litres, self.insulation_mm)
        return Cylinder(**{name: getattr(self, name) for name in own}, loss_w_per_k=lost)

    def to_room(self):
        """The room, for the plan; None while it has no heater."""
        if self.air_heater_watts is None:
            return None
        return Room(
            heater_watts=self.air_heater_watts,
            loss_w_per_k=self.room_loss_w_per_k,
            heat_wh_per_k=self.room_heat_wh_per_k,
            outside_c=self.outside_c,
            outside_swing_k=self.outside_swing_k,
        )
