"""Where the plant of a job stands."""

from typing import ClassVar, Literal

from statorbook.choice import Setting
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import labelled
from statorbook.protection import PLACES, WET, Site

_COLDEST_C = Setting().cold_c


class SitePart(AssumingPart):
    """Place of the plant of a job."""

    part_title: ClassVar[str] = "place of the plant"
    part_noun: ClassVar[str] = "the place"
    needed_first: ClassVar[tuple] = ("place",)
    compared: ClassVar[tuple] = ("coldest_c",)
    place: Literal[PLACES] = labelled(
        "Place",
        "",
        "The wettest spot at which a hand can reach a live part; taken as wet until you say otherwise.",
        default=WET,
        assumed=True,
    )
    hottest_c: float = labelled(
        "Hottest air",
        "°C",
        "Round machine, rectifier and cable, in the sun or in the shed.",
        default=40.0,
        assumed=True,
        ge=-20,
        le=70,
        next_step="type the hottest air of a usual summer",
    )
    coldest_c: float = labelled(
        "Coldest air",
        "°C",
        "Round the machine; cold magnets make more volts.",
        default=_COLDEST_C,
        assumed=True,
        ge=-40,
        le=30,
        next_step="type the coldest air of a usual winter",
    )

    @property
    def says_nothing(self):
        """Whether a choice of grouping with it is the same as without."""
        return self.coldest_c == _COLDEST_C

    def to_site(self):
        """Where it stands, for the physics."""
        return Site(place=self.place, hottest_c=self.hottest_c)
