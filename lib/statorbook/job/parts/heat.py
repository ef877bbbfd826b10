"""How the winding of a job gets rid of its heat."""

from typing import ClassVar, Literal

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import WindingHeat


class HeatPart(AssumingPart):
    """Heat of the winding of a job."""

    part_title: ClassVar[str] = "heat of the winding"
    part_noun: ClassVar[str] = "the winding's heat"
    needed_first: ClassVar[tuple] = ("k_per_w", "thermal_class")
    k_per_w: float = labelled(
        "Rise for each watt of copper loss",
        "K/W",
        "All coils together.",
        default=1.0,
        assumed=True,
        gt=0,
        le=100,
        next_step="measure the ohms cold and hot",
    )
    thermal_class: Literal["A", "E", "B", "F", "H"] = labelled(
        "Insulation class", "", "The letter on its plate; B where there is none.", default="B", assumed=True
    )

    def to_heat(self):
        """The winding's heat, for the physics."""
        return WindingHeat(k_per_w=self.k_per_w, thermal_class=self.thermal_class, assumed=self.assumes("k_per_w"))
