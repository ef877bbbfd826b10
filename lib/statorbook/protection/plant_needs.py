"""What the parts of a plant have to be, each reckoned once for a whole list."""

from dataclasses import dataclass
from functools import cached_property

from statorbook.protection.brake_heat import brake_heat
from statorbook.protection.cable_needs import cable_needs
from statorbook.protection.fuse import Switch, fuse_needs
from statorbook.protection.fuse_label import ratings
from statorbook.protection.guard_needs import guard_needs
from statorbook.protection.plant import Plant
from statorbook.protection.rectifier import rectifier_needs


@dataclass(frozen=True, kw_only=True)
class PlantNeeds:
    """A plant with what its parts have to be; sizes as the reader can buy them."""

    plant: Plant
    switch: Switch | None = None  # the one that the reader has

    @cached_property
    def brake(self):
        """What joined leads do, a `BrakeHeat`."""
        return brake_heat(self.plant)

    @cached_property
    def rectifier(self):
        """What the rectifier has to be, a `RectifierNeeds`."""
        return rectifier_needs(self.plant)

    @cached_property
    def guard(self):
        """What the over-voltage load has to be, a `GuardNeeds`."""
        return guard_needs(self.plant)

    @cached_property
    def cable(self):
        """What the cable has to be, a `CableNeeds`."""
        return cable_needs(self.plant)

    @cached_property
    def fuse(self):
        """What the fuse has to be, a `FuseNeeds`."""
        return fuse_needs(self.plant)

    @cached_property
    def labels(self):
        """Every rating of fuse and switch against the labels at hand, a list of `Rating`."""
        return ratings(self.plant, self.switch)

    @property
    def cable_mm2(self):
        """Smallest size sold that carries what it has to and keeps the drop; None when none does [mm²]."""
        will_do = self.cable.least_that_will_do
        return will_do.run.area_mm2 if will_do else None
