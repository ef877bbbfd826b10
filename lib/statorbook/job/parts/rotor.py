"""What turns in a job, and how heavy it is."""

from typing import ClassVar

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import Rotor


class RotorPart(AssumingPart):
    """Rotor of a job."""

    part_title: ClassVar[str] = "rotor"
    part_noun: ClassVar[str] = "its inertia"
    needed_first: ClassVar[tuple] = ("inertia_kgm2",)
    inertia_kgm2: float = labelled(
        "Inertia of all that turns",
        "kg·m²",
        "Seen at the generator's shaft.",
        default=0.05,
        assumed=True,
        gt=0,
        le=10_000,
        next_step="work it out from mass and size",
    )

    def to_rotor(self):
        """The rotor, for the physics."""
        return Rotor(inertia_kgm2=self.inertia_kgm2, assumed=self.assumes("inertia_kgm2"))
