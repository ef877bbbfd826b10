"""Dump loads of a job."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.charging import AIR, HOT_OVER_COLD, DumpElement
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled

_LOADS = ("dump_1", "dump_2", "dump_3")


_OHM = dict(default=None, gt=0, le=10_000, next_step="reckon it from the volts and watts of its label")
_WATTS = dict(default=None, gt=0, le=1_000_000, next_step="read its label")
_HOT = "Hot: its volts times its volts over its watts, as on its label. Empty while you have none."
_STANDS = "On its label, mounted and cooled as its maker says."


class DumpPart(AssumingPart):
    """Dump loads of a job."""

    part_title: ClassVar[str] = "dump loads"
    part_noun: ClassVar[str] = "the dump loads"
    needed_first: ClassVar[tuple] = ("dump_1_ohm", "dump_1_watts", "dump_2_ohm", "dump_2_watts")
    dump_1_ohm: float | None = labelled("First dump load", "Ω", _HOT, **_OHM)
    dump_1_watts: float | None = labelled("First: stands for hours", "W", _STANDS, **_WATTS)
    dump_2_ohm: float | None = labelled("Second dump load", "Ω", _HOT, **_OHM)
    dump_2_watts: float | None = labelled("Second: stands for hours", "W", _STANDS, **_WATTS)
    dump_3_ohm: float | None = labelled("Third dump load", "Ω", _HOT, **_OHM)
    dump_3_watts: float | None = labelled("Third: stands for hours", "W", _STANDS, **_WATTS)
    made_of: Literal[tuple(HOT_OVER_COLD)] = labelled(
        "Made of",
        "",
        "Cold, a lamp has a tenth of its ohms and less: the contact that switches it on sees ten times the amps.",
        default=AIR,
        assumed=True,
    )
    stops_source: bool = labelled(
        "A relay can stop the source",
        "",
        "A deflector, a brake that holds, an engine's stop: built so that it stops the source when its current fails.",
        default=False,
        assumed=True,
    )

    @model_validator(mode="after")
    def _check(self):
        for name in _LOADS:
            self.require_whole((f"{name}_ohm", f"{name}_watts"))
        if self.dump_1_ohm is None and (self.dump_2_ohm or self.dump_3_ohm):
            raise BadField.about(field_facts(type(self), "dump_1_ohm"), "nothing was given but another load was")
        return self

    @property
    def assumed_in_use(self):
        """What is assumed of loads that there are."""
        return () if self.dump_1_ohm is None else self.assumed

    def to_dumps(self):
        """The loads, for the plan; empty while none is typed."""
        cold = HOT_OVER_COLD[self.made_of].value
        typed = {name: (getattr(self, f"{name}_ohm"), getattr(self, f"{name}_watts")) for name in _LOADS}
        return tuple(
            DumpElement(output=name, ohm=ohm, cold_ohm=ohm / cold, standing_watts=watts)
            for name, (ohm, watts) in typed.items()
            if ohm is not None
        )
