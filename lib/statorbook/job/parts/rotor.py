"""What turns in a job, and how heavy it is."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import STILL, Exposure
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.protection import DISC, LIGHT_KGM2, SHAPES, Rotor, inertia_from_size_kgm2

_SIZE = ("mass_kg", "diameter_mm")


class RotorPart(AssumingPart):
    """Rotor of a job."""

    part_title: ClassVar[str] = "rotor"
    part_noun: ClassVar[str] = "its size"
    needed_first: ClassVar[tuple] = ("inertia_kgm2",)
    inertia_kgm2: float | None = labelled(
        "Inertia of all that turns",
        "kg·m²",
        "Seen at the generator's shaft. Empty: from mass and diameter below, or taken as light, which is the worse.",
        default=None,
        gt=0,
        le=10_000,
        next_step="work it out from mass and diameter",
    )
    mass_kg: float | None = labelled(
        "Mass of what turns",
        "kg",
        "On the generator's own shaft. Count only what turns for certain: lighter is the worse.",
        default=None,
        gt=0,
        le=5000,
        next_step="weigh it again",
        exposes=(*STILL, Exposure.MAGNETS),
    )
    diameter_mm: float | None = labelled(
        "Its diameter",
        "mm",
        "Middle of the ring, outside of the disc, or the circle of the blades' tips.",
        default=None,
        gt=10,
        le=100_000,
        next_step="measure it again",
        exposes=STILL,
    )
    shape: Literal[SHAPES] = labelled(
        "Its shape", "", "Taken as a plain disc when in doubt; blades count less.", default=DISC
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_SIZE)
        if self.mass_kg is not None and self.inertia_kgm2 is not None:
            raise BadField(
                "an inertia and a mass with its diameter were given",
                "one of the two is allowed",
                "leave the inertia empty, or mass and diameter",
                field="mass_kg",
                where="Mass of what turns",
            )
        return self

    def to_rotor(self):
        """The rotor, for the physics."""
        if self.mass_kg is not None:
            return Rotor(inertia_kgm2=inertia_from_size_kgm2(self.mass_kg, self.diameter_mm, self.shape))
        if self.inertia_kgm2 is not None:
            return Rotor(inertia_kgm2=self.inertia_kgm2)
        return Rotor(inertia_kgm2=LIGHT_KGM2.value, assumed=True)
