"""The fuse and the switch of a job between bank and rectifier, by their labels."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.protection import Fuse, Switch


class FusePart(AssumingPart):
    """Fuse and switch of a job; empty as long as the reader has none."""

    part_title: ClassVar[str] = "fuse"
    part_noun: ClassVar[str] = "let-through, and the switch"
    needed_first: ClassVar[tuple] = ("amps", "dc_volts", "breaking_amps")
    amps: float | None = labelled(
        "Rated amps of the fuse",
        "A",
        "On its label; empty as long as you have none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
    dc_volts: float | None = labelled(
        "Rated volts of the fuse, DC",
        "V",
        "The DC volts on its label, not the AC ones; empty when it names none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label, or leave it empty when it names AC volts only",
    )
    breaking_amps: float | None = labelled(
        "Breaking capacity of the fuse, DC",
        "A",
        "The most amps that it can break; empty when neither label nor sheet names it.",
        default=None,
        gt=0,
        le=1_000_000,
        next_step="read its label or sheet",
    )
    let_through_a2s: float | None = labelled(
        "I²t of the fuse, whole break",
        "A²s",
        "Of its sheet, for DC; empty: the most that fuses of its size let through.",
        default=None,
        gt=0,
        le=1e9,
        next_step="read its sheet, or leave it empty",
    )
    switch_amps: float | None = labelled(
        "Rated amps of the switch",
        "A",
        "On its label; empty as long as you have none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label",
    )
    switch_dc_volts: float | None = labelled(
        "Rated volts of the switch, DC",
        "V",
        "The DC volts on its label, not the AC ones; empty when it names none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label, or leave it empty when it names AC volts only",
    )

    @model_validator(mode="after")
    def _check(self):
        for amps, others, what in (
            ("amps", ("dc_volts", "breaking_amps", "let_through_a2s"), "fuse"),
            ("switch_amps", ("switch_dc_volts",), "switch"),
        ):
            if getattr(self, amps) is None and any(getattr(self, name) is not None for name in others):
                raise BadField(
                    f"the {what} has no amps, but more of it was given",
                    "its rated amps are needed first",
                    "read its label",
                    where=f"Rated amps of the {what} [A]",
                    field=amps,
                )
        return self

    @property
    def says_nothing(self):
        """Whether a job with it is the same as a job without."""
        return self.amps is None and self.switch_amps is None

    def to_fuse(self):
        """The fuse, for the physics; None as long as there is none."""
        if self.amps is None:
            return None
        return Fuse(
            amps=self.amps,
            dc_volts=self.dc_volts,
            breaking_amps=self.breaking_amps,
            let_through_a2s=self.let_through_a2s,
        )

    def to_switch(self):
        """The switch, for the physics; None as long as there is none."""
        return Switch(amps=self.switch_amps, dc_volts=self.switch_dc_volts) if self.switch_amps is not None else None
